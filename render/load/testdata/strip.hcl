# A three-phase strip of 208 V and 30 A, as told in an article on such strips:
# 6180 VA on two of its three banks, well inside the 8646 VA that 80 % allow.
estate "strip" {}
site "north" {
  altitude     = "1500 m"
  continuous   = 0.8
  seismic_zone = 4
  sds          = 1.0
  importance   = 1.5
}
room "hall" {
  site       = site.north
  heat_limit = "5 kW"
  floor_load = "7.2 kPa"
  point_load = "4.4 kN"
  supply_air = "20 C"
  storey     = 0.0
}
row "hall-1" {
  room  = room.hall
  front = "cold"
}
frame "cab-42" {
  system       = "19in"
  kind         = "cabinet"
  units        = 42
  base         = "100 mm"
  front_room   = "80 mm"
  post_span    = "740 mm"
  width        = "600 mm"
  depth        = "1000 mm"
  height       = "2000 mm"
  feet_width   = "500 mm"
  feet_depth   = "900 mm"
  mass         = "110 kg"
  rated        = "300 kg"
  fixed        = "stabiliser"
  reach        = "300 mm"
  seismic_zone = 2
}
feed "t" {
  room    = room.hall
  source  = "panel"
  voltage = "208 V"
  phases  = 3
  rated   = "30 A"
}
equipment "strip-3" {
  kind    = "strip"
  height  = "1700 mm"
  mass    = "6 kg"
  inlets  = { type = "l15-30-p", count = 1, needs = 1 }
  outlets = [
    { type = "c13", count = 8, bank = "1" },
    { type = "c13", count = 8, bank = "2" },
    { type = "c13", count = 8, bank = "3" },
  ]
  banks = [
    { name = "1", rated = "20 A", lines = "1-2" },
    { name = "2", rated = "20 A", lines = "2-3" },
    { name = "3", rated = "20 A", lines = "3-1" },
  ]
}
equipment "kilo" {
  height    = "2U"
  depth     = "700 mm"
  mass      = "30 kg"
  mounting  = "slides"
  extension = "720 mm"
  draw      = { typical = "800 W", maximum = "1000 W" }
  inlets    = { type = "c14", count = 1, needs = 1 }
}
equipment "half" {
  height   = "1U"
  depth    = "600 mm"
  mass     = "16 kg"
  mounting = "fixed-rails"
  draw     = { maximum = "530 W" }
  inlets   = { type = "c14", count = 1, needs = 1 }
}
equipment "panel" {
  height = "1U"
  depth  = "120 mm"
  mass   = "2 kg"
}
rack "r1" {
  row   = row.hall-1
  place = 1
  frame = frame.cab-42
  feeds = [feed.t]
  zero_u "strip" {
    equipment = equipment.strip-3
    side      = "left"
    plane     = "rear"
    from      = "60 mm"
    feeds     = [feed.t]
  }
  mount "kilo-1" {
    at        = 1
    equipment = equipment.kilo
    cords     = { to = "strip", outlet = 1 }
  }
  mount "kilo-2" {
    at        = 3
    equipment = equipment.kilo
    cords     = { to = "strip", outlet = 2 }
  }
  mount "kilo-3" {
    at        = 5
    equipment = equipment.kilo
    cords     = { to = "strip", outlet = 3 }
  }
  mount "half-0" {
    at        = 7
    equipment = equipment.half
    cords     = { to = "strip", outlet = 9 }
  }
  mount "half-1" {
    at        = 8
    equipment = equipment.half
    cords     = { to = "strip", outlet = 10 }
  }
  mount "half-2" {
    at        = 9
    equipment = equipment.half
    cords     = { to = "strip", outlet = 11 }
  }
  mount "half-3" {
    at        = 10
    equipment = equipment.half
    cords     = { to = "strip", outlet = 12 }
  }
  mount "half-4" {
    at        = 11
    equipment = equipment.half
    cords     = { to = "strip", outlet = 13 }
  }
  mount "half-5" {
    at        = 12
    equipment = equipment.half
    cords     = { to = "strip", outlet = 14 }
  }
  mount "panel-1" {
    at        = 40
    equipment = equipment.panel
  }
}
