package policy

import (
	"fmt"
	"strings"
)

// A Kind is what sort of value an expression has.
type Kind uint8

// The kinds of value.
const (
	NoKind Kind = iota
	NumberKind
	BoolKind
	TextKind
	DateKind
	ListKind
	ObjectKind
	NullKind // the literal null
)

// A Type is the static type of an expression.
type Type struct {
	Kind  Kind
	Unit  Unit   // of a number, and of the elements of a list of numbers
	Elem  *Type  // of a list
	Class *Class // of an object
}

// Same reports whether two types are the same, units included.
func (t Type) Same(u Type) bool {
	if t.Kind != u.Kind || t.Unit != u.Unit || t.Class != u.Class {
		return false
	}
	if t.Kind == ListKind {
		return t.Elem.Same(*u.Elem)
	}
	return true
}

// String names the type as a message does: "a number in kg", "a list of
// mounts".
func (t Type) String() string {
	switch t.Kind {
	case NumberKind:
		if t.Unit == (Unit{}) {
			return "a plain number"
		}
		return "a number in " + t.Unit.String()
	case BoolKind:
		return "true or false"
	case TextKind:
		return "a text"
	case DateKind:
		return "a date"
	case ListKind:
		return "a list of " + t.Elem.plural()
	case ObjectKind:
		return t.Class.one()
	case NullKind:
		return "null"
	}
	return "nothing"
}

func (t Type) plural() string {
	switch t.Kind {
	case NumberKind:
		if t.Unit == (Unit{}) {
			return "numbers"
		}
		return "numbers in " + t.Unit.String()
	case BoolKind:
		return "truths"
	case TextKind:
		return "texts"
	case DateKind:
		return "dates"
	case ListKind:
		return "lists"
	case ObjectKind:
		return t.Class.Plural()
	}
	return "nothing"
}

// one names one object of the class: "a mount", "an estate", "equipment".
func (c *Class) one() string {
	if c.plural == c.Name {
		return c.Name
	}
	return article(c.Name) + " " + c.Name
}

func article(word string) string {
	if strings.ContainsRune("aeio", rune(word[0])) {
		return "an"
	}
	return "a"
}

// A Unit is the unit of a number as powers of base units. All lengths are in
// mm, all masses in kg, and so on: one unit a dimension, so that only
// dimensions need checking. The zero value is a plain number.
type Unit [9]int8

// The base units, as places in a Unit.
const (
	baseKilogram = iota
	baseMillimetre
	baseAmpere
	baseVolt
	baseCelsius
	baseMinute
	baseDay
	baseKilopascal
	baseNewton
)

var baseNames = [len(Unit{})]string{"kg", "mm", "A", "V", "C", "min", "days", "kPa", "N"}

// The units that numbers of the model have.
var (
	Plain      = Unit{}
	Kilogram   = Unit{baseKilogram: 1}
	Millimetre = Unit{baseMillimetre: 1}
	Ampere     = Unit{baseAmpere: 1}
	Volt       = Unit{baseVolt: 1}
	Watt       = Unit{baseAmpere: 1, baseVolt: 1}
	Celsius    = Unit{baseCelsius: 1}
	Minute     = Unit{baseMinute: 1}
	Days       = Unit{baseDay: 1}
	Kilopascal = Unit{baseKilopascal: 1}
	Newton     = Unit{baseNewton: 1}
)

// mostPower bounds the powers of a unit, so that they cannot overflow.
const mostPower = 12

func (u Unit) times(v Unit, sign int8) (Unit, bool) {
	for i := range u {
		u[i] += sign * v[i]
		if u[i] > mostPower || u[i] < -mostPower {
			return u, false
		}
	}
	return u, true
}

// String names the unit: "kg", "W", "kg mm", "W/kg"; "" for a plain number.
func (u Unit) String() string {
	var over, under []string
	add := func(name string, n int8) {
		list := &over
		if n < 0 {
			list, n = &under, -n
		}
		if n > 1 {
			name = fmt.Sprintf("%s^%d", name, n)
		}
		if n != 0 {
			*list = append(*list, name)
		}
	}
	// A watt is an ampere times a volt: name as many as the two share.
	if a, v := u[baseAmpere], u[baseVolt]; a > 0 && v > 0 {
		n := min(a, v)
		u[baseAmpere] -= n
		u[baseVolt] -= n
		add("W", n)
	} else if a < 0 && v < 0 {
		n := max(a, v)
		u[baseAmpere] -= n
		u[baseVolt] -= n
		add("W", n)
	}
	for i, n := range u {
		add(baseNames[i], n)
	}
	s := strings.Join(over, " ")
	if len(under) > 0 {
		if s == "" {
			s = "1"
		}
		s += "/" + strings.Join(under, "/")
	}
	return s
}

// maker names the function that makes a number of the unit from a plain one,
// or "" where there is none.
func (u Unit) maker() string {
	switch u {
	case Kilogram:
		return "kg"
	case Millimetre:
		return "mm"
	case Ampere:
		return "a"
	case Volt:
		return "v"
	case Watt:
		return "w"
	case Celsius:
		return "c"
	case Minute:
		return "minutes"
	case Days:
		return "days"
	case Kilopascal:
		return "kpa"
	case Newton:
		return "n"
	}
	return ""
}

// An Unknown says why a value is not known.
type Unknown struct {
	Because string // "the depth of equipment.store is missing"
}

func unknown(format string, args ...any) *Unknown {
	return &Unknown{Because: fmt.Sprintf(format, args...)}
}
