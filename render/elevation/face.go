package elevation

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/render/style"
)

// drawFace fills one row of a front or rear view: the part between the posts,
// exactly width cells.
func (d *drawing) drawFace(i, width int) style.Line {
	var line style.Line
	r := d.rows[i]
	near := d.in(r, d.face)
	switch {
	case len(near) > 0:
		d.drawPieces(&line, i, width, near)
	case r.unusable && len(d.in(r, estate.NoFace)) == 0:
		line.Add(style.Aside, style.Fill(d.signs.unusable, width))
	default:
		d.drawOpen(&line, i, width)
	}
	line.Pad(width)
	return line
}

// drawPieces draws what hangs on the near face in one row, each piece in its
// share of the width.
func (d *drawing) drawPieces(line *style.Line, i, width int, near []piece) {
	type part struct {
		from, to int
		pieces   []piece
	}
	var parts []part
	for _, p := range near {
		from, to := 0, width
		if s := p.mount.Slot; !s.Whole() {
			n := int(s.Part)
			if d.face == estate.RearFace { // what is left from the front is right from behind
				n = int(s.Of) + 1 - n
			}
			from, to = width*(n-1)/int(s.Of), width*n/int(s.Of)
		}
		parts = append(parts, part{from, to, []piece{p}})
	}
	// What shares any width is drawn as one, claimed by all of them.
	slices.SortStableFunc(parts, func(a, b part) int { return a.from - b.from })
	n := 0
	for _, q := range parts {
		if n > 0 && q.from < parts[n-1].to {
			parts[n-1].to = max(parts[n-1].to, q.to)
			parts[n-1].pieces = append(parts[n-1].pieces, q.pieces...)
			continue
		}
		parts[n] = q
		n++
	}
	parts = parts[:n]
	for _, q := range parts {
		line.Pad(q.from)
		if len(q.pieces) == 1 {
			d.drawPiece(line, i, q.to-q.from, q.pieces[0])
			continue
		}
		var names []string
		for _, p := range q.pieces {
			names = append(names, d.mark(p.mount)+style.Name(p.mount.Name))
		}
		text := style.Left(" "+strings.Join(names, " "+d.signs.clash+" "), q.to-q.from-2, d.ascii)
		line.Add(style.Grave, d.signs.clash+text+d.signs.clash)
	}
}

// drawPiece draws one row of a piece in width cells.
func (d *drawing) drawPiece(line *style.Line, i, width int, p piece) {
	top := i == 0 || !d.rows[i-1].covers(p.lo, p.hi)
	bottom := i == len(d.rows)-1 || !d.rows[i+1].covers(p.lo, p.hi)
	ends := d.signs.middle
	switch {
	case top && bottom:
		ends = d.signs.single
	case top:
		ends = d.signs.top
	case bottom:
		ends = d.signs.bottom
	}
	role := d.role(p.mount)
	if width < 4 {
		line.Add(role, style.Left(ends[0]+ends[1], width, d.ascii))
		return
	}
	room := width - 4
	name, kind := d.mark(p.mount)+style.Name(p.mount.Name), kindOf(p.mount)
	beside := style.Width(name)+2+style.Width(kind) <= room
	var text string
	switch {
	case top && p.guess:
		text = style.Left(name, max(room-2, 0), d.ascii) + " " + d.signs.unknown
	case top && beside && kind != name:
		text = style.Left(name, room-style.Width(kind), d.ascii) + kind
	case top:
		text = style.Left(name, room, d.ascii)
	case !beside && i > 0 && d.firstRow(i-1, p):
		text = style.Right(kind, room, d.ascii)
	default:
		text = style.Left("", room, d.ascii)
	}
	line.Add(role, ends[0]+" "+style.Left(text, room, d.ascii)+" "+ends[1])
}

// firstRow reports whether row i is the uppermost of the piece.
func (d *drawing) firstRow(i int, p piece) bool {
	return d.rows[i].covers(p.lo, p.hi) && (i == 0 || !d.rows[i-1].covers(p.lo, p.hi))
}

// drawOpen draws a row in which nothing hangs on the near face: a blank, held
// units, what shows of the other face, or how much is free.
func (d *drawing) drawOpen(line *style.Line, i, width int) {
	r := d.rows[i]
	other := estate.FrontFace
	if d.face == estate.FrontFace {
		other = estate.RearFace
	}
	far := d.in(r, other)
	blank := d.blankIn(r, d.face)
	held := d.reserveIn(r, d.face)
	switch {
	case blank != nil:
		sign := d.signs.blank
		if len(far) > 0 {
			d.filled(line, style.Aside, sign, " blank, "+style.Name(far[0].mount.Name)+" behind ", width)
			return
		}
		text := d.runLength(i, " blank ", func(k int) bool {
			return d.blankIn(d.rows[k], d.face) != nil && len(d.in(d.rows[k], estate.NoFace)) == 0
		})
		d.filled(line, style.Aside, sign, text, width)
	case len(far) > 0:
		role := d.role(far[0].mount)
		if role == style.Plain {
			role = style.Aside
		}
		text := ""
		var names []string
		for _, p := range far {
			if d.firstRow(i, p) {
				names = append(names, d.mark(p.mount)+style.Name(p.mount.Name))
			}
		}
		if len(names) > 0 {
			text = strings.Join(names, ", ")
			if on := "on the " + other.String(); style.Width(text)+2+style.Width(on) <= width-4 {
				text = style.Left(text, width-4-style.Width(on), d.ascii) + on
			}
		}
		line.Add(role, d.signs.far[0]+" "+style.Left(text, width-4, d.ascii)+" "+d.signs.far[1])
	case held != nil:
		text := ""
		if i == 0 || d.reserveIn(d.rows[i-1], d.face) != held || len(d.in(d.rows[i-1], d.face)) > 0 {
			text = " " + style.Name(held.Name)
			if held.Until != 0 {
				text += " until " + held.Until.String()
			}
			text += " "
		}
		d.filled(line, style.Unsure, d.signs.held, text, width)
	case r.outside:
	default:
		text := style.Cut(d.runLength(i, " free", d.free), width, d.ascii)
		line.Add(style.Aside, style.Fill(" ", (width-style.Width(text))/2)+text)
	}
}

// runLength says, in the middle row of a run of like rows, how high the run
// is; it says nothing of a single row and in the other rows.
func (d *drawing) runLength(i int, what string, like func(int) bool) string {
	from, to := i, i
	for from > 0 && like(from-1) {
		from--
	}
	for to < len(d.rows)-1 && like(to+1) {
		to++
	}
	if to == from || i != (from+to)/2 {
		return ""
	}
	return " " + d.units(d.rows[from].hi-d.rows[to].lo) + what
}

// free reports whether nothing at all is in a row as seen from this face.
func (d *drawing) free(i int) bool {
	r := d.rows[i]
	return !r.outside && !r.unusable && len(d.in(r, estate.NoFace)) == 0 &&
		d.blankIn(r, d.face) == nil && d.reserveIn(r, d.face) == nil
}

// units writes a height in the frame's units.
func (d *drawing) units(l quantity.Length) string {
	n := quantity.Number(float64(l)/float64(pitch(d.rack.Frame)), 1)
	if sys := d.rack.Frame.System; sys != nil {
		return sys.Count(n)
	}
	return n + " units"
}

// filled draws a row of signs with a text set into it.
func (d *drawing) filled(line *style.Line, role style.Role, sign, text string, width int) {
	text = style.Cut(text, width-4, d.ascii)
	line.Add(role, style.Fill(sign, 2)+text+style.Fill(sign, width-2-style.Width(text)))
}

// remark gives what the columns beside a row say: mass, depth with cords, and
// feeds of the pieces that begin in it, and what is hidden behind them.
func (d *drawing) remark(i int) []note {
	r := d.rows[i]
	var out []note
	for _, p := range d.in(r, estate.NoFace) {
		if !d.firstRow(i, p) {
			continue
		}
		n := note{far: p.mount.Posts() != d.face}
		if n.far {
			n.name = style.Name(p.mount.Name)
			n.hidden = len(d.in(r, d.face)) > 0
		}
		if e := p.mount.Equipment; e != nil {
			n.mass = figure(e.Mass, d.signs, func(m quantity.Mass) string { return quantity.Number(m.Kilograms(), 1) })
			n.depth = figure(e.Depth, d.signs, func(l quantity.Length) string { return d.number(l + e.Cords.Or(0)) })
			for k, f := range p.mount.Feeds {
				if k > 0 {
					n.feeds += " "
				}
				if f != nil {
					n.feeds += style.Name(f.Name)
				} else {
					n.feeds += d.signs.unknown
				}
			}
		}
		out = append(out, n)
	}
	return out
}

// A note is what is said beside a row about one piece.
type note struct {
	mass, depth, feeds string
	name               string // of a piece on the far face
	far, hidden        bool
}

func figure[T any](f estate.Figure[T], s *signs, write func(T) string) string {
	v, ok := f.Get()
	if !ok {
		return s.unknown
	}
	return write(v)
}

func kindOf(m *estate.Mount) string {
	if m.Equipment == nil {
		return "?"
	}
	return style.Name(m.Equipment.Name)
}

// length prints a length with its unit.
func (d *drawing) length(l quantity.Length) string {
	if d.inches {
		return l.Inched()
	}
	return quantity.Number(l.Millimetres(), 0) + " mm"
}

// number prints a length without its unit.
func (d *drawing) number(l quantity.Length) string {
	if d.inches {
		return quantity.Number(l.Inches(), 1)
	}
	return quantity.Number(l.Millimetres(), 0)
}

func (d *drawing) lengthUnit() string {
	if d.inches {
		return "in"
	}
	return "mm"
}

func plural(n int, one, many string) string {
	if n == 1 {
		return fmt.Sprintf("1 %s", one)
	}
	return fmt.Sprintf("%d %s", n, many)
}
