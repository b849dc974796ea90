package estate

import (
	"cagenut/lang/quantity"
)

// An Estate is everything declared under one estate.hcl. Its slices are in the
// order of file path and place in the file, whatever order the files were read
// in.
type Estate struct {
	Name     string
	Language int
	Rules    string   // rule set, such as "2026.1"
	Lengths  string   // how lengths are printed: "mm" or "in"
	Skip     []string // path patterns that are not read
	Policies []string // path patterns of shared policies
	Source   Source

	Givens       []*Given
	Sites        []*Site
	Rooms        []*Room
	Rows         []*Row
	Frames       []*Frame
	Equipment    []*Equipment
	Feeds        []*Feed
	PowerSources []*PowerSource
	Breakers     []*Breaker
	Bars         []*Bar
	Routes       []*Route
	Racks        []*Rack
	Layouts      []*Layout
	Groups       []*Group
	Sequences    []*Sequence
	Windows      []*Window
	Freezes      []*Freeze
	Paces        []*Pace
	Benches      []*Bench
	Rulings      Rulings

	// Unresolved lists the references whose target does not exist.
	Unresolved []Unresolved
	// Broken lists the files that could not be read whole, sorted. What they
	// would have declared may be missing from the model.
	Broken []string
}

// An Unresolved reference names something that is declared nowhere.
type Unresolved struct {
	At   Range
	Kind string // what was looked for: "frame", "equipment", "mount", ...
	Name string // as written: "frame.cab-24"
	Near string // the nearest known name, written the same way, or ""
	From string // the thing that refers, such as "rack.hq-a"
}

// A Given is a named figure, used as given.NAME.
type Given struct {
	Name   string
	Text   string // the value as written
	Source Source
}

// A Site is a place with an address, a calendar and habits of its own.
type Site struct {
	Name        string
	Zone        string // IANA time zone
	Altitude    Figure[quantity.Length]
	SeismicZone Figure[int]               // GR-63 zone, 0 to 4
	Continuous  Figure[float64]           // share of a rating that lasting load may take
	Heat        string                    // basis of heat: "typical" (default) or "maximum"
	Shaking     Figure[float64]           // SDS of ASCE 7 in g, the attribute "sds"
	Importance  Figure[float64]           // Ip of ASCE 7
	Load        string                    // basis of feed load: "maximum" (default), "nameplate" or "typical"
	Notice      int                       // days between the notice of a change and its window; 0 where none is asked for
	Record      bool                      // every change needs a record number
	Reason      bool                      // every change needs a reason in words
	Mobile      bool                      // it is under way with all that stands in it, as a ship is
	Bonding     bool                      // the attribute "bonding_record": the bond of every rack is recorded
	AsBuilt     string                    // pattern of the tags that confirm the record as built; "" where there are none
	Runtime     Figure[quantity.Duration] // that a UPS must have at the load of a failure
	Source      Source
}

// A Room holds rows of racks.
type Room struct {
	Name      string
	Site      *Site
	HeatLimit Figure[quantity.Power]
	FloorLoad Figure[quantity.Pressure]
	SupplyAir Figure[quantity.Temperature]
	ReturnAir Figure[quantity.Temperature] // behind the racks
	PointLoad Figure[quantity.Force]       // on one foot
	TileLoad  Figure[quantity.Force]       // on one tile of a raised floor
	Storey    Figure[float64]              // height of the floor as a share of the building's
	Height    Figure[quantity.Length]      // clear, from the floor to whatever hangs
	Overhead  bool                         // cables come from above
	ITRoom    bool                         // it is an information technology equipment room after NFPA 70, article 645
	Shut      string                       // why its door must stay shut; "" where it need not
	Routes    []*Route                     // ways into it, each of its own
	Source    Source
}

// A Row is a line of racks with one front direction.
type Row struct {
	Name   string
	Room   *Room
	Front  Aisle
	Across *Row // whose fronts look at this row's fronts, or nil
	// How wide the aisles are at their narrowest, with doors open.
	FrontAisle, RearAisle Figure[quantity.Length]
	Seals                 []string // fire seals that the cables of its racks pass
	Source                Source
}

// Aisle is the air that a face looks at.
type Aisle uint8

// The aisles.
const (
	NoAisle Aisle = iota
	ColdAisle
	HotAisle
	MixedAisle // fronts look at no aisle in particular
)

var aisles = [...]string{"", "cold", "hot", "mixed"}

// String names the aisle as the language writes it.
func (a Aisle) String() string { return aisles[a] }

// A Feed is a supply that reaches racks.
type Feed struct {
	Name    string
	Room    *Room
	Origin  string // the attribute "source": feeds with the same one are not independent
	Voltage Figure[quantity.Voltage]
	Phases  int
	Rated   Figure[quantity.Current]
	Breaker *Breaker // its protective device, or nil
	Outlet  string   // coupler that it ends in at the rack, or ""
	Lines   string   // of three phases that one phase hangs between, as of a [Bank], or ""
	// Residual is the rated residual operating current of its residual current
	// device, where it has one of its own.
	Residual Figure[quantity.Current]
	Earth    Earth // its protective conductor
	Source   Source
}

// A Group is a set of mounts of which some must stay up.
type Group struct {
	Name   string
	Of     []*Mount
	Up     int
	Apart  []string // what the members must not share: "rack", "row", "room", "strip", "feed", "breaker", "source"
	Source Source
}

// A Layout is a set of mounts, blanks and reserves that racks share. Racks
// hold their own copies; a layout itself is placed nowhere.
type Layout struct {
	Name     string
	Mounts   []*Mount
	Blanks   []*Blank
	Reserves []*Reserve
	Source   Source
}

// A Window is a time in which steps may be done, week by week.
type Window struct {
	Name   string
	Site   *Site
	Days   []string // "mon" to "sun": the days on which it opens
	Opens  Clock
	Closes Clock // at or before Opens: on the next day
	Margin quantity.Duration
	People int
	Lift   bool
	// What is known of the lift: the mass that it carries, how high its platform
	// rises above the floor, how far forward of its feet it holds a load, and its
	// own mass.
	LiftRated  Figure[quantity.Mass]
	LiftHeight Figure[quantity.Length]
	LiftReach  Figure[quantity.Length]
	LiftMass   Figure[quantity.Mass]
	// Competences are what those who are there may do beyond the crew's own:
	// some of [Competences], or NoCompetence alone; none where it is not said.
	Competences []string
	Source      Source
}

// Competences lists what a window may declare and a step may call for, as the
// language writes it.
var Competences = []string{NoCompetence, "electrician", FireStopper}

// FireStopper is the competence of whoever re-makes fire seals.
const FireStopper = "fire-stopper"

// NoCompetence says of a window that nobody is there who may do more than the
// crew.
const NoCompetence = "none"

// Clock is a time of day in minutes from midnight.
type Clock int16

// A Freeze is a run of days in which nothing is changed, both ends included.
type Freeze struct {
	Name     string
	Site     *Site
	From, To Date
	Reason   string
	Source   Source
}

// A Pace holds how long tasks take, by task name.
type Pace struct {
	Minutes     map[string]quantity.Duration
	Contingency Figure[float64]
	Source      Source
}

// A Bench is a place where something may be parked.
type Bench struct {
	Name    string
	Room    *Room
	Units   int
	Rated   Figure[quantity.Mass]
	Powered bool
	Source  Source
}

// Rulings are what the site says about rules.
type Rulings struct {
	Policies    []*Policy
	Adjustments []*Adjustment
	Waivers     []*Waiver
	Trials      []*Trial
}

// A Trial is a small estate on which a policy is tried.
type Trial struct {
	Policy string   // name of the policy
	Text   string   // the estate, in the language
	Finds  []string // the things that the policy must find fault with: "rack.a.m"
	Unsure []string // those that it must leave unchecked
	On     Date     // the day it is judged on; zero for any
	Source Source
}

// An Expr is an expression of the language, kept as text for the compiler of
// policies.
type Expr struct {
	Text string
	At   Range
}

// A Policy is a rule of the site.
type Policy struct {
	Name    string
	Each    string // what it is judged on: "mount", "rack", ...
	Where   Expr   // which of them; empty for all
	Require Expr
	Say     Expr // a template
	Level   string
	Reason  string
	Cites   string // the attribute "source"
	Within  []Scope
	Source  Source
}

// An Adjustment changes limits or level of a built-in rule.
type Adjustment struct {
	Rule   string
	Limits []LimitText
	Level  string // "error", "warning", "note", "off" or ""
	Within []Scope
	Reason string
	Source Source
}

// A LimitText is one adjusted limit, as written.
type LimitText struct {
	Name string // "limit", or the name of one of several limits
	Text string
	At   Range
}

// A Scope is a thing that an adjustment or policy is confined to, such as
// room.hq.
type Scope struct {
	Kind string // "site", "room", "row", "rack", "frame", "equipment" or "kind"
	Name string
	At   Range
}

// A Waiver accepts what a rule finds on one thing.
type Waiver struct {
	Rule   string
	On     string // the thing, as findings name it: "rack.hq-a.store-1"
	OnAt   Range
	Until  Date // the last day on which it holds; zero is a mistake
	Reason string
	By     string
	Source Source
}
