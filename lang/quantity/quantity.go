// Package quantity holds the physical quantities that a rack is described with.
//
// Every quantity is an integer count of a small unit, so that the figures of
// inch-based and metric standards are held without rounding: 1/64 in is exactly
// 396 875 nm. Reading a text ([ParseLength] and its siblings) is exact, too: a
// figure that is no whole number of the small unit is rounded half away from
// zero once, and never passes through a float.
//
// The package knows nothing of racks, rules or files.
package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Length is a length in nanometres.
type Length int64

// Units of length.
const (
	Nanometre  Length = 1
	Micrometre        = 1000 * Nanometre
	Millimetre        = 1000 * Micrometre
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25_400_000 * Nanometre
	Foot              = 12 * Inch

	// RackUnit is the U of the 19-inch system, 1.75 in (EIA-310, IEC 60297-3-100).
	RackUnit = 44_450_000 * Nanometre
	// OpenUnit is the OU of Open Rack, 48 mm.
	OpenUnit = 48 * Millimetre
	// SystemUnit is the SU of 25 mm practice (IEC 60917), 25 mm.
	SystemUnit = 25 * Millimetre
)

// Mass is a mass in micrograms; a pound (453.592 37 g) is exact.
type Mass int64

// Units of mass.
const (
	Microgram Mass = 1
	Gram           = 1_000_000 * Microgram
	Kilogram       = 1000 * Gram
	Pound          = 453_592_370 * Microgram
)

// Power is a power in milliwatts. Apparent power is held as the same type, in
// millivolt-amperes.
type Power int64

// Units of power.
const (
	Milliwatt Power = 1
	Watt            = 1000 * Milliwatt
	Kilowatt        = 1000 * Watt
)

// InVoltAmperes reports whether a power is written as an apparent one, in VA or
// kVA.
func InVoltAmperes(s string) bool {
	s = strings.TrimSpace(s)
	return strings.HasSuffix(s, "VA")
}

// Current is an electric current in microamperes.
type Current int64

// Units of current.
const (
	Microampere Current = 1
	Milliampere         = 1000 * Microampere
	Ampere              = 1000 * Milliampere
)

// Voltage is an electric tension in millivolts; a -48 V supply is negative.
type Voltage int64

// Units of voltage.
const (
	Millivolt Voltage = 1
	Volt              = 1000 * Millivolt
	Kilovolt          = 1000 * Volt
)

// Pressure is a pressure, such as a floor load, in millipascals.
type Pressure int64

// Units of pressure.
const (
	Millipascal Pressure = 1
	Pascal               = 1000 * Millipascal
	Kilopascal           = 1000 * Pascal
)

// Force is a force in millinewtons.
type Force int64

// Units of force.
const (
	Millinewton Force = 1
	Newton            = 1000 * Millinewton
	Kilonewton        = 1000 * Newton
)

// Torque is a moment of force in millinewton metres.
type Torque int64

// Units of torque.
const (
	MillinewtonMetre Torque = 1
	NewtonMetre             = 1000 * MillinewtonMetre
)

// Temperature is a point on the Celsius scale in thousandths of a degree.
type Temperature int64

// Celsius is one degree on the Celsius scale.
const Celsius Temperature = 1000

// Angle is an angle in thousandths of a degree.
type Angle int64

// Degree is one degree of angle.
const Degree Angle = 1000

// Duration is a span of time in milliseconds. A run sheet counts minutes, an
// inrush milliseconds.
type Duration int64

// Units of time.
const (
	Millisecond Duration = 1
	Second               = 1000 * Millisecond
	Minute               = 60 * Second
	Hour                 = 60 * Minute
	Day                  = 24 * Hour
)

// Flow is a volume flow of air in cubic centimetres a second.
type Flow int64

// Units of flow.
const (
	CubicCentimetrePerSecond Flow = 1
	LitrePerSecond                = 1000 * CubicCentimetrePerSecond
	CubicMetrePerSecond           = 1000 * LitrePerSecond
)

// Area is an area in square micrometres.
type Area int64

// Units of area.
const (
	SquareMicrometre Area = 1
	SquareMillimetre      = 1_000_000 * SquareMicrometre
	SquareMetre           = 1_000_000 * SquareMillimetre
)

// Quantity is any of the quantities of this package.
type Quantity interface {
	Length | Mass | Power | Current | Voltage | Pressure | Force | Torque | Temperature | Angle | Duration | Flow | Area
}

// In gives q as a multiple of unit, for arithmetic on physics and for printing
// where the last digit does not matter: l.In(Millimetre).
func In[Q Quantity](q, unit Q) float64 { return float64(q) / float64(unit) }

// Of gives the quantity that is n times unit, rounded half away from zero.
func Of[Q Quantity](n float64, unit Q) Q { return Q(math.Round(n * float64(unit))) }

// Millimetres gives l in millimetres.
func (l Length) Millimetres() float64 { return In(l, Millimetre) }

// Inches gives l in inches.
func (l Length) Inches() float64 { return In(l, Inch) }

// Kilograms gives m in kilograms.
func (m Mass) Kilograms() float64 { return In(m, Kilogram) }

// Watts gives p in watts.
func (p Power) Watts() float64 { return In(p, Watt) }

// Amperes gives i in amperes.
func (i Current) Amperes() float64 { return In(i, Ampere) }

// Volts gives v in volts.
func (v Voltage) Volts() float64 { return In(v, Volt) }

// Minutes gives d in minutes.
func (d Duration) Minutes() float64 { return In(d, Minute) }

// Degrees gives t in degrees Celsius.
func (t Temperature) Degrees() float64 { return In(t, Celsius) }

// Degrees gives a in degrees.
func (a Angle) Degrees() float64 { return In(a, Degree) }

// Abs gives q without its sign.
func Abs[Q Quantity](q Q) Q {
	if q < 0 {
		return -q
	}
	return q
}

// Count prints a number of things: "1 rack", "2 racks".
func Count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// Number prints f with at most decimals digits after the point and no trailing
// zeros: Number(44.4500, 2) is "44.45", Number(7.0, 1) is "7". Half is rounded
// away from zero as far as binary floating point can tell.
func Number(f float64, decimals int) string {
	scale := math.Pow10(decimals)
	s := strconv.FormatFloat(math.Round(f*scale)/scale, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
