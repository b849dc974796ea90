package physics

import "cagenut/lang/quantity"

const (
	// ResidualShare is the share of a residual current device's rated residual
	// operating current that standing leakage behind it may take (IEC
	// 60364-5-53, 531.3, from memory, unverified). The device may open from half
	// the rating (IEC 61008, from memory, unverified).
	ResidualShare = 0.3
	// OrdinaryEarth is the protective conductor current above which a
	// protective conductor is to be reinforced (IEC 60364-5-54, 543.7, from
	// memory, unverified).
	OrdinaryEarth = 10 * quantity.Milliampere
)

// ResidualRoom gives what standing leakage behind a residual current device of
// that rating may come to at a share of it.
func ResidualRoom(rated quantity.Current, share float64) quantity.Current {
	return quantity.Of(share*quantity.In(rated, quantity.Milliampere), quantity.Milliampere)
}
