# The receiver laboratory of a radio telescope at 2900 m: a shielded cabinet used
# from both faces, a timing rack of half-width units, and a donated exchange
# frame on 25 mm practice. Each mistake in it is marked; all are for lint to
# find.
estate "high-site" {
  language = 1
  rules    = "2026.1"
  lengths  = "mm"
}

site "plateau" {
  zone         = "America/Santiago"
  altitude     = "2900 m"
  seismic_zone = 0
  continuous   = 1.0 # no share is taken off here: the breakers are rated for lasting load

  bonding_record = true # shields are only as good as their bonds
}

room "receivers" {
  site       = site.plateau
  heat_limit = "6 kW"
  supply_air = "22 C"
}

row "r" {
  room  = room.receivers
  front = "cold"
}

bar "wall" { room = room.receivers }

feed "filtered" {
  room    = room.receivers
  source  = "filter-bank"
  voltage = "230 V"
  phases  = 1
  rated   = "16 A"
}

feed "plain" {
  room    = room.receivers
  source  = "mains"
  voltage = "230 V"
  phases  = 1
  rated   = "16 A"
}
