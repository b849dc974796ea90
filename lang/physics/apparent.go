package physics

import (
	"math"

	"cagenut/lang/quantity"
)

// A Vector is an alternating power in watts, or a current, in the parts that
// are added separately. Apparent powers of unlike power factor do not add as
// they stand: of 1000 VA at a factor of 1 and 1000 VA at 0.6 come 1789 VA.
//
// Nonactive parts, from lagging or leading currents and from harmonics alike,
// are added as if all of one sort. That is the most that they can come to: a
// leading current beside a lagging one takes away from it, and harmonics of two
// loads add up at most (IEEE 1459: S² = P² + N²; N is a length).
type Vector[Q quantity.Power | quantity.Current] struct {
	Active    Q       // in step with the voltage: watts
	Nonactive float64 // the rest, in small units of Q
	Loose     Q       // apparent, with no power factor known: added as it stands, which is the most that it can make
}

// Factored gives the vector of an active power at a power factor, above 0 and
// at most 1.
func Factored(p quantity.Power, factor float64) Vector[quantity.Power] {
	if factor >= 1 || factor <= 0 {
		return Vector[quantity.Power]{Active: p}
	}
	return Vector[quantity.Power]{Active: p, Nonactive: float64(p) * math.Sqrt(1-factor*factor) / factor}
}

// Apparent gives the size of the vector: volt-amperes, or the whole current.
func (v Vector[Q]) Apparent() Q {
	if v.Nonactive == 0 {
		return v.Active + v.Loose
	}
	return Q(math.Round(math.Hypot(float64(v.Active), v.Nonactive))) + v.Loose
}

// Most gives the most that the active part can be: all that has no known power
// factor is taken as active.
func (v Vector[Q]) Most() Q { return v.Active + v.Loose }

// Plus adds two vectors.
func (v Vector[Q]) Plus(w Vector[Q]) Vector[Q] {
	return Vector[Q]{v.Active + w.Active, v.Nonactive + w.Nonactive, v.Loose + w.Loose}
}

// Minus takes a vector away that was added before.
func (v Vector[Q]) Minus(w Vector[Q]) Vector[Q] {
	return Vector[Q]{v.Active - w.Active, v.Nonactive - w.Nonactive, v.Loose - w.Loose}
}

// CurrentVector is [Current] for a power in its parts.
func CurrentVector(p Vector[quantity.Power], v quantity.Voltage) Vector[quantity.Current] {
	volts := math.Abs(v.Volts())
	if volts == 0 {
		return Vector[quantity.Current]{}
	}
	return Vector[quantity.Current]{
		Active:    Current(p.Active, v, 1),
		Nonactive: p.Nonactive * float64(quantity.Ampere) / float64(quantity.Watt) / volts,
		Loose:     Current(p.Loose, v, 1),
	}
}

// CurrentVectorThreePhase is [CurrentThreePhase] for a power in its parts.
func CurrentVectorThreePhase(p Vector[quantity.Power], v quantity.Voltage) Vector[quantity.Current] {
	i := CurrentVector(p, v)
	return Vector[quantity.Current]{
		Active:    CurrentThreePhase(p.Active, v, 1),
		Nonactive: i.Nonactive / math.Sqrt(3),
		Loose:     CurrentThreePhase(p.Loose, v, 1),
	}
}

// lag gives the angle in radians by which the current is taken to lag.
func (v Vector[Q]) lag() float64 { return math.Atan2(v.Nonactive, float64(v.Active)) }
