package rules

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// SupportRating reports a shelf that carries more than it may, with all that
// stands on it together, an adapter that holds more than it may, and rails or
// slides under a mount that weighs more than they may carry.
//
// A mount stands on a shelf where it is mounted on one and begins where a mount
// ends that says what it carries. A shelf that is not declared cannot be
// judged.
var SupportRating = &lint.Rule{
	ID:      "load/support-rating",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a shelf, an adapter or a pair of rails carries more than it may",
	Why: `A shelf is rated for a load spread over it, four-point ones for more than
those that hang at the front. What is too heavy bends its edge first, and then
lies on the machine below.`,
	Source:  "makers' sheets",
	Omits:   "rails and slides that declare no rating (rails_rated); a load at the rear of a shelf",
	Decides: "the maker of the shelf, the adapter or the rails",
	Bad:     exampleCabinet + fmt.Sprintf(supportRatingThings, 26),
	Good:    exampleCabinet + fmt.Sprintf(supportRatingThings, 20),
	Rack:    supportRating,
}

const supportRatingThings = `equipment "shelf" {
  system  = "19in"
  height  = "1U"
  carries = "25 kg"
}

equipment "tower" {
  height   = "8U"
  mass     = "%d kg"
  mounting = "shelf"
}

rack "hq-a" {
  frame = frame.cab-42

  mount "shelf-1" {
    at        = 3
    equipment = equipment.shelf
  }
  mount "tower-1" {
    at        = 4
    equipment = equipment.tower
  }
}
`

func supportRating(p *lint.Pass, r *estate.Rack) {
	type load struct {
		mass  quantity.Mass
		on    []*estate.Mount
		vague bool
	}
	shelves := map[*estate.Mount]*load{}
	for m, q := range inPlace(r) {
		if a := m.Adapter; a != nil {
			overAdapter(p, m, q, a)
		}
		overRails(p, m, q)
		if q.Mounting != estate.Shelf {
			continue
		}
		shelf := r.StandsOn(m)
		switch {
		case shelf == nil:
			p.MountUnchecked(m, "the shelf that %s stands on is not declared", m.Name)
			continue
		case !q.Mass.Known():
			p.MountUnchecked(m, "%s", lacks("mass", ofEquipment(q), q.Mass.State))
		}
		l := shelves[shelf]
		if l == nil {
			l = &load{}
			shelves[shelf] = l
		}
		l.mass += q.Mass.Or(0)
		l.on = append(l.on, m)
		l.vague = l.vague || !q.Mass.Known()
	}
	for _, shelf := range r.Mounts {
		l := shelves[shelf]
		if l == nil {
			continue
		}
		carries := shelf.Equipment.Carries
		if !carries.Known() {
			p.MountUnchecked(shelf, "%s", lacks("mass that may be carried", ofEquipment(shelf.Equipment), carries.State))
			continue
		}
		if l.mass <= carries.Value {
			continue
		}
		var names []string
		f := lint.AtMount(l.on[0], "equipment")
		for _, m := range l.on {
			names = append(names, m.Name)
			f.Related = append(f.Related, figureAt(&m.Equipment.Source, m.Equipment.Mass, "the mass of %s", m.Equipment.Name)...)
		}
		f.Others = []string{shelf.Ref()}
		f.Message = fmt.Sprintf("%s %s %s%s on %s, which carries %s%s",
			list(names), weigh(len(names)), atLeastWord(!l.vague)+l.mass.String(), massBasis(l.on), shelf.Name, carries.Value, basis(carries))
		f.Related = append(f.Related, figureAt(&shelf.Equipment.Source, carries, "what %s carries", shelf.Equipment.Name)...)
		p.Report(f)
	}
}

func weigh(n int) string {
	if n == 1 {
		return "weighs"
	}
	return "together weigh"
}

// massBasis tells how the mass of one mount was come by; of several it says
// nothing.
func massBasis(on []*estate.Mount) string {
	if len(on) != 1 {
		return ""
	}
	return basis(on[0].Equipment.Mass)
}

func overRails(p *lint.Pass, m *estate.Mount, q *estate.Equipment) {
	rated := q.RailsRated
	switch {
	case rated.State == estate.IsMissing:
		return
	case rated.State == estate.IsUnknown:
		p.MountUnchecked(m, "%s", lacks("rating of the rails", ofEquipment(q), rated.State))
		return
	case !q.Mass.Known():
		p.MountUnchecked(m, "%s", lacks("mass", ofEquipment(q), q.Mass.State))
		return
	case q.Mass.Value <= rated.Value:
		return
	}
	f := lint.AtMount(m, "equipment")
	f.Message = fmt.Sprintf("%s weighs %s%s, and its rails carry %s%s", m.Name, q.Mass.Value, basis(q.Mass), rated.Value, basis(rated))
	f.Related = append(figureAt(&q.Source, q.Mass, "the mass of %s", q.Name), figureAt(&q.Source, rated, "what the rails of %s carry", q.Name)...)
	p.Report(f)
}

func overAdapter(p *lint.Pass, m *estate.Mount, q, a *estate.Equipment) {
	var missing []string
	if !q.Mass.Known() {
		missing = append(missing, lacks("mass", ofEquipment(q), q.Mass.State))
	}
	if !a.Carries.Known() {
		missing = append(missing, lacks("mass that may be carried", ofEquipment(a), a.Carries.State))
	}
	if len(missing) > 0 {
		p.MountUnchecked(m, "%s", strings.Join(missing, ", "))
		return
	}
	if q.Mass.Value <= a.Carries.Value {
		return
	}
	f := lint.AtMount(m, "adapter")
	f.Message = fmt.Sprintf("%s weighs %s%s and hangs in %s, which carries %s%s",
		m.Name, q.Mass.Value, basis(q.Mass), a.Name, a.Carries.Value, basis(a.Carries))
	f.Related = append(figureAt(&q.Source, q.Mass, "the mass of %s", q.Name),
		figureAt(&a.Source, a.Carries, "what %s carries", a.Name)...)
	p.Report(f)
}
