# The road cases of a touring sound company. Mistakes are marked; all are for
# lint to find.
estate "long-summer" {
  language = 1
  rules    = "2026.1"
  lengths  = "mm"
}

site "road" {
  zone         = "Europe/Tallinn"
  altitude     = "50 m"
  seismic_zone = 0
  continuous   = 1.0
}

# From the truck to the stage. The load sheet sets each case beside the gates.
route "load-in" {
  gate "tail-lift" {
    width = "2200 mm"
    rated = "1500 kg"
  }
  gate "ramp" {
    gradient = "12 deg"
    note     = "two to push, one to hold, nobody below"
  }
  gate "stage-door" {
    width  = { is = "880 mm", basis = "measured", on = "2026-05-30" }
    height = "2000 mm"
    step   = "25 mm"
    by     = "stage manager"
  }
}

room "stage-left" {
  site   = site.road
  routes = [route.load-in]
}

row "cases" {
  room  = room.stage-left
  front = "mixed"
}

# One feed for each phase of the stage's supply.
feed "l1" {
  room    = room.stage-left
  source  = "stage"
  voltage = "230 V"
  phases  = 1
  rated   = "32 A"
}
feed "l2" {
  room    = room.stage-left
  source  = "stage"
  voltage = "230 V"
  phases  = 1
  rated   = "32 A"
}

frame "case-16" {
  system     = "19in"
  kind       = "case"
  units      = 16
  counted    = "down"
  holes      = "m6"
  post_span  = "450 mm"
  front_room = "90 mm" # to the lid
  rear_room  = "90 mm"
  opening    = "450 mm"
  width      = "560 mm"
  depth      = "700 mm"
  height     = "900 mm"
  base       = "140 mm"
  mass       = "62 kg"
  rated      = "200 kg"
  rolling    = "200 kg"
  standing   = "castors"
  feet_width = "470 mm" # between the castors
  feet_depth = "610 mm"
  fixed      = "none"
}

equipment "amplifier" {
  kind     = "amplifier"
  system   = "19in"
  height   = "2U"
  body     = "440 mm"
  depth    = "430 mm"
  cords    = "60 mm"
  front    = "95 mm" # handles 45, connectors 40, and a finger's width
  mass     = "14.5 kg"
  mounting = "ears" # no rear support
  holes    = ["m6"]
  air      = "front-to-rear"
  draw     = { typical = "600 W", maximum = "3000 W" }
  inlets   = { type = "c20", count = 1, needs = 1 }
}

equipment "processor" {
  kind     = "processor"
  system   = "19in"
  height   = "1U"
  body     = "436 mm"
  depth    = "280 mm"
  cords    = "60 mm"
  front    = "20 mm"
  mass     = "4 kg"
  mounting = "fixed-rails"
  rails    = { from = "380 mm", to = "520 mm" }
  holes    = ["m6"]
  air      = "none"
  draw     = "45 W"
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "panel" {
  kind     = "panel"
  system   = "19in"
  height   = "1U"
  depth    = "60 mm"
  cords    = "60 mm"
  front    = "40 mm"
  mass     = "3 kg"
  mounting = "ears"
  holes    = ["m6"]
  air      = "none"
}

equipment "drawer" {
  kind     = "drawer"
  system   = "19in"
  height   = "2U"
  body     = "440 mm"
  depth    = "380 mm"
  cords    = "0 mm"
  mass     = "9 kg"
  mounting = "ears"
  holes    = ["m6"]
  air      = "none"
}
