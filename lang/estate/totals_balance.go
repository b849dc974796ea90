package estate

import (
	"fmt"

	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// A Balance is what a rack weighs with its frame, and where. Places are
// measured from the frame's left side as seen from the front, from its front,
// and from the floor.
//
// The frame's own centre is taken at the middle of its width, depth and height,
// and that of a mount at the middle of its body: common practice where nobody
// has weighed them.
type Balance struct {
	Bodies []physics.Body // the frame, then each of Mounts
	Mounts []*Mount
	Total  quantity.Mass
	Centre physics.Point
}

// Balance gives the rack's balance, or why it cannot be reckoned: one figure
// that is missing or unknown.
func (r *Rack) Balance() (Balance, string) { return BalanceOf(r.Frame, r.Mounts) }

// BalanceOf is [Rack.Balance] for any mounts of one frame, such as those of a
// state on the way from one layout to another.
func BalanceOf(f *Frame, mounts []*Mount) (Balance, string) {
	if f == nil {
		return Balance{}, "its frame is not known"
	}
	for _, need := range []struct {
		what  string
		state State
	}{
		{"mass", f.Mass.State}, {"width", f.Width.State}, {"depth", f.Depth.State},
		{"height", f.Height.State}, {"base", f.Base.State}, {"front_room", f.FrontRoom.State},
	} {
		if need.state != IsGiven {
			return Balance{}, fmt.Sprintf("the %s of frame.%s is %s", need.what, f.Name, need.state)
		}
	}
	b := Balance{Bodies: []physics.Body{{Mass: f.Mass.Value, At: physics.Point{
		Across: f.Width.Value / 2, Back: f.Depth.Value / 2, Up: f.Height.Value / 2,
	}}}}
	for _, m := range mounts {
		mass, why := m.Weighs()
		if why != "" {
			return Balance{}, why
		}
		at, why := m.centreIn(f)
		if why != "" {
			if mass == 0 {
				continue
			}
			return Balance{}, why
		}
		b.Bodies = append(b.Bodies, physics.Body{Mass: mass, At: at})
		b.Mounts = append(b.Mounts, m)
	}
	b.Total, b.Centre = physics.Centre(b.Bodies)
	return b, ""
}

// centreIn gives where the middle of the mount's body is in a frame, or why
// that is not known.
func (m *Mount) centreIn(f *Frame) (physics.Point, string) {
	e, ok := m.ExtentIn(f)
	if !ok {
		return physics.Point{}, "the height of " + m.Ref() + " in its rack is not known"
	}
	at := physics.Point{Across: f.Width.Value / 2, Up: f.Base.Value + (e.Bottom+e.Top)/2}
	opening := f.Opening.Or(450 * quantity.Millimetre)
	if m.ZeroU != nil {
		// Between the posts and the side of the frame, at the posts.
		beside := (f.Width.Value - opening) / 4
		at.Across = beside
		if m.ZeroU.Side == RightSide {
			at.Across = f.Width.Value - beside
		}
		at.Back = f.FrontRoom.Value
		if m.ZeroU.Plane == RearFace {
			span, ok := f.PostSpan.Get()
			if !ok {
				return at, fmt.Sprintf("the post_span of frame.%s is %s", f.Name, f.PostSpan.State)
			}
			at.Back += span
		}
		return at, ""
	}
	if !m.Slot.Whole() {
		parts := 2 * quantity.Length(m.Slot.Of)
		at.Across += opening*quantity.Length(2*m.Slot.Part-1)/parts - opening/2
	}
	depths, why := m.Depths()
	if why != "" {
		return at, why
	}
	at.Back = f.FrontRoom.Value + (depths.Body.From+depths.Body.To)/2
	return at, ""
}

// Feet gives the rectangle that the frame stands on, in the middle of its
// width and depth, or why it is not known. A stabiliser carries its front edge
// forward by its reach.
func (f *Frame) Feet() (physics.Feet, string) {
	for _, need := range []struct {
		what  string
		state State
	}{
		{"feet_width", f.FeetWidth.State}, {"feet_depth", f.FeetDepth.State},
		{"width", f.Width.State}, {"depth", f.Depth.State},
	} {
		if need.state != IsGiven {
			return physics.Feet{}, fmt.Sprintf("the %s of frame.%s is %s", need.what, f.Name, need.state)
		}
	}
	side, end := (f.Width.Value-f.FeetWidth.Value)/2, (f.Depth.Value-f.FeetDepth.Value)/2
	feet := physics.Feet{Left: side, Right: f.Width.Value - side, Front: end, Rear: f.Depth.Value - end}
	if f.Fixed == Stabilised {
		reach, ok := f.Reach.Get()
		if !ok {
			return physics.Feet{}, fmt.Sprintf("the reach of the stabiliser of frame.%s is %s", f.Name, f.Reach.State)
		}
		feet.Front -= reach
	}
	return feet, ""
}

// StandsFree reports whether a rack of the frame stands on the floor by its own
// weight, so that it could tip. Two-post and wall frames are fixed to the
// building by their kind. Whether others are is for the frame to say: known is
// false where it does not.
func (f *Frame) StandsFree() (free, known bool) {
	if f.Kind == TwoPost || f.Kind == WallFrame || f.Fixed == Anchored {
		return false, true
	}
	return true, f.Fixed != NoFixing
}

// Slides reports whether the mount can be drawn out of its rack.
func (m *Mount) Slides() bool { return m.Equipment != nil && m.Equipment.Mounting == Slides }

// A PulledOut is one mount drawn out on its slides.
type PulledOut struct {
	Mount  *Mount
	Mass   quantity.Mass
	Before quantity.Length // its centre before the front feet; negative: still behind them
	Rest   quantity.Mass
	Behind quantity.Length // the centre of the rest behind the front feet
	Factor float64         // how many times the rest holds it; 0 where it stays behind the feet
}

// PullOut gives what happens when the mount at an index of Mounts is drawn out
// to the end of its slides, over feet, or why that is not known.
func (b *Balance) PullOut(i int, feet physics.Feet) (PulledOut, string) {
	m := b.Mounts[i]
	extension, ok := m.Equipment.Extension.Get()
	if !ok {
		return PulledOut{}, m.Equipment.lacks("extension", m.Equipment.Extension.State)
	}
	out := b.Bodies[i+1]
	back := out.At.Back - extension
	if m.Face == RearFace {
		// Drawn out to the rear: mirrored, the rear feet are the front ones.
		back = out.At.Back + extension
	}
	rest := make([]physics.Body, 0, len(b.Bodies)-1)
	rest = append(rest, b.Bodies[:i+1]...)
	rest = append(rest, b.Bodies[i+2:]...)
	mass, centre := physics.Centre(rest)
	p := PulledOut{Mount: m, Mass: out.Mass, Before: feet.Front - back, Rest: mass, Behind: centre.Back - feet.Front}
	if m.Face == RearFace {
		p.Before, p.Behind = back-feet.Rear, feet.Rear-centre.Back
	}
	p.Factor, _ = physics.PullOut(mass, p.Behind, out.Mass, p.Before)
	return p, ""
}

// AllOut gives the centre of mass with everything on slides drawn out to the
// front, or why that is not known.
func (b *Balance) AllOut() (physics.Point, string) {
	bodies := append([]physics.Body(nil), b.Bodies...)
	for i, m := range b.Mounts {
		if !m.Slides() || m.Face == RearFace {
			continue
		}
		extension, ok := m.Equipment.Extension.Get()
		if !ok {
			return physics.Point{}, m.Equipment.lacks("extension", m.Equipment.Extension.State)
		}
		bodies[i+1].At.Back -= extension
	}
	_, centre := physics.Centre(bodies)
	return centre, ""
}
