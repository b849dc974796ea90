frame "shielded-42" {
  system     = "19in"
  kind       = "cabinet"
  units      = 42
  counted    = "up"
  holes      = "m6"
  post_span  = { is = "650 mm", basis = "measured", on = "2026-04-11" }
  front_room = "50 mm"
  rear_room  = "50 mm"
  opening    = "450 mm"
  width      = "600 mm"
  depth      = "750 mm"
  height     = "2100 mm"
  base       = "120 mm"
  mass       = "240 kg"
  rated      = "600 kg"
  standing   = "feet"
  fixed      = "anchored"
  blanking   = false
}

frame "timing-24" {
  system     = "19in"
  kind       = "four-post"
  units      = 24
  counted    = "up"
  holes      = "m6"
  post_span  = "500 mm"
  front_room = "300 mm"
  rear_room  = "300 mm"
  opening    = "450 mm"
  width      = "550 mm"
  depth      = "600 mm"
  height     = "1200 mm"
  base       = "80 mm"
  mass       = "42 kg"
  rated      = "300 kg"
  standing   = "feet"
  fixed      = "anchored"
  blanking   = false
}

# 25 mm practice: what is high in units of 44.45 mm takes whole modules of 25 mm.
frame "exchange-300" {
  system     = "25mm"
  kind       = "cabinet"
  units      = 80
  counted    = "up"
  holes      = "m6"
  post_span  = "230 mm"
  front_room = "44 mm"
  rear_room  = "26 mm"
  width      = "600 mm"
  depth      = "300 mm"
  height     = "2200 mm"
  base       = "100 mm"
  mass       = "70 kg"
  rated      = "250 kg"
  standing   = "feet"
  fixed      = "anchored"
  blanking   = false
}
