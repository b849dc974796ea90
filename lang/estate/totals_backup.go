package estate

import (
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// A Worst is the state in which a UPS carries most.
type Worst struct {
	Load  quantity.Power // in the unit of the curve
	State *LostState     // nil for the normal state
}

// Worst gives the state in which a carrier carries most, in the unit of a
// curve of runtimes: by the load that is known for certain, and with everything
// taken as active of which no power factor is known.
func (c *Carrier) Worst(curve []physics.RuntimePoint) (least, most Worst) {
	for _, b := range c.In {
		lo, hi := CurveLoad(b, curve)
		if lo > least.Load {
			least = Worst{lo, b.State}
		}
		if hi > most.Load {
			most = Worst{hi, b.State}
		}
	}
	return least, most
}

// CurveLoad gives a burden in the unit of a curve of runtimes: what is known for
// certain, and the most that it can be.
func CurveLoad(b Burden, curve []physics.RuntimePoint) (least, most quantity.Power) {
	if len(curve) > 0 && curve[0].Apparent {
		return b.Power.Apparent(), b.Power.Apparent()
	}
	return b.Power.Active, b.Power.Most()
}

// LoadText writes the load in the unit of a curve.
func (w Worst) LoadText(curve []physics.RuntimePoint) string {
	return physics.RuntimePoint{Load: w.Load, Apparent: len(curve) > 0 && curve[0].Apparent}.LoadText()
}

// Asked gives the longest runtime that a site asks of the carrier, and that
// site, or nil: the sites of its feeds, of its own rack and of what hangs on it.
func (c *Carrier) Asked() (asked quantity.Duration, by *Site) {
	ask := func(s *Site) {
		if s == nil {
			return
		}
		if d, ok := s.Runtime.Get(); ok && (by == nil || d > asked) {
			asked, by = d, s
		}
	}
	for _, f := range c.Feeds {
		ask(f.Site())
	}
	for _, m := range append([]*Mount{c.UPS}, c.Behind...) {
		if m != nil && m.Rack != nil {
			ask(m.Rack.Site())
		}
	}
	return asked, by
}
