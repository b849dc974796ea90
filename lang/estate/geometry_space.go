package estate

import (
	"cmp"
	"slices"

	"cagenut/lang/quantity"
)

// A Placed mount is one whose extent is known.
type Placed struct {
	*Mount
	Extent
}

// Placed gives the mounts between the posts whose extents are known, lowest
// first and in the order declared where they start together. Pieces beside the
// posts are left out.
func (r *Rack) Placed() []Placed { return PlacedIn(r.Frame, r.Mounts) }

// PlacedIn is [Rack.Placed] for any mounts of one frame, such as those of a
// state on the way from one layout to another.
func PlacedIn(f *Frame, mounts []*Mount) []Placed {
	if f == nil {
		return nil
	}
	out := make([]Placed, 0, len(mounts))
	for _, m := range mounts {
		if m.ZeroU != nil {
			continue
		}
		if e, ok := m.ExtentIn(f); ok {
			out = append(out, Placed{m, e})
		}
	}
	byHeight := func(a, b Placed) int { return cmp.Compare(a.Bottom, b.Bottom) }
	if !slices.IsSortedFunc(out, byHeight) {
		slices.SortStableFunc(out, byHeight)
	}
	return out
}

// A Conflict is two mounts on the same posts that claim the same space.
type Conflict struct {
	Earlier, Later Placed // as declared
	Shared         Extent
}

// Conflicts gives each pair of mounts that claim the same space of the same
// posts, lowest first.
func (r *Rack) Conflicts() []Conflict { return ConflictsIn(r.Frame, r.Mounts) }

// ConflictsIn is [Rack.Conflicts] for any mounts of one frame.
func ConflictsIn(f *Frame, mounts []*Mount) []Conflict {
	var out []Conflict
	pairs(PlacedIn(f, mounts), func(a, b Placed) {
		if a.Posts() != b.Posts() || !a.Slot.Overlaps(b.Slot) {
			return
		}
		if declaredBefore(mounts, b.Mount, a.Mount) {
			a, b = b, a
		}
		out = append(out, Conflict{a, b, a.Shared(b.Extent)})
	})
	return out
}

// A Facing is two mounts that meet in height from opposite posts.
type Facing struct {
	Front, Rear Placed
	Shared      Extent
}

// Facings gives each pair of a front mount and a rear mount that share heights
// and width, lowest first. Whether they meet in depth is for the caller to
// compare.
func (r *Rack) Facings() []Facing { return FacingsIn(r.Frame, r.Mounts) }

// FacingsIn is [Rack.Facings] for any mounts of one frame.
func FacingsIn(f *Frame, mounts []*Mount) []Facing {
	if !slices.ContainsFunc(mounts, func(m *Mount) bool { return m.Posts() == RearFace }) {
		return nil // the common case
	}
	var out []Facing
	pairs(PlacedIn(f, mounts), func(a, b Placed) {
		if a.Posts() == b.Posts() || !a.Slot.Overlaps(b.Slot) {
			return
		}
		if a.Posts() == RearFace {
			a, b = b, a
		}
		out = append(out, Facing{a, b, a.Shared(b.Extent)})
	})
	return out
}

// pairs calls visit for each two placed mounts that meet in height.
func pairs(placed []Placed, visit func(a, b Placed)) {
	for i, a := range placed {
		for _, b := range placed[i+1:] {
			if b.Bottom >= a.Top {
				break
			}
			if a.Meets(b.Extent) {
				visit(a, b)
			}
		}
	}
}

// Posts gives the posts that the mount hangs on: the front ones unless said.
func (m *Mount) Posts() Face {
	if m.Face == RearFace {
		return RearFace
	}
	return FrontFace
}

func declaredBefore(mounts []*Mount, a, b *Mount) bool {
	for _, m := range mounts {
		if m == a {
			return true
		}
		if m == b {
			return false
		}
	}
	return false
}

// Free gives the heights at one face that no mount takes, lowest first, as
// whole units: unusable units and units that are partly taken are left out.
// Blanks count as free, and so do reserves: see [Rack.Reserved].
func (r *Rack) Free(face Face) []Extent { return FreeIn(r.Frame, r.Mounts, face) }

// FreeIn is [Rack.Free] for any mounts of one frame. NoFace asks for heights
// that are free at both faces.
func FreeIn(f *Frame, mounts []*Mount, face Face) []Extent {
	var taken []Extent
	for _, p := range PlacedIn(f, mounts) {
		if face == NoFace || p.Posts() == face {
			taken = append(taken, p.Extent)
		}
	}
	return f.rest(taken)
}

// WantsBlanks reports whether open units of the rack must be closed: the frame
// says so, or it is a cabinet in a row whose fronts look at the cold aisle and
// says nothing else.
func (r *Rack) WantsBlanks() bool {
	f := r.Frame
	if f == nil || f.Modules() <= 0 {
		return false
	}
	if f.Blanking || f.Source.Has("blanking") {
		return f.Blanking
	}
	return f.Kind == Cabinet && r.Row != nil && r.Row.Front == ColdAisle
}

// Open gives the heights that neither a mount nor a blank closes at the front,
// lowest first, as whole units.
func (r *Rack) Open() []Extent {
	var closed []Extent
	for _, p := range r.Placed() {
		if p.Posts() == FrontFace {
			closed = append(closed, p.Extent)
		}
	}
	for _, b := range r.Blanks {
		if e, ok := b.Extent(); ok && b.Face != RearFace {
			closed = append(closed, e)
		}
	}
	return r.Frame.rest(closed)
}

// rest gives the runs of usable units that no extent touches, lowest first.
func (f *Frame) rest(of []Extent) []Extent {
	if f == nil || f.Modules() <= 0 {
		return nil
	}
	taken := make([]bool, f.Modules())
	lowest := f.lowest()
	mark := func(e Extent) {
		e = e.Shared(f.Usable())
		if e.Height() <= Touch {
			return
		}
		first := floorDiv(e.Bottom-lowest+Touch, f.pitch())
		last := floorDiv(e.Top-lowest-Touch-1, f.pitch())
		for i := max(first, 0); i <= min(last, len(taken)-1); i++ {
			taken[i] = true
		}
	}
	for _, e := range of {
		mark(e)
	}
	for _, u := range f.Unusable {
		mark(f.Extent(u))
	}
	var out []Extent
	for i := 0; i < len(taken); i++ {
		if taken[i] {
			continue
		}
		start := i
		for i < len(taken) && !taken[i] {
			i++
		}
		out = append(out, Extent{lowest + quantity.Length(start)*f.pitch(), lowest + quantity.Length(i)*f.pitch()})
	}
	return out
}

// Reserved gives the reserves that hold any of these heights at a face on a
// day, in the order declared. A reserve ends with its last day.
func (r *Rack) Reserved(e Extent, face Face, today Date) []*Reserve {
	var out []*Reserve
	for _, held := range r.Reserves {
		h, ok := held.Extent()
		if !ok || !h.Meets(e) || held.Until != 0 && today > held.Until {
			continue
		}
		if held.Face == NoFace || face == NoFace || held.Face == face {
			out = append(out, held)
		}
	}
	return out
}
