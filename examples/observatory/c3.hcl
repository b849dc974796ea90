rack "c3" {
  row   = row.r
  place = 3
  frame = frame.exchange-300
  feeds = [feed.plain]
  owner = "receivers"
  bond  = rack.c2 # as it was donated: over the neighbour

  # A panel of 9 units is 399.3 mm high and takes 16 modules, not the 17 that
  # the nominal 400.05 mm would. The adapter holds it 20 mm forward, by guess.
  mount "crate-1" {
    at        = "20-35"
    equipment = equipment.line-crate
    adapter   = equipment.exchange-adapter
    feeds     = [feed.plain]
    serial    = "HS-0401"
  }
}
