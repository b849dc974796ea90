// Package load prints the sheet that an engineer asks for: what racks and rooms
// draw, give off, weigh and press with, each figure with its formula and what
// it rests on.
//
// [Rack] and [Room] work a sheet out, the other functions print it. A figure
// that cannot be reckoned stands in the sheet with what is missing: a sheet
// assumes nothing about structure or wiring. It gives no verdict; margins are
// for whoever is licensed or competent to judge them.
package load

// A Sheet is all that is reckoned for one rack or room.
type Sheet struct {
	Kind     string // "rack" or "room"
	Name     string
	Sections []Section
}

// A Section is one subject of a sheet.
type Section struct {
	Name    string
	Caution string // who decides, and what to heed
	Figures []Figure
}

// A Figure is one line: a value with its unit, the limit it is compared with if
// there is one, and what it was reckoned from.
type Figure struct {
	Name    string
	Value   string   // as people write it: "14.7 A"; "" where it is not known
	Number  *float64 // the same for machines, in Unit
	Unit    string
	Limit   string   // "12.8 A", or ""
	Most    *float64 // the limit for machines; for a factor or an angle it is the least
	AtLeast bool     // the value should not be below the limit, rather than above it
	From    string   // formula and basis
	Unknown string   // why it could not be reckoned, or what it leaves out
}

// Beyond reports whether the figure is on the wrong side of its limit.
func (f *Figure) Beyond() bool {
	if f.Number == nil || f.Most == nil {
		return false
	}
	if f.AtLeast {
		return *f.Number < *f.Most
	}
	return *f.Number > *f.Most
}

// The cautions of the sections.
const (
	cautionSheet = "Planning aid: reckoned from what is declared, and certifies nothing. Electrical work, structure and floor loading, " +
		"anchoring, fire stopping and lifting are governed by local law, codes and the makers' instructions, and are for competent or " +
		"licensed people. Verify at the rack. If in doubt, stop."
	cautionPower   = "For a licensed electrician under the local code. Measure before and after; declared and nameplate power is not what flows. Unity power factor unless said."
	cautionLeakage = "For a licensed electrician under the local code. As makers state it, not as measured; wiring leaks as well. Gear that leaks needs a reliable earth before its supply; " +
		"no bond is removed while supplies are connected."
	cautionBackup = "For a licensed electrician and the maker's service. A UPS is live with the mains off, heavy, and gives high fault currents. Batteries age: a curve is that of new " +
		"ones; test them under load."
	cautionHeat    = "For whoever answers for the room's cooling. Air that comes round from the rear is not reckoned with."
	cautionMass    = "Masses are declared, not weighed. The rating standing still is not the rating while rolled."
	cautionTilt    = "For a structural engineer. Standing still on a level floor, with nobody pushing: no threshold, no castors, no earthquake. One thing pulled out at a time, stabiliser down or anchors proven."
	cautionFloor   = "For the site's structural engineer, who knows the floor. Do not open two adjacent tiles at a loaded frame."
	cautionWay     = "Measure each gate again on the spot. Straight passage of an upright thing: corners, turning and tilting are not reckoned with, nor people and trolley beside it. "
	cautionLift    = "Use the site's handling assessment. Lift in place before the latches are released, nobody beneath, not by front handles. "
	cautionSeismic = "Anchors, bracing and the qualification of frames are an engineer's design. This is a screening figure and no verdict."
)
