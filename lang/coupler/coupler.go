// Package coupler knows which plugs go into which outlets, for the couplers of
// open standards: IEC 60320, IEC 60309, NEMA WD 6 and a few national ones.
//
// A name says which half is meant, as the standards do where they can: in IEC
// 60320 the odd number is the connector on a cord or the outlet of a strip, and
// the even number one higher is the inlet or plug that it takes. Where a
// standard has one name for both halves, "-p" is the plug and "-r" the
// receptacle: "5-15-p" goes into "5-15-r".
package coupler

import (
	"slices"
	"strings"

	"cagenut/lang/quantity"
)

// A Coupler is a pair of halves that belong together.
type Coupler struct {
	Female   string           // connector, outlet or receptacle
	Male     string           // plug or inlet
	Takes    []string         // other male halves that go into the female one
	Rated    quantity.Current // by IEC or the national standard
	American quantity.Current // the most that North American listings give; 0 where the same
	Source   string
}

const a = quantity.Ampere

// All lists the known couplers. Ratings of the hot types and of IEC 60309 and
// NEMA are from memory, unverified; which half goes into which is printed in
// many tables.
var All = []Coupler{
	{Female: "c5", Male: "c6", Rated: 2500 * quantity.Milliampere, Source: "IEC 60320"},
	{Female: "c7", Male: "c8", Rated: 2500 * quantity.Milliampere, Source: "IEC 60320"},
	{Female: "c13", Male: "c14", Rated: 10 * a, American: 15 * a, Source: "IEC 60320, 70 °C"},
	// The hot connector goes into the cold inlet; the cold one is kept out of
	// the hot inlet by a ridge.
	{Female: "c15", Male: "c16", Takes: []string{"c14"}, Rated: 10 * a, American: 15 * a, Source: "IEC 60320, 120 °C"},
	{Female: "c19", Male: "c20", Rated: 16 * a, American: 20 * a, Source: "IEC 60320, 70 °C"},
	{Female: "c21", Male: "c22", Takes: []string{"c20"}, Rated: 16 * a, American: 20 * a, Source: "IEC 60320, 155 °C"},
	{Female: "60309-16-3-r", Male: "60309-16-3-p", Rated: 16 * a, Source: "IEC 60309, blue, 230 V"},
	{Female: "60309-32-3-r", Male: "60309-32-3-p", Rated: 32 * a, Source: "IEC 60309, blue, 230 V"},
	{Female: "60309-16-5-r", Male: "60309-16-5-p", Rated: 16 * a, Source: "IEC 60309, red, 400 V"},
	{Female: "60309-32-5-r", Male: "60309-32-5-p", Rated: 32 * a, Source: "IEC 60309, red, 400 V"},
	{Female: "60309-63-5-r", Male: "60309-63-5-p", Rated: 63 * a, Source: "IEC 60309, red, 400 V"},
	{Female: "5-15-r", Male: "5-15-p", Rated: 15 * a, Source: "NEMA WD 6, 125 V"},
	{Female: "5-20-r", Male: "5-20-p", Takes: []string{"5-15-p"}, Rated: 20 * a, Source: "NEMA WD 6, 125 V"},
	{Female: "6-20-r", Male: "6-20-p", Rated: 20 * a, Source: "NEMA WD 6, 250 V"},
	{Female: "l5-30-r", Male: "l5-30-p", Rated: 30 * a, Source: "NEMA WD 6, 125 V"},
	{Female: "l6-20-r", Male: "l6-20-p", Rated: 20 * a, Source: "NEMA WD 6, 250 V"},
	{Female: "l6-30-r", Male: "l6-30-p", Rated: 30 * a, Source: "NEMA WD 6, 250 V"},
	{Female: "l15-30-r", Male: "l15-30-p", Rated: 30 * a, Source: "NEMA WD 6, three phases 250 V"},
	{Female: "l21-30-r", Male: "l21-30-p", Rated: 30 * a, Source: "NEMA WD 6, three phases 120/208 V"},
	{Female: "bs1363-r", Male: "bs1363-p", Rated: 13 * a, Source: "BS 1363"},
	{Female: "cee7-3", Male: "cee7-4", Takes: []string{"cee7-7"}, Rated: 16 * a, Source: "CEE 7"},
	{Female: "cee7-5", Male: "cee7-6", Takes: []string{"cee7-7"}, Rated: 16 * a, Source: "CEE 7"},
}

// Known reports whether a name is one of the halves listed.
func Known(name string) bool { return find(name) != nil }

// Mates reports whether the male half goes into the female one. It is known
// only where both halves are.
func Mates(female, male string) (ok, known bool) {
	f, m := find(female), find(male)
	if f == nil || m == nil {
		return false, false
	}
	male = strings.ToLower(male)
	return strings.EqualFold(f.Female, female) && (f.Male == male || slices.Contains(f.Takes, male)), true
}

// Partner gives the half that belongs to a half, or "".
func Partner(name string) string {
	c := find(name)
	switch {
	case c == nil:
		return ""
	case strings.EqualFold(c.Female, name):
		return c.Male
	case strings.EqualFold(c.Male, name):
		return c.Female
	}
	// A plug such as cee7-7 that goes into several outlets.
	return c.Female
}

// Rating gives the current that a half may carry, and the highest that North
// American listings give for it.
func Rating(name string) (rated, american quantity.Current, ok bool) {
	c := find(name)
	if c == nil {
		return 0, 0, false
	}
	return c.Rated, max(c.Rated, c.American), true
}

func find(name string) *Coupler {
	name = strings.ToLower(name)
	for i := range All {
		if c := &All[i]; c.Female == name || c.Male == name {
			return c
		}
	}
	for i := range All {
		if c := &All[i]; slices.Contains(c.Takes, name) {
			return c
		}
	}
	return nil
}
