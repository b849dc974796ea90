policy "heavy-low" {
  each    = mount
  where   = mount.mass > kg(30)
  require = mount.top <= 24
  say     = "${mount.name} weighs ${mount.mass} kg and reaches U${mount.top}"
  level   = "warning"
  reason  = "two people lift to the waist here, no further"
}

waive "space/open-unit" {
  on     = rack.s1
  until  = "2027-12-31"
  reason = "the radio room has no cold aisle; the yard asks for open units"
  by     = "ship"
}
