# The racks of a small ferry line: two cabinets in the shore room, a wall frame
# in the ticket office on the quay, and the comms frame of one ship.
estate "brackwater" {
  language = 1
  rules    = "2026.1"
  lengths  = "mm"
}

given {
  lift_limit = "25 kg" # what one person lifts here, floor to elbow
}
