package estate

import (
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

// Equipment is a catalogue entry: a kind of thing that can be mounted.
type Equipment struct {
	Name     string
	Kind     string // plain word: "switch", "server", "ups", ...
	System   *system.System
	Height   Height
	Body     Figure[quantity.Length] // body width
	Depth    Figure[quantity.Length] // behind the mounting face
	Cords    Figure[quantity.Length] // room behind it for connectors and bends
	Front    Figure[quantity.Length] // handles and cords before the mounting face
	Mass     Figure[quantity.Mass]
	Stripped Figure[quantity.Mass] // without the supplies, disks and the like that come out by hand
	Persons  int                   // how many its maker asks for to lift it; 0 where not declared
	Mounting Mounting
	Rails    Figure[Span2] // post spans that its rails reach
	Holes    []Holes       // holes its rails or ears fit
	Air      Air
	Draw     Draw
	Inlets   []Inlet
	Signal   string                   // class of what it handles or gives off: "mic", "radio", "mains", ...
	Voltage  Figure[VoltageRange]     // that its inlets take
	Inrush   Figure[quantity.Current] // peak when it is switched on
	Restart  Restart                  // what it does when its supply returns
	Factor   Figure[float64]          // the attribute "power_factor": real power over apparent power
	Leakage  Figure[quantity.Current] // in the protective conductor of each inlet
	Earth    Earth                    // of its cord: a strip's protective conductor
	Rated    Rating                   // of a UPS: what it can give
	Runtime  Figure[[]physics.RuntimePoint]
	Outlets  []OutletSet // of a strip, fuse panel or transfer switch
	Banks    []Bank
	Class    string // class of inlet air after ASHRAE TC 9.9, such as "A2"
	Share    Slot   // how much of a unit's width it takes: whole unless declared

	Ears       []quantity.Length            // centres of its ears' screws above its lower edge; empty where not declared
	Takes      *system.System               // an adapter holds panels of this system on posts of System
	Forward    Figure[quantity.Length]      // an adapter holds them that far before the posts
	Carries    Figure[quantity.Mass]        // what a shelf or an adapter may carry
	Extension  Figure[quantity.Length]      // how far slides let it out
	Withdraw   Figure[quantity.Length]      // length of the longest module that is drawn out of its rear
	Below      Figure[quantity.Length]      // how far its rails reach below its lower edge
	RailsRated Figure[quantity.Mass]        // what its rails or slides may carry
	Tail       Figure[quantity.Length]      // how far its rails or slides reach behind the rear posts
	Ambient    Figure[quantity.Temperature] // highest of the air around it
	Flow       Figure[quantity.Flow]        // of air that its fans move
	// Room that its own convection needs above and below it.
	GapAbove, GapBelow Figure[quantity.Length]
	Upright            bool    // its maker forbids mounting it upside down
	Battery            Battery // what its cells are, of a UPS or a battery pack

	Source Source
}

// Span2 is a range of lengths, both ends included.
type Span2 struct{ From, To quantity.Length }

// Height is how high equipment is, in modules or as a length.
type Height struct {
	Count  UnitNumber      // how many modules, in thousandths; 0 where a length is declared
	Word   string          // "U", "OU", "SU" or "" for a length
	Length quantity.Length // the nominal height
	At     Span
	State  State
}

// Mounting is how equipment is held.
type Mounting uint8

// The ways of mounting.
const (
	NoMounting Mounting = iota
	Ears                // front ears only
	FixedRails
	Slides
	Shelf  // stands on a shelf
	Centre // ears at mid-depth, for two posts
	ZeroU  // beside the posts
)

// Mountings lists the ways of mounting as the language writes them.
var Mountings = []string{"", "ears", "fixed-rails", "slides", "shelf", "centre", "zero-u"}

// String names the mounting as the language writes it.
func (m Mounting) String() string { return Mountings[m] }

// Air is the way air takes through equipment.
type Air uint8

// The ways of air.
const (
	NoAir Air = iota // not declared
	FrontToRear
	RearToFront
	LeftToRight
	RightToLeft
	BottomToTop
	Still // "none": it moves no air
)

// Airs lists the ways of air as the language writes them.
var Airs = []string{"", "front-to-rear", "rear-to-front", "left-to-right", "right-to-left", "bottom-to-top", "none"}

// String names the way as the language writes it.
func (a Air) String() string { return Airs[a] }

// Draw is the power that equipment takes.
type Draw struct {
	Typical   Figure[quantity.Power]
	Maximum   Figure[quantity.Power]
	Nameplate Figure[quantity.Power]
	Apparent  DrawSet // which of them are apparent powers, written in VA
}

// Inlet is one or more like inlets for supply cords.
type Inlet struct {
	Type  string // coupler, such as "c14"
	Count int
	Needs int // how many must be live for the equipment to run

	Locking Figure[bool] // they hold a cord's socket against being pulled out
}
