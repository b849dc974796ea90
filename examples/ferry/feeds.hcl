# Two feeds to each cabinet of the shore room: one behind the UPS, one straight
# from the mains.
feed "a" {
  room    = room.hq
  source  = "ups"
  voltage = "230 V"
  phases  = 1
  rated   = "16 A"
}

feed "b" {
  room    = room.hq
  source  = "mains"
  voltage = "230 V"
  phases  = 1
  rated   = "16 A"
}

feed "c" {
  room    = room.hq
  source  = "ups"
  voltage = "230 V"
  phases  = 1
  rated   = "16 A"
}

feed "d" {
  room    = room.hq
  source  = "mains"
  voltage = "230 V"
  phases  = 1
  rated   = "16 A"
}

feed "tickets" {
  room    = room.tickets
  source  = "office-mains"
  voltage = "230 V"
  phases  = 1
  rated   = "10 A"
}

source "ship-ups" {
  kind  = "ups"
  mount = rack.s1.ups-1
}

feed "ship-ups" {
  room    = room.radio
  source  = "ship-ups"
  voltage = "230 V"
  phases  = 1
  rated   = "10 A"
}

feed "ship-emergency" {
  room    = room.radio
  source  = "emergency-board"
  voltage = "230 V"
  phases  = 1
  rated   = "10 A"
}
