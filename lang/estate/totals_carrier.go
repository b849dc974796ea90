package estate

import (
	"slices"

	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// A Carrier is what carries feeds from upstream, or hands on power from its
// batteries. Exactly one of Breaker, Source and UPS is set.
type Carrier struct {
	Breaker *Breaker
	Source  *PowerSource
	UPS     *Mount   // that gives a source, or that cords run to
	Feeds   []*Feed  // that hang on it
	Behind  []*Mount // that draw over the outlets of a UPS
	// In holds what it carries in the normal state, first, and in each lost state
	// that changes it, in the order of [Supply.LostStates].
	In []Burden

	// Why figures are not known whole, the first of each kind met in any state:
	// a draw or a voltage, a power factor that makes volt-amperes, one that
	// makes watts. Each is "" where nothing is missing.
	Draw, Factor, Watts string
}

// A Burden is what a carrier carries in one state.
type Burden struct {
	State   *LostState // nil for the normal state
	Power   physics.Vector[quantity.Power]
	Current physics.Vector[quantity.Current] // of a breaker of one phase

	// Of a breaker of three phases: the currents from each line to the neutral,
	// those of feeds of three phases among them, in balance; those between the
	// lines; and those of feeds of one phase of which the lines are not said.
	Star, Delta [3]physics.Vector[quantity.Current]
	Unplaced    physics.Vector[quantity.Current]
}

func (b Burden) plus(c Burden) Burden {
	b.Power, b.Current, b.Unplaced = b.Power.Plus(c.Power), b.Current.Plus(c.Current), b.Unplaced.Plus(c.Unplaced)
	for i := range 3 {
		b.Star[i], b.Delta[i] = b.Star[i].Plus(c.Star[i]), b.Delta[i].Plus(c.Delta[i])
	}
	return b
}

func (b Burden) minus(c Burden) Burden {
	b.Power, b.Current, b.Unplaced = b.Power.Minus(c.Power), b.Current.Minus(c.Current), b.Unplaced.Minus(c.Unplaced)
	for i := range 3 {
		b.Star[i], b.Delta[i] = b.Star[i].Minus(c.Star[i]), b.Delta[i].Minus(c.Delta[i])
	}
	return b
}

// ThreePhase reports whether a carrier is a breaker that opens three phases: it
// says so, or a feed of three phases hangs on it.
func (c *Carrier) ThreePhase() bool {
	return c.Breaker != nil && (c.Breaker.Phases == 3 || slices.ContainsFunc(c.Feeds, func(f *Feed) bool { return f.Phases == 3 }))
}

// Fullest gives the current of the line of a breaker that carries most, and which
// it is, 0 where it has one phase. Where lines of feeds are not said, least is
// what that line carries at least, wherever they hang, and most is what it
// carries if all of them hang on it.
func (c *Carrier) Fullest(b Burden) (least, most quantity.Current, line int) {
	if !c.ThreePhase() {
		i := b.Current.Apparent()
		return i, i, 0
	}
	lines, _ := physics.Lines(b.Star, b.Delta)
	sum := b.Unplaced.Active
	for i := range 3 {
		if lines[i] > least {
			least, line = lines[i], i+1
		}
		sum += b.Star[i].Active
	}
	most = least + b.Unplaced.Apparent()
	// What is in step with the voltages adds up as it stands, and one line carries
	// a third of it at least.
	return max(least, sum/3), most, line
}

// Because says what is not known of the volt-amperes and the current, or "".
func (c *Carrier) Because() string {
	if c.Draw != "" {
		return c.Draw
	}
	return c.Factor
}

// note keeps what a load leaves out.
func (c *Carrier) note(l *Load, voltage string) {
	first := func(at *string, why string) {
		if *at == "" {
			*at = why
		}
	}
	first(&c.Draw, because(l.Lacks))
	if l.Power != 0 {
		first(&c.Draw, voltage)
	}
	first(&c.Factor, because(l.Unfactored))
	first(&c.Watts, because(l.Loose))
}

// Carriers gives the breakers, then the sources, then the UPS among the mounts,
// each in the order declared, that something hangs on, with what they carry. It
// is worked out once.
func (s *Supply) Carriers() []*Carrier {
	s.carriersOnce.Do(s.weighCarriers)
	return s.carriers
}

func (s *Supply) weighCarriers() {
	e := s.estate
	if e == nil {
		return
	}
	of := map[string]*Carrier{}
	for _, b := range e.Breakers {
		s.carrier(of, b.Ref(), &Carrier{Breaker: b})
	}
	for _, p := range e.PowerSources {
		s.carrier(of, p.Ref(), &Carrier{Source: p})
	}
	for _, p := range e.PowerSources {
		if p.Mount != nil {
			s.carrier(of, p.Mount.Ref(), &Carrier{UPS: p.Mount})
		}
	}
	for _, m := range s.behind {
		if m.Equipment != nil && (m.Equipment.Backs() || m.Equipment.Kind == "ups") {
			s.carrier(of, m.Ref(), &Carrier{UPS: m})
			of[m.Ref()].Behind = s.strips[m]
		}
	}
	if len(of) == 0 {
		return
	}
	carriers := map[*Feed][]*Carrier{}
	normal := map[*Feed]Burden{}
	for _, f := range s.feeds {
		l := s.Load(f)
		b, voltage := burdenOf(&l)
		normal[f] = b
		add := func(ref string) {
			c := of[ref]
			if c == nil || slices.Contains(carriers[f], c) {
				return
			}
			carriers[f] = append(carriers[f], c)
			c.Feeds = append(c.Feeds, f)
			c.In[0] = c.In[0].plus(b)
			c.note(&l, voltage)
		}
		for _, u := range e.Upstream(f) {
			add(u.Ref)
			if u.Source != nil && u.Source.Mount != nil {
				add(u.Source.Mount.Ref())
			}
		}
	}
	through := map[*Carrier]Burden{} // by cords, with nothing lost
	touches := map[*LostState][]*Carrier{}
	for _, c := range s.carriers {
		if len(c.Behind) == 0 {
			continue
		}
		through[c] = s.through(c, nil)
		c.In[0] = c.In[0].plus(through[c])
		for _, state := range s.StatesOf(c.Behind) {
			touches[state] = append(touches[state], c)
		}
	}
	s.carriers = slices.DeleteFunc(s.carriers, func(c *Carrier) bool { return len(c.Feeds)+len(c.Behind) == 0 })
	states := s.LostStates()
	for i := range states {
		changed := map[*Carrier]bool{}
		change := func(c *Carrier, less, more Burden) {
			if !changed[c] {
				changed[c] = true
				with := c.In[0]
				with.State = &states[i]
				c.In = append(c.In, with)
			}
			last := &c.In[len(c.In)-1]
			*last = last.minus(less).plus(more)
		}
		for _, f := range states[i].Out.Feeds {
			for _, c := range carriers[f] {
				change(c, normal[f], Burden{})
			}
		}
		for _, l := range s.Touched(&states[i].Out) {
			b, voltage := burdenOf(&l)
			for _, c := range carriers[l.Feed] {
				c.note(&l, voltage)
				change(c, normal[l.Feed], b)
			}
		}
		for _, c := range touches[&states[i]] {
			change(c, through[c], s.through(c, &states[i].Out))
		}
	}
}

// carrier adds a carrier unless there is one of that name.
func (s *Supply) carrier(of map[string]*Carrier, ref string, c *Carrier) {
	if of[ref] == nil {
		c.In = make([]Burden, 1)
		of[ref] = c
		s.carriers = append(s.carriers, c)
	}
}

// burdenOf gives what a feed lays on what is upstream of it, and why its
// current is not known.
func burdenOf(l *Load) (Burden, string) {
	i, why := l.Feed.CurrentVector(l.Vector)
	b := Burden{Power: l.Vector, Current: i}
	switch on := between(l.Feed.Lines, &b.Star, &b.Delta); {
	case l.Feed.Phases == 3:
		b.Star = [3]physics.Vector[quantity.Current]{i, i, i}
	case on != nil:
		*on = i
	default:
		b.Unplaced = i
	}
	return b, why
}

// through gives what a UPS hands on over its own outlets in an outage.
func (s *Supply) through(c *Carrier, o *Outage) Burden {
	var l Load
	for _, m := range c.Behind {
		inlets, each, basis, lack := s.Draws(m, o)
		for _, in := range inlets {
			if _, here := s.estate.bankOn(c.UPS, in, o); !here {
				continue
			}
			if lack != "" {
				l.Lacks = append(l.Lacks, Lack{m, lack})
				continue
			}
			l.take(m, m.Takes(each, basis, in.Feed))
		}
	}
	c.note(&l, "")
	return Burden{Power: l.Vector}
}

// Backs reports whether the equipment is a UPS as far as is declared: it is
// rated or timed as one.
func (q *Equipment) Backs() bool { return q.Rated.State() != IsMissing || q.Runtime.State != IsMissing }
