# The catalogue: kinds of things that can be mounted, with figures from their
# data sheets.

equipment "access-switch" {
  kind     = "switch"
  system   = "19in"
  height   = "1U"
  body     = "440 mm"
  depth    = "320 mm" # behind the mounting face
  cords    = "60 mm"  # room that its connectors and bends need behind it
  mass     = "5 kg"
  mounting = "ears"
  holes    = ["square", "round", "m6"]
  air      = "front-to-rear"
  draw     = { typical = "60 W", maximum = "110 W" }
  inlets   = { type = "c14", count = 1, needs = 1 }
}

equipment "server" {
  kind     = "server"
  system   = "19in"
  height   = "2U"
  body     = "438 mm"
  depth    = "720 mm"
  cords    = "80 mm"
  mass     = "28 kg"
  mounting = "slides"
  rails    = { from = "600 mm", to = "900 mm" } # post spans that its rails reach
  holes    = ["square", "round"]
  air      = "front-to-rear"
  draw     = { typical = "300 W", maximum = "480 W" }
  inlets   = { type = "c14", count = 2, needs = 1 }
}

equipment "patch-24" {
  kind     = "patch-panel"
  system   = "19in"
  height   = "1U"
  depth    = "110 mm"
  mass     = "1.5 kg"
  mounting = "ears"
  holes    = ["square", "round", "m6"]
  air      = "none"
}
