package system

import (
	"slices"

	"cagenut/lang/quantity"
)

// fraction gives num/den inches, which must be whole nanometres; every 64th of
// an inch is.
func fraction(num, den quantity.Length) quantity.Length {
	l := num * quantity.Inch
	if l%den != 0 {
		panic("system: a fraction of an inch that is no whole number of nanometres")
	}
	return l / den
}

// um gives micrometres, for metric figures with three decimals.
func um(n int64) quantity.Length { return quantity.Length(n) * quantity.Micrometre }

// The two hole patterns of the inch systems, above a unit's lower edge
// (EIA-310-D, quoted in IEC 60297-3-100).
var (
	universal = []quantity.Length{fraction(1, 4), fraction(7, 8), fraction(3, 2)}
	wide      = []quantity.Length{fraction(1, 4), fraction(3, 2)}
)

// The systems.
var (
	nineteen = &System{
		Name: "19in", Title: "19-inch racks with the universal hole pattern", Word: "U",
		Pitch: quantity.RackUnit, Offsets: universal,
		Panel: 19 * quantity.Inch, Centres: fraction(18*16+5, 16),
		Openings: nineteenOpenings, Body: fraction(69, 4), Allowance: fraction(1, 32),
		Facts: slices.Concat(unitFacts, universalFacts, nineteenFacts),
	}
	nineteenWide = &System{
		Name: "19in-wide", Title: "19-inch racks with the older wide pattern, without middle holes", Word: "U",
		Pitch: quantity.RackUnit, Offsets: wide,
		Panel: 19 * quantity.Inch, Centres: fraction(18*16+5, 16),
		Openings: nineteenOpenings, Body: fraction(69, 4), Allowance: fraction(1, 32),
		Facts: slices.Concat(unitFacts, wideFacts, nineteenFacts),
	}
	twentyThree = &System{
		Name: "23in", Title: "23-inch racks with the hole pattern of 19-inch ones", Word: "U",
		Pitch: quantity.RackUnit, Offsets: universal,
		Panel: 23 * quantity.Inch, Centres: fraction(22*16+5, 16),
		Openings: twentyThreeOpenings, Allowance: fraction(1, 32),
		Facts: slices.Concat(unitFacts, universalFacts, twentyThreeFacts),
	}
	twentyThreeInch = &System{
		Name: "23in-1inch", Title: "23-inch racks with holes every inch, of older telephone practice", Word: "hole",
		Pitch: quantity.Inch, Offsets: []quantity.Length{fraction(1, 2)},
		Panel: 23 * quantity.Inch, Centres: fraction(22*16+5, 16),
		Openings: twentyThreeOpenings, Allowance: fraction(1, 32),
		Facts: slices.Concat(inchFacts, twentyThreeFacts),
	}
	metric = &System{
		Name: "25mm", Title: "25 mm practice (ETSI)", Word: "SU",
		Pitch: quantity.SystemUnit, Offsets: []quantity.Length{um(12_500)},
		Panel: 535 * quantity.Millimetre, Centres: 515 * quantity.Millimetre,
		Openings: []Opening{{Least: 500 * quantity.Millimetre, By: "ETS 300 119-3", Confidence: Recalled}},
		Facts:    metricFacts,
	}
	open = &System{
		Name: "open-rack", Title: "Open Rack", Word: "OU",
		Pitch:    quantity.OpenUnit,
		Panel:    537 * quantity.Millimetre,
		Openings: []Opening{{Least: 538 * quantity.Millimetre, By: "Open Rack, bay as quoted", Confidence: Recalled}},
		Facts:    openFacts,
	}
	ten = &System{
		Name: "10in", Title: "10-inch small racks with the hole pattern of 19-inch ones", Word: "U",
		Pitch: quantity.RackUnit, Offsets: universal,
		Panel: 10 * quantity.Inch, Centres: fraction(9*16+5, 16),
		Openings:  []Opening{{Least: fraction(35, 4), By: "maker practice, 8.75 in", Confidence: Published}},
		Allowance: fraction(1, 32),
		Facts:     slices.Concat(unitFacts, universalFacts, tenFacts),
	}
)

var all = []*System{nineteen, nineteenWide, twentyThree, twentyThreeInch, metric, open, ten}

// All lists the systems, the commonest first.
func All() []*System { return slices.Clone(all) }

// Names lists the systems' names in the order of [All].
func Names() []string {
	names := make([]string, len(all))
	for i, s := range all {
		names[i] = s.Name
	}
	return names
}

// ByName gives the system of that name.
func ByName(name string) (*System, bool) {
	for _, s := range all {
		if s.Name == name {
			return s, true
		}
	}
	return nil, false
}

var nineteenOpenings = []Opening{
	{Least: 450 * quantity.Millimetre, By: "IEC 60297-3-100", Confidence: Published},
	{Least: fraction(71, 4), By: "EIA-310-D", Confidence: Published},
}

var twentyThreeOpenings = []Opening{
	{Least: fraction(87, 4), By: "telephone practice", Confidence: Recalled},
}
