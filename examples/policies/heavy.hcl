# Batteries at the very bottom: heavy, and nothing below them to drip on.

policy "battery-low" {
  each    = mount
  where   = among(mount.kind, ["battery", "ups"])
  require = mount.neighbours.below == null || among(mount.neighbours.below.kind, ["battery", "ups"])
  say     = "${mount.neighbours.below.name} is below ${mount.name}; batteries go into the lowest units"
}

policy "heavy-low" {
  each    = mount
  where   = mount.mass > kg(25)
  require = mount.top <= 24
  say     = "${mount.name} weighs ${mount.mass} kg and reaches ${mount.units}"
  reason  = "two people lift to the waist here, no further"
}

trial "battery-low" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "ups" {
      height = "2U"
      kind   = "ups"
      mass   = "38 kg"
    }
    equipment "battery" {
      height = "2U"
      kind   = "battery"
      mass   = "41 kg"
    }
    equipment "panel" {
      height = "1U"
      kind   = "panel"
    }
    rack "a" {
      frame = frame.cab
      mount "battery-1" {
        at        = 1
        equipment = equipment.battery
      }
      mount "ups-1" {
        at        = 3
        equipment = equipment.ups
      }
    }
    rack "b" {
      frame = frame.cab
      mount "panel-1" {
        at        = 1
        equipment = equipment.panel
      }
      mount "ups-1" {
        at        = 5
        equipment = equipment.ups
      }
    }
  END
  finds  = ["rack.b.ups-1"]
}
trial "heavy-low" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "storage" {
      height = "2U"
      mass   = "34 kg"
    }
    equipment "switch" {
      height = "1U"
      mass   = "9 kg"
    }
    equipment "guess" {
      height = "1U"
      mass   = unknown
    }
    rack "a" {
      frame = frame.cab
      mount "high" {
        at        = 30
        equipment = equipment.storage
      }
      mount "low" {
        at        = 23
        equipment = equipment.storage
      }
      mount "light" {
        at        = 40
        equipment = equipment.switch
      }
      mount "guess" {
        at        = 35
        equipment = equipment.guess
      }
    }
  END
  finds  = ["rack.a.high"]
  unsure = ["rack.a.guess"]
}
