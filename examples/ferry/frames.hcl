frame "cab-42" {
  system     = "19in"
  kind       = "cabinet"
  units      = 42
  counted    = "up"
  holes      = "square"
  post_span  = { is = "740 mm", basis = "measured", on = "2026-03-02" }
  front_room = "80 mm"
  rear_room  = "180 mm"
  opening    = "450 mm"
  width      = "800 mm"
  depth      = "1000 mm"
  height     = "2000 mm"
  base       = "100 mm"
  mass       = "118 kg"
  rated      = "1000 kg"
  rolling    = "500 kg"
  standing   = "feet"
  feet_width = "740 mm"
  feet_depth = "880 mm"
  fixed      = "anchored"
}

frame "wall-9" {
  system     = "19in"
  kind       = "wall"
  units      = 9
  counted    = "up"
  holes      = "square"
  post_span  = "400 mm"
  front_room = "60 mm"
  rear_room  = "60 mm"
  opening    = "450 mm"
  width      = "600 mm"
  depth      = "520 mm"
  height     = "500 mm"
  base       = "1400 mm"
  mass       = "18 kg"
  rated      = "60 kg"
  fixed      = "anchored"
}

# The yard's drawings count from the top; the numbers on the posts agree.
frame "shock-24" {
  system     = "19in"
  kind       = "four-post"
  units      = 24
  counted    = "down"
  holes      = "m6"
  post_span  = { is = "620 mm", basis = "drawing" }
  front_room = "150 mm"
  rear_room  = "200 mm"
  opening    = "450 mm"
  width      = "600 mm"
  depth      = "800 mm"
  height     = "1220 mm"
  base       = "90 mm"
  mass       = "55 kg"
  rated      = "250 kg"
  standing   = "feet"
  feet_width = "540 mm"
  feet_depth = "720 mm"
  fixed      = "anchored"
}
