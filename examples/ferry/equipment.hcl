equipment "ups-6k" {
  kind     = "ups"
  system   = "19in"
  height   = "4U"
  body     = "438 mm"
  depth    = "680 mm"
  cords    = "60 mm"
  mass     = "62 kg"
  mounting = "fixed-rails"
  rails    = { from = "600 mm", to = "800 mm" }
  holes    = ["square", "round"]
  air      = "front-to-rear"
  draw     = { maximum = "0 W" } # it gives the power; its losses are in the room's figure
  battery  = "sealed-lead"
}

equipment "battery-pack" {
  kind     = "battery"
  system   = "19in"
  height   = "2U"
  body     = "438 mm"
  depth    = "680 mm"
  cords    = "40 mm"
  mass     = "41 kg"
  mounting = "fixed-rails"
  rails    = { from = "600 mm", to = "800 mm" }
  holes    = ["square", "round"]
  air      = "none"
  battery  = "sealed-lead"
}

equipment "ticket-server" {
  kind      = "server"
  system    = "19in"
  height    = "2U"
  body      = "440 mm"
  depth     = { is = "730 mm", basis = "data-sheet" }
  cords     = "80 mm"
  front     = "35 mm"
  mass      = "28 kg"
  mounting  = "slides"
  extension = "730 mm"
  rails     = { from = "610 mm", to = "900 mm" }
  holes     = ["square", "round"]
  air       = "front-to-rear"
  draw      = { typical = "310 W", maximum = "450 W", nameplate = "800 W" }
  inlets    = { type = "c14", count = 2, needs = 1 }
}

equipment "storage-24" {
  kind     = "storage"
  system   = "19in"
  height   = "2U"
  body     = "444 mm"
  depth    = "560 mm"
  cords    = "70 mm"
  front    = "30 mm"
  mass     = "34 kg"
  mounting = "fixed-rails"
  rails    = { from = "600 mm", to = "860 mm" }
  holes    = ["square", "round"]
  air      = "front-to-rear"
  draw     = { typical = "420 W", maximum = "520 W", nameplate = "900 W" }
  inlets   = { type = "c14", count = 2, needs = 1 }
}

equipment "console-drawer" {
  kind      = "console"
  system    = "19in"
  height    = "1U"
  body      = "440 mm"
  depth     = "600 mm"
  cords     = "60 mm"
  mass      = "12 kg"
  mounting  = "slides"
  extension = "560 mm"
  rails     = { from = "580 mm", to = "820 mm" }
  holes     = ["square", "round"]
  air       = "none"
  draw      = { maximum = "25 W" }
  inlets    = { type = "c14", count = 1, needs = 1 }
}

equipment "core-switch" {
  kind     = "switch"
  system   = "19in"
  height   = "1U"
  body     = "442 mm"
  depth    = "460 mm"
  cords    = "60 mm"
  front    = "40 mm"
  mass     = "9 kg"
  mounting = "fixed-rails"
  rails    = { from = "600 mm", to = "900 mm" }
  holes    = ["square", "round", "m6"]
  air      = "front-to-rear"
  draw     = { typical = "160 W", maximum = "210 W", nameplate = "350 W" }
  inlets   = { type = "c14", count = 2, needs = 1 }
}

equipment "firewall" {
  kind     = "firewall"
  system   = "19in"
  height   = "1U"
  body     = "438 mm"
  depth    = "420 mm"
  cords    = "60 mm"
  front    = "30 mm"
  mass     = "6 kg"
  mounting = "ears"
  holes    = ["square", "round", "m6"]
  air      = "front-to-rear"
  draw     = { typical = "45 W", maximum = "60 W" }
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "cord-manager" {
  kind     = "manager"
  system   = "19in"
  height   = "1U"
  depth    = "120 mm"
  cords    = "0 mm"
  front    = "60 mm"
  mass     = "1 kg"
  mounting = "ears"
  air      = "none"
}

equipment "panel-24" {
  kind     = "panel"
  system   = "19in"
  height   = "1U"
  body     = "440 mm"
  depth    = "120 mm"
  cords    = "60 mm"
  front    = "40 mm"
  mass     = "1.5 kg"
  mounting = "ears"
  air      = "none"
}

equipment "strip-16" {
  kind     = "strip"
  height   = "1750 mm"
  body     = "56 mm"
  depth    = "60 mm"
  mass     = "5 kg"
  mounting = "zero-u"
  air      = "none"
}

equipment "office-ups" {
  kind     = "ups"
  system   = "19in"
  height   = "2U"
  body     = "438 mm"
  depth    = "400 mm"
  cords    = "50 mm"
  mass     = "34 kg"
  mounting = "fixed-rails"
  rails    = { from = "380 mm", to = "620 mm" }
  holes    = ["square", "round"]
  air      = "front-to-rear"
}

equipment "access-switch" {
  kind     = "switch"
  system   = "19in"
  height   = "1U"
  body     = "440 mm"
  depth    = "300 mm"
  cords    = "60 mm"
  front    = "40 mm"
  mass     = "5 kg"
  mounting = "ears"
  holes    = ["square", "round", "m6"]
  air      = "left-to-right"
  draw     = { typical = "45 W", maximum = "90 W" }
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "ship-ups" {
  kind     = "ups"
  system   = "19in"
  height   = "3U"
  body     = "438 mm"
  depth    = "560 mm"
  cords    = "60 mm"
  mass     = "38 kg" # 22 kg with its batteries out
  mounting = "fixed-rails"
  rails    = { from = "560 mm", to = "760 mm" }
  holes    = ["m6"]
  air      = "front-to-rear"
  rated    = { active = "1350 W", apparent = "1500 VA" }
  runtime = [
    { load = "300 W", lasts = "75 min" },
    { load = "700 W", lasts = "28 min" },
    { load = "1350 W", lasts = "10 min" },
  ]
}

equipment "ship-switch" {
  kind     = "switch"
  system   = "19in"
  height   = "1U"
  body     = "440 mm"
  depth    = "300 mm"
  cords    = "60 mm"
  front    = "40 mm"
  mass     = "6 kg"
  mounting = "ears"
  holes    = ["m6"]
  air      = "front-to-rear"
  draw     = { typical = "40 W", maximum = "70 W" }
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "ship-panel" {
  kind     = "panel"
  system   = "19in"
  height   = "1U"
  depth    = "100 mm"
  cords    = "60 mm"
  front    = "40 mm"
  mass     = "3 kg"
  mounting = "ears"
  holes    = ["m6"]
  air      = "none"
}

equipment "ship-router" {
  kind     = "router"
  system   = "19in"
  height   = "1U"
  body     = "440 mm"
  depth    = "350 mm"
  cords    = "60 mm"
  front    = "40 mm"
  mass     = "7 kg"
  mounting = "ears"
  holes    = ["m6"]
  air      = "front-to-rear"
  draw     = { typical = "60 W", maximum = "110 W" }
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "voyage-recorder" {
  kind     = "recorder"
  system   = "19in"
  height   = "2U"
  body     = "440 mm"
  depth    = "450 mm"
  cords    = "60 mm"
  mass     = "16 kg"
  mounting = "fixed-rails"
  rails    = { from = "500 mm", to = "700 mm" }
  holes    = ["m6"]
  air      = "front-to-rear"
  draw     = { typical = "80 W", maximum = "140 W" }
  inlets   = { type = "c14", count = 2, needs = 1 }
}

equipment "radio-gateway" {
  kind     = "gateway"
  system   = "19in"
  height   = "2U"
  body     = "440 mm"
  depth    = "400 mm"
  cords    = "60 mm"
  mass     = "9 kg"
  mounting = "ears"
  holes    = ["m6"]
  air      = "front-to-rear"
  draw     = { typical = "70 W", maximum = "120 W" }
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "ship-server" {
  kind     = "server"
  system   = "19in"
  height   = "2U"
  body     = "440 mm"
  depth    = "600 mm"
  cords    = "80 mm"
  front    = "30 mm"
  mass     = "22 kg"
  mounting = "fixed-rails"
  rails    = { from = "560 mm", to = "760 mm" }
  holes    = ["m6"]
  air      = "front-to-rear"
  draw     = { typical = "220 W", maximum = "380 W" }
  inlets   = { type = "c14", count = 2, needs = 1 }
}
