package load

import (
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// leakage reckons the standing leakage on feeds, and behind the residual
// current devices that they hang on. It is left out where nobody has declared
// any.
func leakage(e *estate.Estate, supply *estate.Supply, feeds []*estate.Feed) Section {
	s := Section{Name: "earth leakage", Caution: cautionLeakage}
	var breakers []*estate.Breaker
	for _, f := range feeds {
		if f.Direct() {
			continue
		}
		sum := supply.Leakage(f, nil)
		if sum.Known == 0 && f.Residual.State == estate.IsMissing {
			continue
		}
		fig := leakageFigure(f.Ref()+", protective conductor", sum)
		if f.Earth == estate.ReinforcedEarth {
			fig.From += "; declared as reinforced"
		} else {
			fig = withinMilli(fig, physics.OrdinaryEarth)
			fig.From += "; limit: of a conductor that is not reinforced, IEC 60364-5-54 from memory"
		}
		s.Figures = append(s.Figures, fig)
		worst := sum
		var with string
		for _, state := range supply.StatesOf(supply.On(f)) {
			if l := supply.Leakage(f, &state.Out); l.Known > worst.Known {
				worst, with = l, state.Says
			}
		}
		s.Figures = append(s.Figures, residual(f.Ref(), f.Residual, worst, with)...)
		for _, u := range e.Upstream(f) {
			if b := u.Breaker; b != nil && b.Residual.State != estate.IsMissing && !slices.Contains(breakers, b) {
				breakers = append(breakers, b)
			}
		}
	}
	for _, b := range breakers {
		var sum estate.Leaking
		n := 0
		for _, f := range supply.Feeds() {
			if e.DiesWith(f, b.Ref(), false) {
				sum.Add(supply.Leakage(f, nil))
				n++
			}
		}
		for _, fig := range residual(b.Ref(), b.Residual, sum, "") {
			fig.From = "over " + quantity.Count(n, "feed") + ", " + fig.From
			s.Figures = append(s.Figures, fig)
		}
	}
	return s
}

// residual reckons what hangs on a residual current device.
func residual(name string, rated estate.Figure[quantity.Current], sum estate.Leaking, with string) []Figure {
	if rated.State == estate.IsMissing {
		return nil
	}
	name += ", on its residual current device"
	if with != "" {
		name += ", " + with
	}
	fig := leakageFigure(name, sum)
	i, ok := rated.Get()
	if !ok {
		return []Figure{without(fig, "the residual current is "+rated.State.String())}
	}
	fig = withinMilli(fig, physics.ResidualRoom(i, physics.ResidualShare))
	fig.From += fmt.Sprintf("; limit: %s of %s, IEC 60364-5-53 from memory; it may open from %s", quantity.Number(physics.ResidualShare, 2), i.Milli(), (i / 2).Milli())
	return []Figure{fig}
}

func leakageFigure(name string, sum estate.Leaking) Figure {
	fig := plain(name, quantity.In(sum.Known, quantity.Milliampere), 1, "mA", quantity.Count(sum.Inlets, "live inlet")+" at what their makers state")
	return short(fig, sum.Because())
}

// withinMilli is within for a current in milliamperes.
func withinMilli(f Figure, limit quantity.Current) Figure {
	n := rounded(quantity.In(limit, quantity.Milliampere))
	f.Limit, f.Most = limit.Milli(), &n
	return f
}
