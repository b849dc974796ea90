# Room to grow: a fifth of every rack, with four units of it in one piece.

policy "room-to-grow" {
  each    = rack
  require = rack.free >= 0.2 * frame.units
  say     = "${rack.name} has ${rack.free} of ${frame.units} units free, less than a fifth"
  level   = "note"
}

policy "room-in-one-piece" {
  each    = rack
  require = rack.largest_gap >= units(4)
  say     = "the largest gap in ${rack.name} has ${rack.largest_gap} units"
  level   = "note"
}

trial "room-to-grow" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 10
      counted = "up"
    }
    equipment "big" {
      height = "9U"
    }
    equipment "half" {
      height = "8U"
    }
    rack "full" {
      frame = frame.cab
      mount "one" {
        at        = 1
        equipment = equipment.big
      }
    }
    rack "fits" {
      frame = frame.cab
      mount "one" {
        at        = 1
        equipment = equipment.half
      }
    }
  END
  finds  = ["rack.full"]
}
trial "room-in-one-piece" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 10
      counted = "up"
    }
    equipment "thin" {
      height = "1U"
    }
    equipment "guess" {
      height = unknown
    }
    rack "split" {
      frame = frame.cab
      mount "one" {
        at        = 4
        equipment = equipment.thin
      }
      mount "two" {
        at        = 8
        equipment = equipment.thin
      }
    }
    rack "whole" {
      frame = frame.cab
      mount "one" {
        at        = 5
        equipment = equipment.thin
      }
    }
    rack "guess" {
      frame = frame.cab
      mount "one" {
        at        = 5
        equipment = equipment.guess
      }
    }
  END
  finds  = ["rack.split"]
  unsure = ["rack.guess"]
}
