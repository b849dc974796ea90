package policy

import (
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint/sequence"
)

// planned is a step of a plan as policies see it: with the rack as it stands
// after the step, and the thing that the step is about.
type planned struct {
	step  *sequence.Step
	rack  *estate.Rack
	mount *estate.Mount
}

func minutesOf(d quantity.Duration) Number {
	return Whole(int64(d / quantity.Millisecond)).Div(Whole(60_000))
}

func (m *Model) describeStep() {
	c := m.step
	AddCount(c, "number", "", "its number on the run sheet", counted(func(t *planned) int { return t.step.Number }))
	AddText(c, "do", "what is done, as the sheet says it", known(func(t *planned) string { return t.step.Do }))
	AddText(c, "task", `the task as a pace names it: "withdraw" or "power_on"`, known(func(t *planned) string { return string(t.step.Task) }))
	AddObject(c, "mount", m.mount, "the thing that it is about, or null", func(t *planned) *estate.Mount { return t.mount })
	AddObject(c, "rack", m.rack, "the rack at which it is done, as it stands afterwards, or null", func(t *planned) *estate.Rack { return t.rack })
	AddCount(c, "minutes", "min", "how long it takes, without contingency", known(func(t *planned) Number { return minutesOf(t.step.Minutes) }))
	AddCount(c, "undo_minutes", "min", "how long it takes to undo it alone", known(func(t *planned) Number { return minutesOf(t.step.UndoMinutes) }))
	AddCount(c, "people", "people", "how many people it takes, one who only watches included", counted(func(t *planned) int {
		if t.step.Watcher {
			return t.step.People + 1
		}
		return t.step.People
	}))
	AddBool(c, "lift", "whether it takes a lift", known(func(t *planned) bool { return t.step.Lift }))
	AddNumber(c, "mass", Kilogram, "the mass of what is lifted; 0 where nothing is", func(t *planned) (Number, *Unknown) {
		if !t.step.MassStated && lifts[t.step.Task] {
			return Number{}, unknown("the mass of what step %d lifts is not known", t.step.Number)
		}
		return kilograms(t.step.Mass), nil
	})
	AddNumber(c, "height", Millimetre, "how high the middle of the thing is above the floor", func(t *planned) (Number, *Unknown) {
		if !t.step.At.High {
			return Number{}, unknown("the height above the floor of what step %d is about is not known", t.step.Number)
		}
		return millimetres(t.step.At.Middle), nil
	})
	AddText(c, "competence", `whom it takes beside the crew: "electrician", or ""`, known(func(t *planned) string { return t.step.Competence }))
	AddBool(c, "hold", "whether a hold point follows it", known(func(t *planned) bool { return t.step.Hold != nil }))
	AddBool(c, "out", "whether something is out of its place afterwards", known(func(t *planned) bool { return t.step.State.Out != "" }))
	AddCount(c, "parked", "things", "how many things are parked afterwards", counted(func(t *planned) int { return len(t.step.State.Parked) }))
	AddCount(c, "down", "groups", "how many groups lack a member afterwards", counted(func(t *planned) int { return len(t.step.State.Down) }))
	AddBool(c, "drawn_out", "whether something is drawn out before the feet of a rack that stands free", known(func(t *planned) bool { return t.step.Tip != nil && t.step.Tip.Factor > 0 }))
	AddNumber(c, "tip_factor", Plain, "how many times the rest of the rack holds what is drawn out, with the masses of that moment; 0 where nothing is", known(func(t *planned) Number {
		if t.step.Tip == nil {
			return Whole(0)
		}
		return decimal(t.step.Tip.Factor)
	}))
	AddBool(c, "doors", "whether a door that must stay shut stands open afterwards", known(func(t *planned) bool { return len(t.step.State.Ajar) > 0 }))
	AddBool(c, "seals", "whether a fire seal stands open afterwards", known(func(t *planned) bool { return len(t.step.State.Seals) > 0 }))
	AddCount(c, "open", "U", "how many units the work has opened and not closed again", counted(func(t *planned) int { return t.step.State.OpenUnits }))
}

// lifts are the tasks in which something is in the hands.
var lifts = map[sequence.Task]bool{
	sequence.Withdraw: true, sequence.WithdrawBig: true, sequence.Insert: true, sequence.InsertTall: true, sequence.InsertBig: true,
	sequence.Carry: true, sequence.Shift: true,
}
