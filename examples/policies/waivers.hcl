# Who accepts an error puts a name to it, and looks again within a year.

policy "errors-accepted-by-somebody" {
  each    = finding
  where   = finding.level == "error" && finding.waived
  require = finding.waived_by != ""
  say     = "the waiver of ${finding.rule} on ${finding.thing} names nobody; write by = ..."
}

policy "waivers-for-a-year" {
  each    = finding
  where   = finding.waived
  require = finding.waived_until - today <= days(366)
  say     = "${finding.rule} on ${finding.thing} is accepted until ${finding.waived_until}, for ${finding.waived_until - today} days"
  level   = "note"
}
