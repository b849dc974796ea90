# Monitor case, with the distributor that the case is fed by: one three-phase
# cord comes in, and each of its three banks hangs between one line and the
# neutral. Each cord says which outlet it is in, so that the load of each line
# is known: "cagenut load k2" prints it. Plug monitor-2 beside monitor-1, into
# outlet 2, and lint finds a bank over its breaker, and the lines unbalanced.
feed "stage-32" {
  room    = room.stage-left
  source  = "stage"
  voltage = "400 V" # between lines; 230 V from each to the neutral
  phases  = 3
  rated   = "32 A"
  outlet  = "60309-32-5-r"
}

equipment "distributor" {
  kind     = "strip"
  system   = "19in"
  height   = "2U"
  body     = "440 mm"
  depth    = "220 mm"
  cords    = "110 mm"
  front    = "45 mm"
  mass     = "9.2 kg"
  mounting = "ears"
  holes    = ["m6"]
  air      = "none"
  voltage  = { from = "380 V", to = "415 V" }
  inlets   = { type = "60309-32-5-p", count = 1, needs = 1 }
  outlets = [
    { type = "c19", count = 2, locking = true, bank = "l1" }, # 1 and 2
    { type = "c13", count = 2, locking = true, bank = "l1" }, # 3 and 4
    { type = "c19", count = 2, locking = true, bank = "l2" }, # 5 and 6
    { type = "c13", count = 2, locking = true, bank = "l2" }, # 7 and 8
    { type = "c19", count = 2, locking = true, bank = "l3" }, # 9 and 10
    { type = "c13", count = 2, locking = true, bank = "l3" }, # 11 and 12
  ]
  banks = [
    { name = "l1", rated = "16 A", lines = "1-n" },
    { name = "l2", rated = "16 A", lines = "2-n" },
    { name = "l3", rated = "16 A", lines = "3-n" },
  ]
}

equipment "monitor-amplifier" {
  kind     = "amplifier"
  system   = "19in"
  height   = "1U"
  body     = "440 mm"
  depth    = "370 mm"
  cords    = "60 mm"
  front    = "45 mm"
  mass     = "7.5 kg"
  mounting = "ears"
  holes    = ["m6"]
  air      = "front-to-rear"
  draw     = { typical = "350 W", maximum = "2200 W" }
  voltage  = { from = "200 V", to = "240 V" }
  inlets   = { type = "c20", count = 1, needs = 1, locking = true }
}

equipment "radio-receiver" {
  kind     = "receiver"
  system   = "19in"
  height   = "1U"
  body     = "440 mm"
  depth    = "300 mm"
  cords    = "60 mm"
  front    = "30 mm"
  mass     = "4.2 kg"
  mounting = "ears"
  holes    = ["m6"]
  air      = "none"
  draw     = { typical = "40 W", maximum = "60 W" }
  voltage  = { from = "100 V", to = "240 V" }
  inlets   = { type = "c14", count = 1, needs = 1, locking = true }
}

rack "k2" {
  row   = row.cases
  place = 2
  frame = frame.case-16
  owner = "sound"

  mount "receiver-1" {
    at        = 2
    equipment = equipment.radio-receiver
    cords     = { to = "distributor-1", outlet = 3, length = "2 m", plug = "c14", socket = "c13", locking = true }
    serial    = "LS-201"
  }
  mount "receiver-2" {
    at        = 3
    equipment = equipment.radio-receiver
    cords     = { to = "distributor-1", outlet = 7, length = "2 m", plug = "c14", socket = "c13", locking = true }
    serial    = "LS-202"
  }
  mount "monitor-1" {
    at        = 9
    equipment = equipment.monitor-amplifier
    cords     = { to = "distributor-1", outlet = 1, length = "1.5 m", plug = "c20", socket = "c19", locking = true }
    serial    = "LS-211"
  }
  mount "monitor-2" {
    at        = 11
    equipment = equipment.monitor-amplifier
    cords     = { to = "distributor-1", outlet = 5, length = "1.5 m", plug = "c20", socket = "c19", locking = true }
    serial    = "LS-212"
  }
  mount "monitor-3" {
    at        = 13
    equipment = equipment.monitor-amplifier
    cords     = { to = "distributor-1", outlet = 9, length = "1.5 m", plug = "c20", socket = "c19", locking = true }
    serial    = "LS-213"
  }
  mount "distributor-1" { # at the bottom: its cord leaves there
    at        = 15
    equipment = equipment.distributor
    feeds     = [feed.stage-32]
    serial    = "LS-221"
  }
}
