package rules

import (
	"fmt"

	"cagenut/lint"
)

// GoesDark is reported where the work takes off what gives power to other
// things, and some of them hang on nothing else.
var GoesDark = &lint.Rule{
	ID:      "plan/goes-dark",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "what is taken off gives power to things that hang on nothing else",
	Why: `A UPS, a strip or a transfer switch is moved like any other thing, until
somebody asks what is plugged into it. What has a second cord runs on; what has one
goes down, and its owner did not know that the work is about him. It is an error
where that leaves a group with too few members.`,
	Source:  "common practice",
	Omits:   "sources that do not say which mount gives them",
	Decides: electrician,
	Before:  planPlace + planFrame + planFeeds + darkThings + fmt.Sprintf(darkRack, 1, 4),
	Bad:     planPlace + planFrame + planFeeds + darkThings + fmt.Sprintf(darkRack, 5, 4),
	Good:    planPlace + planFrame + planFeeds + darkThings + fmt.Sprintf(darkRack, 1, 6),
	Change:  true,
}

const (
	darkThings = `equipment "ups" {
  kind     = "ups"
  system   = "19in"
  height   = "2U"
  depth    = "600 mm"
  mass     = "30 kg"
  mounting = "fixed-rails"
  rails    = { from = "600 mm", to = "900 mm" }
}
equipment "router" {
  kind     = "router"
  system   = "19in"
  height   = "1U"
  depth    = "300 mm"
  mass     = "5 kg"
  mounting = "ears"
  inlets   = { type = "c14", count = 1, needs = 1 }
}

source "ups" {
  kind  = "ups"
  mount = rack.hq-a.ups-1
}

`
	darkRack = `rack "hq-a" {
  row   = row.hq-1
  frame = frame.half-6
  feeds = [feed.a, feed.b]

  mount "ups-1" {
    at        = %d
    equipment = equipment.ups
  }
  mount "router-1" {
    at        = %d
    equipment = equipment.router
    feeds     = [feed.a]
  }
}
`
)
