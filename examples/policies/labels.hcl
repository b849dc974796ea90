# What is written on a piece: capitals of the rack, then the unit with two digits,
# as in HQ-A-U07. The leading zero keeps lists in order.

policy "marking-format" {
  each    = mount
  where   = !mount.zero_u
  require = matches(mount.marking, "^[A-Z0-9]+(-[A-Z0-9]+)*-U[0-9]{2}$")
  say     = mount.marking == "" ? "${mount.name} has no marking" : "${mount.marking} on ${mount.name} is not written like HQ-A-U07"
  reason  = "markings are read aloud over the telephone, and sorted"
}

# A marking that names a place tells a lie as soon as the piece is moved.
policy "marking-stale" {
  each    = mount
  where   = matches(mount.marking, "-U[0-9]+$")
  require = mount.marking == "${upper(rack.name)}-U${mount.at < 10 ? "0" : ""}${mount.at}"
  say     = "${mount.name} is marked ${mount.marking} and stands in ${upper(rack.name)}-U${mount.at < 10 ? "0" : ""}${mount.at}"
  level   = "warning"
  reason  = "whoever trusts the marking pulls the wrong piece"
}

trial "marking-format" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "server" {
      height = "1U"
    }
    rack "hq-a" {
      frame = frame.cab
      mount "right" {
        at        = 7
        equipment = equipment.server
        marking   = "HQ-A-U07"
      }
      mount "bare" {
        at        = 8
        equipment = equipment.server
      }
      mount "zero-lost" {
        at        = 9
        equipment = equipment.server
        marking   = "HQ-A-U9"
      }
      mount "small" {
        at        = 10
        equipment = equipment.server
        marking   = "hq-a-u10"
      }
    }
  END
  finds  = ["rack.hq-a.bare", "rack.hq-a.small", "rack.hq-a.zero-lost"]
}
trial "marking-stale" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "server" {
      height = "1U"
    }
    rack "hq-a" {
      frame = frame.cab
      mount "right" {
        at        = 7
        equipment = equipment.server
        marking   = "HQ-A-U07"
      }
      mount "moved" {
        at        = 12
        equipment = equipment.server
        marking   = "HQ-A-U14"
      }
      mount "other-rack" {
        at        = 15
        equipment = equipment.server
        marking   = "HQ-B-U15"
      }
      mount "named" {
        at        = 20
        equipment = equipment.server
        marking   = "booking"
      }
    }
  END
  finds  = ["rack.hq-a.moved", "rack.hq-a.other-rack"]
}
