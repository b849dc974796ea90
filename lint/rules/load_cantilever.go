package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// Cantilever reports a mount on two posts that pulls on them with more moment
// than the frame's maker allows, or that is deep and hangs flush at its front.
//
// The centre of mass is taken in the middle of the body's depth. What is
// mounted at its centre pulls with next to nothing. Without the frame's figure
// only the depth can be judged. On a wall the moment is judged where the frame
// declares one, of what hangs on ears alone.
var Cantilever = &lint.Rule{
	ID:      "load/cantilever",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "hangs too far out from two posts, or from a wall",
	Why: `On two posts everything behind the ears hangs in the air. The posts twist,
the ears bend, and the box droops on the one below. Deep or heavy things are
mounted near their middle.`,
	Source:  "statics; common practice",
	Omits:   "that the centre of mass is seldom in the middle of the body",
	Decides: "the frame's maker",
	Limits: []lint.Limit{
		{Name: "depth", Default: 500 * quantity.Millimetre, Doc: "how deep a body mounted flush on two posts may be; common practice"},
	},
	Bad:  cantileverFrame + fmt.Sprintf(cantileverThings, "ears"),
	Good: cantileverFrame + fmt.Sprintf(cantileverThings, "centre"),
	Rack: cantilever,
}

const (
	cantileverFrame = `frame "relay-45" {
  system    = "19in"
  kind      = "two-post"
  units     = 45
  post_span = "76 mm"
  moment    = "60 N m"
}

`
	cantileverThings = `equipment "router" {
  system   = "19in"
  height   = "4U"
  depth    = "480 mm"
  mass     = "30 kg"
  mounting = "%s"
}

rack "relay-1" {
  frame = frame.relay-45

  mount "router-1" {
    at        = 20
    equipment = equipment.router
  }
}
`
)

func cantilever(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	if f == nil || f.Kind != estate.TwoPost && (f.Kind != estate.WallFrame || f.Moment.State == estate.IsMissing) {
		return
	}
	for m, q := range inPlace(r) {
		d, missing := m.Depths()
		if missing != "" {
			p.MountUnchecked(m, "%s", missing)
			continue
		}
		depth := d.Body.To - d.Body.From
		limit := lint.LimitFor[quantity.Length](p, "depth", m)
		if f.Kind == estate.TwoPost && q.Mounting != estate.Centre && depth > limit {
			finding := lint.AtMount(m, "equipment")
			finding.Message = fmt.Sprintf("%s is %s deep and hangs flush at its %s on two posts (%s at most); mount it near its middle",
				m.Name, told(p, q.Depth), m.Posts(), p.Length(limit))
			finding.Related = figureAt(&q.Source, q.Depth, "the depth of %s", q.Name)
			p.Report(finding)
			continue
		}
		if f.Kind == estate.WallFrame && q.Mounting != estate.Ears {
			continue // rear posts, a shelf's own fixings or nothing said
		}
		if !q.Mass.Known() {
			p.MountUnchecked(m, "%s", lacks("mass", ofEquipment(q), q.Mass.State))
			continue
		}
		if !f.Moment.Known() {
			p.MountUnchecked(m, "%s", lacks("moment that the posts may bear", ofFrame(f), f.Moment.State))
			continue
		}
		arm := (d.Body.From + d.Body.To) / 2
		if m.Posts() == estate.RearFace {
			arm = f.PostSpan.Value - arm
		}
		pull := quantity.Of(quantity.In(physics.Weight(q.Mass.Value), quantity.Newton)*arm.Millimetres()/1000, quantity.NewtonMetre)
		if pull = max(pull, -pull); pull <= f.Moment.Value {
			continue
		}
		finding := lint.AtMount(m, "equipment")
		finding.Message = fmt.Sprintf("%s pulls on its posts with %s (%s%s, its middle %s from them); %s bears %s%s",
			m.Name, pull, q.Mass.Value, basis(q.Mass), p.Length(max(arm, -arm)), f.Name, f.Moment.Value, basis(f.Moment))
		finding.Related = append(figureAt(&q.Source, q.Mass, "the mass of %s", q.Name),
			figureAt(&f.Source, f.Moment, "what %s bears", f.Name)...)
		p.Report(finding)
	}
}
