estate "odd" {
  language = 1
}

site "yard" {
  zone       = "Europe/Tallinn"
  continuous = 0.8
}

room "yard" {
  site = site.yard
}

row "yard-1" {
  room  = room.yard
  front = "mixed"
}

frame "cab-12" {
  system     = "19in"
  kind       = "cabinet"
  units      = 12
  counted    = "up"
  post_span  = { is = "604 mm", basis = "measured", on = "2026-09-14" }
  front_room = "80 mm"
  rear_room  = "120 mm"
  rated      = "200 kg"
}

equipment "box" {
  system = "19in"
  height = "2U"
  depth  = "400 mm"
  cords  = "60 mm"
  mass   = "21.5 kg"
  draw   = { maximum = "480 W" }
  inlets = { type = "c14", count = 2, needs = 1 }
}

equipment "shelf" {
  system = "19in"
  height = "1U"
  depth  = "250 mm"
  mass   = "3 kg"
}

equipment "riddle" {
  system = "19in"
  height = "1U"
  mass   = unknown
}

feed "a" {
  room    = room.yard
  source  = "mains"
  voltage = "230 V"
  rated   = "16 A"
}

feed "b" {
  room    = room.yard
  source  = "ups"
  voltage = "230 V"
  rated   = "16 A"
}

rack "one" {
  row   = row.yard-1
  place = 1
  frame = frame.cab-12
  feeds = [feed.a, feed.b]

  mount "stays" {
    at        = 1
    equipment = equipment.box
    feeds     = [feed.a, feed.b]
    serial    = "BW-1900"
  }
  mount "swap-1" {
    at        = 5
    equipment = equipment.box
    feeds     = [feed.a, feed.b]
    serial    = "BW-1001"
  }
  mount "swap-2" {
    at        = 3
    equipment = equipment.box
    feeds     = [feed.b]
    serial    = "BW-1002"
    owner     = "the harbour office for arriving and departing passengers and their luggage"
  }
  mount "behind" {
    at        = 8
    equipment = equipment.shelf
    face      = "rear"
  }
  mount "new-label" {
    at        = 10
    equipment = equipment.shelf
    owner     = "network"
  }
  blank {
    at = 12
  }
}

rack "second" {
  row   = row.yard-1
  place = 2
  frame = frame.cab-12
  feeds = [feed.a]

  mount "replaced" {
    at        = 1
    equipment = equipment.box
    feeds     = [feed.a]
    serial    = "BW-2999"
  }
  mount "arrived-from-one" {
    at        = 4
    equipment = equipment.shelf
    serial    = "BW-1003"
  }
  reserve "growth" {
    at     = "6-9"
    until  = "2027-12-31"
    reason = "second shelf"
  }
}

rack "comes" {
  row   = row.yard-1
  place = 4
  frame = frame.cab-12

  mount "puzzle" {
    at        = 2
    equipment = equipment.riddle
  }
}
