equipment "correlator" {
  kind     = "correlator"
  system   = "19in"
  height   = "4U"
  body     = "440 mm"
  depth    = "560 mm"
  cords    = "0 mm" # its connectors are in front
  mass     = "31 kg"
  mounting = "fixed-rails"
  rails    = { from = "560 mm", to = "760 mm" }
  holes    = ["m6"]
  air      = "front-to-rear"
  class    = "A1"
  draw     = { typical = "900 W", maximum = "1100 W" }
  inlets   = { type = "c14", count = 2, needs = 1 }
}

equipment "fibre-shelf" {
  kind     = "panel"
  system   = "19in"
  height   = "1U"
  depth    = "120 mm"
  cords    = "0 mm"
  mass     = "2 kg"
  mounting = "ears"
  air      = "none"
}

equipment "receiver-legacy" {
  kind     = "receiver"
  system   = "19in"
  height   = "1.5U"
  body     = "430 mm"
  depth    = "380 mm"
  cords    = "60 mm"
  mass     = "7 kg"
  mounting = "ears"
  air      = "none"
  class    = "A2"
  draw     = "45 W"
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "frequency-reference" {
  kind     = "reference"
  system   = "19in"
  height   = "1U"
  depth    = "300 mm"
  cords    = "60 mm"
  mass     = "5 kg"
  mounting = "ears"
  air      = "none"
  draw     = "30 W"
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "frequency-splitter" {
  kind     = "distribution"
  system   = "19in"
  height   = "1U"
  share    = "1/2"
  depth    = "250 mm"
  cords    = "60 mm"
  mass     = "2 kg"
  mounting = "shelf"
  air      = "none"
  draw     = "15 W"
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "line-crate" {
  kind     = "crate"
  system   = "19in"
  height   = "9U"
  depth    = "200 mm"
  cords    = "40 mm"
  front    = "20 mm"
  mass     = "9 kg"
  mounting = "ears"
  air      = "bottom-to-top"
  draw     = "120 W"
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "exchange-adapter" {
  kind     = "adapter"
  system   = "25mm"
  takes    = "19in"
  forward  = { is = "20 mm", basis = "estimated" }
  carries  = "40 kg"
  mass     = "1.5 kg"
  mounting = "ears"
}
