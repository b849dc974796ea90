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
		inlets, each, lack := s.Draws(m, o)
		for _, in := range inlets {
			if in.Strip != strip {
				continue
			}
			if in.Bank == nil {
				why = "the bank of the outlet that " + m.Ref() + " hangs on is missing"
				continue
			}
			for i := range strip.Equipment.Banks {
				if &strip.Equipment.Banks[i] != in.Bank {
					continue
				}
				l := &loads[i]
				l.Strip, l.Bank, l.Feed = strip, in.Bank, in.Feed
				if lack != "" {
					l.Lacks = append(l.Lacks, Lack{m, lack})
					continue
				}
				l.Power += each
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
		l.Current = physics.Current(l.Power, v, 1)
		out = append(out, *l)
	}
	return out, why
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
// nothing lost), as the vector sum of its banks at one power factor, or why that
// is not known: a mount on the feed whose bank is not said, a draw that is
// missing.
func (s *Supply) Lines(f *Feed, o *Outage) ([3]quantity.Current, string) {
	var star, delta [3]quantity.Current
	if f.Phases != 3 {
		return star, f.Ref() + " has not three phases"
	}
	if o.dead(f) {
		return star, ""
	}
	for _, m := range s.on[f] {
		inlets, each, lack := s.Draws(m, o)
		for _, in := range inlets {
			if in.Feed != f {
				continue
			}
			switch {
			case lack != "":
				return star, lack
			case in.Bank == nil && each == 0:
				continue
			case in.Bank == nil:
				return star, "the bank that " + m.Ref() + " hangs on is missing"
			}
			v, lack := f.BankVoltage(in.Bank)
			if lack != "" {
				return star, lack
			}
			i := physics.Current(each, v, 1)
			switch in.Bank.Lines {
			case "1-2":
				delta[0] += i
			case "2-3":
				delta[1] += i
			case "3-1":
				delta[2] += i
			case "1-n":
				star[0] += i
			case "2-n":
				star[1] += i
			case "3-n":
				star[2] += i
			}
		}
	}
	lines, _ := physics.Lines(star, delta)
	return lines, ""
}
