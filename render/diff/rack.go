package diff

import (
	"strings"

	"cagenut/lang/change"
	"cagenut/lang/estate"
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
	p.body(d)
}

// body prints what stands below the heading of a rack.
func (p *page) body(d change.Delta) {
	if p.Whole {
		p.whole(d)
		return
	}
	p.list(d)
	p.totals(d)
	if !p.Bare {
		p.pairs(d)
	}
}

// whole prints all of a rack before and after: side by side, or one below the
// other where that cannot be, as in a narrow terminal, or with another frame.
func (p *page) whole(d change.Delta) {
	for _, view := range []elevation.View{elevation.Front, elevation.Rear} {
		if view == elevation.Rear && !elevation.HangsBehind(d.Old) && !elevation.HangsBehind(d.New) {
			continue
		}
		o := elevation.Options{View: view, ASCII: p.ASCII, Width: p.Width, Inches: p.Inches, Marks: p.marks, Whole: true}
		p.add(nil)
		if view == elevation.Rear {
			p.say(style.Aside, "  from behind")
		}
		if lines := elevation.Pair(d.Old, d.New, o); len(lines) > 0 {
			p.lines = append(p.lines, lines...)
			continue
		}
		for _, side := range []struct {
			name string
			rack *estate.Rack
		}{{"before", d.Old}, {"after", d.New}} {
			if side.rack == nil {
				p.say(style.Aside, "  %s: there is no such rack", side.name)
				continue
			}
			p.say(style.Aside, "  %s", side.name)
			p.lines = append(p.lines, elevation.Draw(side.rack, o)...)
		}
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
