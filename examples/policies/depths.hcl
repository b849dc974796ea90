# Neighbours whose depths differ by more than 300 mm leave a step behind which
# air turns back and hands do not reach.

policy "like-depths" {
  each    = mount
  where   = mount.neighbours.above != null && mount.neighbours.gap_above < 1
  require = abs(mount.neighbours.above.equipment.depth - equipment.depth) <= mm(300)
  say     = "${mount.name} is ${equipment.depth} mm deep, ${mount.neighbours.above.name} above it ${mount.neighbours.above.equipment.depth} mm"
  level   = "note"
}

trial "like-depths" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "server" {
      height = "1U"
      depth  = "730 mm"
    }
    equipment "panel" {
      height = "1U"
      depth  = "120 mm"
    }
    equipment "store" {
      height = "1U"
      depth  = "560 mm"
    }
    equipment "guess" {
      height = "1U"
      depth  = unknown
    }
    rack "a" {
      frame = frame.cab
      mount "server" {
        at        = 1
        equipment = equipment.server
      }
      mount "panel" {
        at        = 2
        equipment = equipment.panel
      }
      mount "apart" {
        at        = 5
        equipment = equipment.server
      }
      mount "store" {
        at        = 6
        equipment = equipment.store
      }
      mount "guess" {
        at        = 7
        equipment = equipment.guess
      }
    }
  END
  finds  = ["rack.a.server"]
  unsure = ["rack.a.store"]
}
