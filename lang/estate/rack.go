package estate

import (
	"fmt"
	"strings"

	"cagenut/lang/quantity"
)

// A Rack is a frame standing at a place in a row, with what is in it.
type Rack struct {
	Name     string
	Row      *Row
	Place    int // place in the row, from 1; 0 where not declared
	Frame    *Frame
	Feeds    []*Feed
	Layout   *Layout
	Owner    string
	Seen     Date                         // when somebody last compared it with the record
	Inlet    Figure[quantity.Temperature] // of the air at its fronts, where it differs from the room's supply
	Seals    []string                     // fire seals that its cables pass
	Bond     Bond                         // what its bonding conductor goes to
	Comes    Arrival                      // how it is brought in
	Fixings  Figure[quantity.Mass]        // of a wall frame: what its fixings in that wall bear
	Mounts   []*Mount                     // in the order declared; zero-U pieces included
	Blanks   []*Blank
	Reserves []*Reserve
	Source   Source
}

// Ref gives the name as the language refers to it: rack.hq-a.
func (r *Rack) Ref() string { return "rack." + r.Name }

// Room gives the rack's room, or nil.
func (r *Rack) Room() *Room {
	if r.Row == nil {
		return nil
	}
	return r.Row.Room
}

// Site gives the rack's site, or nil.
func (r *Rack) Site() *Site {
	if room := r.Room(); room != nil {
		return room.Site
	}
	return nil
}

// A Mount is one piece of equipment at a place in a rack.
type Mount struct {
	Name      string
	Rack      *Rack
	Equipment *Equipment
	At        UnitNumber              // smallest unit number it takes; 0 where it has none
	Through   UnitNumber              // the other end where "38-39" is written, else 0
	Raised    Figure[quantity.Length] // height above the lowest unit's lower edge, where at is a length
	Face      Face
	Slot      Slot
	Inverted  bool       // it hangs upside down; beside the posts: its upper end below
	Adapter   *Equipment // what holds it on posts of another system, or nil
	Feeds     []*Feed    // one per inlet; shared between mounts, never changed
	Serial    string
	Asset     string
	Owner     string
	Service   string
	Marking   string      // what is written on it, where that is not its name
	Until     Date        // when it is to be gone: a loan's end, a planned removal
	Seen      Date        // when somebody last saw it in its place
	ZeroU     *ZeroUPlace // set where it hangs beside the posts, else nil
	Source    Source

	Criticality Criticality
	Seals       []string // fire seals that its own cables pass, beside those of its rack and row
	Cords       []Cord   // in the order of its inlets; empty where only feeds are said
	// Slack is how far the fixed cables that end at it let it move; missing where
	// none end there.
	Slack Figure[quantity.Length]
}

// Ref gives the name as the language refers to it: rack.hq-a.core-1.
func (m *Mount) Ref() string {
	if m.Rack == nil {
		return "layout mount " + m.Name
	}
	return m.Rack.Ref() + "." + m.Name
}

// A ZeroUPlace is a place beside the posts.
type ZeroUPlace struct {
	Side   Side
	Plane  Face                    // at the front or the rear posts
	From   Figure[quantity.Length] // its lower end above the lowest unit's lower edge
	Length Figure[quantity.Length]
	Facing StripFacing
}

// StripFacing is where the outlets and breakers of a piece beside the posts look.
type StripFacing uint8

// Where they may look.
const (
	NoFacing     StripFacing = iota // not declared
	FacingDoor                      // out of the rack, to the door of its plane
	FacingInward                    // across the rack, to what is mounted in it
	FacingSide                      // to the side panel
)

// StripFacings lists where they may look, as the language writes it.
var StripFacings = []string{"", "door", "inward", "side"}

// String names it as the language does.
func (f StripFacing) String() string { return StripFacings[f] }

// A Blank closes open units.
type Blank struct {
	Units  UnitRange
	Face   Face
	Rack   *Rack
	Source Source
}

// A Reserve holds units for later.
type Reserve struct {
	Name   string
	Units  UnitRange
	Face   Face // NoFace: both
	Until  Date
	Reason string
	By     string
	Rack   *Rack
	Source Source
}

// Face is a side of a rack that things hang on or look at.
type Face uint8

// The faces.
const (
	NoFace Face = iota
	FrontFace
	RearFace
)

// Faces lists the faces as the language writes them.
var Faces = []string{"", "front", "rear"}

// String names the face as the language writes it.
func (f Face) String() string { return Faces[f] }

// Side is left or right, seen from the front.
type Side uint8

// The sides.
const (
	NoSide Side = iota
	LeftSide
	RightSide
)

// Sides lists the sides as the language writes them.
var Sides = []string{"", "left", "right"}

// String names the side as the language writes it.
func (s Side) String() string { return Sides[s] }

// A Slot is a share of a unit's width: the Part-th of Of equal parts, counted
// from the left as seen from the front. The zero value is the whole width.
type Slot struct{ Part, Of uint8 }

// Whole reports whether the slot is the whole width.
func (s Slot) Whole() bool { return s.Of <= 1 }

// Overlaps reports whether two slots share any width.
func (s Slot) Overlaps(t Slot) bool {
	if s.Whole() || t.Whole() {
		return true
	}
	// The i-th of n parts reaches from (i-1)/n to i/n; compare crosswise.
	sLo, sHi := int(s.Part-1)*int(t.Of), int(s.Part)*int(t.Of)
	tLo, tHi := int(t.Part-1)*int(s.Of), int(t.Part)*int(s.Of)
	return sLo < tHi && tLo < sHi
}

// String names the slot as the language writes it.
func (s Slot) String() string {
	switch {
	case s.Whole():
		return "whole"
	case s == Slot{1, 2}:
		return "left"
	case s == Slot{2, 2}:
		return "right"
	}
	return fmt.Sprintf("%d/%d", s.Part, s.Of)
}

// A UnitNumber is a number on a post, or a count of units, in thousandths of a
// unit: 40.5 is 40500.
type UnitNumber int32

// OneUnit is one unit.
const OneUnit UnitNumber = 1000

// Units gives n whole units.
func Units(n int) UnitNumber { return UnitNumber(n) * OneUnit }

// String prints the number without needless digits: "40", "40.5".
func (n UnitNumber) String() string {
	whole, part := n/OneUnit, n%OneUnit
	if part == 0 {
		return fmt.Sprint(int(whole))
	}
	if part < 0 {
		part = -part
	}
	return strings.TrimRight(fmt.Sprintf("%d.%03d", whole, part), "0")
}
