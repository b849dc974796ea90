package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// Withdrawal reports a module that cannot be drawn out of the rear of a mount:
// gear on the other posts or a strip beside them stands in its way, or the aisle
// behind is too narrow with the door open. For a mount on the rear posts its rear is inside the
// rack, and its modules come out towards the front.
var Withdrawal = &lint.Rule{
	ID:      "fit/withdrawal",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a module cannot be drawn out behind",
	Why: `A failed supply is changed in five minutes where there is room, and in a
night with half the rack switched off where there is none.`,
	Source: "makers' sheets; common practice",
	Bad:    exampleCabinet + withdrawalThings + fmt.Sprintf(withdrawalRack, 21),
	Good:   exampleCabinet + withdrawalThings + fmt.Sprintf(withdrawalRack, 22),
	Rack:   withdrawal,
}

const (
	withdrawalThings = `row "hq-1" {
  rear_aisle = "900 mm"
}

equipment "server" {
  system   = "19in"
  height   = "2U"
  depth    = "400 mm"
  withdraw = "300 mm"
}

equipment "rear-panel" {
  system = "19in"
  height = "1U"
  depth  = "60 mm"
}

`
	withdrawalRack = `rack "hq-a" {
  row   = row.hq-1
  frame = frame.cab-42

  mount "server-1" {
    at        = 20
    equipment = equipment.server
  }
  mount "panel-1" {
    at        = %d
    face      = "rear"
    equipment = equipment.rear-panel
  }
}
`
)

func withdrawal(p *lint.Pass, r *estate.Rack) {
	said := false
	for _, q := range inPlace(r) {
		said = said || q.Withdraw.State != estate.IsMissing
	}
	if !said {
		return
	}
	facings := r.Facings()
	for m, q := range inPlace(r) {
		switch q.Withdraw.State {
		case estate.IsMissing:
			continue // it has no such module
		case estate.IsUnknown:
			p.MountUnchecked(m, "%s", lacks("length of the modules", ofEquipment(q), q.Withdraw.State))
			continue
		}
		blocked := false
		for _, c := range facings {
			behind := c.Rear.Mount
			if m.Posts() == estate.RearFace {
				behind = c.Front.Mount
			}
			if (c.Front.Mount != m && c.Rear.Mount != m) || behind == m {
				continue
			}
			blocked = true
			f := lint.AtMount(m, "equipment")
			f.Others = []string{behind.Ref()}
			f.Message = fmt.Sprintf("a module of %s is drawn out %s behind it; %s is in the way at %s",
				m.Name, told(p, q.Withdraw), behind.Name, r.Frame.Label(c.Shared))
			f.Related = append([]lint.Related{{At: behind.Source.Attr("at"), Message: fmt.Sprintf("%s is placed here", behind.Name)}},
				figureAt(&q.Source, q.Withdraw, "the modules of %s", q.Name)...)
			p.Report(f)
		}
		if blocked || m.Posts() == estate.RearFace || behindStrip(p, m) {
			continue
		}
		if r.Row == nil || !r.Row.RearAisle.Known() {
			p.MountUnchecked(m, "the aisle behind rack %s is not declared", r.Name)
			continue
		}
		if aisle := r.Row.RearAisle; q.Withdraw.Value > aisle.Value {
			inside, missing := behindBody(r.Frame, m)
			if missing != "" {
				p.MountUnchecked(m, "%s, and a module of %s is longer than the aisle behind is wide", missing, m.Name)
				continue
			}
			if q.Withdraw.Value <= aisle.Value+inside {
				continue
			}
			f := lint.AtMount(m, "equipment")
			f.Message = fmt.Sprintf("a module of %s is drawn out %s behind it; %s are free there (%s in the rack + the aisle behind row %s, %s), %s too little",
				m.Name, told(p, q.Withdraw), p.Length(aisle.Value+inside), p.Length(inside), r.Row.Name, told(p, aisle), p.Length(q.Withdraw.Value-aisle.Value-inside))
			f.Related = append(figureAt(&q.Source, q.Withdraw, "the modules of %s", q.Name),
				figureAt(&r.Row.Source, aisle, "the aisle behind row %s", r.Row.Name)...)
			p.Report(f)
		}
	}
}

// behindBody gives how much of the rack is behind a body on its front posts, up
// to the door.
func behindBody(f *estate.Frame, m *estate.Mount) (quantity.Length, string) {
	d, missing := m.Depths()
	if missing != "" {
		return 0, missing
	}
	var end quantity.Length
	if f.Kind != estate.TwoPost {
		span, ok := f.PostSpan.Get()
		if !ok {
			return 0, lacks("post span", ofFrame(f), f.PostSpan.State)
		}
		end = span
	}
	room := f.RearRoom
	if !room.Known() && (room.State == estate.IsUnknown || f.Kind == estate.Cabinet) {
		return 0, lacks("rear room", ofFrame(f), room.State)
	}
	return max(end+room.Or(0)-d.Body.To, 0), ""
}

// behindStrip reports a mount whose modules come out into a strip at the rear
// posts, and gives whether the matter is settled by that. Modules may sit
// anywhere in the width of the body.
func behindStrip(p *lint.Pass, m *estate.Mount) bool {
	q := m.Equipment
	extent, ok := m.Extent()
	if !ok {
		return false
	}
	for _, z := range m.Rack.Mounts {
		if z.ZeroU == nil || z.Equipment == nil || plane(z.ZeroU) != estate.RearFace {
			continue
		}
		if e, ok := z.Extent(); !ok || !e.Meets(extent) {
			continue
		}
		inner, missing := clearBetween(m.Rack.Frame, z.Equipment)
		if missing == "" && !q.Body.Known() {
			missing = lacks("body width", ofEquipment(q), q.Body.State)
		}
		if missing != "" {
			p.MountUnchecked(m, "%s", missing)
			return true
		}
		over := q.Body.Value/2 - inner
		if over <= estate.Touch {
			continue
		}
		f := lint.AtMount(m, "equipment")
		f.Others = []string{z.Ref()}
		f.Message = fmt.Sprintf("a module of %s is drawn out %s behind it; %s hangs there and stands up to %s into its way",
			m.Name, told(p, q.Withdraw), z.Name, p.Length(over))
		f.Related = append([]lint.Related{{At: z.Source.At(), Message: fmt.Sprintf("%s hangs at the %s", z.Name, z.ZeroU.Side)}},
			figureAt(&q.Source, q.Withdraw, "the modules of %s", q.Name)...)
		p.Report(f)
		return true
	}
	return false
}
