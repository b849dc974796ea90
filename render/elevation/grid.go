package elevation

import (
	"cmp"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// A row is a strip of a frame's height that takes one line of a drawing.
type row struct {
	lo, hi   quantity.Length // above the lower edge of the lowest unit
	label    string          // unit number, or millimetres in a frame without units; "" for the lower half of a unit
	unusable bool
	outside  bool // above the top or below the bottom of the posts
}

// A piece is a mount with the space that it takes.
type piece struct {
	mount  *estate.Mount
	lo, hi quantity.Length
	guess  bool // its height is not known; one unit is drawn
}

// A grid is a frame's height in rows, from the top down, and what is to be
// drawn in it, from the bottom up.
type grid struct {
	rack    *estate.Rack
	rows    []row
	pieces  []piece         // on the posts
	beside  []piece         // zero-U
	unknown []*estate.Mount // whose place is not known
}

// slack is how far an edge may be off a unit's edge without a row of its own:
// panels are up to 0.8 mm lower than their nominal height.
const slack = quantity.Millimetre

// newGrid gives the grid of a rack, or nil where the frame's height is not
// known.
func newGrid(r *estate.Rack) *grid {
	if r.Frame == nil {
		return nil
	}
	g := &grid{rack: r}
	for _, m := range r.Mounts {
		p, ok := place(m)
		switch {
		case !ok:
			g.unknown = append(g.unknown, m)
		case m.ZeroU != nil:
			g.beside = append(g.beside, p)
		default:
			g.pieces = append(g.pieces, p)
		}
	}
	slices.SortStableFunc(g.pieces, func(a, b piece) int { return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi)) })
	switch {
	case r.Frame.Units > 0 && pitch(r.Frame) > 0:
		g.countedRows()
	case r.Frame.Clear > 0:
		g.measuredRows()
	default:
		return nil
	}
	return g
}

// countedRows makes a row of each unit, or two of a unit in which something
// begins or ends.
func (g *grid) countedRows() {
	f := g.rack.Frame
	step := pitch(f)
	// Whatever sticks out of the frame is drawn as well, up to four units.
	below, above := 0, 0
	for _, p := range g.pieces {
		below = max(below, int(ceil(-p.lo-slack, step)))
		above = max(above, int(ceil(p.hi-slack, step))-f.Units)
	}
	below, above = min(below, 4), min(above, 4)
	for i := f.Units + above - 1; i >= -below; i-- {
		lo := quantity.Length(i) * step
		r := row{lo: lo, hi: lo + step}
		if i >= 0 && i < f.Units {
			n := numberOf(f, i)
			r.label = n.String()
			r.unusable = slices.ContainsFunc(f.Unusable, func(u estate.UnitRange) bool { return u.From <= n && n <= u.To })
		} else {
			r.outside = true
		}
		if !g.edgeInside(r) {
			g.rows = append(g.rows, r)
			continue
		}
		upper, lower := r, r
		upper.lo, lower.hi = lo+step/2, lo+step/2
		lower.label = ""
		g.rows = append(g.rows, upper, lower)
	}
}

// measuredRows makes rows of a frame that has a height but no units: of 25, 50
// or 100 mm, whichever gives fewer than fifty.
func (g *grid) measuredRows() {
	clear := g.rack.Frame.Clear
	step := 25 * quantity.Millimetre
	for clear/step >= 50 && step < 1600*quantity.Millimetre {
		step *= 2
	}
	for lo := (ceil(clear, step) - 1) * step; lo >= 0; lo -= step {
		g.rows = append(g.rows, row{lo: lo, hi: min(lo+step, clear), label: quantity.Number(lo.Millimetres(), 0)})
	}
}

func (g *grid) edgeInside(r row) bool {
	inside := func(l quantity.Length) bool { return l > r.lo+slack && l < r.hi-slack }
	for _, p := range g.pieces {
		if inside(p.lo) || inside(p.hi) {
			return true
		}
	}
	for _, b := range g.rack.Blanks {
		if lo, hi, ok := heights(g.rack.Frame, b.Units); ok && (inside(lo) || inside(hi)) {
			return true
		}
	}
	for _, x := range g.rack.Reserves {
		if lo, hi, ok := heights(g.rack.Frame, x.Units); ok && (inside(lo) || inside(hi)) {
			return true
		}
	}
	return false
}

// covers reports whether a run of height takes at least half of a row.
func (r row) covers(lo, hi quantity.Length) bool {
	return 2*(min(hi, r.hi)-max(lo, r.lo)) >= r.hi-r.lo
}

// in gives the pieces that take part of the row, lowest first, on the face or
// (with NoFace) on any.
func (g *grid) in(r row, face estate.Face) []piece {
	var out []piece
	for _, p := range g.pieces {
		if (face == estate.NoFace || faceOf(p.mount) == face) && r.covers(p.lo, p.hi) {
			out = append(out, p)
		}
	}
	return out
}

func (g *grid) reserveIn(r row, face estate.Face) *estate.Reserve {
	for _, x := range g.rack.Reserves {
		if lo, hi, ok := heights(g.rack.Frame, x.Units); ok && r.covers(lo, hi) && (x.Face == estate.NoFace || x.Face == face) {
			return x
		}
	}
	return nil
}

func (g *grid) blankIn(r row, face estate.Face) *estate.Blank {
	for _, b := range g.rack.Blanks {
		blankFace := b.Face
		if blankFace == estate.NoFace {
			blankFace = estate.FrontFace
		}
		if lo, hi, ok := heights(g.rack.Frame, b.Units); ok && r.covers(lo, hi) && blankFace == face {
			return b
		}
	}
	return nil
}

// faceOf gives the face that a mount hangs on: the front unless declared.
func faceOf(m *estate.Mount) estate.Face {
	if m.Face == estate.RearFace {
		return estate.RearFace
	}
	return estate.FrontFace
}

func ceil(a, b quantity.Length) quantity.Length {
	if a <= 0 {
		return -(-a / b)
	}
	return (a + b - 1) / b
}
