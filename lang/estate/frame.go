package estate

import (
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

// A Frame is a kind of rack.
type Frame struct {
	Name      string
	System    *system.System
	Kind      FrameKind
	Units     int             // modules of height; 0 where only Clear is given
	Clear     quantity.Length // usable height of a frame given by length, else 0
	Counted   Counting
	First     int         // number of the first unit; 1 unless declared
	Unusable  []UnitRange // units that nothing can be mounted in
	Holes     Holes
	PostSpan  Figure[quantity.Length] // front face of front posts to rear face of rear posts
	FrontRoom Figure[quantity.Length] // front posts to closed door
	RearRoom  Figure[quantity.Length] // rear posts to closed door
	Opening   Figure[quantity.Length]
	Width     Figure[quantity.Length]
	Depth     Figure[quantity.Length]
	Height    Figure[quantity.Length]
	Base      Figure[quantity.Length] // lower edge of the lowest unit above the floor
	Mass      Figure[quantity.Mass]
	Rated     Figure[quantity.Mass] // standing still
	Rolling   Figure[quantity.Mass]
	Moment    Figure[quantity.Torque] // what one mount may pull on its posts with
	Standing  Standing
	FeetWidth Figure[quantity.Length] // between the outer feet, side by side
	FeetDepth Figure[quantity.Length] // between the outer feet, front to rear
	Reach     Figure[quantity.Length] // how far a stabiliser stands out before the front feet
	Crew      int                     // people who move a road case; 0 where not declared
	Crate     Crate                   // what it comes in
	Fixed     Fixing
	Shut      string // why its doors must stay shut; "" where they need not
	Blanking  bool   // open units need a blank; declared, or implied by a cabinet in a cold row

	Fan          bool            // a fan of its own draws the air through it
	DoorOpen     Figure[float64] // share of its doors that lets air through
	SeismicZone  Figure[int]
	Obstructions []*Obstruction
	Source       Source
}

// An Obstruction is a strut, fan or crossbar inside a frame, as a box. Heights
// are above the lowest unit's lower edge, depths behind the front face of the
// front posts.
type Obstruction struct {
	Name      string
	From, To  quantity.Length // heights
	Near, Far quantity.Length // depths
	Side      Side            // where it stands; NoSide: across the whole width
	Reach     quantity.Length // how far it reaches in from that side of the opening
	Source    Source
}

// UnitRange is a run of units in the frame's own counting, both ends included.
type UnitRange struct{ From, To UnitNumber }

// FrameKind is how a frame is built.
type FrameKind uint8

// The kinds of frame.
const (
	NoFrameKind FrameKind = iota
	Cabinet
	FourPost
	TwoPost
	WallFrame
	RoadCase
)

// FrameKinds lists the kinds as the language writes them.
var FrameKinds = []string{"", "cabinet", "four-post", "two-post", "wall", "case"}

// String names the kind as the language writes it.
func (k FrameKind) String() string { return FrameKinds[k] }

// Counting is the direction in which units are numbered.
type Counting uint8

// The directions.
const (
	NotCounted  Counting = iota
	CountedUp            // the lowest unit has the first number
	CountedDown          // the highest unit has it
)

// Countings lists the directions as the language writes them.
var Countings = []string{"", "up", "down"}

// String names the direction as the language writes it.
func (c Counting) String() string { return Countings[c] }

// Holes is the kind of hole in a frame's posts.
type Holes uint8

// The kinds of hole.
const (
	NoHoles Holes = iota
	SquareHoles
	RoundHoles
	Tapped10_32
	Tapped12_24
	TappedM5
	TappedM6
)

// HoleKinds lists the kinds as the language writes them.
var HoleKinds = []string{"", "square", "round", "10-32", "12-24", "m5", "m6"}

// String names the kind as the language writes it.
func (h Holes) String() string { return HoleKinds[h] }

// Standing is what a frame stands on.
type Standing uint8

// What a frame may stand on.
const (
	NoStanding Standing = iota
	Feet
	Castors
)

// Standings lists what a frame may stand on, as the language writes it.
var Standings = []string{"", "feet", "castors"}

// String names it as the language does.
func (s Standing) String() string { return Standings[s] }

// Fixing is what keeps a frame from tipping.
type Fixing uint8

// The fixings.
const (
	NoFixing Fixing = iota // not declared
	Unfixed                // "none"
	Anchored
	Stabilised // a stabiliser that is pulled out
)

// Fixings lists the fixings as the language writes them.
var Fixings = []string{"", "none", "anchored", "stabiliser"}

// String names the fixing as the language writes it.
func (f Fixing) String() string { return Fixings[f] }
