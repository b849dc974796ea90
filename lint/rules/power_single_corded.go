package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// singleCorded reports an important or critical mount that one lost feed takes
// down, unless it is in a group that then has enough members left. Mounts
// without a declared criticality are not its business.
var singleCorded = &lint.Rule{
	ID:      "power/single-corded",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "something important hangs on one feed",
	Why: `What has one cord is down whenever its feed is, for work as much as by
accident. A transfer switch, or a second one of its kind on the other feed,
is what makes the redundant feeds redundant for it.`,
	Source:  "common practice",
	Decides: electrician,
	Estate:  checkSingleCorded,
	Bad:     singleExample("critical"),
	Good:    singleExample("ordinary"),
}

func singleExample(grade string) string {
	return fmt.Sprintf(`
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "modem" {
  height = "1U"
  inlets = { type = "c14", count = 1, needs = 1 }
}
feed "a" { source = "ups" }
rack "r1" {
  frame = frame.cab
  mount "modem-1" {
    at          = 40
    equipment   = equipment.modem
    feeds       = [feed.a]
    criticality = %q
  }
}
`, grade)
}

func checkSingleCorded(p *lint.Pass) {
	covered := map[*estate.Mount]bool{}
	for _, g := range p.Estate.Groups {
		for _, m := range g.Of {
			for _, f := range distinct(m.Feeds) {
				left := 0
				for _, other := range g.Of {
					if p.Estate.UpIn(other, &estate.Outage{Feeds: []*estate.Feed{f}}) {
						left++
					}
				}
				if left >= g.Up {
					covered[m] = true
				}
			}
		}
	}
	for _, rack := range p.Estate.Racks {
		for _, m := range rack.Mounts {
			if m.Criticality < estate.Important || len(m.Feeds) == 0 || covered[m] {
				continue
			}
			for _, feed := range distinct(m.Feeds) {
				if p.Estate.UpIn(m, &estate.Outage{Feeds: []*estate.Feed{feed}}) {
					continue
				}
				f := lint.AtMount(m, "criticality")
				f.Others = []string{feed.Ref()}
				f.Message = fmt.Sprintf("%s is %s and goes down with %s; no transfer switch and no group stands in for it", m.Name, m.Criticality, feed.Ref())
				p.Report(f)
				break
			}
		}
	}
}
