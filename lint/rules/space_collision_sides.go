package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// tails reports rails and slides whose tails, behind the rear posts, meet a
// piece that hangs there beside the posts, or the rear door.
func tails(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	said := false
	for _, q := range inPlace(r) {
		said = said || q.Tail.State != estate.IsMissing
	}
	if !said {
		return
	}
	for _, m := range r.Placed() {
		tail, ok := m.Equipment.Tail.Get()
		if !ok || tail <= 0 || m.Posts() == estate.RearFace {
			if m.Equipment.Tail.State == estate.IsUnknown {
				p.MountUnchecked(m.Mount, "%s", lacks("tail of the rails", ofEquipment(m.Equipment), estate.IsUnknown))
			}
			continue
		}
		if room, ok := f.RearRoom.Get(); ok && tail > room {
			finding := lint.AtMount(m.Mount, "equipment")
			finding.Others = []string{ofFrame(f)}
			finding.Message = fmt.Sprintf("the rails of %s reach %s behind the rear posts; the door of %s is %s behind them, %s too little",
				m.Name, told(p, m.Equipment.Tail), f.Name, told(p, f.RearRoom), p.Length(tail-room))
			finding.Related = figureAt(&f.Source, f.RearRoom, "the rear room of %s", f.Name)
			p.Report(finding)
		}
		for _, z := range r.Mounts {
			if z.ZeroU == nil || plane(z.ZeroU) != estate.RearFace || z.Equipment == nil {
				continue
			}
			if e, ok := z.Extent(); !ok || !e.Meets(m.Extent) {
				continue
			}
			over, missing := intoPosts(f, z.Equipment)
			if missing != "" {
				p.MountUnchecked(m.Mount, "%s", missing)
				continue
			}
			if over <= 0 {
				continue
			}
			finding := lint.AtMount(m.Mount, "equipment")
			finding.Others = []string{z.Ref()}
			finding.Message = fmt.Sprintf("the rails of %s reach %s behind the rear posts at %s; %s hangs there and stands %s into their way",
				m.Name, told(p, m.Equipment.Tail), m.Label(), z.Name, p.Length(over))
			finding.Related = []lint.Related{{At: z.Source.At(), Message: fmt.Sprintf("%s hangs at the %s", z.Name, z.ZeroU.Side)}}
			p.Report(finding)
		}
	}
}

// intoPosts gives how far a piece beside the posts reaches in over the width
// of a panel, in which rails end; not above 0 where it clears them. The piece
// is taken to lie against the frame's side.
func intoPosts(f *estate.Frame, q *estate.Equipment) (quantity.Length, string) {
	width, ok := f.Width.Get()
	if !ok {
		return 0, lacks("width", ofFrame(f), f.Width.State)
	}
	body, ok := q.Body.Get()
	if !ok {
		return 0, lacks("body width", ofEquipment(q), q.Body.State)
	}
	panel := 19 * quantity.Inch
	if f.System != nil {
		panel = f.System.Panel
	}
	return body - (width-panel)/2, ""
}
