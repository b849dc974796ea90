# Where racks stand, and what supplies them.

site "main" {
  zone       = "UTC" # write your own, such as "Europe/Tallinn"
  continuous = 0.8   # share of a feed's rating that lasting load may take: as local code says
}

room "room-1" {
  site       = site.main
  heat_limit = unknown # nobody has looked yet: rules that need it say "not checked"
  floor_load = unknown
  supply_air = "22 C"
}

row "row-1" {
  room  = room.room-1
  front = "cold" # the aisle that the fronts look at: "cold", "hot" or "mixed"
}

# Feeds with the same source are not independent.
feed "a" {
  room    = room.room-1
  source  = "ups-1"
  voltage = "230 V"
  phases  = 1
  rated   = "16 A"
}

feed "b" {
  room    = room.room-1
  source  = "mains"
  voltage = "230 V"
  phases  = 1
  rated   = "16 A"
}
