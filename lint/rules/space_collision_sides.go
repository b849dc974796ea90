package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// behindPosts reports what reaches behind the rear posts into a piece that
// hangs there beside them: the tails of rails and slides, and bodies with their
// cords; and tails that meet the rear door.
func behindPosts(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	var strips []*estate.Mount
	said := false
	for _, m := range r.Mounts {
		if m.ZeroU != nil && plane(m.ZeroU) == estate.RearFace && m.Equipment != nil {
			strips = append(strips, m)
		}
		said = said || m.Equipment != nil && m.Equipment.Tail.State != estate.IsMissing
	}
	if !said && len(strips) == 0 {
		return
	}
	for m, q := range inPlace(r) {
		if m.Posts() == estate.RearFace {
			continue
		}
		tail := q.Tail.Or(0)
		if q.Tail.State == estate.IsUnknown {
			p.MountUnchecked(m, "%s", lacks("tail of the rails", ofEquipment(q), q.Tail.State))
		}
		if room, ok := f.RearRoom.Get(); ok && tail > room {
			finding := lint.AtMount(m, "equipment")
			finding.Others = []string{ofFrame(f)}
			finding.Message = fmt.Sprintf("the rails of %s reach %s behind the rear posts; the door of %s is %s behind them, %s too little",
				m.Name, told(p, q.Tail), f.Name, told(p, f.RearRoom), p.Length(tail-room))
			finding.Related = figureAt(&f.Source, f.RearRoom, "the rear room of %s", f.Name)
			p.Report(finding)
		}
		body := bodyBehind(f, m)
		if tail <= 0 && body <= 0 {
			continue
		}
		extent, ok := m.Extent()
		if !ok {
			continue
		}
		for _, z := range strips {
			if e, ok := z.Extent(); ok && e.Meets(extent) {
				meetStrip(p, m, z, tail, body)
			}
		}
	}
}

// bodyBehind gives how far a body reaches behind the rear posts with its
// cords, as far as that is known; not above 0 where it stays before them.
func bodyBehind(f *estate.Frame, m *estate.Mount) quantity.Length {
	span, ok := f.PostSpan.Get()
	if !ok || f.Kind == estate.TwoPost {
		return 0
	}
	d, missing := m.Depths()
	if missing != "" {
		return 0
	}
	return d.Whole.To - span
}

func meetStrip(p *lint.Pass, m, z *estate.Mount, tail, body quantity.Length) {
	f, q := m.Rack.Frame, m.Equipment
	inner, missing := clearBetween(f, z.Equipment)
	if missing != "" {
		p.MountUnchecked(m, "%s", missing)
		return
	}
	panel := 19 * quantity.Inch
	if f.System != nil {
		panel = f.System.Panel
	}
	finding := lint.AtMount(m, "equipment")
	finding.Others = []string{z.Ref()}
	switch {
	case tail > 0 && panel/2 > inner:
		finding.Message = fmt.Sprintf("the rails of %s reach %s behind the rear posts at %s; %s hangs there and stands %s into their way",
			m.Name, told(p, q.Tail), m.Label(), z.Name, p.Length(panel/2-inner))
	case body > 0 && q.Body.Known() && q.Body.Value/2 > inner:
		finding.Message = fmt.Sprintf("%s reaches %s behind the rear posts at %s; %s hangs there and stands %s into its way",
			m.Name, p.Length(body), m.Label(), z.Name, p.Length(q.Body.Value/2-inner))
	default:
		return
	}
	finding.Related = []lint.Related{{At: z.Source.At(), Message: fmt.Sprintf("%s hangs at the %s", z.Name, z.ZeroU.Side)}}
	p.Report(finding)
}

// clearBetween gives how far from the middle of the frame a piece beside the
// posts begins. The piece is taken to lie against the frame's side.
func clearBetween(f *estate.Frame, q *estate.Equipment) (quantity.Length, string) {
	width, ok := f.Width.Get()
	if !ok {
		return 0, lacks("width", ofFrame(f), f.Width.State)
	}
	body, ok := q.Body.Get()
	if !ok {
		return 0, lacks("body width", ofEquipment(q), q.Body.State)
	}
	return width/2 - body, ""
}
