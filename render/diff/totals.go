package diff

import (
	"slices"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/render/style"
)

// A total is one line of the table of totals.
type total struct{ what, before, after, limit, sign string }

// totals prints what the change does to the rack as a whole: only what differs.
func (p *page) totals(d change.Delta) {
	var rows []total
	for _, t := range Totals(d, p.Inches) {
		if t.Differs() {
			limit := t.Held()
			if limit != "" {
				limit = p.or(limit)
			}
			rows = append(rows, total{t.What, p.or(t.Before), p.or(t.After), limit, map[bool]string{true: " !", false: ""}[t.Over]})
		}
	}
	if len(rows) == 0 {
		return
	}
	widths := [4]int{0, len("before"), len("after"), len("limit")}
	for _, r := range rows {
		for i, s := range []string{r.what, r.before, r.after + r.sign, r.limit} {
			widths[i] = max(widths[i], style.Width(s))
		}
	}
	indent, limits := 6, true
	if indent+widths[0]+widths[1]+widths[2]+widths[3]+6 > p.Width {
		indent = 2
	}
	if indent+widths[0]+widths[1]+widths[2]+widths[3]+6 > p.Width {
		limits = false
	}
	row := func(what, before, after, limit string, role, sign style.Role) {
		line := style.Line{{Role: role, Text: style.Fill(" ", indent) + style.Left(what, widths[0], p.ASCII) + "  " + style.Right(before, widths[1], p.ASCII) + "  "}}
		line.Add(sign, style.Right(after, widths[2], p.ASCII))
		if limits {
			line.Add(role, "  "+style.Right(limit, widths[3], p.ASCII))
		}
		p.add(p.cut(line))
	}
	row("", "before", "after", "limit", style.Aside, style.Aside)
	for _, r := range rows {
		sign := style.Plain
		if r.sign != "" {
			sign = style.Grave
		}
		row(r.what, r.before, r.after+r.sign, r.limit, style.Plain, sign)
	}
}

func (p *page) or(s string) string {
	if s == "" {
		return "none"
	}
	if p.ASCII {
		return style.ASCII(s)
	}
	return s
}

// A Total is one figure of a rack before and after a change, as it is printed.
// A figure of a rack that is not there is "".
type Total struct {
	What                 string // "mass", "feed a, b lost"
	Before, After, Limit string
	Over                 bool   // after the change it is above its limit
	Was                  string // the limit before the change, where that moves it
}

// Differs reports whether the change does anything to the figure, or to what
// it is held against.
func (t *Total) Differs() bool { return t.Before != t.After || t.Was != "" }

// Held is what the figure is held against, before and after the change where
// that moves it.
func (t *Total) Held() string {
	if t.Was == "" {
		return t.Limit
	}
	return t.Was + " → " + t.Limit
}

// moved gives the limit before a change that sets another one.
func moved(was, is string) string {
	if was == is || is == "" {
		return ""
	}
	return was
}

// Totals gives the figures of a rack before and after a change. A sum from
// which a figure is missing begins with "≥".
func Totals(d change.Delta, inches bool) []Total {
	was, is := d.Old != nil, d.New != nil
	pick := func(there bool, s string) string {
		if !there {
			return ""
		}
		return s
	}
	b, a := d.Before, d.After
	frame := a.Rated
	if !is {
		frame = b.Rated
	}
	rated := ""
	if was && is {
		rated = moved(figure(b.Rated), figure(a.Rated))
	}
	out := []Total{
		{
			What: "mass", Before: pick(was, sum(b.Mass)), After: pick(is, sum(a.Mass)),
			Limit: figure(frame), Was: rated, Over: frame.Known() && a.Mass.Known > frame.Value,
		},
		{What: "free units", Before: pick(was, quantity.Number(float64(b.Free), 0)), After: pick(is, quantity.Number(float64(a.Free), 0))},
		{What: "largest gap", Before: pick(was, gap(d.Old, b)), After: pick(is, gap(d.New, a))},
		{What: "centre above floor", Before: pick(was, height(b.Centre, inches)), After: pick(is, height(a.Centre, inches))},
		{What: "tips at", Before: pick(was, figure(b.Tilt)), After: pick(is, figure(a.Tilt))},
		{What: "heat", Before: pick(was, sum(b.Heat)), After: pick(is, sum(a.Heat))},
	}
	return append(out, feedTotals(b, a)...)
}

func feedTotals(b, a change.Totals) []Total {
	var out []Total
	var names []string
	feeds := map[string][2]*change.FeedTotals{}
	for i, side := range []change.Totals{b, a} {
		for k := range side.Feeds {
			f := &side.Feeds[k]
			both, ok := feeds[f.Feed.Name]
			if !ok {
				names = append(names, f.Feed.Name)
			}
			both[i] = f
			feeds[f.Feed.Name] = both
		}
	}
	for _, name := range names {
		both := feeds[name]
		was, is := both[0], both[1]
		any := is
		if any == nil {
			any = was
		}
		limit, earlier := figure(any.Limit), ""
		if was != nil && is != nil {
			earlier = moved(figure(was.Limit), figure(is.Limit))
		}
		add := func(what string, before, after *estate.Load) {
			t := Total{What: "feed " + style.Name(name) + what, Limit: limit, Was: earlier}
			if before != nil {
				t.Before = current(was.Feed, before)
			}
			if after != nil {
				t.After = current(is.Feed, after)
				if i, why := is.Feed.Current(after.Apparent); why == "" && any.Limit.Known() {
					t.Over = i > any.Limit.Value
				}
			}
			out = append(out, t)
		}
		var n, m, x, y *estate.Load
		var gone []string
		for _, f := range both {
			if f != nil && f.Gone != nil && !slices.Contains(gone, f.Gone.Name) {
				gone = append(gone, f.Gone.Name)
			}
		}
		if was != nil {
			n, x = &was.Normal, &was.Lost
		}
		if is != nil {
			m, y = &is.Normal, &is.Lost
		}
		add(", normal", n, m)
		switch len(gone) {
		case 0:
		case 1:
			add(", "+style.Name(gone[0])+" lost", x, y)
		default:
			add(", worst loss", x, y)
		}
	}
	return out
}

func sum[Q interface {
	quantity.Quantity
	String() string
}](s estate.Sum[Q]) string {
	if !s.Whole() {
		return "≥ " + s.Known.String()
	}
	return s.Known.String()
}

func figure[Q interface{ String() string }](f estate.Figure[Q]) string {
	switch f.State {
	case estate.IsGiven:
		return f.Value.String()
	case estate.IsUnknown:
		return "unknown"
	}
	return ""
}

// height gives a height to the millimetre or the tenth of an inch.
func height(f estate.Figure[quantity.Length], inches bool) string {
	l, ok := f.Get()
	switch {
	case !ok:
		return ""
	case inches:
		return quantity.Number(l.Inches(), 1) + " in"
	}
	return quantity.Number(l.Millimetres(), 0) + " mm"
}

// current gives a load as a current, or as a power where the voltage is not
// known.
func current(f *estate.Feed, l *estate.Load) string {
	s := l.Power.String()
	if i, why := f.Current(l.Apparent); why == "" {
		s = i.String()
	}
	if !l.Whole() {
		s = "≥ " + s
	}
	return s
}

func gap(r *estate.Rack, t change.Totals) string {
	if t.Gap.Height() == 0 || r.Frame == nil {
		return "none"
	}
	return r.Frame.Label(t.Gap)
}
