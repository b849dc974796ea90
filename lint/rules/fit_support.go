package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// Support reports rails that reach below their own unit into what a neighbour
// takes, and two mounts whose declared ears or rails need the same hole of the
// same posts.
//
// A panel is lower than its units by the allowance of its system; rails no
// thicker than that clear the neighbour.
var Support = &lint.Rule{
	ID:      "fit/support",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "rails take a neighbour's height, or both need the same hole",
	Why: `Rails under a box have a thickness, and the box sits on it. What its sheet
calls one unit is then one unit and three millimetres, and the neighbour below
does not go in, or its rails want the hole that is already used.`,
	Source: "makers' sheets",
	Bad:    exampleCabinet + fmt.Sprintf(supportThings, 3),
	Good:   exampleCabinet + fmt.Sprintf(supportThings, 0),
	Rack:   support,
}

const supportThings = `equipment "server" {
  system   = "19in"
  height   = "2U"
  mounting = "fixed-rails"
  below    = "%d mm"
}

equipment "switch" {
  system = "19in"
  height = "1U"
}

rack "hq-a" {
  frame = frame.cab-42

  mount "switch-1" {
    at        = 11
    equipment = equipment.switch
  }
  mount "server-1" {
    at        = 12
    equipment = equipment.server
  }
}
`

func support(p *lint.Pass, r *estate.Rack) {
	said := false
	for m, q := range inPlace(r) {
		said = said || q.Below.Known() || len(q.Ears) > 0
		if q.Below.State == estate.IsUnknown {
			p.MountUnchecked(m, "%s", lacks("reach of the rails below the units", ofEquipment(q), q.Below.State))
		}
	}
	if !said {
		return
	}
	placed := r.Placed()
	for i, m := range placed {
		below, ok := m.Equipment.Below.Get()
		if !ok || below == 0 {
			continue
		}
		clear := quantity.Length(0)
		if s := m.Equipment.System; s != nil {
			clear = s.Allowance
		}
		under := estate.Extent{Bottom: m.Bottom - below, Top: m.Bottom}
		for j, o := range placed {
			if i == j || o.Posts() != m.Posts() || !o.Slot.Overlaps(m.Slot) || o.Top > m.Bottom+estate.Touch {
				continue
			}
			if over := min(o.Top, under.Top) - under.Bottom; over > clear+estate.Touch {
				f := lint.AtMount(m.Mount, "at")
				f.Others = []string{o.Ref()}
				f.Message = fmt.Sprintf("the rails of %s reach %s below %s; %s stands there, and panels clear each other by %s",
					m.Name, told(p, m.Equipment.Below), m.Label(), o.Name, p.Length(clear))
				f.Related = append([]lint.Related{{At: o.Source.Attr("at"), Message: fmt.Sprintf("%s takes %s", o.Name, o.Label())}},
					figureAt(&m.Equipment.Source, m.Equipment.Below, "the rails of %s", m.Equipment.Name)...)
				p.Report(f)
			}
		}
	}
	sharedHoles(p, r, placed)
}

// sharedHoles reports pairs that need the same hole. Two that claim the same
// space do so anyway, and are another rule's business.
func sharedHoles(p *lint.Pass, r *estate.Rack, placed []estate.Placed) {
	type claim struct {
		hole quantity.Length
		by   estate.Placed
	}
	var claims []claim
	for _, m := range placed {
		if len(m.Equipment.Ears) == 0 || m.Adapter != nil || !m.Slot.Whole() {
			continue
		}
		screws, ok := m.Screws()
		if !ok {
			continue
		}
		for _, at := range screws {
			hole, ok := r.Frame.NearestHole(at)
			if !ok || max(hole-at, at-hole) > quantity.Millimetre {
				continue // fit/no-hole says so
			}
			for _, c := range claims {
				if c.hole != hole || c.by.Posts() != m.Posts() || c.by.Mount == m.Mount || c.by.Meets(m.Extent) {
					continue
				}
				later, earlier := laterOf(r, c.by.Mount, m.Mount)
				f := lint.AtMount(later, "at")
				f.Others = []string{earlier.Ref()}
				f.Message = fmt.Sprintf("%s and %s both need the hole %s above the base of rack %s", later.Name, earlier.Name, hole, r.Name)
				f.Related = []lint.Related{{At: earlier.Source.Attr("at"), Message: fmt.Sprintf("%s is placed here", earlier.Name)}}
				p.Report(f)
			}
			claims = append(claims, claim{hole, m})
		}
	}
}
