package estate

import (
	"fmt"

	"cagenut/lang/quantity"
)

// A Route is the way from the kerb into a room: gates in the order in which a
// thing passes them.
type Route struct {
	Name   string
	Gates  []*Gate
	Source Source
}

// A Gate is a place on a route at which a thing may not pass: a door, a lift,
// a ramp, a gangway. A figure that is missing limits nothing there.
type Gate struct {
	Name     string
	Width    Figure[quantity.Length] // clear, as is the height
	Height   Figure[quantity.Length]
	Length   Figure[quantity.Length] // of a lift car or a landing, in which a thing must stand whole
	Rated    Figure[quantity.Mass]
	Gradient Figure[quantity.Angle]
	Step     Figure[quantity.Length] // height of a step or threshold
	Floor    string                  // what protects the floor there, or ""
	Opener   string                  // the attribute "by": who must open it, or ""
	Note     string
	Source   Source
}

// A Crate is what a frame comes in.
type Crate struct {
	Width, Depth, Height Figure[quantity.Length]
	Mass                 Figure[quantity.Mass] // of the crate alone
}

// Declared reports whether anything is said about the crate.
func (c *Crate) Declared() bool {
	return c.Width.State != IsMissing || c.Depth.State != IsMissing || c.Height.State != IsMissing || c.Mass.State != IsMissing
}

// Arrival is how a rack is brought in.
type Arrival uint8

// How a rack may be brought in.
const (
	NoArrival Arrival = iota // not declared: a case loaded, any other frame empty
	Empty
	Loaded
)

// Arrivals lists how a rack may be brought in, as the language writes it.
var Arrivals = []string{"", "empty", "loaded"}

// String names it as the language does.
func (a Arrival) String() string { return Arrivals[a] }

// ComesLoaded reports whether a rack is brought in with what is mounted in it.
func (r *Rack) ComesLoaded() bool {
	return r.Comes == Loaded || r.Comes == NoArrival && r.Frame != nil && r.Frame.Kind == RoadCase
}

// A Cargo is a thing as it is brought along a route, upright.
type Cargo struct {
	Name                 string // "rack.hq-a", "rack.hq-a in its crate"
	Of                   string // whose width, depth and height these are: "frame.cab-42"
	Width, Depth, Height Figure[quantity.Length]
	Mass                 quantity.Mass // what is known of it
	MassLacks            string        // what is not known of it, or ""
}

// Cargo gives a rack as it is brought in: its frame, or the crate of it, empty
// or loaded. The share of cables is added to what is mounted.
func (r *Rack) Cargo(cables float64) Cargo {
	f := r.Frame
	c := Cargo{Name: r.Ref(), Of: "frame." + f.Name, Width: f.Width, Depth: f.Depth, Height: f.Height, Mass: f.Mass.Or(0)}
	if !f.Mass.Known() {
		c.MassLacks = fmt.Sprintf("the mass of frame.%s is %s", f.Name, f.Mass.State)
	}
	if f.Crate.Declared() {
		c.Name, c.Of = c.Name+" in its crate", "the crate of "+c.Of
		c.Width, c.Depth, c.Height = f.Crate.Width, f.Crate.Depth, f.Crate.Height
		c.Mass += f.Crate.Mass.Or(0)
		if c.MassLacks == "" && !f.Crate.Mass.Known() {
			c.MassLacks = fmt.Sprintf("the mass of %s is %s", c.Of, f.Crate.Mass.State)
		}
	}
	if r.ComesLoaded() {
		mounted := r.Mass()
		c.Mass += mounted.Known + quantity.Of(cables*mounted.Known.Kilograms(), quantity.Kilogram)
		if c.MassLacks == "" {
			c.MassLacks = mounted.Because()
		}
	}
	return c
}

// Cargo gives a mount's equipment as it is brought in, upright and without
// packing.
func (m *Mount) Cargo() Cargo {
	q := m.Equipment
	c := Cargo{Name: m.Ref(), Of: "equipment." + q.Name, Width: q.Body, Depth: q.Depth}
	on := q.System
	if on == nil && m.Rack != nil && m.Rack.Frame != nil {
		on = m.Rack.Frame.System
	}
	if on != nil && c.Width.Value < on.Panel {
		c.Width = Is(on.Panel) // its ears stand out
	}
	c.Depth.Value += q.Front.Or(0)
	c.Height = Figure[quantity.Length]{Value: q.Height.Length, State: q.Height.State}
	c.Mass, c.MassLacks = m.Weighs()
	return c
}

// A Passage is a thing at a gate.
type Passage struct {
	Gate *Gate
	// Clear are the lengths that are compared: the gate's width, height and
	// length, as far as it limits them and they are known.
	Clear []Clearance
	// Lacks says what is not known.
	Lacks []string
}

// A Clearance is a length of a gate and what a thing takes of it.
type Clearance struct {
	Attr         string // of the gate: "width"
	Side         string // of the thing: "depth"
	Clear, Takes Figure[quantity.Length]
}

// Spare gives what is left; less than nothing where the thing does not pass.
func (c Clearance) Spare() quantity.Length { return c.Clear.Value - c.Takes.Value }

// Least gives the least of what is left; the zero Clearance where nothing is
// compared.
func (p *Passage) Least() Clearance {
	var least Clearance
	for i, c := range p.Clear {
		if i == 0 || c.Spare() < least.Spare() {
			least = c
		}
	}
	return least
}

// Passages gives a thing at every gate of a route in turn. At each it is turned
// so that it passes best; whether it can be turned in between is not looked
// at.
func (r *Route) Passages(c *Cargo) []Passage {
	out := make([]Passage, len(r.Gates))
	for i, g := range r.Gates {
		out[i] = r.passage(g, c, "width", c.Width, "depth", c.Depth)
		turned := r.passage(g, c, "depth", c.Depth, "width", c.Width)
		if c.Width.Known() && c.Depth.Known() && turned.Least().Spare() > out[i].Least().Spare() {
			out[i] = turned
		}
	}
	return out
}

// passage compares a thing with a gate, one of its sides across the way.
func (r *Route) passage(g *Gate, c *Cargo, acrossSide string, across Figure[quantity.Length], alongSide string, along Figure[quantity.Length]) Passage {
	p := Passage{Gate: g}
	for _, l := range []Clearance{
		{"width", acrossSide, g.Width, across},
		{"height", "height", g.Height, c.Height},
		{"length", alongSide, g.Length, along},
	} {
		switch {
		case l.Clear.State == IsMissing: // limits nothing
		case l.Clear.State == IsUnknown:
			p.Lacks = append(p.Lacks, fmt.Sprintf("the %s of gate %s of route.%s is unknown", l.Attr, g.Name, r.Name))
		case !l.Takes.Known():
			p.Lacks = append(p.Lacks, fmt.Sprintf("the %s of %s is %s", l.Side, c.Of, l.Takes.State))
		default:
			p.Clear = append(p.Clear, l)
		}
	}
	switch {
	case g.Rated.State == IsUnknown:
		p.Lacks = append(p.Lacks, fmt.Sprintf("the rating of gate %s of route.%s is unknown", g.Name, r.Name))
	case g.Rated.Known() && c.MassLacks != "" && c.Mass <= g.Rated.Value:
		p.Lacks = append(p.Lacks, c.MassLacks)
	}
	return p
}

// TooHeavy reports whether a thing is heavier than a gate bears. What is not
// known of its mass can only add to it.
func (g *Gate) TooHeavy(c *Cargo) bool {
	rated, ok := g.Rated.Get()
	return ok && c.Mass > rated
}
