package physics

import (
	"math"

	"cagenut/lang/quantity"
)

// Gravity is standard gravity in m/s2.
const Gravity = 9.80665

// Weight gives the force with which a mass presses down.
func Weight(m quantity.Mass) quantity.Force {
	return quantity.Of(m.Kilograms()*Gravity, quantity.Newton)
}

// A Point is a place in a rack: Across from its left side as seen from the
// front, Back from its front, Up from the floor.
type Point struct{ Across, Back, Up quantity.Length }

// A Body is a mass at the place of its centre.
type Body struct {
	Mass quantity.Mass
	At   Point
}

// Centre gives the total mass of bodies and its centre, the sum of mass times
// place divided by the sum of masses. Without mass it gives the zero Point.
func Centre(bodies []Body) (quantity.Mass, Point) {
	var total quantity.Mass
	var across, back, up float64
	for _, b := range bodies {
		kg := b.Mass.Kilograms()
		total += b.Mass
		across += kg * float64(b.At.Across)
		back += kg * float64(b.At.Back)
		up += kg * float64(b.At.Up)
	}
	kg := total.Kilograms()
	if kg == 0 {
		return 0, Point{}
	}
	return total, Point{
		quantity.Of(across/kg, quantity.Nanometre),
		quantity.Of(back/kg, quantity.Nanometre),
		quantity.Of(up/kg, quantity.Nanometre),
	}
}

// Feet is the rectangle that a rack stands on, in the coordinates of [Point].
type Feet struct{ Left, Right, Front, Rear quantity.Length }

// Tilts are the angles to which a rack may lean before it tips over an edge of
// its feet. A negative one says that it does not stand at all.
type Tilts struct{ Forward, Backward, Left, Right quantity.Angle }

// Least gives the smallest of the four.
func (t Tilts) Least() quantity.Angle {
	return min(t.Forward, t.Backward, t.Left, t.Right)
}

// TiltsOf gives the tilt angles of a centre of mass over feet:
// atan(distance to the edge / height).
func TiltsOf(centre Point, feet Feet) Tilts {
	return Tilts{
		Forward:  Tilt(centre.Back-feet.Front, centre.Up),
		Backward: Tilt(feet.Rear-centre.Back, centre.Up),
		Left:     Tilt(centre.Across-feet.Left, centre.Up),
		Right:    Tilt(feet.Right-centre.Across, centre.Up),
	}
}

// Tilt gives the angle at which a centre of mass, arm behind the tipping edge
// and up above the floor, comes to stand over the edge.
func Tilt(arm, up quantity.Length) quantity.Angle {
	return quantity.Of(math.Atan2(float64(arm), float64(up))*180/math.Pi, quantity.Degree)
}
