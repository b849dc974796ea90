package physics

import (
	"cagenut/lang/quantity"
)

// The static stability test of IEC 62368-1 (edition 3, clause 8.6, as told in
// public notes): the equipment must not fall over when tilted by 10° in any
// direction, or when pushed with 13 % of its weight but at most 250 N at any
// height up to 1.5 m, while half of its weight but at most 100 N presses down
// on it. It tests a product standing still: not castors on a threshold, and not
// a building.
const (
	TestTilt       = 10 * quantity.Degree
	testPush       = 0.13
	testPushMost   = 250 * quantity.Newton
	testHeightMost = 1500 * quantity.Millimetre
	testDown       = 0.5
	testDownMost   = 100 * quantity.Newton
)

// A Push is the outcome of the force test: the moment that would tip the rack
// over the edge, and the moment of its weight that holds it back.
type Push struct{ Tipping, Holding quantity.Torque }

// Stands reports whether the holding moment is the larger one.
func (p Push) Stands() bool { return p.Holding > p.Tipping }

// PushTest gives the moments of the force test for a rack of that mass with
// its centre of mass arm behind the tipping edge. Height is the rack's, and
// overhang how far before the edge the downward force acts; without overhang
// the downward force does not tip.
func PushTest(m quantity.Mass, arm, height, overhang quantity.Length) Push {
	weight := Weight(m)
	push := min(quantity.Of(testPush*float64(weight), quantity.Millinewton), testPushMost)
	down := min(quantity.Of(testDown*float64(weight), quantity.Millinewton), testDownMost)
	return Push{
		Tipping: Moment(push, min(height, testHeightMost)) + Moment(down, overhang),
		Holding: Moment(weight, arm),
	}
}

// Moment gives force times arm.
func Moment(f quantity.Force, arm quantity.Length) quantity.Torque {
	n, m := quantity.In(f, quantity.Newton), quantity.In(arm, quantity.Metre)
	return quantity.Of(n*m, quantity.NewtonMetre)
}

// PullOut gives how many times the moment of what stays in the rack exceeds
// that of what is pulled out before its front feet: (rest × its arm behind the
// feet) / (out × its arm before them). Height does not enter, but decides how
// little a push must add. Nothing pulled out, or nothing before the feet, gives
// 0 and false.
func PullOut(rest quantity.Mass, behind quantity.Length, out quantity.Mass, before quantity.Length) (float64, bool) {
	if out <= 0 || before <= 0 {
		return 0, false
	}
	return rest.Kilograms() * float64(behind) / (out.Kilograms() * float64(before)), true
}

// TwoPostMoment gives the moment with which equipment hung by its front ears
// bends a two-post rack: its weight at half its depth. Ears at mid-depth
// balance it.
func TwoPostMoment(m quantity.Mass, depth quantity.Length) quantity.Torque {
	return Moment(Weight(m), depth/2)
}
