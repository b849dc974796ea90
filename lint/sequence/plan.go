package sequence

import (
	"sort"
	"time"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// Options say how to plan.
type Options struct {
	// Rules judge the states between before and after; plan rules among them
	// are left out.
	Rules []*lint.Rule
	Today estate.Date
	// From is the moment after which windows may be used. Where it is zero no
	// windows are chosen, and the plan holds steps only.
	From time.Time
	// Recorded says that nothing is moved by hand: the record follows what was
	// found.
	Recorded bool
	// Record is the number of the change record, or "".
	Record string
	// Reason says why the change is made, or is "".
	Reason string
	// Confirmations say when the record was last confirmed as built.
	Confirmations []Confirmation
	// Done are the numbers of steps that a half-done sheet has ticked.
	Done []int
	// Limit bounds the exact search, see rearrange.Problem; 0 for its default.
	Limit int
	// Check judges a site's policies on steps, or is nil.
	Check StepCheck
}

// A StepCheck judges the steps of a plan by rules of the site's own.
type StepCheck func(*Plan) ([]lint.Finding, []lint.Unchecked)

// A Plan is the order in which a change is carried out.
type Plan struct {
	Change *change.Change
	Jobs   []*Job
	// Daytime is work that needs no window: labels, cords laid out, rails in
	// units that are free already.
	Daytime []Step
	// Steps are the work itself, numbered from 1.
	Steps  []Step
	Blocks []Block
	// Windows are the nights in which the blocks are done, in order of time.
	Windows []*Night
	// Frozen names the freezes because of which windows were passed over.
	Frozen []string
	// Left are blocks (by index) that fit into no window, with the reason in
	// Findings.
	Left []int

	// Record lists what changes on paper only, one sentence each.
	Record []string
	// Parked says what is parked where, and why.
	Parked []Parking
	// Refused are jobs that cannot be done, with what would make them possible.
	Refused []Refusal
	// Proposals are other targets that would need no parking.
	Proposals []Proposal
	// Findings are what the plan rules say, sorted; Unchecked what they could
	// not judge.
	Findings  []lint.Finding
	Unchecked []lint.Unchecked
	// States counts the states between that were judged.
	States int

	Moves int // how many times something is taken from a place and brought to another
	Least int // how many are needed at least

	// Confirmations say when the record that the change starts from was last
	// confirmed as built; none where no site asks for it.
	Confirmations []Confirmation

	Contingency float64 // the share added to minutes where they are summed for a clock
	Done        []int   // the steps that a half-done sheet has ticked

	unrest map[int][]lint.Finding // what does not hold where a block ends, by its index

	before, after *estate.Estate
	limits        *lint.Limits
	layouts       []layout // in order of steps; the first is before any
}

// A layout is where everything is from a step on.
type layout struct {
	step  int // number of the step after which it is so, 0 for the start
	racks []*estate.Rack
}

// A Block is a run of steps between two resting states: when it ends nothing
// is parked, in the hands or on one feed, and the work may stop. Where another
// block follows, what is open has to be closed for that.
type Block struct {
	From, To int // Steps[From:To]
	Site     *estate.Site
	People   int  // the most that a step needs
	Lift     bool // whether a step needs a lift
	// Competences are what steps need beyond the crew's own, sorted.
	Competences []string
	Jobs        []*Job
	Forward     quantity.Duration // minutes of all its steps, without contingency
	// Follows says that something which the block before it opened is open
	// still when it begins: a door, a fire seal, units. Both are done in one
	// window.
	Follows bool

	leaves []Undo // what closes the units that stay open when it ends
	lifts  []int  // its steps, by index, that take a lift and are not accepted without
}

// A Parking is something that waits elsewhere for a while.
type Parking struct {
	Job   *Job
	Where string // "rack.s1 front U6-8" or "bench.store-room"
	Live  bool   // it runs there
	Why   string // the loop that it breaks
}

// A Refusal says why jobs cannot be done and what would make them possible.
type Refusal struct {
	Jobs   []*Job
	Loop   []*Job // each must leave before the next can enter
	Why    string
	Proved bool     // every order was looked at
	Mends  []string // what would make it possible, the least effort first
}

// A Proposal is another target for a job, by which a loop disappears.
type Proposal struct {
	Job  *Job
	Text string
}

// A Step is one line of a run sheet.
type Step struct {
	Number int    // from 1; 0 for daytime work
	Do     string // what is done
	Expect string // what shows that it is done
	Job    *Job
	Block  int // index of Plan.Blocks
	Task   Task
	At     Place

	Minutes     quantity.Duration // without contingency
	Count       int               // how often the task is done in it: cords, units
	Undo        string
	UndoMinutes quantity.Duration

	Mass       quantity.Mass // of what is lifted; 0 where nothing is, or where MassUnknown
	MassStated bool
	People     int
	Lift       bool
	Watcher    bool   // one more person, hands free, who may say stop
	Tool       string // what it takes
	Competence string // "" for the crew's own, "electrician", ...
	Cautions   []string
	Tip        *Tip  // how near the rack comes to tipping in it, or nil
	Hold       *Hold // a hold point after the step, or nil

	State State // after the step

	behind  string     // of a step that opens or closes something: what that is
	on      []switched // what is put on which feed in it
	lifted  *estate.Mount
	interim int // units that it blanks for the time being

	// What follows from the window: zero where no windows are chosen.
	Start, LatestStart time.Time
	// BackMinutes and ForwardMinutes are what it takes from the start of this
	// step, it included, to undo its block so far and to finish it, with
	// contingency.
	BackMinutes, ForwardMinutes quantity.Duration
}

// A Place is where a step is done.
type Place struct {
	Rack    string // name; "" where it is outside the racks
	Room    string
	Site    string
	Face    string // "front" or "rear"
	Units   string // "U38-39"
	Counted string // "up" or "down": how the frame's units are numbered
	Middle  quantity.Length
	High    bool // Middle is known: height of the thing's middle above the floor
}

// A State is what is so after a step.
type State struct {
	Out    string   // what is out of its place: "ups-1", or ""
	Off    []string // what is shut down in its place
	Parked []string // what waits elsewhere
	Down   []string // members of groups that are down: "core-1 (core: 1 of 2 up, 1 needed)"
	Open   []string // units opened by the work and not closed yet: "s1 front U3-5"

	// OneFeed is what is on fewer of its feeds than it gets: "store-2 on feed a
	// alone".
	OneFeed string

	Ajar  []string // doors that must stay shut and stand open: "rack.c1"
	Seals []string // fire seals that stand open: "FS-12"

	OpenUnits int // how many units that are

	opens []unitRun // Open, as it is reckoned with
}

// A Hold is a point at which a person decides whether to go on.
type Hold struct {
	Name    string // "H1"
	What    string // "isolation proven"
	Decides string // role
}

// A Night is one occurrence of a window, with what is done in it.
type Night struct {
	Window        *estate.Window
	Number        int // from 1
	Opens, Closes time.Time
	Zone          string
	Blocks        []int // indices of Plan.Blocks
	Usable        quantity.Duration
	Needs         quantity.Duration // with set-up, close-out and contingency
	Turning       []int             // number of the first step of each block from which going back takes longer than going on; 0 for none
	LatestBack    time.Time         // after this there is no way back within the window
	Begin, End    time.Time         // planned, set-up and close-out included
	Breaks        []Pause
}

// A Pause is a planned break of a window.
type Pause struct {
	Before  int // number of the step before which it comes
	Minutes quantity.Duration
	At      time.Time
}

// Clock writes a time of the window's day as the clocks of its site show it:
// with the name of the time where they are changed within the window, since an
// hour may come twice or be missing.
func (n *Night) Clock(t time.Time) string {
	_, opens := n.Opens.Zone()
	if _, closes := n.Closes.Zone(); opens != closes {
		return t.Format("15:04 MST")
	}
	return t.Format("15:04")
}

// Site gives the window's site, or nil.
func (n *Night) Site() *estate.Site {
	if n.Window == nil {
		return nil
	}
	return n.Window.Site
}

// Racks gives the racks as they stand after a step (by number; 0 for before
// any), in the order of the estate. They are what is declared in the end, with
// each thing where it is then.
func (p *Plan) Racks(step int) []*estate.Rack {
	i := sort.Search(len(p.layouts), func(i int) bool { return p.layouts[i].step > step })
	if i == 0 {
		return p.after.Racks
	}
	return p.layouts[i-1].racks
}

// New gives the estate that the plan leads to.
func (p *Plan) New() *estate.Estate { return p.after }

// Minutes gives what the steps that are still to be done take together, without
// contingency.
func (p *Plan) Minutes() quantity.Duration {
	var sum quantity.Duration
	for i := p.Next() - 1; i < len(p.Steps); i++ {
		sum += p.Steps[i].Minutes
	}
	return sum
}

// WithContingency adds the plan's contingency to minutes, rounded up to whole
// minutes.
func (p *Plan) WithContingency(d quantity.Duration) quantity.Duration {
	sum := quantity.Of(d.Minutes()*(1+p.Contingency), quantity.Minute)
	return (sum + quantity.Minute - 1) / quantity.Minute * quantity.Minute
}
