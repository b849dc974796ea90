# Kinds of rack. Measure the post span of yours: it decides what fits. How a
# figure was come by can be written beside it.

frame "cabinet-42" {
  system     = "19in"
  kind       = "cabinet" # cabinet, four-post, two-post, wall or case
  units      = 42
  counted    = "up" # "up": unit 1 is the lowest; "down": it is the highest
  holes      = "square"
  post_span  = { is = "740 mm", basis = "estimated" } # front face of the front posts to rear face of the rear posts
  front_room = "80 mm"                                # front posts to the closed door
  rear_room  = "180 mm"                               # rear posts to the closed door
  opening    = "450 mm"
  mass       = "120 kg"
  rated      = unknown # what it may carry standing still, from its data sheet
  standing   = "feet"
  fixed      = "anchored" # what keeps it from tipping: "none", "anchored" or "stabiliser"
}
