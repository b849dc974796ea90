package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// noFeed reports equipment with inlets that names too few feeds: none, or fewer
// than it needs to run (an error), or fewer than it has inlets (a warning).
// What names a feed that is declared nowhere is left to record/unknown-name.
var noFeed = &lint.Rule{
	ID:      "power/no-feed",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "an inlet has no feed",
	Why: `What is not on a feed in the files is on one in the room, and nobody has
counted it: the strip that trips next year was full of such cords. An inlet
left open makes equipment with two supplies into equipment with one.`,
	Source:  "common practice",
	Omits:   "an inlet left open on purpose: turn the rule off for its rack or equipment (adjust with within), and say why",
	Decides: electrician,
	Rack:    checkNoFeed,
	Bad: `
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "console" {
  height = "1U"
  inlets = { type = "c14", count = 1, needs = 1 }
}
rack "r1" {
  frame = frame.cab
  mount "console" {
    at        = 20
    equipment = equipment.console
  }
}
`,
	Good: `
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "console" {
  height = "1U"
  inlets = { type = "c14", count = 1, needs = 1 }
}
feed "a" {
  voltage = "230 V"
  rated   = "16 A"
}
rack "r1" {
  frame = frame.cab
  mount "console" {
    at        = 20
    equipment = equipment.console
    feeds     = [feed.a]
  }
}
`,
}

func checkNoFeed(p *lint.Pass, rack *estate.Rack) {
	for _, m := range rack.Mounts {
		if m.Equipment == nil {
			continue
		}
		inlets, needs := m.Equipment.InletCount()
		n, attr, what := len(m.Feeds), "feeds", "feed"
		if len(m.Cords) > 0 {
			// Where a cord leads is power/no-outlet's business.
			n, attr, what = len(m.Cords), "cords", "cord"
		}
		if power, _, why := m.Load(rack.Site()); inlets == 0 && n == 0 && why == "" && power > 0 {
			p.MountUnchecked(m, "%s takes %s, and whether it has inlets is not declared", m.Name, power)
			continue
		}
		if inlets == 0 || n >= inlets || lacksName(p, m.Ref(), "feed") {
			continue
		}
		f := lint.AtMount(m, attr)
		f.Related = []lint.Related{{At: m.Equipment.Source.Attr("inlets"), Message: "its inlets are declared here"}}
		switch {
		case n == 0:
			f.Message = fmt.Sprintf("%s has %s and no feed", m.Name, quantity.Count(inlets, "inlet"))
		case n < needs:
			f.Message = fmt.Sprintf("%s needs %s live and has %s", m.Name, quantity.Count(needs, "inlet"), quantity.Count(n, what))
		default:
			f.Level = lint.Warning
			f.Message = fmt.Sprintf("%s has %s and %s: %s open", m.Name, quantity.Count(inlets, "inlet"), quantity.Count(n, what),
				isAre(inlets-n, "is", "are"))
		}
		p.Report(f)
	}
}

func isAre(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// lacksName reports whether the thing refers to something of that kind that is
// declared nowhere.
func lacksName(p *lint.Pass, from, kind string) bool {
	for i := range p.Estate.Unresolved {
		if u := &p.Estate.Unresolved[i]; u.From == from && u.Kind == kind {
			return true
		}
	}
	return false
}
