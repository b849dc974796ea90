# Partners: not in neighbouring units, where one leak or one slip takes both.

policy "partners-apart" {
  each    = group
  require = all([for m in group.members : !any([for o in m.neighbours.within_2u : among(o, group.members)])])
  say     = "members of ${group.name} are next to each other"
  level   = "note"
}

# Stricter: each partner in a rack of its own.
policy "partners-in-two-racks" {
  each    = group
  require = count(distinct([for m in group.members : m.rack.name])) == count(group.members)
  say     = "${count(group.members)} members of ${group.name} share ${count(distinct([for m in group.members : m.rack.name]))} racks"
}

trial "partners-apart" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "switch" {
      height = "1U"
    }
    rack "a" {
      frame = frame.cab
      mount "one" {
        at        = 20
        equipment = equipment.switch
      }
      mount "two" {
        at        = 22
        equipment = equipment.switch
      }
    }
    group "core" {
      of = [rack.a.one, rack.a.two]
      up = 1
    }
  END
  finds  = ["group.core"]
}
trial "partners-apart" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "switch" {
      height = "1U"
    }
    rack "a" {
      frame = frame.cab
      mount "one" {
        at        = 20
        equipment = equipment.switch
      }
      mount "two" {
        at        = 24
        equipment = equipment.switch
      }
    }
    group "core" {
      of = [rack.a.one, rack.a.two]
      up = 1
    }
  END
  finds  = []
}
trial "partners-in-two-racks" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "switch" {
      height = "1U"
    }
    rack "a" {
      frame = frame.cab
      mount "one" {
        at        = 20
        equipment = equipment.switch
      }
      mount "two" {
        at        = 30
        equipment = equipment.switch
      }
    }
    group "core" {
      of = [rack.a.one, rack.a.two]
      up = 1
    }
  END
  finds  = ["group.core"]
}
trial "partners-in-two-racks" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
      base    = "100 mm"
    }
    equipment "switch" {
      height = "1U"
    }
    rack "a" {
      frame = frame.cab
      mount "one" {
        at        = 20
        equipment = equipment.switch
      }
    }
    rack "b" {
      frame = frame.cab
      mount "two" {
        at        = 20
        equipment = equipment.switch
      }
    }
    group "core" {
      of = [rack.a.one, rack.b.two]
      up = 1
    }
  END
  finds  = []
}
