package load

import (
	"cmp"
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// backup reckons the UPS and other rated sources that feeds hang on, and the UPS
// in racks that are meant: what they carry with nothing lost and at worst,
// against both powers of their rating, and how long they last at it.
func backup(e *estate.Estate, supply *estate.Supply, feeds []*estate.Feed, here func(*estate.Rack) bool) Section {
	s := Section{Name: "sources and their batteries", Caution: cautionBackup}
	for _, c := range supply.Carriers() {
		mine := slices.ContainsFunc(c.Feeds, func(f *estate.Feed) bool { return slices.Contains(feeds, f) })
		switch {
		case c.Source != nil && mine && (c.Source.Rated.State() != estate.IsMissing || c.Source.Runtime.State != estate.IsMissing):
			s.Figures = append(s.Figures, carried(c, c.Source.Ref(), c.Source.Rated, c.Source.Runtime)...)
		case c.UPS != nil && (mine || here(c.UPS.Rack)) && c.UPS.Equipment != nil && c.UPS.Equipment.Backs():
			s.Figures = append(s.Figures, carried(c, c.UPS.Ref(), c.UPS.Equipment.Rated, c.UPS.Equipment.Runtime)...)
		}
	}
	return s
}

// carried reckons one of them.
func carried(c *estate.Carrier, name string, rated estate.Rating, runtime estate.Figure[[]physics.RuntimePoint]) []Figure {
	out := powers(c, c.In[0], name, rated)
	worst := c.In[0]
	for _, b := range c.In[1:] {
		if b.Power.Apparent() > worst.Power.Apparent() {
			worst = b
		}
	}
	if worst.State != nil {
		out = append(out, powers(c, worst, name, rated)...)
	}
	if runtime.State == estate.IsMissing {
		return out
	}
	if !runtime.Known() {
		return append(out, unknown(name+", runtime", "the curve is "+runtime.State.String()))
	}
	least, most := estate.CurveLoad(c.In[0], runtime.Value)
	out = append(out, lasts(c, name, runtime, estate.Worst{Load: most}, least == most))
	if least, most := c.Worst(runtime.Value); most.State != nil {
		out = append(out, lasts(c, name, runtime, most, least.Load == most.Load))
	}
	return out
}

// says names a state.
func says(state *estate.LostState) string {
	if state == nil {
		return "nothing lost"
	}
	return state.Says
}

// powers gives watts and volt-amperes against the rating.
func powers(c *estate.Carrier, b estate.Burden, name string, rated estate.Rating) []Figure {
	state := ", " + says(b.State)
	from := "sum over " + quantity.Count(len(c.Feeds), "feed")
	switch {
	case len(c.Feeds) == 0:
		from = "sum over its outlets"
	case len(c.Behind) > 0:
		from += " and its outlets"
	}
	active := known(name+", active"+state, b.Power.Active, quantity.Watt, "W", from)
	why := c.Draw
	if b.Power.Loose != 0 && why == "" {
		why = c.Watts
	}
	active = short(active, why)
	if w, ok := rated.Active.Get(); ok {
		active = within(active, w, quantity.Watt)
	}
	apparent := known(name+", apparent"+state, b.Power.Apparent(), quantity.Watt, "VA", from+", what is not active added as if all lagged alike")
	apparent.Value = estate.InVoltAmperes(b.Power.Apparent())
	if s, ok := rated.Apparent.Get(); ok {
		apparent = within(apparent, s, quantity.Watt)
		apparent.Limit = estate.InVoltAmperes(s)
	}
	return []Figure{active, short(apparent, c.Because())}
}

// lasts gives the runtime at a load, by the maker's curve. The load is the most
// that it can be where it is not exact.
func lasts(c *estate.Carrier, name string, runtime estate.Figure[[]physics.RuntimePoint], at estate.Worst, exact bool) Figure {
	curve := runtime.Value
	t, reach := physics.Runtime(curve, at.Load)
	load, why := at.LoadText(curve), c.Because()
	if !exact {
		load, why = "up to "+load, cmp.Or(why, c.Watts)
	}
	fig := plain(name+", runtime, "+says(at.State), t.Minutes(), 1, "min", fmt.Sprintf("at %s, %s", load, physics.CurvePlace(curve, at.Load)))
	asked, site := c.Asked()
	switch reach {
	case physics.Within:
		fig.From += "; 1/t in proportion to the load between points"
	case physics.Lighter:
		fig.Value, fig.Number = fig.Value+" or more", nil
	case physics.Heavier:
		fig.Value = "under " + fig.Value
		if site == nil || t > asked {
			fig.Number = nil // what is under it may or may not be enough
		}
	}
	if runtime.Basis != estate.Unstated {
		fig.From += "; " + runtime.Basis.String()
	}
	if site != nil {
		fig = atLeast(fig, asked.Minutes(), asked.String())
		fig.From += "; asked for by site." + site.Name
	}
	if why == "" && fig.Number == nil {
		why = "how much; a curve is not drawn on"
	}
	return without(fig, why)
}
