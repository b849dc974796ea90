package estate

import (
	"math"

	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// A BankLoad is what one bank of a strip carries.
type BankLoad struct {
	Strip   *Mount
	Bank    *Bank
	Feed    *Feed
	Power   quantity.Power
	Current quantity.Current
	Lacks   []Lack

	Apparent quantity.Power                 // apparent power, in volt-amperes; it makes the current
	Vector   physics.Vector[quantity.Power] // the same in its parts
}

// Banks gives what the banks of a strip carry in an outage (nil: nothing lost),
// in the order declared, or why that is not known. Banks that carry nothing are
// left out.
func (s *Supply) Banks(strip *Mount, o *Outage) ([]BankLoad, string) {
	if strip.Equipment == nil {
		return nil, "its equipment is not known"
	}
	loads := make([]BankLoad, len(strip.Equipment.Banks))
	why := ""
	for _, m := range s.strips[strip] {
		inlets, each, basis, lack := s.Draws(m, o)
		for _, in := range inlets {
			bank, here := s.estate.bankOn(strip, in, o)
			if !here || lack == "" && each == 0 {
				continue
			}
			if bank == nil {
				why = "the bank of the outlet that " + m.Ref() + " hangs on is missing"
				continue
			}
			for i := range strip.Equipment.Banks {
				if &strip.Equipment.Banks[i] != bank {
					continue
				}
				l := &loads[i]
				l.Strip, l.Bank, l.Feed = strip, bank, in.Feed
				if lack != "" {
					l.Lacks = append(l.Lacks, Lack{m, lack})
					continue
				}
				t := m.Takes(each, basis, in.Feed)
				l.Vector = l.Vector.Plus(t.Vector)
				if t.Unfactored != "" {
					l.Lacks = append(l.Lacks, Lack{m, t.Unfactored})
				}
			}
		}
	}
	var out []BankLoad
	for i := range loads {
		l := &loads[i]
		if l.Feed == nil {
			continue
		}
		v, lack := l.Feed.BankVoltage(l.Bank)
		if lack != "" {
			return nil, lack
		}
		l.Power, l.Apparent = l.Vector.Most(), l.Vector.Apparent()
		l.Current = physics.Current(l.Apparent, v, 1)
		out = append(out, *l)
	}
	return out, why
}

// lineBank gives the bank nearest to the feed on the way of an inlet: of several
// strips one behind the other it is the first one's that lies between lines. It
// gives that strip as well.
func (e *Estate) lineBank(in LiveInlet, o *Outage) (*Bank, *Mount) {
	last := in.Strip
	for range maxDepth {
		if last == nil || len(last.Cords) == 0 {
			break
		}
		next := (*Mount)(nil)
		for i := range last.Cords {
			if e.feedBehind(last, &last.Cords[i], o, 0) != nil {
				next = e.StripOf(last, &last.Cords[i])
				break
			}
		}
		if next == nil {
			break
		}
		last = next
	}
	if last == nil || last.Equipment == nil {
		return nil, nil
	}
	bank, _ := e.bankOn(last, in, o)
	return bank, last
}

// bankOn gives the bank of a strip that an inlet hangs on, straight or through
// other strips, and whether it hangs on the strip at all.
func (e *Estate) bankOn(strip *Mount, in LiveInlet, o *Outage) (*Bank, bool) {
	at, c := in.Strip, in.Cord
	for range maxDepth {
		if at == nil {
			return nil, false
		}
		if at == strip {
			if set := strip.Equipment.Outlet(c.Outlet); set != nil {
				return strip.Equipment.BankNamed(set.Bank), true
			}
			return nil, true
		}
		next := -1
		for i := range at.Cords {
			if e.feedBehind(at, &at.Cords[i], o, 0) != nil {
				next = i
				break
			}
		}
		if next < 0 {
			return nil, false
		}
		c = &at.Cords[next]
		at = e.StripOf(at, c)
	}
	return nil, false
}

// BankVoltage gives the voltage of a bank on a feed: between lines or to the
// neutral on three phases, else the feed's own; or why it is not known.
func (f *Feed) BankVoltage(b *Bank) (quantity.Voltage, string) {
	v, ok := f.Voltage.Get()
	switch {
	case !ok:
		return 0, "the voltage of " + f.Ref() + " is " + f.Voltage.State.String()
	case f.Phases != 3:
		if lowest, ok := physics.LowestDC(v); ok && f.Direct() {
			return lowest, ""
		}
		return v, ""
	case b.Lines == "":
		return 0, "the lines of bank " + b.Name + " are missing"
	case b.Lines[2] == 'n':
		return quantity.Of(v.Volts()/math.Sqrt(3), quantity.Volt), ""
	}
	return v, ""
}

// Lines gives the currents in the three lines of a feed in an outage (nil:
// nothing lost), as the vector sum of its banks, each lagging by its power
// factor, or why that is not known: a mount on the feed whose bank is not said,
// a draw that is missing, a power factor that is unknown.
func (s *Supply) Lines(f *Feed, o *Outage) ([3]quantity.Current, string) {
	var none [3]quantity.Current
	var star, delta [3]physics.Vector[quantity.Current]
	if f.Phases != 3 {
		return none, f.Ref() + " has not three phases"
	}
	if o.dead(f) {
		return none, ""
	}
	for _, m := range s.on[f] {
		inlets, each, basis, lack := s.Draws(m, o)
		for _, in := range inlets {
			if in.Feed != f {
				continue
			}
			switch {
			case lack != "":
				return none, lack
			case each == 0:
				continue
			}
			bank, _ := s.estate.lineBank(in, o)
			if bank == nil {
				return none, "the bank that " + m.Ref() + " hangs on is missing"
			}
			v, lack := f.BankVoltage(bank)
			if lack != "" {
				return none, lack
			}
			t := m.Takes(each, basis, f)
			if t.Unfactored != "" {
				return none, t.Unfactored
			}
			if on := between(bank.Lines, &star, &delta); on != nil {
				*on = on.Plus(physics.CurrentVector(t.Vector, v))
			}
		}
	}
	lines, _ := physics.Lines(star, delta)
	return lines, ""
}

// between gives the place of what hangs between two lines, such as "2-n", among
// currents to the neutral and between lines, or nil.
func between(lines string, star, delta *[3]physics.Vector[quantity.Current]) *physics.Vector[quantity.Current] {
	switch lines {
	case "1-2":
		return &delta[0]
	case "2-3":
		return &delta[1]
	case "3-1":
		return &delta[2]
	case "1-n":
		return &star[0]
	case "2-n":
		return &star[1]
	case "3-n":
		return &star[2]
	}
	return nil
}

// Plugged gives the loads on the banks of a three-phase feed, one for each cord,
// what the fullest pair of lines carries of them, and how many pairs of lines
// the strips on the feed have: for asking how evenly they could be spread.
func (s *Supply) Plugged(f *Feed) (loads []quantity.Power, fullest quantity.Power, pairs int) {
	carried := map[string]quantity.Power{}
	for _, m := range s.on[f] {
		inlets, each, _, lack := s.Draws(m, nil)
		for _, in := range inlets {
			if in.Feed != f || lack != "" || each == 0 {
				continue
			}
			bank, strip := s.estate.lineBank(in, nil)
			if bank == nil || bank.Lines == "" {
				continue
			}
			for i := range strip.Equipment.Banks {
				lines := strip.Equipment.Banks[i].Lines
				if _, ok := carried[lines]; !ok && lines != "" {
					carried[lines] = 0
				}
			}
			loads = append(loads, each)
			carried[bank.Lines] += each
			fullest = max(fullest, carried[bank.Lines])
		}
	}
	return loads, fullest, len(carried)
}
