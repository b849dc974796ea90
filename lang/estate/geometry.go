package estate

import (
	"fmt"

	"cagenut/lang/quantity"
)

// An Extent is a run of heights above the lower edge of a frame's lowest unit,
// from Bottom up to but not including Top.
type Extent struct{ Bottom, Top quantity.Length }

// Touch is the depth to which two things may overlap on paper without meeting
// in a rack: a rounded figure such as "44.5 mm" for one U is no collision.
const Touch = 100 * quantity.Micrometre

// Height gives the extent's height.
func (e Extent) Height() quantity.Length { return e.Top - e.Bottom }

// Shared gives the heights that two extents have in common, empty where they
// have none.
func (e Extent) Shared(o Extent) Extent {
	s := Extent{max(e.Bottom, o.Bottom), min(e.Top, o.Top)}
	if s.Top < s.Bottom {
		s.Top = s.Bottom
	}
	return s
}

// Meets reports whether two extents share more than [Touch].
func (e Extent) Meets(o Extent) bool {
	return min(e.Top, o.Top)-max(e.Bottom, o.Bottom) > Touch
}

// Within reports whether e lies inside o, give or take [Touch].
func (e Extent) Within(o Extent) bool {
	return e.Bottom >= o.Bottom-Touch && e.Top <= o.Top+Touch
}

// pitch gives the frame's unit; one U where its system is not known.
func (f *Frame) pitch() quantity.Length {
	if f.System == nil || f.System.Pitch == 0 {
		return quantity.RackUnit
	}
	return f.System.Pitch
}

// Usable gives the heights between which things can be mounted.
func (f *Frame) Usable() Extent {
	if f.Clear > 0 {
		return Extent{0, f.Clear}
	}
	return Extent{0, quantity.Length(f.Units) * f.pitch()}
}

// Modules gives how many whole units the frame is high, also where it is given
// by length.
func (f *Frame) Modules() int {
	if f.Units > 0 {
		return f.Units
	}
	return int(f.Clear / f.pitch())
}

// Last gives the number of the last unit.
func (f *Frame) Last() int { return f.First + f.Modules() - 1 }

// lowest gives the lower edge of the lowest whole unit. It is 0 unless the
// frame is given by length and counted down, where the odd piece is below.
func (f *Frame) lowest() quantity.Length {
	if f.Counted == CountedDown {
		return f.Usable().Top - quantity.Length(f.Modules())*f.pitch()
	}
	return 0
}

// units gives n thousandths of a unit as a length.
func (f *Frame) units(n UnitNumber) quantity.Length {
	return quantity.Length(n) * f.pitch() / quantity.Length(OneUnit)
}

// start gives the height at which a unit number begins in the direction of
// counting: the lower edge of unit n where units are counted up, the upper one
// where they are counted down.
func (f *Frame) start(n UnitNumber) quantity.Length {
	from := f.units(n - Units(f.First))
	if f.Counted == CountedDown {
		return f.Usable().Top - from
	}
	return from
}

// from gives the extent of what begins at a unit number and is that high.
func (f *Frame) from(n UnitNumber, height quantity.Length) Extent {
	at := f.start(n)
	if f.Counted == CountedDown {
		return Extent{at - height, at}
	}
	return Extent{at, at + height}
}

// UnitExtent gives where one unit is.
func (f *Frame) UnitExtent(n UnitNumber) Extent { return f.from(n, f.pitch()) }

// Extent gives where a run of units is, its ends in either order.
func (f *Frame) Extent(r UnitRange) Extent {
	a, b := f.UnitExtent(r.From), f.UnitExtent(r.To)
	return Extent{min(a.Bottom, b.Bottom), max(a.Top, b.Top)}
}

// NumberAt gives the number at which the extent begins in the direction of
// counting: whole on a unit's edge, with a fraction elsewhere.
func (f *Frame) NumberAt(e Extent) UnitNumber {
	from := e.Bottom
	if f.Counted == CountedDown {
		from = f.Usable().Top - e.Top
	}
	return Units(f.First) + f.thousandths(from)
}

func (f *Frame) thousandths(l quantity.Length) UnitNumber {
	n := l * quantity.Length(OneUnit)
	half := f.pitch() / 2
	if n < 0 {
		half = -half
	}
	return UnitNumber((n + half) / f.pitch())
}

// UnitsOf gives the whole units that the extent touches, smaller number first.
func (f *Frame) UnitsOf(e Extent) UnitRange {
	from, to := e.Bottom, e.Top
	if f.Counted == CountedDown {
		top := f.Usable().Top
		from, to = top-e.Top, top-e.Bottom
	}
	lo := floorDiv(from+Touch, f.pitch())
	hi := floorDiv(to-Touch-1, f.pitch())
	return UnitRange{Units(f.First + lo), Units(f.First + max(lo, hi))}
}

// Label names the units of an extent as people do: "U38", "U38-39",
// "1.5U from U40", "SU12-13". What is no whole number of quarters of a unit is
// named by the units that it touches.
func (f *Frame) Label(e Extent) string {
	word := "U"
	if f.System != nil {
		word = f.System.Word
	}
	if word == "hole" {
		word = "hole "
	}
	r := f.UnitsOf(e)
	whole := f.Extent(r)
	exact := quantity.Abs(whole.Bottom-e.Bottom) <= Touch && quantity.Abs(whole.Top-e.Top) <= Touch
	start, height := f.NumberAt(e), f.thousandths(e.Height())
	switch {
	case f.System != nil && !exact && height > 0 && quarters(start) && quarters(height) && quantity.Abs(f.units(height)-e.Height()) <= Touch:
		return fmt.Sprintf("%s from %s%s", f.System.Count(height.String()), word, start)
	case r.From == r.To:
		return word + r.From.String()
	}
	return fmt.Sprintf("%s%s-%s", word, r.From, r.To)
}

// quarters reports whether n is a whole number of quarters of a unit.
func quarters(n UnitNumber) bool { return n%(OneUnit/4) == 0 }

// Native reports whether equipment is made for the frame's panel system, as
// far as heights go: all systems counted in U share one height.
func (f *Frame) Native(q *Equipment) bool {
	return f.System == nil || q.System == nil || f.System == q.System ||
		f.System.Pitch == q.System.Pitch && f.System.Allowance == q.System.Allowance
}

// Panel gives the height of the equipment's panel: its nominal height less the
// allowance of its system, or the length where its height is given as one. It
// is false where the height is not known.
func (q *Equipment) Panel() (quantity.Length, bool) {
	if q.Height.State != IsGiven {
		return 0, false
	}
	if q.Height.Word == "" || q.System == nil {
		return q.Height.Length, true
	}
	return q.System.PanelOf(q.Height.Length), true
}

// HeightIn gives how much height the equipment takes in a frame: its nominal
// height, or where the frame has another pitch as many whole units as its panel
// needs, since nothing else can begin in the rest of the last.
func (q *Equipment) HeightIn(f *Frame) (quantity.Length, bool) {
	if q.Height.State != IsGiven {
		return 0, false
	}
	if f.Native(q) {
		return q.Height.Length, true
	}
	panel, ok := q.Panel()
	if f.System == nil {
		return panel, ok
	}
	return quantity.Length(f.System.Modules(panel-Touch)) * f.System.Pitch, ok
}

// Extent gives the heights that the mount takes. It is false where they cannot
// be known: the frame, the equipment, its height or its place is missing or
// unknown.
func (m *Mount) Extent() (Extent, bool) {
	if m.Rack == nil {
		return Extent{}, false
	}
	return m.ExtentIn(m.Rack.Frame)
}

// ExtentIn gives the heights that the mount would take in another frame, at
// the number it has.
func (m *Mount) ExtentIn(f *Frame) (Extent, bool) {
	if f == nil {
		return Extent{}, false
	}
	if m.ZeroU != nil {
		from, ok1 := m.ZeroU.From.Get()
		length, ok2 := m.ZeroULength()
		return Extent{from, from + length}, ok1 && ok2
	}
	if m.Equipment == nil {
		return Extent{}, false
	}
	height, ok := m.Equipment.HeightIn(f)
	if !ok {
		return Extent{}, false
	}
	if raised, ok := m.Raised.Get(); ok {
		return Extent{raised, raised + height}, true
	}
	if m.At == 0 && m.Through == 0 && f.First != 0 {
		return Extent{}, false
	}
	return f.from(m.At, height), true
}

// ZeroULength gives how long a piece beside the posts is: as its place says,
// else as high as its equipment. It is false where neither is known.
func (m *Mount) ZeroULength() (quantity.Length, bool) {
	if m.ZeroU == nil {
		return 0, false
	}
	length, ok := m.ZeroU.Length.Get()
	if !ok && m.Equipment != nil && m.Equipment.Height.State == IsGiven {
		return m.Equipment.Height.Length, true
	}
	return length, ok
}

// Label names the units that the mount takes, or says that they are not known.
func (m *Mount) Label() string {
	e, ok := m.Extent()
	switch {
	case !ok:
		return "unknown units"
	case m.ZeroU != nil:
		return fmt.Sprintf("%s to %s at the %s", e.Bottom, e.Top, m.ZeroU.Side)
	}
	return m.Rack.Frame.Label(e)
}

// MiddleAboveFloor gives how high the middle of the mount is above the floor.
// It is false where that is not known, the frame's base included.
func (m *Mount) MiddleAboveFloor() (quantity.Length, bool) {
	e, ok := m.Extent()
	if !ok {
		return 0, false
	}
	base, ok := m.Rack.Frame.Base.Get()
	return base + (e.Bottom+e.Top)/2, ok
}

// Extent gives where the blank is, and whether its frame is known.
func (b *Blank) Extent() (Extent, bool) { return unitsIn(b.Rack, b.Units) }

// Extent gives where the reserve is, and whether its frame is known.
func (r *Reserve) Extent() (Extent, bool) { return unitsIn(r.Rack, r.Units) }

func unitsIn(r *Rack, units UnitRange) (Extent, bool) {
	if r == nil || r.Frame == nil {
		return Extent{}, false
	}
	return r.Frame.Extent(units), true
}

// HolesIn gives the centres of the holes in the frame's posts within an extent,
// its ends included, lowest first. It is empty where no published figure places
// holes.
func (f *Frame) HolesIn(e Extent) []quantity.Length {
	if f.System == nil {
		return nil
	}
	low := f.lowest()
	holes := f.System.Holes(e.Bottom-low, e.Top-low)
	for i := range holes {
		holes[i] += low
	}
	return holes
}

// Screws gives where the mount needs holes in its posts, lowest first: the
// centres of its ears as declared, else those that panels of its system and
// height have. It is false where that cannot be known: the mount's place or
// height is not known, or its height is odd and its ears are not declared.
func (m *Mount) Screws() ([]quantity.Length, bool) {
	e, ok := m.Extent()
	if !ok || m.ZeroU != nil {
		return nil, false
	}
	q := m.Equipment
	ears := q.Ears
	high := q.Height.Length
	if s := q.System; s != nil && !m.Rack.Frame.Native(q) {
		// The panel begins where the frame's units do; its ears count from
		// the units that it would have at home.
		if m.Rack.Frame.Counted == CountedDown {
			e.Top += s.Allowance / 2
			e.Bottom = e.Top - high
		} else {
			e.Bottom -= s.Allowance / 2
			e.Top = e.Bottom + high
		}
	}
	if len(ears) == 0 {
		s := q.System
		if s == nil || len(s.Offsets) == 0 || high%s.Pitch != 0 {
			return nil, false
		}
		ears = s.Holes(0, high)
	}
	out := make([]quantity.Length, len(ears))
	for i, ear := range ears {
		if m.Inverted {
			out[len(ears)-1-i] = e.Top - ear
		} else {
			out[i] = e.Bottom + ear
		}
	}
	return out, true
}

// NearestHole gives the hole of the frame's posts that is nearest to a height.
func (f *Frame) NearestHole(at quantity.Length) (quantity.Length, bool) {
	if f.System == nil {
		return 0, false
	}
	h, ok := f.System.HoleNear(at - f.lowest())
	return h + f.lowest(), ok
}

func floorDiv(a, b quantity.Length) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return int(q)
}
