package physics

import (
	"cagenut/lang/quantity"
)

// AreaOf gives width times depth.
func AreaOf(width, depth quantity.Length) quantity.Area {
	return quantity.Of(quantity.In(width, quantity.Metre)*quantity.In(depth, quantity.Metre), quantity.SquareMetre)
}

// FloorPressure gives the pressure of a mass spread over an area, 0 for no
// area.
func FloorPressure(m quantity.Mass, area quantity.Area) quantity.Pressure {
	if area <= 0 {
		return 0
	}
	n, m2 := quantity.In(Weight(m), quantity.Newton), quantity.In(area, quantity.SquareMetre)
	return quantity.Of(n/m2, quantity.Pascal)
}

// The allowances of [BuildingPressure].
const (
	pound       = 0.45359237              // kg
	squareFoot  = 0.09290304              // m2
	serviceLoad = 15 * pound / squareFoot // kg/m2 of people and tools, on half the clear area
	raisedFloor = 10 * pound / squareFoot // kg/m2 of raised floor and cables, on all of it
)

// BuildingPressure gives the load of a rack on a building's floor spread over
// its footprint and the clear area kept around it: the mass, 15 lb/ft2 on half
// of the clear area, and 10 lb/ft2 on the whole, divided by the whole (a
// formula of makers' site planning pages).
func BuildingPressure(m quantity.Mass, footprint, clear quantity.Area) quantity.Pressure {
	whole := quantity.In(footprint+clear, quantity.SquareMetre)
	if whole <= 0 {
		return 0
	}
	kg := m.Kilograms() + serviceLoad*0.5*quantity.In(clear, quantity.SquareMetre) + raisedFloor*whole
	return quantity.Of(kg*Gravity/whole, quantity.Pascal)
}

// PerFoot gives the force on the worst of a rack's feet: an even share times
// uneven, which is 1 on a level floor and by common practice 1.25 to 1.5 on a
// real one.
func PerFoot(m quantity.Mass, feet int, uneven float64) quantity.Force {
	if feet <= 0 {
		return 0
	}
	return quantity.Of(float64(Weight(m))/float64(feet)*uneven, quantity.Millinewton)
}

// OnFeet gives the force on each foot from where the centre of mass lies over
// the feet, for a stiff rack: front left, front right, rear left, rear right. A
// negative one says that the foot lifts.
func OnFeet(m quantity.Mass, centre Point, feet Feet) [4]quantity.Force {
	w := float64(Weight(m))
	right := share(centre.Across-feet.Left, feet.Right-feet.Left)
	rear := share(centre.Back-feet.Front, feet.Rear-feet.Front)
	of := func(s float64) quantity.Force { return quantity.Of(w*s, quantity.Millinewton) }
	return [4]quantity.Force{
		of((1 - right) * (1 - rear)), of(right * (1 - rear)),
		of((1 - right) * rear), of(right * rear),
	}
}

func share(part, whole quantity.Length) float64 {
	if whole == 0 {
		return 0.5
	}
	return float64(part) / float64(whole)
}

// TileStanding and TileRolling are the shares of a rack's weight to plan for on
// one tile of a raised floor, standing and while it is moved (makers' site
// planning pages). Two neighbours may both stand on one tile.
const (
	TileStanding = 1.0 / 3
	TileRolling  = 1.0 / 2
)

// OnTile gives the force to plan for on one tile from the racks that may stand
// on it.
func OnTile(share float64, racks ...quantity.Mass) quantity.Force {
	var total quantity.Mass
	for _, m := range racks {
		total += m
	}
	return quantity.Of(float64(Weight(total))*share, quantity.Millinewton)
}
