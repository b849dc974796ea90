package rules

import (
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// upsOver reports a UPS in a rack that gives more than it is rated for, in watts
// or in volt-amperes, in normal state or with anything else lost: over its own
// outlets, by the cords that run to it, and over the feeds whose source it is.
// A UPS that is declared as a source alone is left to [upstreamOver].
var upsOver = &lint.Rule{
	ID:      "power/ups-over",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a UPS in a rack gives more than it is rated for",
	Why: `Two UPS share a rack and each is half full, in volt-amperes. One of them is
switched off for its batteries, everything moves to the other, and its watts,
which nobody looked at, are past what the inverter gives: it goes to bypass or
switches off, with the mains there or not.
A UPS is live with the mains off. Batteries are heavy and give high fault
currents; work on them is for whoever is licensed and trained for it.`,
	Source: "the maker's sheet: rated output active and apparent power after IEC 62040-3, each a limit of its own",
	Omits: "losses of the UPS itself; what a charger takes; power factors that are not declared (taken as one where a draw is in watts); " +
		"a UPS whose own supply is lost carries what it carried before; a UPS that is declared as a source alone is judged by power/upstream-over",
	Decides: electrician,
	Estate:  checkUPSOver,
	Bad:     upsExample(`{ active = "900 W", apparent = "1500 VA" }`),
	Good:    upsExample(`{ active = "1350 W", apparent = "1500 VA" }`),
}

// upsExample puts two servers on two UPS that are alike.
func upsExample(rated string) string {
	return `
site "quay" { continuous = 1.0 }
room "hq" { site = site.quay }
frame "cab" {
  system = "19in"
  units  = 42
}
feed "a" {
  room    = room.hq
  source  = "mains"
  voltage = "230 V"
  rated   = "16 A"
}
feed "b" {
  room    = room.hq
  source  = "generator"
  voltage = "230 V"
  rated   = "16 A"
}
equipment "ups-1500" {
  kind    = "ups"
  height  = "2U"
  inlets  = { type = "c14", count = 1, needs = 1 }
  outlets = { type = "c13", count = 8 }
  rated   = ` + rated + `
}
equipment "server" {
  height       = "2U"
  draw         = "600 W"
  power_factor = 0.95
  inlets       = { type = "c14", count = 2, needs = 1 }
}
rack "r1" {
  frame = frame.cab
  mount "ups-a" {
    at        = 1
    equipment = equipment.ups-1500
    feeds     = [feed.a]
  }
  mount "ups-b" {
    at        = 3
    equipment = equipment.ups-1500
    feeds     = [feed.b]
  }
  mount "server-1" {
    at        = 10
    equipment = equipment.server
    cords     = [{ to = "ups-a", outlet = 1 }, { to = "ups-b", outlet = 1 }]
  }
  mount "server-2" {
    at        = 12
    equipment = equipment.server
    cords     = [{ to = "ups-a", outlet = 2 }, { to = "ups-b", outlet = 2 }]
  }
}
`
}

func checkUPSOver(p *lint.Pass) {
	if !slices.ContainsFunc(p.Estate.Equipment, (*estate.Equipment).Backs) {
		return
	}
	for _, c := range p.Supply().Carriers() {
		if c.UPS != nil && c.UPS.Equipment != nil && c.UPS.Equipment.Backs() {
			judgeUPS(p, c)
		}
	}
}

func judgeUPS(p *lint.Pass, c *estate.Carrier) {
	q := c.UPS.Equipment
	for _, b := range c.In {
		says, over := overRating(q.Rated, b)
		if !over {
			continue
		}
		f := lint.AtMount(c.UPS, "equipment")
		f.Message = fmt.Sprintf("%s%s gives %s%s; %s", withLost(&f, b.State), c.UPS.Ref(), says.carried, atLeast(c.Because() == ""), says.rated)
		f.Related = append(f.Related, lint.Related{At: q.Source.Attr("rated"), Message: "its rating is declared here"})
		p.Report(f)
		return
	}
	why := ratingUnjudged(q.Rated, c)
	if !q.Rated.Known() {
		if q.Rated.State() == estate.IsMissing && ratedAsSource(p.Estate, c.UPS) {
			return
		}
		why = lacks("rating", ofEquipment(q), q.Rated.State())
	}
	if why != "" {
		p.MountUnchecked(c.UPS, "%s", why)
	}
}

// ratedAsSource reports whether a source that the UPS gives states a rating.
func ratedAsSource(e *estate.Estate, ups *estate.Mount) bool {
	for _, s := range e.PowerSources {
		if s.Mount == ups && s.Rated.Known() {
			return true
		}
	}
	return false
}
