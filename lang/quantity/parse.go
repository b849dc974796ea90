package quantity

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"unicode"
)

// ParseLength reads a length such as "740 mm", "29.1 in", "5/8 in" or
// "7 ft 6 in". A rack unit is not a length here: its size is the panel
// system's business.
func ParseLength(s string) (Length, error) { return parse[Length](s, &lengths) }

// ParseMass reads a mass such as "34 kg" or "75 lb".
func ParseMass(s string) (Mass, error) { return parse[Mass](s, &masses) }

// ParsePower reads a power such as "520 W", "1.2 kW" or "3000 VA".
func ParsePower(s string) (Power, error) { return parse[Power](s, &powers) }

// ParseCurrent reads a current such as "16 A" or "3.5 mA".
func ParseCurrent(s string) (Current, error) { return parse[Current](s, &currents) }

// ParseVoltage reads a voltage such as "230 V" or "-48 V".
func ParseVoltage(s string) (Voltage, error) { return parse[Voltage](s, &voltages) }

// ParsePressure reads a pressure such as "7.2 kPa" or "150 lb/ft2".
func ParsePressure(s string) (Pressure, error) { return parse[Pressure](s, &pressures) }

// ParseForce reads a force such as "4.4 kN" or "1000 lbf".
func ParseForce(s string) (Force, error) { return parse[Force](s, &forces) }

// ParseTorque reads a moment such as "3.5 N m" or "35 lbf in".
func ParseTorque(s string) (Torque, error) { return parse[Torque](s, &torques) }

// ParseTemperature reads a temperature such as "22 C" or "72 F".
func ParseTemperature(s string) (Temperature, error) { return parse[Temperature](s, &temperatures) }

// ParseAngle reads an angle such as "10 deg".
func ParseAngle(s string) (Angle, error) { return parse[Angle](s, &angles) }

// ParseDuration reads a span of time such as "20 min" or "1 h 30 min".
func ParseDuration(s string) (Duration, error) { return parse[Duration](s, &durations) }

// ParseFlow reads a volume flow such as "85 l/s", "300 m3/h" or "180 cfm".
func ParseFlow(s string) (Flow, error) { return parse[Flow](s, &flows) }

// ParseArea reads an area such as "40000 mm2" or "0.72 m2".
func ParseArea(s string) (Area, error) { return parse[Area](s, &areas) }

// A measure is one kind of quantity: its name and the units it is written in.
// The first two are the likely readings of a bare number, in the order in
// which a message offers them.
type measure struct {
	name   string // "a length"
	sample string // "\"740 mm\"", for messages
	units  []unit
}

// A unit is worth num/den small units. A temperature has an offset as well:
// what is read is (number - offset) * num/den.
type unit struct {
	names    []string // the first is printed
	num, den int64
	offset   int64
}

var (
	lengths = measure{"a length", "740 mm", []unit{
		{names: []string{"mm"}, num: 1_000_000, den: 1},
		{names: []string{"in", "inch", "inches", "\""}, num: 25_400_000, den: 1},
		{names: []string{"cm"}, num: 10_000_000, den: 1},
		{names: []string{"m"}, num: 1_000_000_000, den: 1},
		{names: []string{"ft", "foot", "feet", "'"}, num: 304_800_000, den: 1},
		{names: []string{"um", "µm"}, num: 1000, den: 1},
		{names: []string{"nm"}, num: 1, den: 1},
	}}
	masses = measure{"a mass", "34 kg", []unit{
		{names: []string{"kg"}, num: 1_000_000_000, den: 1},
		{names: []string{"lb", "lbs"}, num: 453_592_370, den: 1},
		{names: []string{"g"}, num: 1_000_000, den: 1},
		{names: []string{"t"}, num: 1_000_000_000_000, den: 1},
		{names: []string{"oz"}, num: 453_592_370, den: 16},
	}}
	powers = measure{"a power", "520 W", []unit{
		{names: []string{"W"}, num: 1000, den: 1},
		{names: []string{"kW"}, num: 1_000_000, den: 1},
		{names: []string{"mW"}, num: 1, den: 1},
		{names: []string{"VA"}, num: 1000, den: 1},
		{names: []string{"kVA"}, num: 1_000_000, den: 1},
		// The international table BTU is 1055.055 852 62 J (ISO 31-4).
		{names: []string{"BTU/h"}, num: 105_505_585_262, den: 360_000_000},
	}}
	currents = measure{"a current", "16 A", []unit{
		{names: []string{"A"}, num: 1_000_000, den: 1},
		{names: []string{"mA"}, num: 1000, den: 1},
	}}
	voltages = measure{"a voltage", "230 V", []unit{
		{names: []string{"V"}, num: 1000, den: 1},
		{names: []string{"kV"}, num: 1_000_000, den: 1},
		{names: []string{"mV"}, num: 1, den: 1},
	}}
	pressures = measure{"a pressure", "7.2 kPa", []unit{
		{names: []string{"kPa", "kN/m2"}, num: 1_000_000, den: 1},
		// lbf/ft2 = 4.448 221 615 260 5 N / 0.092 903 04 m2.
		{names: []string{"lb/ft2", "lbf/ft2", "psf"}, num: 44_482_216_152_605, den: 929_030_400},
		{names: []string{"Pa"}, num: 1000, den: 1},
	}}
	forces = measure{"a force", "4.4 kN", []unit{
		{names: []string{"kN"}, num: 1_000_000, den: 1},
		{names: []string{"lbf"}, num: 44_482_216_152_605, den: 10_000_000_000},
		{names: []string{"N"}, num: 1000, den: 1},
	}}
	torques = measure{"a moment", "3.5 N m", []unit{
		{names: []string{"N m", "Nm"}, num: 1000, den: 1},
		{names: []string{"lbf in", "lb in"}, num: 112_984_829_027_6167, den: 10_000_000_000_000},
		{names: []string{"lbf ft", "lb ft"}, num: 1_355_817_948_331_4004, den: 10_000_000_000_000},
	}}
	temperatures = measure{"a temperature", "22 C", []unit{
		{names: []string{"C", "°C"}, num: 1000, den: 1},
		{names: []string{"F", "°F"}, num: 5000, den: 9, offset: 32},
	}}
	angles = measure{"an angle", "10 deg", []unit{
		{names: []string{"deg", "°"}, num: 1000, den: 1},
	}}
	durations = measure{"a span of time", "20 min", []unit{
		{names: []string{"min"}, num: 60_000, den: 1},
		{names: []string{"h"}, num: 3_600_000, den: 1},
		{names: []string{"s"}, num: 1000, den: 1},
		{names: []string{"ms"}, num: 1, den: 1},
		{names: []string{"d"}, num: 86_400_000, den: 1},
	}}
	flows = measure{"an air flow", "85 l/s", []unit{
		{names: []string{"l/s"}, num: 1000, den: 1},
		{names: []string{"m3/h"}, num: 1_000_000, den: 3600},
		// A cubic foot is 28 316.846 592 cm3.
		{names: []string{"cfm", "CFM"}, num: 28_316_846_592, den: 60_000_000},
		{names: []string{"m3/s"}, num: 1_000_000, den: 1},
	}}
	areas = measure{"an area", "40000 mm2", []unit{
		{names: []string{"mm2"}, num: 1_000_000, den: 1},
		{names: []string{"m2"}, num: 1_000_000_000_000, den: 1},
		{names: []string{"in2"}, num: 645_160_000, den: 1},
	}}
)

func (m *measure) find(name string) *unit {
	for i := range m.units {
		for _, n := range m.units[i].names {
			if n == name {
				return &m.units[i]
			}
		}
	}
	return nil
}

// near gives the unit that differs from name only in letter case, if one does.
func (m *measure) near(name string) string {
	for i := range m.units {
		for _, n := range m.units[i].names {
			if strings.EqualFold(n, name) {
				return n
			}
		}
	}
	return ""
}

func (m *measure) list() string {
	var names []string
	for i := range m.units {
		names = append(names, m.units[i].names[0])
	}
	return strings.Join(names, ", ")
}

// Bare explains a number that lacks its unit, with the two likely readings:
// Bare[Length]("740").
func Bare[Q Quantity](number string) error {
	return measureOf[Q]().bare(number)
}

func (m *measure) bare(number string) error {
	if len(m.units) == 1 {
		return fmt.Errorf("%s is not %s without a unit; write \"%s %s\"", number, m.name, number, m.units[0].names[0])
	}
	return fmt.Errorf("%s is not %s without a unit; write \"%s %s\" or \"%s %s\"",
		number, m.name, number, m.units[0].names[0], number, m.units[1].names[0])
}

// Parse reads a quantity of the kind Q.
func Parse[Q Quantity](s string) (Q, error) { return parse[Q](s, measureOf[Q]()) }

func measureOf[Q Quantity]() *measure {
	var q Q
	switch any(q).(type) {
	case Length:
		return &lengths
	case Mass:
		return &masses
	case Power:
		return &powers
	case Current:
		return &currents
	case Voltage:
		return &voltages
	case Pressure:
		return &pressures
	case Force:
		return &forces
	case Torque:
		return &torques
	case Temperature:
		return &temperatures
	case Angle:
		return &angles
	case Duration:
		return &durations
	case Flow:
		return &flows
	case Area:
		return &areas
	}
	panic("quantity: a kind without units")
}

func parse[Q Quantity](s string, m *measure) (Q, error) {
	rest := strings.TrimSpace(s)
	if rest == "" {
		return 0, fmt.Errorf("%q is no value; write %s such as %q", s, m.name, m.sample)
	}
	negative := false
	if r, ok := cutSign(rest); ok {
		negative, rest = true, r
	}
	sum := new(big.Rat)
	parts := 0
	for rest != "" {
		number, text, after, err := readNumber(rest)
		if err != nil {
			return 0, fmt.Errorf("%q is not %s: %w; write for example %q", s, m.name, err, m.sample)
		}
		if exponent := readExponent(after); exponent != "" {
			return 0, withExponent(s, text, exponent)
		}
		name, after := readUnit(after)
		if name == "" {
			return 0, m.bare(text)
		}
		u := m.find(name)
		if u == nil {
			return 0, m.unknownUnit(s, text, name)
		}
		if parts > 0 && u.offset != 0 {
			return 0, fmt.Errorf("%q adds up temperatures; write one number and one unit", s)
		}
		if negative {
			number.Neg(number)
		}
		number.Sub(number, new(big.Rat).SetInt64(u.offset))
		sum.Add(sum, number.Mul(number, big.NewRat(u.num, u.den)))
		parts++
		rest = strings.TrimSpace(after)
	}
	if parts == 0 {
		return 0, fmt.Errorf("%q is not %s; write for example %q", s, m.name, m.sample)
	}
	n, ok := round(sum)
	if !ok {
		return 0, fmt.Errorf("%q is larger than any rack could need", s)
	}
	return Q(n), nil
}

func (m *measure) unknownUnit(s, number, name string) error {
	if near := m.near(name); near != "" {
		return fmt.Errorf("%q: the unit is written %q; write \"%s %s\"", s, near, number, near)
	}
	return fmt.Errorf("%q has the unit %q, which is not %s; use one of %s", s, name, m.name, m.list())
}

func cutSign(s string) (string, bool) {
	for _, sign := range []string{"-", "−"} { // a minus sign is often typed as U+2212
		if r, ok := strings.CutPrefix(s, sign); ok {
			return strings.TrimSpace(r), true
		}
	}
	return s, false
}

// readNumber reads 12, 12.5, 5/8 or 1 3/4 from the start of s. It gives the
// value, the text it was read from and what follows.
func readNumber(s string) (n *big.Rat, text, after string, err error) {
	whole, after := readDigits(s)
	if whole == "" {
		return nil, "", s, fmt.Errorf("a number is missing before %q", s)
	}
	if strings.HasPrefix(after, ",") {
		decimals, _ := readDigits(after[1:])
		return nil, "", s, fmt.Errorf("a decimal point is written \".\", as in \"%s.%s\"", whole, decimals)
	}
	// "1 3/4": a second group of digits counts only where a fraction follows.
	gap := strings.TrimLeft(after, " ")
	if top, bottom, tail, ok := readFraction(gap); ok && gap != after && !strings.Contains(whole, ".") {
		r, ok := fraction(top, bottom)
		if !ok {
			return nil, "", s, fmt.Errorf("%s/%s divides by nothing", top, bottom)
		}
		w, _ := new(big.Rat).SetString(whole)
		return r.Add(r, w), strings.TrimSpace(s[:len(s)-len(tail)]), tail, nil
	}
	if top, bottom, tail, ok := readFraction(s); ok {
		r, ok := fraction(top, bottom)
		if !ok {
			return nil, "", s, fmt.Errorf("%s/%s divides by nothing", top, bottom)
		}
		return r, s[:len(s)-len(tail)], tail, nil
	}
	r, ok := new(big.Rat).SetString(whole)
	if !ok {
		return nil, "", s, fmt.Errorf("%q is not a number", whole)
	}
	return r, whole, after, nil
}

func readFraction(s string) (top, bottom, after string, ok bool) {
	top, after = readDigits(s)
	if top == "" || strings.Contains(top, ".") || !strings.HasPrefix(after, "/") {
		return "", "", s, false
	}
	bottom, after = readDigits(after[1:])
	if bottom == "" || strings.Contains(bottom, ".") {
		return "", "", s, false
	}
	return top, bottom, after, true
}

func fraction(top, bottom string) (*big.Rat, bool) {
	t, ok1 := new(big.Int).SetString(top, 10)
	b, ok2 := new(big.Int).SetString(bottom, 10)
	if !ok1 || !ok2 || b.Sign() == 0 {
		return nil, false
	}
	return new(big.Rat).SetFrac(t, b), true
}

// maxDigits bounds what is read as one number, so that a hostile file cannot
// make the arithmetic slow.
const maxDigits = 40

func readDigits(s string) (digits, after string) {
	i, point := 0, false
	for i < len(s) && i < maxDigits {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
		case c == '.' && !point && i > 0 && i+1 < len(s) && s[i+1] >= '0' && s[i+1] <= '9':
			point = true
		default:
			return s[:i], s[i:]
		}
		i++
	}
	return s[:i], s[i:]
}

// readExponent gives the exponent at the start of s: "e9" or "E-3". No unit
// begins with an e and a digit.
func readExponent(s string) string {
	if s == "" || s[0] != 'e' && s[0] != 'E' {
		return ""
	}
	end := 1
	if end < len(s) && (s[end] == '+' || s[end] == '-') {
		end++
	}
	digits, _ := readDigits(s[end:])
	if digits == "" {
		return ""
	}
	return s[:end+len(digits)]
}

// withExponent refuses a number with an exponent in the quantity s, and writes
// it out where it can be read so.
func withExponent(s, number, exponent string) error {
	if r, ok := new(big.Rat).SetString(number); ok && !strings.Contains(number, "/") {
		if power, err := strconv.Atoi(exponent[1:]); err == nil && -9 <= power && power <= 15 {
			_, decimals, _ := strings.Cut(number, ".")
			ten := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(power, -power))), nil))
			if power < 0 {
				ten.Inv(ten)
			}
			plain := r.Mul(r, ten).FloatString(max(len(decimals)-power, 0))
			return fmt.Errorf("%q: a number is written out, without %q; write %q", s, exponent, strings.Replace(s, number+exponent, plain, 1))
		}
	}
	return fmt.Errorf("%q: a number is written out, without %q", s, exponent)
}

// readUnit reads a unit name from the start of s: letters, and "/", "2" or "3"
// inside one ("m3/h"), or two words ("N m").
func readUnit(s string) (name, after string) {
	s = strings.TrimLeft(s, " \u00a0")
	end := 0
	for i, r := range s {
		inside := unicode.IsLetter(r) || r == '°' || r == '"' || r == '\'' || r == '%' ||
			i > 0 && (r == '/' || r == '2' || r == '3')
		if !inside {
			break
		}
		end = i + len(string(r))
	}
	name, after = s[:end], s[end:]
	for _, two := range []string{"N m", "lbf in", "lbf ft", "lb in", "lb ft"} {
		if strings.HasPrefix(s, two) && (len(s) == len(two) || !unicode.IsLetter(rune(s[len(two)]))) {
			return two, s[len(two):]
		}
	}
	return name, after
}

// round gives r as the nearest integer, half away from zero, if it fits.
func round(r *big.Rat) (int64, bool) {
	num := new(big.Int).Abs(r.Num())
	num.Mul(num, big.NewInt(2)).Add(num, r.Denom())
	num.Quo(num, new(big.Int).Mul(r.Denom(), big.NewInt(2)))
	if r.Sign() < 0 {
		num.Neg(num)
	}
	return num.Int64(), num.IsInt64()
}
