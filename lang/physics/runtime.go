package physics

import (
	"cmp"
	"slices"
	"strings"

	"cagenut/lang/quantity"
)

// A RuntimePoint is one point of a UPS maker's curve: how long its batteries
// last at a load.
type RuntimePoint struct {
	Load     quantity.Power // in watts, or in volt-amperes
	Apparent bool           // the load is in volt-amperes; alike in all points of a curve
	Lasts    quantity.Duration
}

// How far a [Runtime] is known.
type Reach uint8

// The reaches.
const (
	NoReach Reach = iota // there is no curve
	Within               // the load lies within the curve
	Lighter              // it is lighter than the lightest point: the runtime is at least that point's
	Heavier              // it is heavier than the heaviest point: the runtime is less than that point's
)

// Runtime reads a maker's curve, lightest load first, at a load.
//
// Between two points the part of the charge that is used in a minute, 1/t, is
// taken to grow in proportion to the load. That is exact for a battery that
// gives the same energy at any load and for what the inverter takes for itself,
// and it is short of the truth for one that gives less the faster it is emptied
// (Peukert 1897: t falls with the load to a power above 1, so that 1/t is a
// convex function of it, which lies below its chords). A straight line between the runtimes would promise too much: from 40
// min at 500 W and 10 min at 1000 W it makes 25 min of 750 W, 1/t makes 16 min.
//
// Beyond its ends the curve is not drawn on: the runtime is that of the end, and
// the reach says on which side of it the truth lies.
func Runtime(curve []RuntimePoint, load quantity.Power) (quantity.Duration, Reach) {
	if len(curve) == 0 {
		return 0, NoReach
	}
	if load < curve[0].Load {
		return curve[0].Lasts, Lighter
	}
	for i, p := range curve {
		switch {
		case load == p.Load:
			return p.Lasts, Within
		case load < p.Load:
			a := curve[i-1]
			f := float64(load-a.Load) / float64(p.Load-a.Load)
			rate := (1-f)/float64(a.Lasts) + f/float64(p.Lasts)
			return quantity.Duration(1 / rate), Within
		}
	}
	return curve[len(curve)-1].Lasts, Heavier
}

// SortRuntime puts the points of a curve in order, lightest load first.
func SortRuntime(curve []RuntimePoint) {
	slices.SortFunc(curve, func(a, b RuntimePoint) int { return cmp.Compare(a.Load, b.Load) })
}

// LoadText writes the load of a point in its unit.
func (p RuntimePoint) LoadText() string {
	if p.Apparent {
		return strings.TrimSuffix(p.Load.String(), "W") + "VA"
	}
	return p.Load.String()
}

// CurvePlace says where on a curve a load lies: "between 1200 W for 16 min and
// 2700 W for 5 min of its curve".
func CurvePlace(curve []RuntimePoint, load quantity.Power) string {
	first, last := curve[0], curve[len(curve)-1]
	switch {
	case load < first.Load:
		return "lighter than the lightest point of its curve, " + first.String()
	case load > last.Load:
		return "heavier than the heaviest point of its curve, " + last.String()
	}
	i := slices.IndexFunc(curve, func(p RuntimePoint) bool { return p.Load >= load })
	if curve[i].Load == load {
		return "a point of its curve"
	}
	return "between " + curve[i-1].String() + " and " + curve[i].String() + " of its curve"
}

// String writes the point: "1200 W for 16 min".
func (p RuntimePoint) String() string { return p.LoadText() + " for " + p.Lasts.String() }
