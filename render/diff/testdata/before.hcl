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
  post_span  = "600 mm"
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
  draw   = { maximum = "450 W" }
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
    serial    = "BW-1000"
  }
  mount "swap-1" {
    at        = 3
    equipment = equipment.box
    feeds     = [feed.a, feed.b]
    serial    = "BW-1001"
  }
  mount "swap-2" {
    at        = 5
    equipment = equipment.box
    feeds     = [feed.a, feed.b]
    serial    = "BW-1002"
  }
  mount "leaves-for-two" {
    at        = 7
    equipment = equipment.shelf
    serial    = "BW-1003"
  }
  mount "behind" {
    at        = 9
    equipment = equipment.shelf
    face      = "rear"
  }
  mount "old-label" {
    at        = 10
    equipment = equipment.shelf
    owner     = "network"
  }
  blank {
    at = "11-12"
  }
}

rack "two" {
  row   = row.yard-1
  place = 2
  frame = frame.cab-12
  feeds = [feed.a]

  mount "replaced" {
    at        = 1
    equipment = equipment.box
    feeds     = [feed.a]
    serial    = "BW-2001"
  }
  reserve "growth" {
    at     = "5-8"
    until  = "2027-06-30"
    reason = "second shelf"
  }
}

rack "goes" {
  row   = row.yard-1
  place = 3
  frame = frame.cab-12

  mount "thrown-away" {
    at        = 2
    equipment = equipment.riddle
  }
}
