rack "c2" {
  row   = row.r
  place = 2
  frame = frame.timing-24
  feeds = [feed.filtered, feed.plain]
  owner = "timing"
  bond  = bar.wall

  mount "reference-1" {
    at        = 18
    equipment = equipment.frequency-reference
    feeds     = [feed.filtered]
    serial    = "HS-0301"
  }
  mount "reference-2" {
    at        = 20
    equipment = equipment.frequency-reference
    feeds     = [feed.filtered] # the pair hangs on one feed
    serial    = "HS-0302"
  }
  mount "splitter-1" {
    at        = 16
    slot      = "left" # the right half is open
    equipment = equipment.frequency-splitter
    feeds     = [feed.plain]
    serial    = "HS-0303"
  }
}

group "references" {
  of    = [rack.c2.reference-1, rack.c2.reference-2]
  up    = 1
  apart = "feed"
}
