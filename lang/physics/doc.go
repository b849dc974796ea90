// Package physics holds the formulas that a careful colleague would apply to a
// rack: currents, heat and air, masses and tilt, floors, lifting, earthquake.
//
// The functions are pure: they take quantities and give quantities, know
// nothing of racks or rules, and say beside each formula where it comes from.
// Read current.go, air.go, stability.go, lifting.go and seismic.go; the other
// files stand beside the one whose subject they share.
//
// Everything here screens and decides nothing. Electrical work, floors,
// anchors, bracing and lifting are governed by local codes and are for licensed
// or competent people. A figure marked "from memory, unverified" was not seen
// in a published page; a rule that rests on it alone must not be an error.
package physics
