# Heights for people who stand: a keyboard between 950 and 1150 mm, and nothing
# with controls lower than 400 or higher than 1680 mm, the reach of a short
# person and the foot of a broom.

policy "console-height" {
  each    = mount
  where   = mount.kind == "console"
  require = mount.above_floor >= mm(950) && mount.above_floor <= mm(1150)
  say     = "${mount.name} is ${round(mount.above_floor, 0)} mm above the floor; hands want 950 to 1150"
}

policy "controls-in-reach" {
  each    = mount
  where   = among(mount.kind, ["amplifier", "jackfield", "mixer", "recorder", "test-set"])
  require = mount.above_floor >= mm(400) && mount.above_floor <= mm(1680)
  say     = "${mount.name} is ${round(mount.above_floor, 0)} mm above the floor; its controls belong between 400 and 1680"
}

trial "console-height" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "drawer" {
      height = "1U"
      kind   = "console"
    }
    equipment "server" {
      height = "1U"
      kind   = "server"
    }
    rack "a" {
      frame = frame.cab
      mount "right" {
        at        = 22
        equipment = equipment.drawer
      }
      mount "low" {
        at        = 10
        equipment = equipment.drawer
      }
      mount "server" {
        at        = 1
        equipment = equipment.server
      }
    }
  END
  finds  = ["rack.a.low"]
}
trial "controls-in-reach" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "jacks" {
      height = "1U"
      kind   = "jackfield"
    }
    rack "a" {
      frame = frame.cab
      mount "floor" {
        at        = 3
        equipment = equipment.jacks
      }
      mount "eyes" {
        at        = 30
        equipment = equipment.jacks
      }
      mount "ladder" {
        at        = 40
        equipment = equipment.jacks
      }
    }
  END
  finds  = ["rack.a.floor", "rack.a.ladder"]
}
