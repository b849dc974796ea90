# Patch panels no more than four units from a switch of the same rack, so that
# the short cords in the drawer reach.

policy "panel-near-switch" {
  each    = mount
  where   = mount.kind == "patch-panel"
  require = any([for m in rack.mounts : abs(m.bottom - mount.bottom) <= 4 if m.kind == "switch"])
  say     = "${mount.name} has no switch within four units"
  level   = "note"
}

# A console within reach of every row: nobody carries a screen down the aisle at
# night.

policy "console-near" {
  each    = row
  where   = count(row.racks) > 0
  require = any([for r in row.racks : any([for m in r.mounts : m.kind == "console"])])
  say     = "no rack of row ${row.name} has a console"
  level   = "note"
}

trial "panel-near-switch" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "panel" {
      height = "1U"
      kind   = "patch-panel"
    }
    equipment "switch" {
      height = "1U"
      kind   = "switch"
    }
    rack "a" {
      frame = frame.cab
      mount "near" {
        at        = 40
        equipment = equipment.panel
      }
      mount "far" {
        at        = 20
        equipment = equipment.panel
      }
      mount "sw" {
        at        = 38
        equipment = equipment.switch
      }
    }
    rack "b" {
      frame = frame.cab
      mount "alone" {
        at        = 40
        equipment = equipment.panel
      }
    }
  END
  finds  = ["rack.a.far", "rack.b.alone"]
}
trial "console-near" {
  estate = <<-END
    room "hq" {
    }
    row "one" {
      room = room.hq
    }
    row "two" {
      room = room.hq
    }
    row "empty" {
      room = room.hq
    }
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
    }
    equipment "drawer" {
      kind   = "console"
      height = "1U"
    }
    rack "a" {
      row   = row.one
      frame = frame.cab
      mount "console" {
        at        = 22
        equipment = equipment.drawer
      }
    }
    rack "b" {
      row   = row.one
      frame = frame.cab
    }
    rack "c" {
      row   = row.two
      frame = frame.cab
    }
  END
  finds  = ["row.two"]
}
