package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// FrontRoom reports handles and cords before the mounting face that meet the
// closed door or lid on that side. An adapter that holds a mount before the
// posts counts. In a road case some room must stay to the lid, which is pressed
// on.
//
// Where nothing is declared before the mounting face, room for the usual
// handles and bends is enough; less cannot be judged. An open frame has no door.
var FrontRoom = &lint.Rule{
	ID:      "fit/front-room",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "handles or cords meet the closed door or lid",
	Why: `The door closes on the cords, or does not close. Fibre that is pressed
against a door fails weeks later. A lid that touches a handle tears it off on
the road.`,
	Source: "makers' sheets: 63 mm for bezels, 76 mm where fibre turns",
	Limits: []lint.Limit{
		{Name: "usual", Default: 76 * quantity.Millimetre, Doc: "what handles and bends take where it is not declared; makers' sheets"},
		{Name: "lid", Default: 20 * quantity.Millimetre, Doc: "room that must stay before the lid of a road case; common practice"},
	},
	Bad:  exampleCabinet + fmt.Sprintf(frontThings, 90),
	Good: exampleCabinet + fmt.Sprintf(frontThings, 60),
	Rack: frontRoom,
}

const frontThings = `equipment "switch" {
  system = "19in"
  height = "1U"
  front  = "%d mm"
}

rack "hq-a" {
  frame = frame.cab-42

  mount "switch-1" {
    at        = 40
    equipment = equipment.switch
  }
}
`

func frontRoom(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	for m, q := range inPlace(r) {
		door, what := f.FrontRoom, "front room"
		if m.Posts() == estate.RearFace {
			door, what = f.RearRoom, "rear room"
		}
		if front, ok := q.Front.Get(); ok && m.Adapter == nil && q.Mounting != estate.Centre && f.Kind != estate.RoadCase && door.Known() && front <= door.Value {
			continue // nearly every mount
		}
		closed := f.Kind == estate.Cabinet || f.Kind == estate.WallFrame || f.Kind == estate.RoadCase
		if door.State == estate.IsMissing && !closed {
			continue
		}
		spare, how := quantity.Length(0), ""
		if f.Kind == estate.RoadCase {
			spare = lint.LimitFor[quantity.Length](p, "lid", m)
			how = fmt.Sprintf(" + %s to the lid", bare(p, spare))
		}
		forward := quantity.Length(0)
		if a := m.Adapter; a != nil {
			if !a.Forward.Known() {
				p.MountUnchecked(m, "%s", lacks("offset", ofEquipment(a), a.Forward.State))
				continue
			}
			forward = a.Forward.Value
			how = fmt.Sprintf(" + %s of %s", bare(p, forward), a.Name) + how
		}
		need := spare + forward + q.Front.Or(0)
		if q.Mounting == estate.Centre {
			depth, ok := q.Depth.Get()
			if !ok {
				p.MountUnchecked(m, "%s", lacks("depth", ofEquipment(q), q.Depth.State))
				continue
			}
			need += depth / 2
			how = fmt.Sprintf(" + half of %s depth", bare(p, depth)) + how
		}
		switch usual := lint.LimitFor[quantity.Length](p, "usual", m); {
		case !door.Known() && q.Front.Known() && need == 0:
			// Nothing stands before the posts.
		case !door.Known():
			p.MountUnchecked(m, "%s", lacks(what, ofFrame(f), door.State))
		case need > door.Value:
			finding := lint.AtMount(m, "equipment")
			finding.Message = fmt.Sprintf("%s needs %s before its posts (%s handles and cords%s); the %s of %s is %s, %s too little",
				m.Name, p.Length(need), bare(p, q.Front.Or(0))+basis(q.Front), how, what, f.Name, told(p, door), p.Length(need-door.Value))
			finding.Related = append(figureAt(&q.Source, q.Front, "what stands before %s", q.Name),
				figureAt(&f.Source, door, "the %s of %s", what, f.Name)...)
			p.Report(finding)
		case !q.Front.Known() && need+usual > door.Value:
			p.MountUnchecked(m, "%s, and %s has %s to spare", lacks("room for handles and front cords", ofEquipment(q), q.Front.State), m.Name, p.Length(door.Value-need))
		}
	}
}
