package physics

import (
	"fmt"
	"math"

	"cagenut/lang/quantity"
)

// The revised lifting equation, after the Applications Manual for the Revised
// NIOSH Lifting Equation, DHHS (NIOSH) publication 94-110, revised 9/2021. Page
// numbers are the manual's.

// LiftUnits chooses one of the manual's two sets of constants. They are not
// conversions of each other (25 cm against 25.4, 23 kg against 23.13), so a
// calculation keeps to one.
type LiftUnits uint8

// The sets of constants.
const (
	NoLiftUnits LiftUnits = iota
	Metric
	US
)

// Coupling is how well hands hold the load (p. 17).
type Coupling uint8

// The couplings.
const (
	NoCoupling Coupling = iota
	Good
	Fair
	Poor
)

// LiftSpell is how long lifting goes on, rest included as the manual says (p. 13).
type LiftSpell uint8

// The spells.
const (
	NoSpell  LiftSpell = iota
	Short              // up to 1 h, with rest of at least the time worked
	Moderate           // up to 2 h, with rest of at least 0.3 of it
	Long               // up to 8 h
)

// SpellOf classes a spell of work followed by a spell of rest (p. 14). Work
// beyond eight hours is outside the equation and gives NoSpell.
func SpellOf(work, rest quantity.Duration) LiftSpell {
	switch {
	case work <= quantity.Hour && rest >= work:
		return Short
	case work <= 2*quantity.Hour && float64(rest) >= 0.3*float64(work):
		return Moderate
	case work <= 8*quantity.Hour:
		return Long
	}
	return NoSpell
}

// A Lift is one lift at one point, its origin or its destination.
type Lift struct {
	Reach     quantity.Length // H: from between the ankles to between the hands
	Height    quantity.Length // V: hands above the floor, at this point
	From      quantity.Length // V at the origin, which decides the column of the frequency table
	Travel    quantity.Length // D: vertical distance between origin and destination
	Twist     quantity.Angle  // A
	PerMinute float64         // F: lifts a minute over 15 minutes; 0.2 and less counts as 0.2
	Spell     LiftSpell
	Coupling  Coupling
}

// Multipliers are the factors of the equation.
type Multipliers struct {
	Load             quantity.Mass // LC
	H, V, D, A, F, C float64
	Worksheet        bool // rounded as the manual's worksheets do
}

// Precise gives the multipliers by the formulas.
func (l Lift) Precise(u LiftUnits) (Multipliers, error) {
	if err := l.check(u); err != nil {
		return Multipliers{}, err
	}
	in, least, reachMost, heightMost, travelMost := quantity.Centimetre, 25.0, 63.0, 175.0, 175.0
	m := Multipliers{Load: 23 * quantity.Kilogram}
	if u == US {
		in, least, reachMost, heightMost, travelMost = quantity.Inch, 10, 25, 70, 70
		m.Load = 51 * quantity.Pound
	}
	h, v, d := quantity.In(l.Reach, in), quantity.In(l.Height, in), quantity.In(l.Travel, in)

	switch { // p. 8
	case h <= least:
		m.H = 1
	case h <= reachMost:
		m.H = least / h
	}
	switch { // p. 9
	case v < 0 || v > heightMost:
	case u == US:
		m.V = 1 - 0.0075*math.Abs(v-30)
	default:
		m.V = 1 - 0.003*math.Abs(v-75)
	}
	d = max(d, least)
	switch { // pp. 10-11
	case d > travelMost:
	case u == US:
		m.D = 0.82 + 1.8/d
	default:
		m.D = 0.82 + 4.5/d
	}
	if l.Twist <= 135*quantity.Degree { // p. 12
		m.A = 1 - 0.0032*l.Twist.Degrees()
	}
	low := quantity.In(l.Height, in) < waist(u)
	m.C = couplings[l.Coupling][b2i(!low)]
	m.F = Frequency(l.PerMinute, l.Spell, quantity.In(l.From, in) < waist(u))
	return m, nil
}

// Worksheet gives the multipliers as the manual's worksheets have them: taken
// from its printed tables and rounded to two decimals, half away from zero (p.
// 29). It reproduces the printed examples; [Lift.Precise] differs from them by
// up to 0.4 lb.
func (l Lift) Worksheet(u LiftUnits) (Multipliers, error) {
	m, err := l.Precise(u)
	if err != nil {
		return m, err
	}
	m.Worksheet = true
	for _, f := range []*float64{&m.H, &m.V, &m.D, &m.A, &m.F, &m.C} {
		*f = twoDecimals(*f)
	}
	// Three cells of the printed tables disagree with their own formula.
	switch {
	case u == US && l.Reach == 22*quantity.Inch:
		m.H = 0.46
	case u == US && l.Reach == 23*quantity.Inch:
		m.H = 0.44
	case u == Metric && l.Travel == 130*quantity.Centimetre:
		m.D = 0.86
	}
	return m, nil
}

// Limit gives the recommended weight limit: LC HM VM DM AM FM CM. A worksheet's
// is rounded to a tenth of the unit of its constant.
func (m Multipliers) Limit() quantity.Mass {
	unit := quantity.Kilogram
	if m.Load%quantity.Pound == 0 {
		unit = quantity.Pound
	}
	n := quantity.In(m.Load, unit) * m.H * m.V * m.D * m.A * m.F * m.C
	if m.Worksheet {
		n = math.Round(n*10) / 10
	}
	return quantity.Of(n, unit)
}

// Index gives the lifting index, load / limit. Above 1 the manual asks for a
// change of the work; without a limit (out of reach) it is +Inf.
func Index(load, limit quantity.Mass) float64 {
	if limit <= 0 {
		return math.Inf(1)
	}
	return float64(load) / float64(limit)
}

// ReachOf estimates the reach from the depth of the load toward the body (p.
// 8): 20 cm + W/2 with hands at 25 cm or above, 25 cm + W/2 below; in US units
// 8 in and 10 in, with 10 in as the height.
func ReachOf(depth, height quantity.Length, u LiftUnits) quantity.Length {
	near, far, low := 20*quantity.Centimetre, 25*quantity.Centimetre, 25*quantity.Centimetre
	if u == US {
		near, far, low = 8*quantity.Inch, 10*quantity.Inch, 10*quantity.Inch
	}
	if height < low {
		return far + depth/2
	}
	return near + depth/2
}

// LiftOmits says where the equation does not apply (p. 6), in words for a sheet
// that shows its result. Two of the cases are the rule in a rack room.
const LiftOmits = "the equation does not cover carrying, pushing, one hand, kneeling, unstable loads, slippery floors, heat or cold, " +
	"nor restricted space; between racks it only indicates"

func (l Lift) check(u LiftUnits) error {
	switch {
	case u != Metric && u != US:
		return fmt.Errorf("a lift needs a set of constants; choose Metric or US")
	case l.Coupling == NoCoupling || l.Coupling > Poor:
		return fmt.Errorf("a lift needs a coupling; choose Good, Fair or Poor")
	case l.Spell == NoSpell || l.Spell > Long:
		return fmt.Errorf("a lift needs a spell of up to eight hours; choose Short, Moderate or Long")
	case l.Reach < 0 || l.Travel < 0 || l.Twist < 0 || l.PerMinute < 0:
		return fmt.Errorf("reach, travel, twist and frequency of a lift cannot be negative")
	}
	return nil
}

// waist is the height at which the tables change column: 75 cm or 30 in.
func waist(u LiftUnits) float64 {
	if u == US {
		return 30
	}
	return 75
}

// couplings holds CM below the waist and from it up (table 7, p. 18).
var couplings = [...][2]float64{Good: {1, 1}, Fair: {0.95, 1}, Poor: {0.9, 0.9}}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func twoDecimals(f float64) float64 {
	// 0.925 is stored a little below itself; the nudge rounds it up as print does.
	return math.Floor(f*100+0.5+1e-9) / 100
}
