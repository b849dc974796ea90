package rules

// Frames that several examples stand in.
const (
	exampleCabinet = `frame "cab-42" {
  system     = "19in"
  kind       = "cabinet"
  units      = 42
  counted    = "up"
  post_span  = "740 mm"
  front_room = "80 mm"
  rear_room  = "180 mm"
  opening    = "450 mm"
}

`
	exampleTwoPost = `frame "relay-45" {
  system    = "19in"
  kind      = "two-post"
  units     = 45
  counted   = "up"
  holes     = "12-24"
  post_span = "76 mm"
}

`
)
