package estate

import "cagenut/lang/quantity"

// A Sequence is the order in which things are switched on, by a sequencer or by
// hand.
type Sequence struct {
	Name   string
	Steps  []*SequenceStep // in the order in which they are switched on
	Off    OffOrder
	Source Source
}

// A SequenceStep is what a sequence switches at one moment.
type SequenceStep struct {
	Name   string
	On     []*Mount
	Delay  Figure[quantity.Duration] // after the step before; of the first, after power is there
	Source Source
}

// OffOrder is the order in which a sequence switches off.
type OffOrder uint8

// The orders.
const (
	NoOffOrder OffOrder = iota // not declared: the other way round
	OffReversed
	OffSame   // first on, first off
	OffAtOnce // everything together, as where the sequencer's own supply is cut
)

// OffOrders lists the orders as the language writes them.
var OffOrders = []string{"", "reversed", "same", "at-once"}

// String names the order as the language writes it.
func (o OffOrder) String() string { return OffOrders[o] }
