package system

import (
	"fmt"

	"cagenut/lang/quantity"
)

// A System is a way of building racks. Heights are counted from the lower edge
// of a frame's lowest unit, widths are over all.
//
// A figure that no known publication gives is 0, and has no entry in Facts.
type System struct {
	Name  string // as the language writes it: "19in"
	Title string // in words, for people
	Word  string // what its unit is called: "U", "OU", "SU" or "hole"
	Pitch quantity.Length

	// Offsets are the centres of the holes in one unit of a post, above the
	// unit's lower edge and rising. Empty where posts have no holes that a
	// published figure places.
	Offsets []quantity.Length

	Panel     quantity.Length // width of a panel
	Centres   quantity.Length // between the hole centres of the two posts, across
	Openings  []Opening       // what standards ask for between the posts, narrowest first
	Body      quantity.Length // widest body that practice allows between the posts, or 0
	Allowance quantity.Length // a panel is lower than its nominal height by this

	Facts []Fact
}

// An Opening is the least clear width between the posts that a standard asks
// for. What is wider than one standard's figure may still suit another's.
type Opening struct {
	Least      quantity.Length
	By         string // the standard
	Confidence Confidence
}

// A Fact is one figure of a system with where it comes from.
type Fact struct {
	Name       string
	Value      quantity.Length // 0 where the fact is no length
	Text       string          // what the value means, or the fact in words
	Source     string
	Confidence Confidence
}

// Confidence is how far a figure can be relied on. Only figures of [Derived]
// and better may decide anything.
type Confidence uint8

// The confidences, least first.
const (
	NoConfidence Confidence = iota
	Recalled                // from memory, unverified
	Practice                // common practice, no published source
	Derived                 // follows by arithmetic from published figures
	Published               // read in a publication that quotes the standard
)

var confidences = [...]string{"", "from memory, unverified", "common practice", "derived", "published"}

// String puts the confidence in words.
func (c Confidence) String() string { return confidences[c] }

// Decides reports whether a figure of this confidence may decide.
func (c Confidence) Decides() bool { return c >= Derived }

// Confidence gives how far the named fact can be relied on, or NoConfidence
// where the system has no such fact.
func (s *System) Confidence(fact string) Confidence {
	for i := range s.Facts {
		if s.Facts[i].Name == fact {
			return s.Facts[i].Confidence
		}
	}
	return NoConfidence
}

// PanelHeight gives the exact height of a panel of n units.
func (s *System) PanelHeight(n int) quantity.Length {
	return s.PanelOf(quantity.Length(n) * s.Pitch)
}

// PanelOf gives the height of a panel whose nominal height is a length, such
// as the 66.675 mm of one and a half U.
func (s *System) PanelOf(nominal quantity.Length) quantity.Length {
	return max(nominal-s.Allowance, 0)
}

// Modules gives how many units a panel of that height needs. Give the height
// of the panel, not its nominal height: nine U (399.26 mm) fill 16 units of
// 25 mm, though nine times 44.45 mm would seem to need 17.
func (s *System) Modules(panel quantity.Length) int {
	return int((panel + s.Pitch - 1) / s.Pitch)
}

// Holes gives the centres of the holes from one height to another, both
// included, rising. The lowest unit starts at height 0; heights below it
// continue the pattern downwards.
func (s *System) Holes(from, to quantity.Length) []quantity.Length {
	if len(s.Offsets) == 0 || from > to {
		return nil
	}
	var out []quantity.Length
	for n := floor(from, s.Pitch); ; n++ {
		for _, offset := range s.Offsets {
			at := quantity.Length(n)*s.Pitch + offset
			if at > to {
				return out
			}
			if at >= from {
				out = append(out, at)
			}
		}
	}
}

// HoleNear gives the hole centre nearest to a height, the lower one of two
// that are as near. It is false where the system places no holes.
func (s *System) HoleNear(at quantity.Length) (quantity.Length, bool) {
	var best quantity.Length
	found := false
	for _, h := range s.Holes(at-s.Pitch, at+s.Pitch) {
		if !found || quantity.Abs(h-at) < quantity.Abs(best-at) {
			best, found = h, true
		}
	}
	return best, found
}

// HoleName names the hole at a height the way it is counted on a post: unit,
// counted from 0 at the bottom, and place in the unit from 1 at its lower
// edge. It is false where no hole is exactly there.
func (s *System) HoleName(at quantity.Length) (unit, place int, ok bool) {
	n := floor(at, s.Pitch)
	for i, offset := range s.Offsets {
		if quantity.Length(n)*s.Pitch+offset == at {
			return n, i + 1, true
		}
	}
	return n, 0, false
}

// Label prints a unit number with the system's word: "U38", "OU3", "hole 7".
func (s *System) Label(number string) string {
	if s.Word == "hole" {
		return "hole " + number
	}
	return s.Word + number
}

// Count prints how many units something takes: "2U", "3 OU", "7 holes".
func (s *System) Count(number string) string {
	switch s.Word {
	case "U":
		return number + "U"
	case "hole":
		if number == "1" {
			return "1 hole"
		}
		return number + " holes"
	}
	return fmt.Sprintf("%s %s", number, s.Word)
}

// LeastOpening gives the narrowest opening that a standard of the system
// allows: what is no wider fits every frame made to any of them. It is false
// where no standard's figure is known.
func (s *System) LeastOpening() (Opening, bool) {
	if len(s.Openings) == 0 {
		return Opening{}, false
	}
	return s.Openings[0], true
}

func floor(a, b quantity.Length) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return int(q)
}

// SamePanels reports whether two systems take the same panels, whatever their
// holes: 19in and 19in-wide do, 19in and 23in do not.
func (s *System) SamePanels(o *System) bool { return s.Panel == o.Panel && s.Centres == o.Centres }
