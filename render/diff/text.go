package diff

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/render/elevation"
	"cagenut/render/style"
)

// Options say how a change is printed.
type Options struct {
	ASCII  bool
	Width  int  // cells; 0 for 80, at least 40
	Inches bool // lengths in inches
	Bare   bool // no elevations
	Whole  bool // elevations of whole racks, before and after, and no lists
}

// The marks of a change.
var marks = map[change.Kind]elevation.Mark{
	change.Added:   {Sign: "+", Role: style.In},
	change.Removed: {Sign: "-", Role: style.Out},
	change.Moved:   {Sign: ">", Role: style.Moved},
	change.Altered: {Sign: "*", Role: style.Altered},
}

// A page is a change being printed.
type page struct {
	Options
	change *change.Change
	lines  []style.Line
	marks  map[*estate.Mount]elevation.Mark
}

// Text prints a change for people. A change of nothing gives one line that
// says so.
func Text(c *change.Change, o Options) []style.Line {
	p := newPage(c, o)
	if c.Empty() {
		return []style.Line{{{Text: "nothing differs"}}}
	}
	p.summary()
	p.things()
	for _, d := range c.Deltas() {
		p.rack(d)
	}
	p.key()
	return p.lines
}

// Things prints what a change does to declarations that stand in no rack.
func Things(c *change.Change, o Options) []style.Line {
	p := newPage(c, o)
	p.thingList()
	return p.lines
}

// List prints what a change does to one rack, unit by unit.
func List(c *change.Change, d change.Delta, o Options) []style.Line {
	p := newPage(c, o)
	p.list(d)
	return p.lines
}

// Pictures prints one rack before and after a change, as far as they differ.
func Pictures(c *change.Change, d change.Delta, o Options) []style.Line {
	p := newPage(c, o)
	p.pairs(d)
	if len(p.lines) > 0 && len(p.lines[0]) == 0 {
		return p.lines[1:]
	}
	return p.lines
}

func newPage(c *change.Change, o Options) *page {
	if o.Width == 0 {
		o.Width = 80
	}
	o.Width = max(o.Width, 40)
	return &page{Options: o, change: c, marks: Marks(c)}
}

// Marks gives the sign of each mount that a change touches, old and new, for
// elevations.
func Marks(c *change.Change) map[*estate.Mount]elevation.Mark {
	out := map[*estate.Mount]elevation.Mark{}
	for i := range c.Mounts {
		m := &c.Mounts[i]
		for _, x := range []*estate.Mount{m.Old, m.New} {
			if x != nil {
				out[x] = marks[m.Kind]
			}
		}
	}
	return out
}

// Summary counts what a change does: "2 racks: 2 in, 1 out, 1 moved, 3 altered;
// also 1 blank".
func Summary(c *change.Change) string {
	var n [change.Altered + 1]int
	racks := map[string]bool{}
	for i := range c.Mounts {
		m := &c.Mounts[i]
		n[m.Kind]++
		racks[m.Mount().Rack.Name] = true
		if m.BetweenRacks() {
			racks[m.Old.Rack.Name] = true
		}
	}
	var mounts, also []string
	for _, kind := range []struct {
		n    int
		what string
	}{{n[change.Added], "in"}, {n[change.Removed], "out"}, {n[change.Moved], "moved"}, {n[change.Altered], "altered"}} {
		if kind.n > 0 {
			mounts = append(mounts, fmt.Sprintf("%d %s", kind.n, kind.what))
		}
	}
	for _, kind := range []struct {
		n    int
		what string
	}{{len(c.Blanks), "blank"}, {len(c.Reserves), "reserve"}, {len(c.Racks), "rack declaration"}, {len(c.Things), "other declaration"}} {
		if kind.n > 0 {
			also = append(also, counted(kind.n, kind.what))
		}
	}
	switch rest := strings.Join(also, ", "); {
	case len(mounts) == 0 && rest == "":
		return "nothing differs"
	case len(mounts) == 0:
		return "no mount; " + rest
	case rest == "":
		return counted(len(racks), "rack") + ": " + strings.Join(mounts, ", ")
	default:
		return counted(len(racks), "rack") + ": " + strings.Join(mounts, ", ") + "; also " + rest
	}
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (p *page) add(l style.Line) { p.lines = append(p.lines, l) }

func (p *page) say(r style.Role, format string, args ...any) {
	for _, s := range style.Wrap(fmt.Sprintf(format, args...), p.Width) {
		p.add(style.Line{{Role: r, Text: s}})
	}
}

func (p *page) summary() { p.say(style.Heading, "%s", Summary(p.change)) }

// arrow stands between an old and a new value.
func (p *page) arrow() string {
	if p.ASCII {
		return " -> "
	}
	return " → "
}

// things prints what stands in no rack, each with the racks that feel it.
func (p *page) things() {
	if len(p.change.Things) == 0 {
		return
	}
	p.add(nil)
	p.say(style.Heading, "declared for several racks")
	p.thingList()
}

func (p *page) thingList() {
	for i := range p.change.Things {
		t := &p.change.Things[i]
		head := style.Line{{Role: marks[t.Kind].Role, Text: "  " + marks[t.Kind].Sign + " " + style.Name(t.Ref())}}
		p.altered(head, t.Alterations, "")
		if len(t.Felt) > 0 && t.Kind == change.Altered {
			p.wrapped("      felt by ", names(t.Felt))
		}
	}
}

// names joins names, and counts those past the twelfth.
func names(all []string) string {
	const most = 12
	var shown []string
	for i, n := range all {
		if i == most {
			return strings.Join(shown, ", ") + fmt.Sprintf(" and %d more", len(all)-most)
		}
		shown = append(shown, style.Name(n))
	}
	return strings.Join(shown, ", ")
}

func (p *page) wrapped(indent, text string) {
	for i, s := range style.Wrap(text, p.Width-style.Width(indent)) {
		if i > 0 {
			indent = style.Fill(" ", style.Width(indent))
		}
		p.add(style.Line{{Role: style.Plain, Text: indent + s}})
	}
}

// altered prints a head with alterations behind it: on its line where there is
// one that fits, else below it, one a line.
func (p *page) altered(head style.Line, all []change.Alteration, tail string) {
	if len(all) == 1 {
		line := slices.Clone(head)
		line.Add(style.Plain, "  "+all[0].Attr+" ")
		line = append(line, p.values(all[0])...)
		line.Add(style.Aside, tail)
		if line.Width() <= p.Width {
			p.add(line)
			return
		}
	}
	if head = p.cut(head); head.Width()+style.Width(tail) <= p.Width {
		head.Add(style.Aside, tail)
		tail = ""
	}
	p.add(head)
	if tail != "" {
		p.wrapped("      ", strings.TrimSpace(tail))
	}
	width := 0
	for _, a := range all {
		width = max(width, style.Width(a.Attr))
	}
	for _, a := range all {
		line := style.Line{{Text: "      " + style.Left(a.Attr, width, p.ASCII) + "  "}}
		values := p.values(a)
		if line.Width()+values.Width() <= p.Width {
			p.add(append(line, values...))
			continue
		}
		// Long values stand one below the other.
		p.hanging(line, value(a.Old))
		p.hanging(style.Line{{Text: style.Right(p.arrow(), 6+width+2, p.ASCII)}}, value(a.New))
	}
}

// hanging prints a text behind a head, broken into lines below each other.
func (p *page) hanging(head style.Line, text string) {
	indent := head.Width()
	for i, part := range style.Wrap(text, p.Width-indent) {
		if i > 0 {
			head = style.Line{{Text: style.Fill(" ", indent)}}
		}
		p.add(p.cut(append(slices.Clone(head), style.Piece{Text: part})))
	}
}

// cut shortens the last piece of a line so that the line fits.
func (p *page) cut(l style.Line) style.Line {
	if over := l.Width() - p.Width; over > 0 {
		last := &l[len(l)-1]
		last.Text = style.Cut(last.Text, style.Width(last.Text)-over, p.ASCII)
	}
	return l
}

// values prints an old and a new value with the letters that differ marked.
func (p *page) values(a change.Alteration) style.Line {
	was, is := letters(value(a.Old), value(a.New))
	if a.Old == "" || a.New == "" {
		was, is = style.Line{{Text: value(a.Old)}}, style.Line{{Text: value(a.New)}}
	}
	was.Add(style.Plain, p.arrow())
	return append(was, is...)
}

// value gives a value as it is printed.
func value(s string) string {
	if s == "" {
		return "(not stated)"
	}
	return style.Name(s)
}

// key explains the braces where there are any.
func (p *page) key() {
	if p.Whole {
		p.add(nil)
		p.say(style.Aside, "signs: + in, - out, > moved, * altered")
		return
	}
	for _, l := range p.lines {
		for _, piece := range l {
			if (piece.Role == style.In || piece.Role == style.Out) && strings.HasPrefix(piece.Text, "{") {
				p.add(nil)
				p.say(style.Aside, "signs: { } letters that differ")
				return
			}
		}
	}
}
