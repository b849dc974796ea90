package estate

import (
	"fmt"

	"cagenut/lang/quantity"
)

// Depths says how far a mount reaches from the front face of the frame's front
// posts: behind it is positive, before it negative.
type Depths struct {
	Body  Run // the body itself
	Whole Run // with handles, connectors and the bends of cords
}

// A Run is a run of depths or widths, From not above To.
type Run struct{ From, To quantity.Length }

// Meets reports whether two runs share more than [Touch].
func (r Run) Meets(o Run) bool { return min(r.To, o.To)-max(r.From, o.From) > Touch }

// Needs gives what the mount takes behind its mounting face, with cords where
// they are declared, and why that is not known, or "".
func (q *Equipment) Needs() (quantity.Length, string) {
	depth, ok := q.Depth.Get()
	if !ok {
		return 0, q.lacks("depth", q.Depth.State)
	}
	return depth + q.Cords.Or(0), ""
}

// lacks says why a figure of the equipment cannot be used.
func (q *Equipment) lacks(what string, s State) string {
	return fmt.Sprintf("the %s of equipment.%s is %s", what, q.Name, s)
}

// Depths gives how far the mount reaches, and why that is not known, or "".
// Handles and cords that are not declared count as nothing: a rule that must
// know asks for the figures themselves.
//
// An adapter carries all of it before the posts by as much as is declared. What
// hangs on the rear posts is measured from their rear face and reaches
// forward; what is mounted at its centre stands half before the posts.
func (m *Mount) Depths() (Depths, string) {
	q := m.Equipment
	if q == nil {
		return Depths{}, "its equipment is not known"
	}
	depth, ok := q.Depth.Get()
	if !ok {
		return Depths{}, q.lacks("depth", q.Depth.State)
	}
	cords, front := q.Cords.Or(0), q.Front.Or(0)
	if q.Mounting == Centre {
		half := depth / 2
		body := Run{-half, depth - half}
		return Depths{body, Run{body.From - front, body.To + cords}}, ""
	}
	var forward quantity.Length
	if m.Adapter != nil {
		forward = m.Adapter.Forward.Or(0)
	}
	body := Run{-forward, depth - forward}
	whole := Run{-forward - front, depth - forward + cords}
	if m.Face != RearFace {
		return Depths{body, whole}, ""
	}
	if m.Rack == nil || m.Rack.Frame == nil {
		return Depths{}, "its frame is not known"
	}
	span, ok := m.Rack.Frame.PostSpan.Get()
	if !ok {
		return Depths{}, fmt.Sprintf("the post span of frame.%s is %s", m.Rack.Frame.Name, m.Rack.Frame.PostSpan.State)
	}
	return Depths{Run{span - body.To, span - body.From}, Run{span - whole.To, span - whole.From}}, ""
}
