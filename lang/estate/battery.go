package estate

// Battery is the kind of cells in a piece of equipment.
type Battery uint8

// The kinds of cells. Vented ones stand open and are topped up; sealed ones
// (valve-regulated, gas-tight) let gas out only when something is wrong.
const (
	NoBattery Battery = iota // not declared
	SealedLead
	VentedLead
	SealedNickel
	VentedNickel
	Lithium
)

// Batteries lists the kinds of cells as the language writes them.
var Batteries = []string{"", "sealed-lead", "vented-lead", "sealed-nickel", "vented-nickel", "lithium"}

// String names the kind as the language writes it.
func (b Battery) String() string { return Batteries[b] }

// Vented reports whether the cells give off gas whenever they are charged.
func (b Battery) Vented() bool { return b == VentedLead || b == VentedNickel }

// Lead reports whether the cells are of lead and acid.
func (b Battery) Lead() bool { return b == SealedLead || b == VentedLead }

// HoldsBattery reports whether there are cells in a piece of equipment: it says
// so, or it is a UPS or a battery.
func (q *Equipment) HoldsBattery() bool {
	return q != nil && (q.Battery != NoBattery || q.Kind == "ups" || q.Kind == "battery")
}
