package estate

import "cagenut/lang/quantity"

// A Leftover is the part of a unit at the front that mounts leave open while
// they take the rest of it.
type Leftover struct {
	Extent
	Unit Extent // the whole unit
	Of   Placed // the mount that leaves it, the lower of two
}

// Leftovers gives the open parts of units that are partly taken at the front,
// lowest first. What leaves less than [Touch] leaves nothing.
func (r *Rack) Leftovers() []Leftover {
	f := r.Frame
	if f == nil {
		return nil
	}
	whole := true
	for _, m := range r.Mounts {
		if e, ok := m.Extent(); ok && m.ZeroU == nil && m.Posts() == FrontFace {
			whole = whole && f.WholeUnits(Placed{m, e}.covers(f))
		}
	}
	if whole {
		return nil // the common case
	}
	var front []Placed
	for _, p := range r.Placed() {
		if p.Posts() == FrontFace {
			p.Extent = p.covers(f)
			front = append(front, p)
		}
	}
	var out []Leftover
	low := f.lowest()
	for i := range f.Modules() {
		unit := Extent{low + quantity.Length(i)*f.pitch(), low + quantity.Length(i+1)*f.pitch()}
		at := unit.Bottom
		var last Placed
		touched := false
		for _, p := range front {
			if !p.Meets(unit) {
				continue
			}
			if p.Bottom > at+Touch {
				of := p
				if touched {
					of = last
				}
				out = append(out, Leftover{Extent{at, p.Bottom}, unit, of})
			}
			at, last, touched = max(at, p.Top), p, true
		}
		if touched && unit.Top > at+Touch {
			out = append(out, Leftover{Extent{at, unit.Top}, unit, last})
		}
	}
	return out
}

// WholeUnits reports whether an extent begins and ends at edges of the frame's
// units, give or take [Touch].
func (f *Frame) WholeUnits(e Extent) bool { return f.onGrid(e.Bottom) && f.onGrid(e.Top) }

// onGrid reports whether a height is at a unit's edge, give or take [Touch].
func (f *Frame) onGrid(h quantity.Length) bool {
	over := (h - f.lowest()) % f.pitch()
	return quantity.Abs(over) <= Touch || quantity.Abs(over) >= f.pitch()-Touch
}

// covers gives the heights that the mount closes, which is less than it takes
// where its panel is of another system than the frame.
func (p Placed) covers(f *Frame) Extent {
	panel, ok := p.Equipment.Panel()
	if !ok || f.Native(p.Equipment) {
		return p.Extent
	}
	if f.Counted == CountedDown {
		return Extent{p.Top - panel, p.Top}
	}
	return Extent{p.Bottom, p.Bottom + panel}
}
