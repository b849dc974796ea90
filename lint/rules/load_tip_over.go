package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// tipOver reports the mount on slides that brings its rack nearest to tipping
// when it alone is pulled out, if that is nearer than the limit. A stabiliser
// carries the edge forward; anchored frames are quiet.
var tipOver = &lint.Rule{
	ID:      "load/tip-over",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a rack would come near to tipping with one thing pulled out",
	Why: `What is pulled out before the front feet pulls the rack over, and only what is
left behind them holds it. A heavy unit out of a full cabinet is held seven
times over; the same unit out of a nearly empty one hardly twice, and that is
the state halfway through a move. Height does not enter the balance; it decides
how little a push must add, and who stands below.`,
	Source:  "the least favourable position of sliding parts is asked for by IEC 62368-1 clause 8.6; the factor is common practice",
	Omits:   "two things pulled out at once; pushes, castors on a threshold, earthquakes; states on the way of a change (lint of a run sheet)",
	Decides: engineer,
	Limits: []lint.Limit{{
		Name: "factor", Default: 1.5,
		Doc: "how many times what stays must hold what is pulled out (common practice)",
	}},
	Rack: checkTipOver,
	Bad:  tipExample("none", "40 kg"),
	Good: tipExample("none", "220 kg"),
}

// tipExample is a UPS on slides in a frame of that fixing and mass.
func tipExample(fixed, mass string) string {
	return fmt.Sprintf(`
frame "cab" {
  system     = "19in"
  kind       = "cabinet"
  units      = 42
  base       = "100 mm"
  front_room = "80 mm"
  post_span  = "740 mm"
  width      = "600 mm"
  depth      = "1000 mm"
  height     = "2000 mm"
  feet_width = "500 mm"
  feet_depth = "900 mm"
  mass       = %q
  fixed      = %q
}
equipment "ups" {
  height    = "4U"
  depth     = "680 mm"
  mass      = "65 kg"
  mounting  = "slides"
  extension = "720 mm"
}
rack "r1" {
  frame = frame.cab
  mount "ups-1" {
    at        = 1
    equipment = equipment.ups
  }
}
`, mass, fixed)
}

func checkTipOver(p *lint.Pass, rack *estate.Rack) {
	f := rack.Frame
	if f == nil {
		return
	}
	free, known := f.StandsFree()
	if !free || !anySlides(rack.Mounts) {
		return
	}
	b, why := rack.Balance()
	var feet physics.Feet
	if why == "" {
		feet, why = f.Feet()
	}
	if why != "" {
		p.RackUnchecked(rack, "%s", why)
		return
	}
	var worst estate.PulledOut
	for i, m := range b.Mounts {
		if !m.Slides() {
			continue
		}
		out, why := b.PullOut(i, feet)
		if why != "" {
			p.MountUnchecked(m, "%s", why)
			continue
		}
		if out.Before > 0 && (worst.Mount == nil || out.Factor < worst.Factor) {
			worst = out
		}
	}
	limit := lint.LimitFor[float64](p, "factor", rack)
	if worst.Mount == nil || worst.Factor >= limit {
		return
	}
	if !known {
		p.RackUnchecked(rack, "%s", fixingUnknown(f))
		return
	}
	found := lint.AtMount(worst.Mount, "equipment")
	edge := "the front feet"
	switch {
	case worst.Mount.Face == estate.RearFace:
		edge = "the rear feet"
	case f.Fixed == estate.Stabilised:
		edge = "the end of the stabiliser"
	}
	found.Message = fmt.Sprintf("pulled out, %s (%s) has its middle %s before %s; the rest of %s (%s, %s behind) holds it %s times, %s is the limit",
		worst.Mount.Name, worst.Mass, round(p, worst.Before), edge, rack.Name, worst.Rest, round(p, worst.Behind),
		quantity.Number(worst.Factor, 2), quantity.Number(limit, 2))
	found.Others = []string{"frame." + f.Name}
	found.Related = []lint.Related{{At: f.Source.Attr("fixed"), Message: "its fixing is declared here"}}
	p.Report(found)
}

func anySlides(mounts []*estate.Mount) bool {
	for _, m := range mounts {
		if m.Slides() {
			return true
		}
	}
	return false
}

// round prints a length to the millimetre, or as the estate wants inches.
func round(p *lint.Pass, l quantity.Length) string {
	if p.Estate.Lengths == "in" {
		return l.Inched()
	}
	return quantity.Number(l.Millimetres(), 0) + " mm"
}
