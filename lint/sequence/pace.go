package sequence

import (
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// A Task is a kind of step, as a pace names it.
type Task string

// The tasks of a run sheet.
const (
	WalkUp      Task = "walk_up"
	Verify      Task = "verify"
	LabelCord   Task = "label_cord"
	LabelThing  Task = "label_thing"
	LayCord     Task = "lay_cord"
	ReadCord    Task = "read_cord"
	HandOver    Task = "hand_over"
	CordsOff    Task = "cord_off"
	CordsOut    Task = "cord_out"
	PowerOn     Task = "power_on"
	DataOn      Task = "data_on"
	Service     Task = "service_check"
	Withdraw    Task = "withdraw"
	WithdrawBig Task = "withdraw_heavy"
	RailsOut    Task = "rails_out"
	FitRails    Task = "fit_rails"
	FitSlides   Task = "fit_slides"
	Insert      Task = "insert"
	InsertTall  Task = "insert_tall"
	InsertBig   Task = "insert_heavy"
	Carry       Task = "carry"
	FitBlank    Task = "fit_blank"
	OpenBlank   Task = "take_blank"
	Shift       Task = "shift"
	StripOut    Task = "strip_out"
	StripIn     Task = "strip_in"
	StandRack   Task = "stand_rack"
	RemoveRack  Task = "remove_rack"
	ShiftRack   Task = "move_rack"
	ProveFeed   Task = "prove_feed"
	ReleaseFeed Task = "release_feed"
	LayBond     Task = "lay_bond"
	CloseOut    Task = "close_out"
	Break       Task = "break"
	Proof       Task = "prove_off"
	OpenDoor    Task = "open_door"
	ShutDoor    Task = "shut_door"
	OpenSeal    Task = "open_seal"
	RemakeSeal  Task = "remake_seal"
)

// A Norm is how long a task takes unless a site's pace says otherwise.
type Norm struct {
	Task    Task
	Minutes float64
	Doc     string
}

// Norms are the minutes of all tasks (common practice: replace them by what
// signed sheets say).
var Norms = []Norm{
	{WalkUp, 10, "walk up, read out the labels, photographs before"},
	{Verify, 2, "read label and serial of one thing aloud"},
	{LabelCord, 1.5, "label one cord at both ends, labels prepared"},
	{LabelThing, 2, "put a new label on one thing"},
	{LayCord, 4, "lay out one new cord and tie it off"},
	{ReadCord, 2, "read the length of one cord and measure its way"},
	{HandOver, 15, "hand over a service and shut the thing down in order"},
	{Proof, 2, "prove that one thing is off"},
	{CordsOff, 0.7, "take one cord off"},
	{CordsOut, 2, "take one cord out of its rack, for good"},
	{PowerOn, 2, "put one supply cord on and check it"},
	{DataOn, 2, "put one data cord on and dress it"},
	{Service, 15, "start and check the service"},
	{Withdraw, 5, "take one light thing out"},
	{WithdrawBig, 15, "take one heavy thing out with a lift"},
	{RailsOut, 5, "take one pair of rails out"},
	{FitRails, 8, "fit one pair of fixed rails"},
	{FitSlides, 12, "fit one pair of slides"},
	{Insert, 6, "mount one thing of 1U"},
	{InsertTall, 10, "mount one thing of 2U or more"},
	{InsertBig, 20, "mount one heavy thing with a lift"},
	{Carry, 5, "carry one thing to another rack, a bench or the store"},
	{Shift, 4, "shift one light thing by less than its own height, held by hand"},
	{FitBlank, 1, "fit blanks over one unit"},
	{OpenBlank, 1, "take blanks off one unit"},
	{StripOut, 30, "take one strip beside the posts out"},
	{StripIn, 45, "fit one strip beside the posts"},
	{StandRack, 90, "stand, level and fix one rack"},
	{RemoveRack, 60, "free one empty rack and take it away"},
	{ShiftRack, 150, "bring one empty rack to another place, or change its frame"},
	{ProveFeed, 15, "prove one new feed at the rack"},
	{ReleaseFeed, 15, "have one feed isolated after its last load"},
	{LayBond, 45, "lay and measure one bonding conductor from a rack to its bar"},
	{OpenDoor, 2, "open one door that must stay shut, with leave"},
	{ShutDoor, 5, "clean the gasket of one such door, shut it, and prove it shut"},
	{OpenSeal, 5, "open one fire seal, with leave"},
	{RemakeSeal, 20, "re-make one fire seal, label and photograph it"},
	{Break, 15, "the planned break after four hours of a window"},
	{CloseOut, 10, "tools counted, doors shut, photographs after"},
}

// A clockwork says how long tasks take at one estate.
type clockwork struct {
	minutes     map[Task]quantity.Duration
	contingency float64
}

// defaultContingency is what practised crews in a known rack add (common practice).
const defaultContingency = 0.25

// paceOf reads the estate's paces over the norms; a later pace has the last
// word. It gives the names that are no tasks, sorted.
func paceOf(e *estate.Estate) (*clockwork, []string) {
	c := &clockwork{minutes: map[Task]quantity.Duration{}, contingency: defaultContingency}
	for _, n := range Norms {
		c.minutes[n.Task] = quantity.Of(n.Minutes, quantity.Minute)
	}
	var strange []string
	for _, p := range e.Paces {
		for name, d := range p.Minutes {
			if _, ok := c.minutes[Task(name)]; !ok {
				strange = append(strange, name)
				continue
			}
			c.minutes[Task(name)] = d
		}
		c.contingency = p.Contingency.Or(c.contingency)
	}
	slices.Sort(strange)
	return c, slices.Compact(strange)
}

func (c *clockwork) of(t Task) quantity.Duration { return c.minutes[t] }

// times gives the minutes of a task done several times.
func (c *clockwork) times(t Task, n int) quantity.Duration {
	return c.minutes[t] * quantity.Duration(n)
}

// count gives how often a step's task is done in it.
func (c *clockwork) count(s *Step) int {
	one := c.of(s.Task)
	if one <= 0 {
		return 1
	}
	return max(1, int((s.Minutes+one/2)/one))
}

// Pace gives how long tasks take at an estate: its paces over the norms.
func Pace(e *estate.Estate) func(Task) quantity.Duration {
	c, _ := paceOf(e)
	return c.of
}
