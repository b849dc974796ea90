package elevation

import (
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// pitch gives the height of one unit of a frame, or 0 where its system is not
// known.
func pitch(f *estate.Frame) quantity.Length {
	if f == nil || f.System == nil {
		return 0
	}
	return f.System.Pitch
}

func first(f *estate.Frame) estate.UnitNumber {
	if f.First == 0 {
		return estate.OneUnit
	}
	return estate.Units(f.First)
}

// numberOf gives the number of the i-th unit from below, counted from 0.
func numberOf(f *estate.Frame, i int) estate.UnitNumber {
	if f.Counted == estate.CountedDown {
		return first(f) + estate.Units(f.Units-1-i)
	}
	return first(f) + estate.Units(i)
}

// heights gives the space that a run of units takes.
func heights(f *estate.Frame, u estate.UnitRange) (lo, hi quantity.Length, ok bool) {
	p := pitch(f)
	if p == 0 {
		return 0, 0, false
	}
	from, to := u.From-first(f), u.To-first(f)+estate.OneUnit
	if f.Counted == estate.CountedDown {
		from, to = estate.Units(f.Units)-to, estate.Units(f.Units)-from
	}
	return p * quantity.Length(from) / quantity.Length(estate.OneUnit), p * quantity.Length(to) / quantity.Length(estate.OneUnit), true
}

// height gives the nominal height of equipment in a frame.
func height(f *estate.Frame, e *estate.Equipment) (quantity.Length, bool) {
	if e == nil {
		return 0, false
	}
	h := e.Height
	switch {
	case h.Length > 0:
		return h.Length, true
	case h.Count > 0 && e.System != nil:
		return e.System.Pitch * quantity.Length(h.Count) / quantity.Length(estate.OneUnit), true
	case h.Count > 0:
		return pitch(f) * quantity.Length(h.Count) / quantity.Length(estate.OneUnit), true
	}
	return 0, false
}

// place gives where a mount is.
func place(m *estate.Mount) (piece, bool) {
	f := m.Rack.Frame
	p := piece{mount: m}
	high, known := height(f, m.Equipment)
	if z := m.ZeroU; z != nil {
		if long, ok := z.Length.Get(); ok {
			high, known = long, true
		}
		from, ok := z.From.Get()
		p.lo, p.hi = from, from+high
		return p, ok && known
	}
	if !known {
		high, p.guess = pitch(f), true
	}
	if raised, ok := m.Raised.Get(); ok {
		p.lo, p.hi = raised, raised+high
		return p, true
	}
	lo, hi, ok := heights(f, estate.UnitRange{From: m.At, To: m.At})
	if !ok || m.At == 0 {
		return p, false
	}
	if f.Counted == estate.CountedDown {
		p.lo, p.hi = hi-high, hi
	} else {
		p.lo, p.hi = lo, lo+high
	}
	return p, true
}
