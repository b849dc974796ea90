rack "c1" {
  row   = row.r
  place = 1
  frame = frame.shielded-42
  feeds = [feed.filtered, feed.plain]
  owner = "receivers"
  bond  = bar.wall
  inlet = "26 C" # four degrees warmer inside the shield than in the room

  # Nothing overlaps in any drawing of one face; in depth the two meet.
  mount "correlator-1" {
    at        = 12
    equipment = equipment.correlator
    feeds     = [feed.filtered, feed.plain]
    serial    = "HS-0101"
  }
  mount "fibre-rear" {
    at        = 13
    face      = "rear"
    equipment = equipment.fibre-shelf
  }

  # 1.5 units high, alone: 22 mm above it stay open.
  mount "receiver-1" {
    at        = 20
    equipment = equipment.receiver-legacy
    feeds     = [feed.filtered]
    serial    = "HS-0201"
  }
}
