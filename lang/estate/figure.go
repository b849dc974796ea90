package estate

import (
	"fmt"
	"time"
)

// A Figure is a declared value: given, said to be unknown, or missing (the
// zero value), with how it was come by.
type Figure[T any] struct {
	Value T
	At    Span // where it stands in the file of its owner
	On    Date // when it was measured or read, if said
	State State
	Basis Basis
}

// Is gives a figure with a value, as a test or a default makes one.
func Is[T any](v T) Figure[T] { return Figure[T]{Value: v, State: IsGiven} }

// Known reports whether the figure has a value.
func (f Figure[T]) Known() bool { return f.State == IsGiven }

// Get gives the value and whether there is one.
func (f Figure[T]) Get() (T, bool) { return f.Value, f.State == IsGiven }

// Or gives the value, or other where there is none.
func (f Figure[T]) Or(other T) T {
	if f.State == IsGiven {
		return f.Value
	}
	return other
}

// State says whether a figure has a value.
type State uint8

// The states of a figure.
const (
	IsMissing State = iota // not written
	IsUnknown              // written as unknown: nobody has looked yet
	IsGiven
)

// String names the state as a message does.
func (s State) String() string {
	switch s {
	case IsUnknown:
		return "unknown"
	case IsGiven:
		return "given"
	}
	return "missing"
}

// Basis says how a figure was come by.
type Basis uint8

// The bases of a figure, from worst known to best.
const (
	Unstated Basis = iota
	Estimated
	Drawing
	DataSheet
	Measured
)

var bases = [...]string{"unstated", "estimated", "drawing", "data-sheet", "measured"}

// String names the basis as the language writes it.
func (b Basis) String() string { return bases[b] }

// ParseBasis reads a basis.
func ParseBasis(s string) (Basis, error) {
	for i, name := range bases[1:] {
		if s == name {
			return Basis(i + 1), nil
		}
	}
	return Unstated, fmt.Errorf("%q is no basis; write \"measured\", \"data-sheet\", \"drawing\" or \"estimated\"", s)
}

// A Date is a day, counted from 1 January 1970 plus one; the zero value is no
// date. Dates compare with < and >.
type Date int32

// NewDate gives the date of a calendar day.
func NewDate(year int, month time.Month, day int) Date {
	return DateOf(time.Date(year, month, day, 0, 0, 0, 0, time.UTC))
}

// DateOf gives the calendar day that t shows in its own time zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix()/86400) + 1
}

// ParseDate reads a date written "2027-01-31".
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return 0, fmt.Errorf("%q is no date; write year, month and day as in \"2027-01-31\"", s)
	}
	return DateOf(t), nil
}

// Time gives midnight UTC at the start of the day.
func (d Date) Time() time.Time { return time.Unix(int64(d-1)*86400, 0).UTC() }

// String prints the date as the language writes it, or nothing for no date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format(time.DateOnly)
}
