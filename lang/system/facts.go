package system

import "cagenut/lang/quantity"

// Names of facts that code asks for; see [System.Confidence].
const (
	FactPitch     = "pitch"
	FactHoles     = "holes"
	FactPanel     = "panel width"
	FactCentres   = "hole centres across"
	FactOpening   = "opening"
	FactAllowance = "panel allowance"
)

var unitFacts = []Fact{
	{Name: FactPitch, Value: quantity.RackUnit, Text: "1 U is 1.75 in exactly", Source: "EIA-310-D; IEC 60297-3-100; DMTF CIM Rack.Height; GNU units retmaunit", Confidence: Published},
	{Name: FactAllowance, Value: fraction(1, 32), Text: "a panel of n U is n times 1.75 in less 1/32 in high, half of it at each edge; IEC tables print 0.8 mm", Source: "EIA-310-D; GNU units retmaunit", Confidence: Published},
}

var universalFacts = []Fact{
	{Name: FactHoles, Text: "three a unit, 6.35, 22.225 and 38.1 mm (1/4, 7/8, 1 1/2 in) above its lower edge and as far below its upper one", Source: "EIA-310-D universal spacing; IEC 60297-3-100", Confidence: Published},
	{Name: "hole pitches", Text: "15.875, 15.875 and 12.7 mm (5/8, 5/8, 1/2 in); the middle of the narrow one is the boundary of two units", Source: "EIA-310-D universal spacing", Confidence: Published},
}

var wideFacts = []Fact{
	{Name: FactHoles, Text: "two a unit, 6.35 and 38.1 mm (1/4, 1 1/2 in) above its lower edge; no middle hole", Source: "EIA-310-D wide spacing", Confidence: Published},
	{Name: "hole pitches", Text: "31.75 and 12.7 mm (1 1/4, 1/2 in); the middle of the narrow one is the boundary of two units", Source: "EIA-310-D wide spacing", Confidence: Published},
}

var nineteenFacts = []Fact{
	{Name: FactPanel, Value: 19 * quantity.Inch, Text: "over all", Source: "EIA-310-D; IEC 60297-3-100", Confidence: Published},
	{Name: FactCentres, Value: fraction(18*16+5, 16), Text: "printed 465.1", Source: "EIA-310-D; IEC 60297-3-100", Confidence: Published},
	{Name: "hole centres tolerance", Value: um(1_600), Text: "either way", Source: "EIA-310-D", Confidence: Recalled},
	{Name: FactOpening, Value: 450 * quantity.Millimetre, Text: "at least", Source: "IEC 60297-3-100", Confidence: Published},
	{Name: FactOpening, Value: fraction(71, 4), Text: "at least; the two standards disagree", Source: "EIA-310-D", Confidence: Published},
	{Name: "widest body", Value: fraction(69, 4), Text: "what passes between any posts with room to spare", Source: "common practice", Confidence: Practice},
	{Name: "post face", Value: fraction(5, 8), Text: "each side", Source: "EIA-310-D", Confidence: Published},
	{Name: "post steel", Value: um(1_900), Text: "at least; 2 mm is usual", Source: "EIA-310-D", Confidence: Published},
	{Name: "square hole", Value: um(9_500), Text: "3/8 in is 9.525", Source: "EIA-310-D", Confidence: Published},
	{Name: "round hole", Value: um(7_100), Text: "7.0 with a tolerance of 0.1 in other publications", Source: "EIA-310-D", Confidence: Published},
	{Name: "panel slot height", Value: um(6_800), Text: "slots of about 10.3 by 6.8", Source: "IEC 60297-3-100", Confidence: Recalled},
	{Name: "depth", Text: "neither depth, nor kind of hole, nor place of the rear posts is standardised", Source: "EIA-310-D", Confidence: Published},
	{Name: "half width", Value: fraction(19, 2), Text: "two abreast, each", Source: "common practice", Confidence: Practice},
}

var twentyThreeFacts = []Fact{
	{Name: FactPanel, Value: 23 * quantity.Inch, Text: "over all", Source: "RS-310-D", Confidence: Published},
	{Name: FactCentres, Value: fraction(22*16+5, 16), Text: "", Source: "telephone practice", Confidence: Recalled},
	{Name: FactOpening, Value: fraction(87, 4), Text: "between the posts", Source: "telephone practice", Confidence: Recalled},
}

var inchFacts = []Fact{
	{Name: FactPitch, Value: quantity.Inch, Text: "holes every inch; places are counted in holes, heights given in U or as lengths", Source: "telephone practice, 1-inch spacing", Confidence: Published},
	{Name: FactHoles, Text: "one an inch; that it stands in the middle of its inch is remembered, not read", Source: "telephone practice", Confidence: Recalled},
	{Name: "meets U", Value: 7 * quantity.Inch, Text: "every 4 U the two spacings meet", Source: "least common multiple of 25.4 and 44.45 mm", Confidence: Derived},
	{Name: FactAllowance, Value: fraction(1, 32), Text: "panels are made to the heights of EIA-310", Source: "telephone practice", Confidence: Recalled},
}

var metricFacts = []Fact{
	{Name: FactPitch, Value: quantity.SystemUnit, Text: "1 SU is 25 mm", Source: "IEC 60917; ETS 300 119", Confidence: Published},
	{Name: FactHoles, Text: "one a unit; that it stands 12.5 mm above the unit's lower edge is remembered, not read", Source: "ETS 300 119-3", Confidence: Recalled},
	{Name: FactPanel, Value: 535 * quantity.Millimetre, Text: "over the posts", Source: "ETS 300 119-3", Confidence: Recalled},
	{Name: FactCentres, Value: 515 * quantity.Millimetre, Text: "", Source: "ETS 300 119-4", Confidence: Recalled},
	{Name: FactOpening, Value: 500 * quantity.Millimetre, Text: "between the posts", Source: "ETS 300 119-3", Confidence: Recalled},
	{Name: "rack height", Value: 2200 * quantity.Millimetre, Text: "covers and feet included", Source: "ETS 300 119-2", Confidence: Recalled},
	{Name: "rack width", Value: 600 * quantity.Millimetre, Text: "also 150, 300 and 900", Source: "ETS 300 119-2", Confidence: Recalled},
	{Name: "rack depth", Value: 300 * quantity.Millimetre, Text: "or 600", Source: "ETS 300 119-2", Confidence: Recalled},
	{Name: "adapters", Text: "IEC 60917-2-4 defines the flanges that hold 25 mm equipment in 19-inch racks", Source: "IEC 60917-2-4", Confidence: Published},
	{Name: "meets U", Value: 22_225 * quantity.Millimetre, Text: "never within a rack", Source: "least common multiple of 25 and 44.45 mm", Confidence: Derived},
	{Name: "meets OU", Value: 1200 * quantity.Millimetre, Text: "48 SU are 25 OU", Source: "least common multiple of 25 and 48 mm", Confidence: Derived},
}

var openFacts = []Fact{
	{Name: FactPitch, Value: quantity.OpenUnit, Text: "1 OU is 48 mm", Source: "Open Rack specification, as quoted", Confidence: Published},
	{Name: FactPanel, Value: 537 * quantity.Millimetre, Text: "equipment; \"21 in\" (533.4) is a name only", Source: "Open Rack specification, as quoted", Confidence: Published},
	{Name: FactOpening, Value: 538 * quantity.Millimetre, Text: "bay; 547 is quoted as well", Source: "no drawing read", Confidence: Recalled},
	{Name: "frame width", Value: 600 * quantity.Millimetre, Text: "over all", Source: "Open Rack specification, as quoted", Confidence: Published},
	{Name: "frame V2", Value: 2210 * quantity.Millimetre, Text: "high: 40 OU, 1400 kg, takes no U equipment", Source: "Open Rack V2, as quoted", Confidence: Published},
	{Name: "frame V3", Value: 2286 * quantity.Millimetre, Text: "high, 600 wide, 1098 deep: 44 OU or 47 U, 1400 kg; parts do not fit V2", Source: "Open Rack V3, as quoted", Confidence: Published},
	{Name: "meets U", Value: 42_672 * quantity.Millimetre, Text: "never within a rack", Source: "least common multiple of 48 and 44.45 mm", Confidence: Derived},
}

var tenFacts = []Fact{
	{Name: FactPanel, Value: 10 * quantity.Inch, Text: "over all", Source: "maker practice", Confidence: Published},
	{Name: FactCentres, Value: fraction(9*16+5, 16), Text: "", Source: "maker practice", Confidence: Recalled},
	{Name: FactOpening, Value: fraction(35, 4), Text: "between the posts", Source: "maker practice", Confidence: Published},
}
