package estate

import (
	"strings"

	"cagenut/lang/quantity"
)

// A Rating is what a source or a UPS can give: active power in watts, apparent
// power in volt-amperes (the rated output active and apparent power of IEC
// 62040-3), or both. Each is a limit of its own.
type Rating struct {
	Active, Apparent Figure[quantity.Power]
}

// State says whether either power is given.
func (r Rating) State() State { return max(r.Active.State, r.Apparent.State) }

// Known reports whether either power is given.
func (r Rating) Known() bool { return r.State() == IsGiven }

// String writes the powers that are given: "2700 W and 3000 VA".
func (r Rating) String() string {
	var out []string
	if p, ok := r.Active.Get(); ok {
		out = append(out, p.String())
	}
	if p, ok := r.Apparent.Get(); ok {
		out = append(out, InVoltAmperes(p))
	}
	return strings.Join(out, " and ")
}

// Earth says what the protective conductor of a supply is made for.
type Earth uint8

// The kinds of protective conductor.
const (
	NoEarth         Earth = iota // not declared
	OrdinaryEarth                // one conductor, sized for faults alone
	ReinforcedEarth              // made for lasting protective conductor current
)

// Earths lists them as the language writes them.
var Earths = []string{"", "ordinary", "reinforced"}

// String names the kind as the language writes it.
func (e Earth) String() string { return Earths[e] }
