package elevation

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/render/style"
)

// View is what a rack is looked at from.
type View uint8

// The views.
const (
	NoView View = iota
	Front
	Rear
	Side // a section seen from the right: the front is on the left
)

// ParseView reads a view.
func ParseView(s string) (View, error) {
	switch s {
	case "front":
		return Front, nil
	case "rear":
		return Rear, nil
	case "side":
		return Side, nil
	}
	return NoView, fmt.Errorf("%q is no face; write front, rear or side", s)
}

// Options say how a drawing is made.
type Options struct {
	View   View
	ASCII  bool // no character beyond ASCII, names aside
	Width  int  // cells; 0 for 80
	Inches bool // lengths in inches

	// Whole has [Pair] draw every row, and not only those that differ.
	Whole bool

	// Marks are signs to print before the labels of mounts, with what they
	// mean.
	Marks map[*estate.Mount]Mark
}

// A Mark is a sign before a label.
type Mark struct {
	Sign string
	Role style.Role
}

// Caution is what every drawing and plan must say.
const Caution = `Planning aid: drawn from what is declared, and certifies nothing. Electrical
work, loads, anchoring, fire stopping and lifting are for competent people under
local law and the makers' instructions. Verify at the rack; if in doubt, stop.`

// Cautions gives [Caution] as lines of the options' width.
func Cautions(o Options) []style.Line {
	width := o.Width
	if width == 0 {
		width = 80
	}
	var lines []style.Line
	for _, s := range style.Wrap(Caution, width) {
		lines = append(lines, style.Line{{Role: style.Aside, Text: s}})
	}
	return lines
}

// A drawing is one elevation being made.
type drawing struct {
	*grid
	signs  *signs
	view   View
	face   estate.Face
	ascii  bool
	inches bool
	width  int
	marks  map[*estate.Mount]Mark
}

func newDrawing(g *grid, o Options) *drawing {
	d := &drawing{
		grid: g, signs: signsFor(o.ASCII), view: o.View, face: estate.FrontFace,
		ascii: o.ASCII, inches: o.Inches, width: o.Width, marks: o.Marks,
	}
	if d.width == 0 {
		d.width = 80
	}
	d.width = max(d.width, 32)
	if o.View == Rear {
		d.face = estate.RearFace
	}
	return d
}

func (d *drawing) mark(m *estate.Mount) string {
	if k, ok := d.marks[m]; ok && k.Sign != "" {
		return k.Sign + " "
	}
	return ""
}

func (d *drawing) role(m *estate.Mount) style.Role { return d.marks[m].Role }

// Draw gives the elevation of a rack with heading and key, at most
// Options.Width cells wide. A rack whose frame has no known height is listed
// instead.
func Draw(r *estate.Rack, o Options) []style.Line {
	g := newGrid(r)
	if g == nil {
		return list(r, o)
	}
	d := newDrawing(g, o)
	lines := d.heading()
	if o.View == Side {
		lines = append(lines, d.sideRows()...)
	} else {
		lines = append(lines, d.faceRows()...)
	}
	return append(lines, d.footing()...)
}

// heading says which rack is seen from where, and how its units are counted.
func (d *drawing) heading() []style.Line {
	r, f := d.rack, d.rack.Frame
	from := map[View]string{Front: "from the front", Rear: "from behind", Side: "from the side, front at the left"}[d.view]
	first := style.Line{{Role: style.Heading, Text: style.Cut(style.Name(r.Name), max(d.width-style.Width(from)-2, 8), d.ascii)}}
	first.Add(style.Plain, "  "+style.Cut(from, d.width-first.Width()-2, d.ascii))

	facts := []string{"frame " + style.Name(f.Name)}
	if where := Where(r); where != "" {
		facts = append(facts, where)
	}
	switch n := plural(f.Modules(), "unit", "units"); f.Counted {
	case estate.CountedDown:
		facts = append(facts, fmt.Sprintf("%s counted downward %s, %s is the highest", n, d.signs.down, numberOf(f, f.Modules()-1)))
	case estate.CountedUp:
		facts = append(facts, fmt.Sprintf("%s counted upward %s, %s is the lowest", n, d.signs.up, numberOf(f, 0)))
	default:
		facts = append(facts, n+", drawn as if counted upward: the frame does not say")
	}
	span := func(what string, l estate.Figure[quantity.Length]) string {
		return what + " " + figure(l, d.signs, d.length)
	}
	facts = append(facts, span("posts", f.PostSpan)+", "+span("front room", f.FrontRoom)+", "+span("rear room", f.RearRoom))
	lines := []style.Line{first}
	for _, s := range style.Wrap(strings.Join(facts, "; "), d.width) {
		lines = append(lines, style.Line{{Role: style.Aside, Text: s}})
	}
	return append(lines, nil)
}

// Where says in which room and row a rack stands, or "".
func Where(r *estate.Rack) string {
	var where []string
	if room := r.Room(); room != nil {
		where = append(where, "room "+style.Name(room.Name))
	}
	if r.Row != nil {
		where = append(where, "row "+style.Name(r.Row.Name))
		if r.Place != 0 {
			where = append(where, fmt.Sprintf("place %d", r.Place))
		}
	}
	return strings.Join(where, ", ")
}

// columns are the widths of the parts of a line of a face.
type columns struct{ beside, number, inner, notes int }

const (
	massCells  = 6
	depthCells = 8
	feedCells  = 10
	leastInner = 14
)

func (d *drawing) columns() columns {
	c := columns{number: d.numberWidth()}
	perSide := map[estate.Side]int{}
	for _, p := range d.beside {
		perSide[p.mount.ZeroU.Side]++
	}
	c.beside = 2 * min(max(perSide[estate.LeftSide], perSide[estate.RightSide]), 2)
	frame := 2*c.beside + 2*c.number + 4
	c.notes = 2 + massCells + depthCells + 1 + feedCells
	c.inner = d.width - frame - c.notes
	if c.inner < 24 { // a narrow terminal: the notes go first
		c.notes = 0
		c.inner = d.width - frame
	}
	c.inner = max(min(c.inner, 44), leastInner)
	return c
}

func (d *drawing) numberWidth() int {
	w := 2
	for _, r := range d.rows {
		w = max(w, style.Width(r.label))
	}
	return w
}

// faceRows draws a front or rear view with its columns.
func (d *drawing) faceRows() []style.Line {
	c := d.columns()
	var lines []style.Line
	if c.notes > 0 {
		var head style.Line
		head.Pad(2*c.beside + 2*c.number + 4 + c.inner)
		head.Add(style.Aside, "  "+style.Right("kg", massCells, d.ascii)+style.Right(d.lengthUnit()+" deep", depthCells, d.ascii)+" feeds")
		lines = append(lines, head)
	}
	var hidden []string
	for i, r := range d.rows {
		var line style.Line
		line.Add(style.Aside, d.bars(r, true, c.beside))
		number := r.label
		if r.outside {
			number = "!"
		}
		line.Add(style.Aside, style.Right(number, c.number, d.ascii)+" ")
		post := d.signs.post
		if r.outside {
			post = " "
		}
		line.Add(style.Plain, post)
		line = append(line, d.drawFace(i, c.inner)...)
		line.Add(style.Plain, post)
		line.Add(style.Aside, " "+style.Left(number, c.number, d.ascii))
		line.Add(style.Aside, d.bars(r, false, c.beside))
		for k, n := range d.remark(i) {
			if n.hidden {
				hidden = append(hidden, fmt.Sprintf("%s at %s", n.name, number))
				continue
			}
			if c.notes == 0 || k > 0 {
				continue
			}
			line.Add(style.Plain, "  "+style.Right(n.mass, massCells, d.ascii)+style.Right(n.depth, depthCells, d.ascii)+" "+style.Cut(n.feeds, feedCells, d.ascii))
		}
		lines = append(lines, line)
	}
	for _, s := range hidden {
		lines = append(lines, style.Line{{Role: style.Plain, Text: "behind: " + s}})
	}
	return lines
}

// bars draws the pieces beside the posts on one side, each by its letter.
func (d *drawing) bars(r row, left bool, width int) string {
	side := estate.RightSide
	if left == (d.face == estate.FrontFace) {
		side = estate.LeftSide
	}
	var b strings.Builder
	for i, p := range d.beside {
		if p.mount.ZeroU.Side != side || 2*strings.Count(b.String(), " ") >= 2*width {
			continue
		}
		sign := d.signs.bar
		switch {
		case !r.covers(p.lo, p.hi):
			sign = " "
		case p.hi <= r.hi+slack || !(row{lo: r.hi, hi: 2*r.hi - r.lo}).covers(p.lo, p.hi):
			sign = letter(i)
		}
		if left {
			b.WriteString(sign + " ")
		} else {
			b.WriteString(" " + sign)
		}
	}
	return style.Left(b.String(), width, d.ascii)
}

// letter names the i-th piece beside the posts in a drawing.
func letter(i int) string { return string(rune('A' + i%26)) }

// footing explains the signs that occur, and lists what is beside the posts
// and what could not be drawn.
func (d *drawing) footing() []style.Line {
	var lines []style.Line
	say := func(role style.Role, s string) {
		for _, part := range style.Wrap(s, d.width) {
			lines = append(lines, style.Line{{Role: role, Text: part}})
		}
	}
	if d.view != Side {
		for i, p := range d.beside {
			z := p.mount.ZeroU
			say(style.Plain, fmt.Sprintf("%s  %s (%s): 0U, %s side at the %s posts, %s to %s", letter(i), style.Name(p.mount.Name), kindOf(p.mount),
				z.Side, z.Plane, d.length(p.lo), d.length(p.hi)))
		}
	}
	for _, p := range d.pieces {
		drawn := slices.ContainsFunc(d.rows, func(r row) bool { return p.lo < r.hi && r.lo < p.hi })
		if !drawn {
			say(style.Plain, "! "+style.Name(p.mount.Name)+" ("+kindOf(p.mount)+"): not drawn, it is at "+d.rack.Frame.Label(estate.Extent{Bottom: p.lo, Top: p.hi}))
		}
	}
	for _, m := range d.unknown {
		say(style.Plain, d.signs.unknown+"  "+style.Name(m.Name)+" ("+kindOf(m)+"): not drawn, its place or height is not known")
	}
	if key := d.key(); key != "" {
		say(style.Aside, key)
	}
	return lines
}

// key explains the signs that occur in the drawing.
func (d *drawing) key() string {
	var far, held, blank, unusable, clash, guess, outside bool
	for _, p := range d.pieces {
		q := p.mount.Equipment
		guess = guess || p.guess || q == nil || !q.Mass.Known() || !q.Depth.Known()
		for _, other := range d.in(row{lo: p.lo, hi: p.hi}, p.mount.Posts()) {
			clash = clash || other.mount != p.mount && p.mount.Slot.Overlaps(other.mount.Slot)
		}
	}
	for _, r := range d.rows {
		outside = outside || r.outside
		far = far || len(d.in(r, d.face)) < len(d.in(r, estate.NoFace))
		held = held || d.reserveIn(r, d.face) != nil
		blank = blank || d.blankIn(r, d.face) != nil
		unusable = unusable || r.unusable
	}
	var parts []string
	add := func(on bool, s string) {
		if on {
			parts = append(parts, s)
		}
	}
	if d.view == Side {
		add(true, d.signs.cords+" cords")
		add(true, d.signs.before+" before the posts")
		add(true, d.signs.door+" door")
		add(true, d.signs.clash+" front and rear gear meet")
	} else {
		add(far, "( ) on the other face")
		add(held, d.signs.held+" held")
		add(blank, d.signs.blank+" blank")
		add(unusable, d.signs.unusable+" unusable")
		add(clash, d.signs.clash+" claimed twice")
	}
	add(guess, d.signs.unknown+" not known")
	add(outside, "! outside the frame")
	if len(parts) == 0 {
		return ""
	}
	return "signs: " + strings.Join(parts, ", ")
}

// list is what is printed of a rack that cannot be drawn.
func list(r *estate.Rack, o Options) []style.Line {
	width := max(o.Width, 32)
	if o.Width == 0 {
		width = 80
	}
	why := "the frame of " + r.Ref() + " is not declared"
	if r.Frame != nil {
		why = "the height of frame." + r.Frame.Name + " is not known"
	}
	var lines []style.Line
	lines = append(lines, style.Line{{Role: style.Heading, Text: style.Name(r.Name)}})
	for _, s := range style.Wrap("not drawn: "+why, width) {
		lines = append(lines, style.Line{{Text: s}})
	}
	for _, m := range r.Mounts {
		at := "at " + m.At.String()
		if m.At == 0 {
			at = "without a unit"
		}
		lines = append(lines, style.Line{{Text: style.Cut(fmt.Sprintf("  %s (%s) %s", style.Name(m.Name), kindOf(m), at), width, o.ASCII)}})
	}
	return lines
}
