estate "gannet" {
  language = 1
  rules    = "2026.1"
}
site "rock" {
  continuous = 1.0
  runtime    = "12 min"
}
room "light" {
  site       = site.rock
  heat_limit = "6 kW"
  supply_air = "22 C"
}
row "l-1" {
  room  = room.light
  front = "cold"
}
frame "cab" {
  system = "19in"
  units  = 42
}
source "mains" {
  kind  = "utility"
  rated = "40 kVA"
}
source "ups-a" {
  kind    = "ups"
  from    = [source.mains]
  rated   = { active = { is = "2700 W", basis = "data-sheet" }, apparent = { is = "3000 VA", basis = "data-sheet" } }
  runtime = { is = [
    { load = "600 W", lasts = "44 min" },
    { load = "1350 W", lasts = "17 min" },
    { load = "2700 W", lasts = "6 min" },
  ], basis = "data-sheet" }
}
breaker "q1" {
  source   = source.ups-a
  rated    = "16 A"
  curve    = "C"
  residual = "30 mA"
}
breaker "q2" {
  source   = source.mains
  rated    = "32 A"
  curve    = "C"
  residual = "30 mA"
}
feed "a" {
  room    = room.light
  breaker = breaker.q1
  voltage = "230 V"
  rated   = "16 A"
}
feed "b" {
  room    = room.light
  breaker = breaker.q2
  voltage = "230 V"
  rated   = "16 A"
}
equipment "strip" {
  kind    = "strip"
  height  = "1000 mm"
  inlets  = { type = "c20", count = 1, needs = 1 }
  outlets = { type = "c13", count = 12 }
}
equipment "radar" {
  kind         = "server"
  height       = "3U"
  draw         = { maximum = { is = "820 W", basis = "data-sheet" } }
  power_factor = 0.92
  leakage      = { is = "1.6 mA", basis = "data-sheet" }
  inlets       = { type = "c14", count = 2, needs = 1 }
}
equipment "amp" {
  height       = "2U"
  draw         = "400 W"
  power_factor = 0.7
  leakage      = "0.9 mA"
  inlets       = { type = "c14", count = 1, needs = 1 }
}
equipment "modem" {
  height  = "1U"
  draw    = "120 VA"
  leakage = "0.5 mA"
  inlets  = { type = "c14", count = 1, needs = 1 }
}
equipment "lan-ups" {
  kind    = "ups"
  height  = "2U"
  inlets  = { type = "c14", count = 1, needs = 1 }
  outlets = { type = "c13", count = 6 }
  leakage = "1 mA"
  rated   = { active = "480 W", apparent = "800 VA" }
  runtime = [{ load = "200 W", lasts = "25 min" }, { load = "480 W", lasts = "7 min" }]
}
rack "l1" {
  row   = row.l-1
  place = 1
  frame = frame.cab
  zero_u "strip-a" {
    equipment = equipment.strip
    side      = "left"
    plane     = "rear"
    from      = "100 mm"
    feeds     = [feed.a]
  }
  zero_u "strip-b" {
    equipment = equipment.strip
    side      = "right"
    plane     = "rear"
    from      = "100 mm"
    feeds     = [feed.b]
  }
  mount "radar-1" {
    at        = 10
    equipment = equipment.radar
    cords     = [{ to = "strip-a", outlet = 1 }, { to = "strip-b", outlet = 1 }]
  }
  mount "radar-2" {
    at        = 13
    equipment = equipment.radar
    cords     = [{ to = "strip-a", outlet = 2 }, { to = "strip-b", outlet = 2 }]
  }
  mount "radar-3" {
    at        = 16
    equipment = equipment.radar
    cords     = [{ to = "strip-a", outlet = 3 }, { to = "strip-b", outlet = 3 }]
  }
  mount "amp-1" {
    at        = 20
    equipment = equipment.amp
    cords     = { to = "lan-ups", outlet = 1 }
  }
  mount "modem-1" {
    at        = 23
    equipment = equipment.modem
    cords     = { to = "lan-ups", outlet = 2 }
  }
  mount "lan-ups" {
    at        = 1
    equipment = equipment.lan-ups
    cords     = { to = "strip-a", outlet = 4 }
  }
}
