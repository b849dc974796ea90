estate "odd" {}
frame "f" {
  system = "19in"
  units  = 10
}
feed "t" {
  phases  = 3
  voltage = "400 V"
  rated   = "16 A"
}
feed "n" { phases = 0 }
equipment "s" {
  kind    = "strip"
  height  = "1U"
  outlets = { type = "c13", count = 4, bank = "x" }
}
equipment "p" {
  height = "1U"
  draw   = "100 W"
  inlets = [{ type = "c14", count = 2, needs = 1 }]
  inrush = "10 A"
}
rack "r" {
  frame = frame.f
  mount "strange" {
    at        = 1
    equipment = equipment.nope
    feeds     = [feed.t, feed.zz]
  }
  mount "s1" {
    at        = 2
    equipment = equipment.s
    cords     = { to = "strange" }
  }
  mount "s2" {
    at        = 3
    equipment = equipment.s
    cords     = [{ to = "s2" }, { to = "rack.r.s1", outlet = 99 }, { to = "rack." }]
  }
  mount "p1" {
    at        = 4
    equipment = equipment.p
    cords     = [{ to = "s1", outlet = 1 }, { to = "s2", outlet = 4 }, { to = "strange" }]
    criticality = "critical"
  }
  zero_u "z" {
    equipment = equipment.p
    feeds     = [feed.n, feed.n, feed.n]
  }
}
rack "r2" {
  frame = frame.g
  mount "p1" {
    at        = 4
    equipment = equipment.p
    cords     = { to = "rack.r.s1", outlet = 1 }
  }
}
group "g" {
  of    = [rack.r.p1, rack.r2.p1, rack.r.none]
  apart = ["rack", "row", "room", "strip", "feed", "breaker", "source"]
}
source "a" { from = [source.b] }
source "b" { from = [source.a, source.c] }
breaker "x" { breaker = breaker.y }
breaker "y" { breaker = breaker.x }
feed "loop" { breaker = breaker.x }
feed "loop2" { source = "a" }
