package load

import (
	"cmp"
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// power reckons feeds in normal state and with each other one lost in turn.
func power(e *estate.Estate, supply *estate.Supply, feeds []*estate.Feed) Section {
	s := Section{Name: "power", Caution: cautionPower}
	for _, feed := range feeds {
		s.Figures = append(s.Figures, feedFigure(feed, supply.Load(feed), feed.Ref()+", nothing lost"))
		s.Figures = append(s.Figures, parts(feed, supply.Load(feed))...)
		worst := supply.Load(feed).Power
		for _, state := range supply.StatesOf(supply.On(feed)) {
			l := supply.LoadIn(feed, &state.Out)
			more := l.Power > worst
			if state.Alone {
				// Each other feed is shown; a source or a strip only where it
				// is worse than all of them.
				more = l.Power > supply.Load(feed).Power
			}
			if more && len(l.Mounts) > 0 {
				s.Figures = append(s.Figures, feedFigure(feed, l, feed.Ref()+", "+state.Says))
				worst = max(worst, l.Power)
			}
		}
		if feed.Phases == 3 {
			s.Figures = append(s.Figures, lineFigures(supply, feed)...)
		}
	}
	for _, strip := range supply.Strips() {
		for _, feed := range strip.Feeds {
			if slices.Contains(feeds, feed) {
				s.Figures = append(s.Figures, bankFigures(supply, strip)...)
				break
			}
		}
	}
	return s
}

// bankFigures reckons the banks of a strip, in normal state.
func bankFigures(supply *estate.Supply, strip *estate.Mount) []Figure {
	if strip.Equipment == nil || len(strip.Equipment.Banks) == 0 {
		return nil
	}
	name := strip.Name
	if strip.Rack != nil {
		name = strip.Rack.Name + "." + name
	}
	banks, why := supply.Banks(strip, nil)
	if why != "" && len(banks) == 0 {
		return []Figure{unknown(name+", banks", why)}
	}
	var out []Figure
	for _, b := range banks {
		fig := known(fmt.Sprintf("%s, bank %s", name, b.Bank.Name), b.Current, quantity.Ampere, "A", amount(b.Vector)+" on its outlets, nothing lost")
		if b.Bank.Lines != "" {
			fig.From += ", between lines " + b.Bank.Lines
		}
		if b.Bank.Rated > 0 {
			fig = within(fig, b.Bank.Rated, quantity.Ampere)
		}
		if len(b.Lacks) > 0 {
			fig = short(fig, b.Lacks[0].Why)
		} else {
			fig = short(fig, why)
		}
		out = append(out, fig)
	}
	return out
}

func feedFigure(f *estate.Feed, l estate.Load, name string) Figure {
	i, why := f.Current(l.Apparent)
	if why != "" {
		fig := known(name, l.Power, quantity.Watt, "W", "sum over "+mounts(len(l.Mounts))+", "+basis(&l))
		return without(short(fig, l.Because()), why)
	}
	v := f.Voltage.Value
	sum := fmt.Sprintf("%s %s over all racks", estate.ActiveText(l.Vector), basis(&l))
	if va := estate.VoltAmperes(l.Power, l.Apparent); va != "" {
		sum = fmt.Sprintf("%s by power factor (%s)", va, sum)
	}
	formula := fmt.Sprintf("%s / %s", sum, v)
	switch lowest, dc := physics.LowestDC(v); {
	case f.Phases == 3:
		formula = fmt.Sprintf("%s / (√3 × %s), balanced", sum, v)
	case dc && f.Direct():
		formula = fmt.Sprintf("%s / %s, the lowest of %s", sum, lowest, v)
	}
	fig := known(name, i, quantity.Ampere, "A", formula)
	if limit, origin, ok := allowed(f); ok {
		fig = within(fig, limit, quantity.Ampere)
		fig.From += "; limit: " + origin
	}
	return short(fig, l.Because())
}

// parts gives watts and volt-amperes beside each other where they differ, or
// are not both known.
func parts(f *estate.Feed, l estate.Load) []Figure {
	v := l.Vector
	if v.Nonactive == 0 && v.Loose == 0 && len(l.Unfactored) == 0 {
		return nil
	}
	active := known(f.Ref()+", active power", v.Active, quantity.Watt, "W", "sum over "+mounts(len(l.Mounts))+", "+basis(&l)+", nothing lost")
	apparent := known(f.Ref()+", apparent power", v.Apparent(), quantity.Watt, "VA", "")
	apparent.Value = estate.InVoltAmperes(v.Apparent())
	apparent.From = fmt.Sprintf("√(%s² + %s var²): what is not active added as if all lagged alike, the most that it can come to", v.Active, quantity.Number(v.Nonactive/float64(quantity.Watt), 0))
	if v.Loose != 0 {
		apparent.From += fmt.Sprintf("; + %s drawn at no known power factor", estate.InVoltAmperes(v.Loose))
	}
	return []Figure{short(active, cmp.Or(l.PowerBecause(), l.LooseBecause())), short(apparent, l.Because())}
}

// amount gives a power, and the apparent power where a power factor is
// declared.
func amount(v physics.Vector[quantity.Power]) string {
	if va := estate.VoltAmperes(v.Most(), v.Apparent()); va != "" {
		return estate.ActiveText(v) + ", " + va + " by power factor,"
	}
	return estate.ActiveText(v)
}

// allowed gives what a feed may carry for hours, and whose share of its rating
// that is.
func allowed(f *estate.Feed) (quantity.Current, string, bool) {
	rated, ok := f.Rated.Get()
	if !ok {
		return 0, "", false
	}
	if site := f.Site(); site != nil {
		if share, ok := site.Continuous.Get(); ok {
			return quantity.Of(share*rated.Amperes(), quantity.Ampere), fmt.Sprintf("%s of %s by site.%s", quantity.Number(share, 2), rated, site.Name), true
		}
	}
	return rated, "the rating, as no share for lasting load is stated (NFPA 70: 0.8; IEC practice has none)", true
}

// lineFigures reckons the lines of a three-phase feed from its banks.
func lineFigures(supply *estate.Supply, feed *estate.Feed) []Figure {
	lines, why := supply.Lines(feed, nil)
	if why != "" {
		return []Figure{unknown(feed.Ref()+", lines", why)}
	}
	var out []Figure
	for i, line := range lines {
		fig := known(fmt.Sprintf("%s, line %d", feed.Ref(), i+1), line, quantity.Ampere, "A", "vector sum of its banks")
		if limit, _, ok := allowed(feed); ok {
			fig = within(fig, limit, quantity.Ampere)
		}
		out = append(out, fig)
	}
	most, says := quantity.Current(0), ""
	for _, state := range supply.StatesOf(supply.On(feed)) {
		lost, why := supply.Lines(feed, &state.Out)
		if why == "" && max(lost[0], lost[1], lost[2]) > max(most, lines[0], lines[1], lines[2]) {
			most, says = max(lost[0], lost[1], lost[2]), state.Says
		}
	}
	if says != "" {
		fig := known(feed.Ref()+", worst line, "+says, most, quantity.Ampere, "A", "vector sum of its banks")
		if limit, _, ok := allowed(feed); ok {
			fig = within(fig, limit, quantity.Ampere)
		}
		out = append(out, fig)
	}
	return append(out, plain(feed.Ref()+", imbalance", 100*physics.Imbalance(lines), 1, "%", "largest deviation of a line from the mean"))
}

func basis(l *estate.Load) string {
	if b := l.Basis(); b != "" {
		return b
	}
	return "declared"
}

func mounts(n int) string {
	if n == 1 {
		return "1 mount"
	}
	return fmt.Sprintf("%d mounts", n)
}
