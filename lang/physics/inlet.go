package physics

import (
	"cagenut/lang/quantity"
)

// An InletClass is a class of equipment by the air that it may draw in, after
// the thermal guidelines of ASHRAE TC 9.9 (5th edition, 2021, as printed on the
// public reference card). The figures are for the air at the inlet, not in the
// room or behind the equipment.
type InletClass struct {
	Name          string
	Lowest        quantity.Temperature
	Highest       quantity.Temperature // up to 900 m
	HighestPoint  quantity.Temperature // dew point
	HighestShare  float64              // relative humidity
	HighestPlace  quantity.Length      // altitude up to which the class is defined
	metresAKelvin float64              // above 900 m
}

// InletClasses lists the classes A1 to A4. How the upper limit falls above
// 900 m is from memory, unverified.
var InletClasses = []InletClass{
	{"A1", 15 * quantity.Celsius, 32 * quantity.Celsius, 17 * quantity.Celsius, 0.80, 3050 * quantity.Metre, 300},
	{"A2", 10 * quantity.Celsius, 35 * quantity.Celsius, 21 * quantity.Celsius, 0.80, 3050 * quantity.Metre, 300},
	{"A3", 5 * quantity.Celsius, 40 * quantity.Celsius, 24 * quantity.Celsius, 0.85, 3050 * quantity.Metre, 175},
	{"A4", 5 * quantity.Celsius, 45 * quantity.Celsius, 24 * quantity.Celsius, 0.90, 3050 * quantity.Metre, 125},
}

// The recommended inlet of classes A1 to A4: 18 to 27 °C since 2008 (2004:
// 20 to 25 °C), dew point -9 to 15 °C and at most 70 % relative humidity.
const (
	RecommendedLowest  = 18 * quantity.Celsius
	RecommendedHighest = 27 * quantity.Celsius
	RecommendedPoint   = 15 * quantity.Celsius
	RecommendedShare   = 0.70
)

// InletClassNamed finds a class by its name, "A1" to "A4" in either case.
func InletClassNamed(name string) (InletClass, bool) {
	for _, c := range InletClasses {
		if c.Name == name || "a"+c.Name[1:] == name {
			return c, true
		}
	}
	return InletClass{}, false
}

// HighestAt gives the warmest inlet allowed at an altitude: the class's limit
// less 1 K for each 300 m (A1, A2), 175 m (A3) or 125 m (A4) above 900 m.
func (c InletClass) HighestAt(altitude quantity.Length) quantity.Temperature {
	above := quantity.In(altitude, quantity.Metre) - 900
	if above <= 0 {
		return c.Highest
	}
	return c.Highest - quantity.Of(above/c.metresAKelvin, quantity.Celsius)
}

// Recommended reports whether inlet air lies within what is recommended for
// classes A1 to A4. Air may be dry enough in per cent and yet too damp: at 27 °C
// and 60 % its dew point is 18.6 °C.
func Recommended(t quantity.Temperature, rh float64) bool {
	point := DewPoint(t, rh)
	return t >= RecommendedLowest && t <= RecommendedHighest && rh <= RecommendedShare &&
		point <= RecommendedPoint && point >= -9*quantity.Celsius
}
