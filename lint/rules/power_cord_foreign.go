package rules

import (
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// cordForeign reports a cord to a strip in another rack, and a mount on a feed
// that does not reach its rack, where the rack says which feeds do.
var cordForeign = &lint.Rule{
	ID:      "power/cord-foreign",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a mount is powered from another rack",
	Why: `Whoever isolates a rack switches off what its strips feed, and trusts that this
is what stands in it. A cord to the neighbour stays live, or goes dark with a
rack that nobody thought of.`,
	Source:  "makers' safety notices: connect equipment only to strips in its own rack",
	Decides: electrician,
	Estate:  checkCordForeign,
	Bad: exampleStrip + `
rack "r1" {
  frame = frame.cab
  zero_u "strip-a" {
    equipment = equipment.strip-8
    side      = "left"
    from      = "50 mm"
    feeds     = [feed.a]
  }
}
rack "r2" {
  frame = frame.cab
  mount "server-1" {
    at        = 1
    equipment = equipment.server
    cords     = { to = "rack.r1.strip-a", outlet = 1 }
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
    cords     = { to = "strip-a", outlet = 1 }
  }
}
`,
}

func checkCordForeign(p *lint.Pass) {
	eachCord(p.Estate, func(m *estate.Mount, i int, c *estate.Cord, strip *estate.Mount) {
		if strip == nil || strip.Rack == m.Rack {
			return
		}
		f := atCords(m)
		f.Others = []string{strip.Ref()}
		f.Message = fmt.Sprintf("cord %d of %s runs to %s, in another rack", i+1, m.Ref(), strip.Ref())
		f.Related = []lint.Related{{At: strip.Source.At(), Message: "the strip is declared here"}}
		p.Report(f)
	})
	for _, rack := range p.Estate.Racks {
		if len(rack.Feeds) == 0 {
			continue
		}
		for _, m := range rack.Mounts {
			if len(m.Cords) > 0 {
				continue
			}
			for i, feed := range m.Feeds {
				if feed == nil || slices.Contains(rack.Feeds, feed) || slices.Contains(m.Feeds[:i], feed) {
					continue
				}
				var reach []string
				for _, f := range rack.Feeds {
					reach = append(reach, f.Name)
				}
				f := lint.AtMount(m, "feeds")
				f.Others = []string{feed.Ref()}
				f.Message = fmt.Sprintf("%s hangs on %s, which does not reach %s (%s: %s)", m.Name, feed.Ref(), rack.Name, isAre(len(reach), "feed does", "feeds do"), list(reach))
				f.Related = []lint.Related{{At: rack.Source.Attr("feeds"), Message: "the feeds that reach the rack are declared here"}}
				p.Report(f)
			}
		}
	}
}
