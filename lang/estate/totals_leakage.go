package estate

import "cagenut/lang/quantity"

// A Leaking is the standing current in the protective conductors of mounts: what
// their makers state for each inlet, times the inlets that are live. It is added
// as it stands; over three phases some of it cancels, and filters at unlike
// voltages leak less or more.
type Leaking struct {
	Known  quantity.Current
	Inlets int    // whose leakage is in Known
	Lacks  []Lack // mounts with live inlets whose leakage is not known
}

// Because says in one phrase what is left out, or "".
func (l *Leaking) Because() string { return because(l.Lacks) }

// Add adds what leaks elsewhere.
func (l *Leaking) Add(m Leaking) {
	l.Known += m.Known
	l.Inlets += m.Inlets
	l.Lacks = append(l.Lacks, m.Lacks...)
}

func (l *Leaking) add(m *Mount, inlets int) {
	q := m.Equipment
	if q == nil || inlets == 0 {
		return
	}
	each, ok := q.Leakage.Get()
	switch {
	case ok:
		l.Known += each * quantity.Current(inlets)
		l.Inlets += inlets
	case q.Leakage.State == IsMissing && q.Passive():
		// A strip without electronics leaks nothing to speak of.
	default:
		l.Lacks = append(l.Lacks, Lack{m, q.lacks("leakage", q.Leakage.State)})
	}
}

// Leakage gives the standing leakage on a feed in an outage (nil: nothing lost).
// An inlet leaks while it is live, whether its equipment runs or not. Where a
// mount's other inlet is lost nothing is added, except behind a transfer switch,
// which brings it over.
func (s *Supply) Leakage(f *Feed, o *Outage) Leaking {
	var l Leaking
	if o.dead(f) {
		return l
	}
	for _, m := range s.on[f] {
		inlets, _ := s.live(m, f, o)
		l.add(m, inlets)
	}
	return l
}

// LeakageOf gives the standing leakage of one mount on a feed in an outage.
func (s *Supply) LeakageOf(m *Mount, f *Feed, o *Outage) Leaking {
	var l Leaking
	if !o.dead(f) {
		inlets, _ := s.live(m, f, o)
		l.add(m, inlets)
	}
	return l
}

// StripLeakage gives the standing leakage through the protective conductor of a
// strip's own cord: its own, and that of what hangs on it.
func (s *Supply) StripLeakage(strip *Mount, o *Outage) Leaking {
	var l Leaking
	if strip.Equipment == nil || o.gone(strip) {
		return l
	}
	for _, m := range s.strips[strip] {
		inlets := 0
		for _, in := range s.estate.Live(m, o) {
			if _, here := s.estate.bankOn(strip, in, o); here {
				inlets++
			}
		}
		l.add(m, inlets)
	}
	l.add(strip, min(len(s.estate.Live(strip, o)), 1))
	return l
}
