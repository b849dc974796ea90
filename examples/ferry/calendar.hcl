window "tue-night" {
  site   = site.quay
  days   = ["tue"]
  opens  = "22:00"
  closes = "02:00"
  margin = "30 min"
  people = 2
  lift   = true
}

# The ship lies at the berth on these nights; no lift passes her doors.
window "berth" {
  site   = site.ship
  days   = ["mon", "wed"]
  opens  = "23:40"
  closes = "04:20"
  margin = "30 min"
  people = 2
  lift   = false
}

freeze "summer" {
  site   = site.ship
  from   = "2027-06-15"
  to     = "2027-09-05"
  reason = "passenger season"
}

bench "store-room" {
  room    = room.hq
  units   = 8
  rated   = "120 kg"
  powered = false
}

pace {
  contingency = 0.25
}
