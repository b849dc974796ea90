package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// outletTwice reports an outlet that two cords claim: once for each cord after
// the first, with the first as related.
var outletTwice = &lint.Rule{
	ID:      "power/outlet-twice",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "two cords are in one outlet",
	Why: `One of the two was moved and never written down. Whoever pulls "outlet 7" of
the record will pull the other one.`,
	Source:  "common practice",
	Decides: electrician,
	Estate:  checkOutletTwice,
	Bad:     twiceExample(1),
	Good:    twiceExample(2),
}

func twiceExample(second int) string {
	return exampleStrip + fmt.Sprintf(`
rack "r1" {
  frame = frame.cab
  zero_u "strip-a" {
    equipment = equipment.strip-8
    side      = "left"
    from      = "50 mm"
    feeds     = [feed.a]
  }
  mount "server-1" {
    at        = 1
    equipment = equipment.server
    cords     = { to = "strip-a", outlet = 1 }
  }
  mount "server-2" {
    at        = 2
    equipment = equipment.server
    cords     = { to = "strip-a", outlet = %d }
  }
}
`, second)
}

func checkOutletTwice(p *lint.Pass) {
	type outlet struct {
		strip  *estate.Mount
		number int
	}
	first := map[outlet]*estate.Mount{}
	eachCord(p.Estate, func(m *estate.Mount, _ int, c *estate.Cord, strip *estate.Mount) {
		if strip == nil {
			return
		}
		if c.Outlet == 0 {
			p.MountUnchecked(m, "the outlet of %s that a cord of %s is in is missing", strip.Ref(), m.Name)
			return
		}
		o := outlet{strip, c.Outlet}
		earlier := first[o]
		if earlier == nil {
			first[o] = m
			return
		}
		f := atCords(m)
		f.Others = []string{earlier.Ref(), fmt.Sprintf("%s outlet %d", strip.Ref(), c.Outlet)}
		f.Message = fmt.Sprintf("%s and %s are both in outlet %d of %s", m.Ref(), earlier.Ref(), c.Outlet, strip.Ref())
		f.Related = []lint.Related{{At: earlier.Source.Attr("cords"), Message: earlier.Name + " is in it too"}}
		p.Report(f)
	})
}
