package diff

import (
	"slices"
	"strings"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/render/elevation"
	"cagenut/render/style"
)

// rack prints what happens to one rack: the list, the totals, the pictures.
func (p *page) rack(d change.Delta) {
	p.add(nil)
	r := d.Rack()
	head := style.Line{{Role: style.Heading, Text: style.Name(r.Name)}}
	if where := elevation.Where(r); where != "" {
		head.Add(style.Plain, "  "+where)
	}
	p.add(p.cut(head))
	p.list(d)
	p.totals(d)
	if !p.Bare {
		p.pairs(d)
	}
}

// pairs prints the rack before and after, from the front, and from behind where
// something on that side is touched.
func (p *page) pairs(d change.Delta) {
	for _, view := range []elevation.View{elevation.Front, elevation.Rear} {
		if view == elevation.Rear && !p.rearTouched(d) {
			continue
		}
		o := elevation.Options{View: view, ASCII: p.ASCII, Width: p.Width, Inches: p.Inches, Marks: p.marks}
		if lines := elevation.Pair(d.Old, d.New, o); len(lines) > 0 {
			p.add(nil)
			if view == elevation.Rear {
				p.say(style.Aside, "  from behind")
			}
			p.lines = append(p.lines, lines...)
		}
	}
}

func (p *page) rearTouched(d change.Delta) bool {
	for i := range p.change.Mounts {
		m := &p.change.Mounts[i]
		for _, x := range []*estate.Mount{m.Old, m.New} {
			if x != nil && (x.Rack == d.Old || x.Rack == d.New) && x.Face == estate.RearFace {
				return true
			}
		}
	}
	return false
}

// list prints the changes of one rack, upward.
func (p *page) list(d change.Delta) {
	for i := range p.change.Racks {
		if c := &p.change.Racks[i]; c.Old == d.Old && c.New == d.New {
			head := style.Line{{Role: marks[c.Kind].Role, Text: "  " + marks[c.Kind].Sign + " the rack itself"}}
			if f := c.Rack().Frame; f != nil && (c.Old == nil || c.New == nil) {
				head.Add(style.Plain, ", frame "+style.Name(f.Name))
			}
			p.altered(head, c.Alterations, "")
		}
	}
	for i := range p.change.Mounts {
		m := &p.change.Mounts[i]
		here := m.Mount().Rack == d.Old || m.Mount().Rack == d.New
		leaves := m.BetweenRacks() && m.Old.Rack == d.Old
		switch {
		case here:
			p.mount(m)
		case leaves:
			p.leaves(m)
		}
	}
	for i := range p.change.Blanks {
		b := &p.change.Blanks[i]
		if r := b.Blank().Rack; r != d.Old && r != d.New {
			continue
		}
		line := style.Line{{Role: marks[b.Kind].Role, Text: "  " + marks[b.Kind].Sign + " blank"}}
		line.Add(style.Plain, "  "+p.places(blankPlace(b.Old), blankPlace(b.New)))
		p.add(p.cut(line))
	}
	for i := range p.change.Reserves {
		x := &p.change.Reserves[i]
		if r := x.Reserve().Rack; r != d.Old && r != d.New {
			continue
		}
		head := style.Line{{Role: marks[x.Kind].Role, Text: "  " + marks[x.Kind].Sign + " reserve " + style.Name(x.Reserve().Name)}}
		head.Add(style.Plain, "  "+p.places(reservePlace(x.Old), reservePlace(x.New)))
		p.altered(head, without(x.Alterations, "at", "rack"), "")
	}
}

// mount prints one change of a mount on one line, and below it what else is
// altered.
func (p *page) mount(m *change.MountChange) {
	head := style.Line{{Role: marks[m.Kind].Role, Text: "  " + marks[m.Kind].Sign + " " + style.Name(m.Mount().Name)}}
	switch m.Kind {
	case change.Added, change.Removed:
		x := m.Mount()
		head.Add(style.Plain, "  "+p.place(x)+facts(x))
		p.add(p.cut(head))
	case change.Moved:
		was := p.place(m.Old)
		if m.BetweenRacks() {
			was = "rack " + style.Name(m.Old.Rack.Name) + " " + was
		}
		head.Add(style.Plain, "  "+was+p.arrow()+p.place(m.New))
		p.altered(head, without(m.Alterations, "rack", "at", "face", "slot", "side", "plane", "from", "beside the posts"), p.why(m))
	default:
		head.Add(style.Plain, "  "+p.place(m.New))
		tail := p.why(m)
		if m.Replaced() {
			tail = "  replaced" + tail
		} else if m.RecordOnly() {
			tail = "  record only" + tail
		}
		p.altered(head, m.Alterations, tail)
	}
}

// leaves prints that a mount goes to another rack, in the one that it leaves.
func (p *page) leaves(m *change.MountChange) {
	line := style.Line{{Role: marks[m.Kind].Role, Text: "  " + marks[m.Kind].Sign + " " + style.Name(m.Old.Name)}}
	line.Add(style.Plain, "  "+p.place(m.Old)+p.arrow()+"rack "+style.Name(m.New.Rack.Name)+" "+p.place(m.New))
	p.altered(line, nil, p.why(m))
}

// why says what a move was seen by, where it is not the label.
func (p *page) why(m *change.MountChange) string {
	if m.Match == change.ByLabel || m.Match == change.NoMatch {
		return ""
	}
	if m.Match == change.BySerial && (m.Old.Serial == "" || m.Old.Serial != m.New.Serial) {
		return "  same asset number"
	}
	if m.Match == change.ByLikeness {
		return "  taken for the same: alike"
	}
	return "  same " + m.Match.String()
}

// place names the units and the face of a mount.
func (p *page) place(m *estate.Mount) string {
	if z := m.ZeroU; z != nil {
		return "0U " + z.Side.String() + ", " + z.Plane.String() + " posts"
	}
	s := at(m)
	if m.Face == estate.RearFace {
		s += " rear"
	}
	if !m.Slot.Whole() {
		s += " " + m.Slot.String()
	}
	return s
}

// at names the units that a mount takes, or what is written where that is not
// known.
func at(m *estate.Mount) string {
	if _, ok := m.Extent(); ok {
		return m.Label()
	}
	if m.At != 0 {
		return "at " + m.At.String()
	}
	return "place not known"
}

func (p *page) places(was, is string) string {
	switch {
	case was == "":
		return is
	case is == "" || was == is:
		return was
	}
	return was + p.arrow() + is
}

func blankPlace(b *estate.Blank) string {
	if b == nil {
		return ""
	}
	s := units(b.Rack, b.Units)
	if b.Face == estate.RearFace {
		s += " rear"
	}
	return s
}

func reservePlace(r *estate.Reserve) string {
	if r == nil {
		return ""
	}
	s := units(r.Rack, r.Units)
	if r.Face != estate.NoFace {
		s += " " + r.Face.String()
	}
	return s
}

func units(r *estate.Rack, u estate.UnitRange) string {
	if r == nil || r.Frame == nil {
		return "at " + u.From.String() + "-" + u.To.String()
	}
	return r.Frame.Label(r.Frame.Extent(u))
}

// facts says what a mount that comes or goes is: equipment, mass, draw, feeds.
func facts(m *estate.Mount) string {
	var parts []string
	if e := m.Equipment; e != nil {
		parts = append(parts, style.Name(e.Name))
		if kg, ok := e.Mass.Get(); ok {
			parts = append(parts, kg.String())
		} else {
			parts = append(parts, "mass not known")
		}
		if w, basis, why := m.Load(site(m)); why == "" && basis != estate.NoDrawBasis {
			parts = append(parts, w.String()+" "+basis.String())
		}
	}
	var feeds []string
	for _, f := range m.Feeds {
		if f != nil {
			feeds = append(feeds, style.Name(f.Name))
		}
	}
	if len(feeds) > 0 {
		parts = append(parts, "on "+strings.Join(feeds, " and "))
	}
	if len(parts) == 0 {
		return ""
	}
	return "  " + strings.Join(parts, ", ")
}

func site(m *estate.Mount) *estate.Site {
	if m.Rack == nil {
		return nil
	}
	return m.Rack.Site()
}

// without leaves out alterations that the head of an entry has told already.
func without(all []change.Alteration, attrs ...string) []change.Alteration {
	var out []change.Alteration
next:
	for _, a := range all {
		for _, attr := range attrs {
			if a.Attr == attr {
				continue next
			}
		}
		out = append(out, a)
	}
	return out
}

// A total is one line of the table of totals.
type total struct{ what, before, after, limit, sign string }

// totals prints what the change does to the rack as a whole: only what differs.
func (p *page) totals(d change.Delta) {
	var rows []total
	for _, t := range Totals(d, p.Inches) {
		if t.Before != t.After {
			rows = append(rows, total{t.What, p.or(t.Before), p.or(t.After), t.Limit, map[bool]string{true: " !", false: ""}[t.Over]})
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
	return strings.ReplaceAll(s, "≥", map[bool]string{true: ">=", false: "≥"}[p.ASCII])
}

// A Total is one figure of a rack before and after a change, as it is printed.
// A figure of a rack that is not there is "".
type Total struct {
	What                 string // "mass", "feed a, b lost"
	Before, After, Limit string
	Over                 bool // after the change it is above its limit
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
	out := []Total{
		{
			What: "mass", Before: pick(was, sum(b.Mass)), After: pick(is, sum(a.Mass)),
			Limit: figure(frame), Over: frame.Known() && a.Mass.Known > frame.Value,
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
		limit := figure(any.Limit)
		add := func(what string, before, after *estate.Load) {
			t := Total{What: "feed " + style.Name(name) + what, Limit: limit}
			if before != nil {
				t.Before = current(was.Feed, before)
			}
			if after != nil {
				t.After = current(is.Feed, after)
				if i, why := is.Feed.Current(after.Power); why == "" && any.Limit.Known() {
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
	if i, why := f.Current(l.Power); why == "" {
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
