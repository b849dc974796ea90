site "quay" {
  zone         = "Europe/Tallinn"
  altitude     = "4 m"
  seismic_zone = 0
  continuous   = 0.8 # house rule: the shore electrician's figure, not a code's

  bonding_record = true
}

site "ship" {
  zone         = "Europe/Tallinn"
  altitude     = "6 m"
  seismic_zone = 0
  continuous   = 0.8
  runtime      = "20 min" # until the emergency board is up, and a margin
}

room "hq" {
  site       = site.quay
  heat_limit = "6 kW"
  floor_load = "5 kPa"
  supply_air = "22 C"
}

room "tickets" {
  site       = site.quay
  heat_limit = "600 W"
}

room "radio" {
  site       = site.ship
  heat_limit = "2 kW"
  floor_load = "5 kPa"
}

bar "hq" { room = room.hq }

row "hq-1" {
  room  = room.hq
  front = "cold"
}

bar "tickets" { room = room.tickets }

row "tickets-1" {
  room  = room.tickets
  front = "mixed"
}

row "radio-1" {
  room  = room.radio
  front = "mixed"
}
