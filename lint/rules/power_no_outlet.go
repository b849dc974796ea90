package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// noOutlet reports a cord that leads nowhere: to no mount of that name, to one
// without outlets, or to an outlet that it does not have. It also reports more
// cords or feeds than there are inlets.
var noOutlet = &lint.Rule{
	ID:      "power/no-outlet",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a cord has no outlet or no inlet to run between",
	Why: `A cord to a strip that is not there, or to its ninth outlet of eight, is a cord
that somebody will plug in wherever there is room that night.`,
	Source:  "common practice",
	Decides: electrician,
	Estate:  checkNoOutlet,
	Bad: exampleStrip + `
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
    cords     = { to = "strip-a", outlet = 9 }
  }
}
`,
	Good: exampleStrip + `
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
    cords     = { to = "strip-a", outlet = 6 }
  }
}
`,
}

func checkNoOutlet(p *lint.Pass) {
	eachCord(p.Estate, func(m *estate.Mount, i int, c *estate.Cord, strip *estate.Mount) {
		f := atCords(m)
		f.Others = []string{fmt.Sprintf("cord %d", i+1)}
		switch {
		case strip == nil:
			f.Message = fmt.Sprintf("cord %d of %s runs to %q, and there is no such mount", i+1, m.Name, c.To)
		case strip.Equipment == nil:
			return
		case strip.Equipment.OutletCount() == 0:
			f.Message = fmt.Sprintf("cord %d of %s runs to %s, and equipment.%s has no outlets", i+1, m.Name, strip.Ref(), strip.Equipment.Name)
			f.Related = []lint.Related{{At: strip.Equipment.Source.At(), Message: "it is declared here"}}
		case c.Outlet > strip.Equipment.OutletCount():
			f.Message = fmt.Sprintf("cord %d of %s runs to outlet %d of %s, which has %d", i+1, m.Name, c.Outlet, strip.Ref(), strip.Equipment.OutletCount())
			f.Related = []lint.Related{{At: strip.Equipment.Source.Attr("outlets"), Message: "its outlets are declared here"}}
		default:
			return
		}
		p.Report(f)
	})
	for _, rack := range p.Estate.Racks {
		for _, m := range rack.Mounts {
			if m.Equipment == nil {
				continue
			}
			inlets, _ := m.Equipment.InletCount()
			n, attr, what := len(m.Feeds), "feeds", "feed"
			if len(m.Cords) > 0 {
				n, attr, what = len(m.Cords), "cords", "cord"
			}
			if n <= inlets || inlets == 0 && len(m.Equipment.Inlets) == 0 && !m.Equipment.Draw.Declared() && len(m.Cords) == 0 {
				continue
			}
			if inlets == 0 {
				p.MountUnchecked(m, "the inlets of equipment.%s are missing", m.Equipment.Name)
				continue
			}
			f := lint.AtMount(m, attr)
			f.Others = []string{"inlets"}
			f.Message = fmt.Sprintf("%s has %s and %s", m.Name, quantity.Count(inlets, "inlet"), quantity.Count(n, what))
			f.Related = []lint.Related{{At: m.Equipment.Source.Attr("inlets"), Message: "its inlets are declared here"}}
			p.Report(f)
		}
	}
}
