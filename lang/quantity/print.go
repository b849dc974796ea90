package quantity

// The String methods print a quantity as an engineer would write it, rounded
// to a sensible digit; Exact prints a text that reads back as the same value.

// String prints l in millimetres, to a hundredth.
func (l Length) String() string { return Number(l.Millimetres(), 2) + " mm" }

// Inched prints l in inches, to a hundredth.
func (l Length) Inched() string { return Number(l.Inches(), 2) + " in" }

// String prints m in kilograms, to a tenth.
func (m Mass) String() string { return Number(m.Kilograms(), 1) + " kg" }

// String prints p in watts, or in kilowatts from 10 kW up.
func (p Power) String() string {
	if p >= 10*Kilowatt || p <= -10*Kilowatt {
		return Number(In(p, Kilowatt), 2) + " kW"
	}
	return Number(p.Watts(), 0) + " W"
}

// String prints i in amperes, to a tenth, or in milliamperes below a tenth.
func (i Current) String() string {
	if i != 0 && i < 100*Milliampere && i > -100*Milliampere {
		return i.Milli()
	}
	return Number(i.Amperes(), 1) + " A"
}

// Beside prints i next to another current: to a tenth of an ampere, or to as
// many decimals more, up to four, as tell the two apart.
func (i Current) Beside(other Current) string {
	s := i.String()
	for decimals := 2; i != other && s == other.String() && decimals <= 4; decimals++ {
		s = Number(i.Amperes(), decimals) + " A"
	}
	return s
}

// Milli prints i in milliamperes, to a tenth, as leakage and residual currents
// are told.
func (i Current) Milli() string { return Number(In(i, Milliampere), 1) + " mA" }

// String prints v in volts, to a tenth.
func (v Voltage) String() string { return Number(v.Volts(), 1) + " V" }

// String prints p in kilopascals, to a hundredth.
func (p Pressure) String() string { return Number(In(p, Kilopascal), 2) + " kPa" }

// String prints f in newtons, or in kilonewtons from 10 kN up.
func (f Force) String() string {
	if f >= 10*Kilonewton || f <= -10*Kilonewton {
		return Number(In(f, Kilonewton), 2) + " kN"
	}
	return Number(In(f, Newton), 0) + " N"
}

// String prints t in newton metres, to a tenth.
func (t Torque) String() string { return Number(In(t, NewtonMetre), 1) + " N m" }

// String prints t in degrees Celsius, to a tenth.
func (t Temperature) String() string { return Number(t.Degrees(), 1) + " C" }

// String prints a in degrees, to a tenth.
func (a Angle) String() string { return Number(a.Degrees(), 1) + " deg" }

// String prints d in minutes, or in seconds or milliseconds where it is short.
func (d Duration) String() string {
	switch {
	case d != 0 && d < Second && d > -Second:
		return Number(In(d, Millisecond), 0) + " ms"
	case d != 0 && d < Minute && d > -Minute:
		return Number(In(d, Second), 1) + " s"
	}
	return Number(d.Minutes(), 1) + " min"
}

// String prints f in litres a second, to a tenth.
func (f Flow) String() string { return Number(In(f, LitrePerSecond), 1) + " l/s" }

// String prints a in square millimetres, or in square metres from 0.1 m2 up.
func (a Area) String() string {
	if a >= SquareMetre/10 {
		return Number(In(a, SquareMetre), 3) + " m2"
	}
	return Number(In(a, SquareMillimetre), 0) + " mm2"
}
