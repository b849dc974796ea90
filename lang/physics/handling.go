package physics

import (
	"cagenut/lang/quantity"
)

// A Zone is a height of the hands on a standing body.
type Zone uint8

// The zones of the filter in the guidance of the Health and Safety Executive,
// INDG143.
const (
	NoZone Zone = iota
	AboveShoulder
	ShoulderToElbow
	ElbowToKnuckle
	KnuckleToLeg // to the middle of the lower leg
	BelowLeg
)

// ZoneAt gives the zone of a height above the floor, for a body whose shoulder,
// elbow, knuckle and mid lower leg are at 1.4, 1.1, 0.75 and 0.25 m (common
// practice, not part of the guidance).
func ZoneAt(h quantity.Length) Zone {
	switch {
	case h > 1400*quantity.Millimetre:
		return AboveShoulder
	case h > 1100*quantity.Millimetre:
		return ShoulderToElbow
	case h > 750*quantity.Millimetre:
		return ElbowToKnuckle
	case h > 250*quantity.Millimetre:
		return KnuckleToLeg
	}
	return BelowLeg
}

// Filter gives the mass below which the guidance expects no detailed
// assessment, for hands close to the body or at arm's length, for men or women
// (INDG143; the 25, 16, 10/5 and 7/3 kg figures were seen in published pages,
// the rest is from memory, unverified). It is a filter and no legal limit.
func Filter(z Zone, close, women bool) quantity.Mass {
	men := [...][2]int64{AboveShoulder: {10, 5}, ShoulderToElbow: {20, 10}, ElbowToKnuckle: {25, 15}, KnuckleToLeg: {20, 10}, BelowLeg: {10, 5}}
	of := men
	if women {
		of = [...][2]int64{AboveShoulder: {7, 3}, ShoulderToElbow: {13, 7}, ElbowToKnuckle: {16, 10}, KnuckleToLeg: {13, 7}, BelowLeg: {7, 3}}
	}
	if z == NoZone || int(z) >= len(of) {
		return 0
	}
	return quantity.Mass(of[z][b2i(!close)]) * quantity.Kilogram
}

// FilterBetween gives the filter for a lift between two heights: the smaller of
// the two zones' figures and of all between them.
func FilterBetween(from, to quantity.Length, close, women bool) quantity.Mass {
	a, b := ZoneAt(from), ZoneAt(to)
	if a > b {
		a, b = b, a
	}
	least := Filter(a, close, women)
	for z := a + 1; z <= b; z++ {
		least = min(least, Filter(z, close, women))
	}
	return least
}

// Twisted lessens a filter figure for a twist of the body: by 10 % beyond 45°,
// by 20 % beyond 90° (INDG143).
func Twisted(m quantity.Mass, a quantity.Angle) quantity.Mass {
	switch {
	case a > 90*quantity.Degree:
		return m * 80 / 100
	case a > 45*quantity.Degree:
		return m * 90 / 100
	}
	return m
}

// Repeated lessens a filter figure, which is meant for up to 30 lifts an hour:
// by 30 % at one or two lifts a minute, by 50 % from five, by 80 % above twelve
// (INDG143). Between the printed bands the graver one is taken.
func Repeated(m quantity.Mass, perMinute float64) quantity.Mass {
	switch {
	case perMinute > 8:
		return m * 20 / 100
	case perMinute > 2:
		return m * 50 / 100
	case perMinute > 0.5:
		return m * 70 / 100
	}
	return m
}

// Team gives what people can handle together, of what each could alone: two
// thirds of the sum for two, half for three and four (public guidance on team
// handling). More than four are unlikely to work and give 0. EN 1005-2 reckons
// otherwise, so a site may set its own.
func Team(alone quantity.Mass, people int) quantity.Mass {
	switch people {
	case 1:
		return alone
	case 2:
		return alone * 4 / 3
	case 3, 4:
		return alone * quantity.Mass(people) / 2
	}
	return 0
}

// A Crew is what a step that lifts something calls for.
type Crew struct {
	People  int
	Lift    bool // a mechanical lift, under the item before it leaves its latches
	Watcher bool // one more person, hands free, who may say stop
}

// HandlingBand is what one and two people lift between two heights.
type HandlingBand struct {
	Upto     quantity.Length // upper end of the height of the item's centre
	One, Two quantity.Mass
	Watcher  bool // where two lift, a third watches
}

// HandlingBands is a starting point for sites without rules of their own
// (common practice): replace it by the site's handling assessment.
var HandlingBands = []HandlingBand{
	{500 * quantity.Millimetre, 10 * quantity.Kilogram, 20 * quantity.Kilogram, false},
	{1200 * quantity.Millimetre, 16 * quantity.Kilogram, 32 * quantity.Kilogram, false},
	{1600 * quantity.Millimetre, 12 * quantity.Kilogram, 25 * quantity.Kilogram, false},
	{1 << 62, 8 * quantity.Kilogram, 16 * quantity.Kilogram, true},
}

// The masses above which makers' labels often ask for two and for three people,
// and for a lift or four people (from memory, unverified; the first was seen
// in a published notice).
const (
	LabelTwo   = 18 * quantity.Kilogram
	LabelThree = 32 * quantity.Kilogram
	LabelLift  = 55 * quantity.Kilogram
)

// Propose gives the crew for lifting a mass to or from a height of its centre
// above the floor, from [HandlingBands] and the makers' labels, the stricter of
// the two. It is a proposal for a run sheet; who lifts decides.
func Propose(m quantity.Mass, centre quantity.Length) Crew {
	band := HandlingBands[len(HandlingBands)-1]
	for _, b := range HandlingBands {
		if centre <= b.Upto {
			band = b
			break
		}
	}
	switch {
	case m <= band.One && m <= LabelTwo:
		return Crew{People: 1}
	case m <= band.Two && m <= LabelThree:
		return Crew{People: 2, Watcher: band.Watcher}
	}
	return Crew{People: 2, Lift: true, Watcher: m > LabelLift || band.Watcher}
}

// ProposeBetween gives the crew for a lift between two heights: the stricter of
// the two ends.
func ProposeBetween(m quantity.Mass, from, to quantity.Length) Crew {
	a, b := Propose(m, from), Propose(m, to)
	return Crew{People: max(a.People, b.People), Lift: a.Lift || b.Lift, Watcher: a.Watcher || b.Watcher}
}
