package physics

import (
	"math"
	"math/cmplx"

	"cagenut/lang/quantity"
)

// Current gives the current that a load draws on a single-phase or direct
// current supply: I = P / (V pf). The power factor is 1 for direct current and
// for a power in volt-amperes. The sign of v does not matter (-48 V); at zero
// volts the current is zero.
func Current(p quantity.Power, v quantity.Voltage, pf float64) quantity.Current {
	volts := math.Abs(v.Volts())
	if volts == 0 || pf <= 0 {
		return 0
	}
	return quantity.Of(p.Watts()/(volts*pf), quantity.Ampere)
}

// CurrentThreePhase gives the line current of a balanced three-phase load:
// I = P / (√3 V pf) with v between lines.
func CurrentThreePhase(p quantity.Power, v quantity.Voltage, pf float64) quantity.Current {
	return quantity.Of(Current(p, v, pf).Amperes()/math.Sqrt(3), quantity.Ampere)
}

// Capacity gives what a supply may carry: share V I, and √3 times that for
// three phases with v between lines. The share is what continuous load may take
// of the rating: 0.8 under NFPA 70 (articles 210.19, 210.20 and 215: devices
// at 125 % of continuous load, so 1/1.25), and 1 where equipment is listed for
// its full rating or under IEC 60364-4-43, which knows no such factor.
func Capacity(i quantity.Current, v quantity.Voltage, phases int, share float64) quantity.Power {
	va := i.Amperes() * math.Abs(v.Volts()) * share
	if phases == 3 {
		va *= math.Sqrt(3)
	}
	return quantity.Of(va, quantity.Watt)
}

// Lines gives the currents in lines 1, 2 and 3 of a three-phase supply, and in
// its neutral, as the sum of vectors (circuit theory; rotation 1-2-3).
//
// Star holds the currents of the loads from line 1, 2 and 3 to the neutral,
// delta those of the loads between lines 1-2, 2-3 and 3-1. Each lags the voltage
// that it hangs on by its own power factor; that one of them leads is not known
// and not reckoned with. With like power factors and delta loads alone line 1
// carries √(a² + c² + a c), where a is the current between 1-2 and c that
// between 3-1: two banks of 10 A on line 2 load it with 17.3 A, not 20 A. Unlike
// ones may make a line carry more than that.
func Lines(star, delta [3]Vector[quantity.Current]) (lines [3]quantity.Current, neutral quantity.Current) {
	var toNeutral, between [3]complex128
	var sum complex128
	for i := range 3 {
		// The voltage of line i against the neutral lags line 1 by 120 degrees
		// each; that between line i and the next leads it by 30 degrees.
		angle := -2 * math.Pi / 3 * float64(i)
		toNeutral[i] = cmplx.Rect(star[i].Apparent().Amperes(), angle-star[i].lag())
		between[i] = cmplx.Rect(delta[i].Apparent().Amperes(), angle+math.Pi/6-delta[i].lag())
		sum += toNeutral[i]
	}
	for i := range 3 {
		line := toNeutral[i] + between[i] - between[(i+2)%3]
		lines[i] = quantity.Of(cmplx.Abs(line), quantity.Ampere)
	}
	return lines, quantity.Of(cmplx.Abs(sum), quantity.Ampere)
}

// Imbalance gives the largest deviation of a line from the mean of the three,
// as a share of the mean, or 0 where nothing flows. There is no standard limit:
// published pages act above 15 % or 20 %.
func Imbalance(lines [3]quantity.Current) float64 {
	mean := (lines[0].Amperes() + lines[1].Amperes() + lines[2].Amperes()) / 3
	if mean == 0 {
		return 0
	}
	var worst float64
	for _, line := range lines {
		worst = max(worst, math.Abs(line.Amperes()-mean))
	}
	return worst / mean
}

// LowestDC gives the lowest voltage at which a telecom direct current supply of
// the nominal voltage must still feed its loads, and at which their current is
// highest: 40.5 V for 48 V (EN 300 132-2, interface "A": -40.5 V to -57 V). It
// reports false for other voltages, where the equipment's sheet must say.
func LowestDC(nominal quantity.Voltage) (quantity.Voltage, bool) {
	switch nominal {
	case 48 * quantity.Volt:
		return 40_500 * quantity.Millivolt, true
	case -48 * quantity.Volt:
		return -40_500 * quantity.Millivolt, true
	}
	return 0, false
}

// FuseShare is the share of a fuse's rating that the drain at the lowest
// voltage may take: a fuse is 125 % of the drain (telecom practice).
const FuseShare = 0.8

// MagneticTrip gives the lowest current at which a miniature circuit breaker
// may trip at once: 3, 5 and 10 times the rating for the curves B, C and D
// (IEC 60898, from memory, unverified). It reports false for another curve.
func MagneticTrip(rated quantity.Current, curve string) (quantity.Current, bool) {
	switch curve {
	case "B", "b":
		return 3 * rated, true
	case "C", "c":
		return 5 * rated, true
	case "D", "d":
		return 10 * rated, true
	}
	return 0, false
}
