estate "odd" {
  language = 1
}

room "yard" {}

row "yard-1" {
  room  = room.yard
  front = "mixed"
}

frame "odd-12" {
  system     = "19in"
  kind       = "cabinet"
  units      = 12
  counted    = "up"
  post_span  = "600 mm"
  front_room = "80 mm"
  rear_room  = "120 mm"
  unusable   = ["1"]
}

frame "metric" {
  system    = "25mm"
  kind      = "cabinet"
  clear     = "510 mm" # 20 units of 25 mm and 10 mm over
  counted   = "down"
  post_span = unknown
}

equipment "half" {
  system = "19in"
  height = "1U"
  depth  = "200 mm"
  cords  = "40 mm"
  mass   = "2 kg"
}

equipment "box" {
  system = "19in"
  height = "2U"
  depth  = "400 mm"
  cords  = "60 mm"
  front  = "40 mm"
  mass   = "21.5 kg"
}

equipment "slim" {
  system = "19in"
  height = "1.5U"
  depth  = "300 mm"
  mass   = "6 kg"
}

equipment "shelf" {
  system = "19in"
  height = "1U"
  depth  = "250 mm"
  cords  = "20 mm"
  mass   = "3 kg"
}

equipment "deep" {
  system = "19in"
  height = "1U"
  depth  = "780 mm"
  cords  = "80 mm"
  mass   = "11 kg"
}

equipment "riddle" {
  system = "19in"
  height = unknown
  depth  = unknown
}

equipment "strip" {
  height   = "300 mm"
  depth    = "60 mm"
  mounting = "zero-u"
}

equipment "crate" {
  system = "25mm"
  height = "4 SU"
  depth  = "240 mm"
  mass   = "8 kg"
}

feed "a" {
  room = room.yard
}

rack "odd" {
  row   = row.yard-1
  place = 1
  frame = frame.odd-12
  feeds = [feed.a]

  mount "left-one" {
    at        = 2
    equipment = equipment.half
    slot      = "left"
  }
  mount "right-one" {
    at        = 2
    equipment = equipment.half
    slot      = "right"
    feeds     = [feed.a]
  }
  mount "third" {
    at        = 3
    equipment = equipment.half
    slot      = "3/3"
  }
  mount "box-1" {
    at        = 4
    equipment = equipment.box
  }
  mount "behind-box" {
    at        = 5
    equipment = equipment.shelf
    face      = "rear"
  }
  mount "behind-nothing" {
    at        = 6
    equipment = equipment.shelf
    face      = "rear"
  }
  mount "slim-1" {
    at        = 7
    equipment = equipment.slim
  }
  mount "slim-2" {
    at        = 8.5
    equipment = equipment.slim
  }
  mount "riddle-of-the-yard-whose-name-does-not-end-where-it-should" {
    at        = 10
    equipment = equipment.riddle
  }
  mount "受付サーバー" {
    at        = 11
    equipment = equipment.half
  }
  mount "too-deep" {
    at        = 12
    equipment = equipment.deep
  }
  mount "sticks-out" {
    at        = 12
    equipment = equipment.box
  }
  zero_u "strip-a" {
    equipment = equipment.strip
    side      = "left"
    plane     = "rear"
    from      = "60 mm"
  }
  zero_u "strip-b" {
    equipment = equipment.strip
    side      = "right"
    plane     = "rear"
    from      = "100 mm"
  }
}

rack "metric" {
  row   = row.yard-1
  place = 2
  frame = frame.metric

  mount "crate-1" {
    at        = 3
    equipment = equipment.crate
  }
  blank {
    at = "7-8"
  }
  reserve "second-crate" {
    at    = "10-13"
    until = "2027-06-30"
  }
}
