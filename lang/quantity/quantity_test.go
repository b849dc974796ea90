package quantity

import (
	"math/big"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"cagenut/testdata/outside"
)

func TestParseLength(t *testing.T) {
	tests := []struct {
		name, in string
		want     Length
		wantErr  string
	}{
		{name: "millimetres", in: "740 mm", want: 740 * Millimetre},
		{name: "no space", in: "740mm", want: 740 * Millimetre},
		{name: "inches", in: "29.1 in", want: 739_140_000},
		{name: "a sixty-fourth", in: "1/64 in", want: 396_875},
		{name: "whole and fraction", in: "1 3/4 in", want: RackUnit},
		{name: "feet and inches", in: "7 ft 6 in", want: 90 * Inch},
		{name: "marks", in: `7' 6"`, want: 90 * Inch},
		{name: "metres", in: "2.2 m", want: 2200 * Millimetre},
		{name: "negative", in: "-20 mm", want: -20 * Millimetre},
		{name: "typographic minus", in: "−20 mm", want: -20 * Millimetre},
		{name: "negative sum", in: "-1 ft 1 in", want: -13 * Inch},
		{name: "nanometre", in: "1 nm", want: 1},
		{name: "half rounds away", in: "0.5 nm", want: 1},
		{name: "bare", in: "740", wantErr: `740 is not a length without a unit; write "740 mm" or "740 in"`},
		{name: "bare tail", in: "7 ft 6", wantErr: `6 is not a length without a unit; write "6 mm" or "6 in"`},
		{name: "comma", in: "29,1 in", wantErr: `"29,1 in" is not a length: a decimal point is written ".", as in "29.1"; write for example "740 mm"`},
		{name: "other kind", in: "34 kg", wantErr: `"34 kg" has the unit "kg", which is not a length; use one of mm, in, cm, m, ft, um, nm`},
		{name: "letter case", in: "740 MM", wantErr: `"740 MM": the unit is written "mm"; write "740 mm"`},
		{name: "empty", in: " ", wantErr: `" " is no value; write a length such as "740 mm"`},
		{name: "no number", in: "mm", wantErr: `"mm" is not a length: a number is missing before "mm"; write for example "740 mm"`},
		{name: "division by nothing", in: "1/0 in", wantErr: `"1/0 in" is not a length: 1/0 divides by nothing; write for example "740 mm"`},
		{name: "too large", in: "99999999999999 m", wantErr: `"99999999999999 m" is larger than any rack could need`},
		{name: "exponent", in: "1e9 mm", wantErr: `"1e9 mm": a number is written out, without "e9"; write "1000000000 mm"`},
		{name: "exponent and decimals", in: "4.5E2 mm", wantErr: `"4.5E2 mm": a number is written out, without "E2"; write "450 mm"`},
		{name: "negative exponent", in: "-7 ft 12.5e-1 in", wantErr: `"-7 ft 12.5e-1 in": a number is written out, without "e-1"; write "-7 ft 1.25 in"`},
		{name: "huge exponent", in: "1e999999999 mm", wantErr: `"1e999999999 mm": a number is written out, without "e999999999"`},
		{name: "exponent of a fraction", in: "1/2e3 in", wantErr: `"1/2e3 in": a number is written out, without "e3"`},
		{name: "exponent without unit", in: "1e3", wantErr: `"1e3": a number is written out, without "e3"; write "1000"`},
		{name: "only a sign", in: "-", wantErr: `"-" is not a length; write for example "740 mm"`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := ParseLength(tt.in)
			if got != tt.want || errString(err) != tt.wantErr {
				t.Errorf("ParseLength(%q) = %d, %q, want %d, %q", tt.in, got, errString(err), tt.want, tt.wantErr)
			}
		})
	}
}

func TestParseOthers(t *testing.T) {
	tests := []struct {
		in        string
		got, want int64
	}{
		{"75 lb", must(ParseMass("75 lb")), 75 * int64(Pound)},
		{"1 t", must(ParseMass("1 t")), int64(1000 * Kilogram)},
		{"16 oz", must(ParseMass("16 oz")), int64(Pound)},
		{"1.2 kW", must(ParsePower("1.2 kW")), int64(1200 * Watt)},
		{"3 kVA", must(ParsePower("3 kVA")), int64(3 * Kilowatt)},
		{"3.5 mA", must(ParseCurrent("3.5 mA")), int64(3500 * Microampere)},
		{"-48 V", must(ParseVoltage("-48 V")), int64(-48 * Volt)},
		{"7.2 kPa", must(ParsePressure("7.2 kPa")), int64(7200 * Pascal)},
		{"32 F", must(ParseTemperature("32 F")), 0},
		{"-40 F", must(ParseTemperature("-40 F")), int64(-40 * Celsius)},
		{"72 F", must(ParseTemperature("72 F")), 22222},
		{"22 °C", must(ParseTemperature("22 °C")), int64(22 * Celsius)},
		{"1 h 30 min", must(ParseDuration("1 h 30 min")), int64(90 * Minute)},
		{"3600 m3/h", must(ParseFlow("3600 m3/h")), int64(CubicMetrePerSecond)},
		{"3.5 N m", must(ParseTorque("3.5 N m")), 3500},
		{"4.4 kN", must(ParseForce("4.4 kN")), int64(4400 * Newton)},
		{"10 deg", must(ParseAngle("10 deg")), int64(10 * Degree)},
		{"0.72 m2", must(ParseArea("0.72 m2")), 720_000 * int64(SquareMillimetre)},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%q = %d, want %d", tt.in, tt.got, tt.want)
		}
	}
}

func must[Q Quantity](q Q, err error) int64 {
	if err != nil {
		panic(err)
	}
	return int64(q)
}

func TestString(t *testing.T) {
	tests := []struct{ got, want string }{
		{RackUnit.String(), "44.45 mm"},
		{RackUnit.Inched(), "1.75 in"},
		{(28 * Kilogram).String(), "28 kg"},
		{(520 * Watt).String(), "520 W"},
		{(18 * Kilowatt).String(), "18 kW"},
		{Of(12.75, Ampere).String(), "12.8 A"},
		{(-48 * Volt).String(), "-48 V"},
		{Of(7.2, Kilopascal).String(), "7.2 kPa"},
		{(22 * Celsius).String(), "22 C"},
		{(90 * Minute).String(), "90 min"},
		{(20 * Millisecond).String(), "20 ms"},
		{Number(-0.04, 1), "0"},
		{Number(12, 0), "12"},
		{Number(100, 0), "100"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

// A length read from any decimal text is the exact value, rounded once.
func TestParseIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(0, 99_999).Draw(t, "whole")
		part := rapid.StringMatching(`[0-9]{1,9}`).Draw(t, "part")
		u := lengths.units[rapid.IntRange(0, len(lengths.units)-1).Draw(t, "unit")]
		text := strconv.Itoa(whole) + "." + part
		got, err := ParseLength(text + " " + u.names[0])
		if err != nil {
			t.Fatal(err)
		}
		exact, _ := new(big.Rat).SetString(text)
		exact.Mul(exact, big.NewRat(u.num, u.den))
		off := new(big.Rat).Sub(exact, new(big.Rat).SetInt64(int64(got)))
		if off.Abs(off).Cmp(big.NewRat(1, 2)) > 0 {
			t.Fatalf("%s %s = %d nm, exactly %s", text, u.names[0], got, exact.FloatString(3))
		}
	})
}

// Source of the expected values: GNU units and its definitions file, which
// takes the rack unit from EIA-310.
func TestAgainstGNUUnits(t *testing.T) {
	units := outside.Need(t, "units")
	tests := []struct {
		text, from, to string
		got            float64
	}{
		{"rack unit", "U", "mm", RackUnit.Millimetres()},
		{"42 rack units", "42 U", "mm", (42 * RackUnit).Millimetres()},
		{"29.1 in", "29.1 in", "mm", In(Length(must(ParseLength("29.1 in"))), Millimetre)},
		{"75 lb", "75 lb", "kg", In(Mass(must(ParseMass("75 lb"))), Kilogram)},
		{"150 lb/ft2", "150 lbf/ft^2", "kPa", In(Pressure(must(ParsePressure("150 lb/ft2"))), Kilopascal)},
		{"35000 lbf in", "35000 lbf in", "N m", In(Torque(must(ParseTorque("35000 lbf in"))), NewtonMetre)},
		{"26000 lbf ft", "26000 lbf ft", "N m", In(Torque(must(ParseTorque("26000 lbf ft"))), NewtonMetre)},
		{"1000 lbf", "1000 lbf", "kN", In(Force(must(ParseForce("1000 lbf"))), Kilonewton)},
		{"3412 BTU/h", "3412 btu_IT/hour", "W", In(Power(must(ParsePower("3412 BTU/h"))), Watt)},
		{"18000 cfm", "18000 ft^3/min", "l/s", In(Flow(must(ParseFlow("18000 cfm"))), LitrePerSecond)},
		{"100 in2", "100 in^2", "mm^2", In(Area(must(ParseArea("100 in2"))), SquareMillimetre)},
	}
	for _, tt := range tests {
		out := outside.Run(t, "", units, "-t", "-o", "%.12g", tt.from, tt.to)
		want, err := strconv.ParseFloat(out, 64)
		if err != nil {
			t.Fatalf("units %q %q printed %q", tt.from, tt.to, out)
		}
		if diff := tt.got/want - 1; diff > 1e-6 || diff < -1e-6 {
			t.Errorf("%s = %v %s, GNU units says %v", tt.text, tt.got, tt.to, want)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"740 mm", "1 3/4 in", `7' 6"`, "-48 V", "72 F", "3.5 N m", "1 h 30 min", "29,1 in", "1/0 in", "µ", "9 9 9/9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLength(s)
		if err != nil {
			if l != 0 {
				t.Errorf("ParseLength(%q) = %d with the error %v", s, l, err)
			}
			return
		}
		again, err := ParseLength(strconv.FormatInt(int64(l), 10) + " nm")
		if err != nil || again != l {
			t.Errorf("ParseLength(%q) = %d, which reads back as %d, %v", s, l, again, err)
		}
	})
}

func errString(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

func TestCurrentsBesideOneAnother(t *testing.T) {
	limit := Of(12.8, Ampere)
	for i, want := range map[Current]string{
		Of(12.804347, Ampere): "12.804 A",
		Of(12.84, Ampere):     "12.84 A",
		Of(12.9, Ampere):      "12.9 A",
		limit:                 "12.8 A",
	} {
		if got := i.Beside(limit); got != want {
			t.Errorf("%v beside %v = %q, want %q", i, limit, got, want)
		}
	}
}
