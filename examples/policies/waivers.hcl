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

trial "errors-accepted-by-somebody" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
    }
    equipment "server" {
      height = "2U"
    }
    rack "a" {
      frame = frame.cab
      owner = "ops"
      mount "one" {
        at        = "1-3"
        equipment = equipment.server
      }
      mount "two" {
        at        = "11-13"
        equipment = equipment.server
      }
      mount "three" {
        at        = "21-23"
        equipment = equipment.server
      }
    }
    waive "record/wrong-count" {
      on     = rack.a.one
      until  = "2027-01-31"
      reason = "read off again next week"
    }
    waive "record/wrong-count" {
      on     = rack.a.two
      until  = "2027-01-31"
      reason = "read off again next week"
      by     = "facilities"
    }
  END
  finds  = ["rack.a.one"]
  on     = "2026-11-25"
}
trial "waivers-for-a-year" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
    }
    equipment "server" {
      height = "2U"
    }
    rack "a" {
      frame = frame.cab
      mount "one" {
        at        = 1
        equipment = equipment.server
      }
      mount "two" {
        at        = 11
        equipment = equipment.server
      }
    }
    waive "record/no-owner" {
      on     = rack.a.one
      until  = "2031-01-31"
      reason = "nobody answers"
    }
    waive "record/no-owner" {
      on     = rack.a.two
      until  = "2027-11-25"
      reason = "nobody answers yet"
    }
  END
  finds  = ["rack.a.one"]
  on     = "2026-11-25"
}
