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
	label    string          // unit number; "" for the lower half of a unit
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

	blanks   []blank
	reserves []reserve
}

type blank struct {
	*estate.Blank
	estate.Extent
}

type reserve struct {
	*estate.Reserve
	estate.Extent
}

// slack is how far an edge may be off a unit's edge without a row of its own:
// panels are up to 0.8 mm lower than their nominal height.
const slack = quantity.Millimetre

// newGrid gives the grid of a rack, or nil where the frame's height is not
// known.
func newGrid(r *estate.Rack) *grid {
	if r.Frame == nil || r.Frame.Modules() <= 0 {
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
	for _, b := range r.Blanks {
		if e, ok := b.Extent(); ok {
			g.blanks = append(g.blanks, blank{b, e})
		}
	}
	for _, x := range r.Reserves {
		if e, ok := x.Extent(); ok {
			g.reserves = append(g.reserves, reserve{x, e})
		}
	}
	g.divide()
	return g
}

// place gives what a mount takes; one unit is assumed where only its height is
// not known.
func place(m *estate.Mount) (piece, bool) {
	e, ok := m.Extent()
	if ok || m.ZeroU != nil || m.At == 0 && m.Through == 0 && m.Raised.State != estate.IsGiven {
		return piece{mount: m, lo: e.Bottom, hi: e.Top}, ok
	}
	f := m.Rack.Frame
	e = f.UnitExtent(m.At)
	if raised, ok := m.Raised.Get(); ok {
		e = estate.Extent{Bottom: raised, Top: raised + e.Height()}
	}
	return piece{mount: m, lo: e.Bottom, hi: e.Top, guess: true}, true
}

// pitch gives the height of one unit of the frame.
func pitch(f *estate.Frame) quantity.Length {
	return f.UnitExtent(estate.Units(f.First)).Height()
}

// number gives the number of the i-th unit from below, counted from 0.
func numberOf(f *estate.Frame, i int) estate.UnitNumber {
	if f.Counted == estate.CountedDown {
		return estate.Units(f.Last() - i)
	}
	return estate.Units(f.First + i)
}

// divide makes a row of each unit, or two of a unit in which something begins
// or ends. In a frame given by length the odd piece has a row without number.
func (g *grid) divide() {
	f := g.rack.Frame
	step := pitch(f)
	add := func(r row) {
		if !g.edgeInside(r) {
			g.rows = append(g.rows, r)
			return
		}
		upper, lower := r, r
		upper.lo, lower.hi = (r.lo+r.hi)/2, (r.lo+r.hi)/2
		lower.label = ""
		g.rows = append(g.rows, upper, lower)
	}
	// Whatever sticks out of the frame is drawn as well, up to four units.
	usable := f.Usable()
	below, above := 0, 0
	for _, p := range g.pieces {
		below = max(below, int(ceil(usable.Bottom-p.lo-slack, step)))
		above = max(above, int(ceil(p.hi-usable.Top-slack, step)))
	}
	for i := min(above, 4); i > 0; i-- {
		lo := usable.Top + quantity.Length(i-1)*step
		add(row{lo: lo, hi: lo + step, outside: true})
	}
	top := f.Extent(estate.UnitRange{From: estate.Units(f.First), To: estate.Units(f.Last())})
	if usable.Top-top.Top > slack {
		add(row{lo: top.Top, hi: usable.Top, unusable: true})
	}
	for i := f.Modules() - 1; i >= 0; i-- {
		n := numberOf(f, i)
		e := f.UnitExtent(n)
		add(row{lo: e.Bottom, hi: e.Top, label: n.String(), unusable: slices.ContainsFunc(f.Unusable, func(u estate.UnitRange) bool { return u.From <= n && n <= u.To })})
	}
	if top.Bottom-usable.Bottom > slack {
		add(row{lo: usable.Bottom, hi: top.Bottom, unusable: true})
	}
	for i := range min(below, 4) {
		hi := usable.Bottom - quantity.Length(i)*step
		add(row{lo: hi - step, hi: hi, outside: true})
	}
}

func (g *grid) edgeInside(r row) bool {
	inside := func(l quantity.Length) bool { return l > r.lo+slack && l < r.hi-slack }
	for _, p := range g.pieces {
		if inside(p.lo) || inside(p.hi) {
			return true
		}
	}
	for _, b := range g.blanks {
		if inside(b.Bottom) || inside(b.Top) {
			return true
		}
	}
	for _, x := range g.reserves {
		if inside(x.Bottom) || inside(x.Top) {
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
		if (face == estate.NoFace || p.mount.Posts() == face) && r.covers(p.lo, p.hi) {
			out = append(out, p)
		}
	}
	return out
}

func (g *grid) reserveIn(r row, face estate.Face) *estate.Reserve {
	for _, x := range g.reserves {
		if r.covers(x.Bottom, x.Top) && (x.Face == estate.NoFace || x.Face == face) {
			return x.Reserve
		}
	}
	return nil
}

// blankIn gives the blank that closes a row: on the front posts unless
// declared otherwise.
func (g *grid) blankIn(r row, face estate.Face) *estate.Blank {
	for _, b := range g.blanks {
		if r.covers(b.Bottom, b.Top) && (b.Face == estate.RearFace) == (face == estate.RearFace) {
			return b.Blank
		}
	}
	return nil
}

func ceil(a, b quantity.Length) quantity.Length {
	if a <= 0 {
		return -(-a / b)
	}
	return (a + b - 1) / b
}
