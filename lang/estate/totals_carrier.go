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
	Current physics.Vector[quantity.Current] // of a breaker: balanced where a feed has three phases
}

func (b Burden) plus(c Burden) Burden {
	return Burden{b.State, b.Power.Plus(c.Power), b.Current.Plus(c.Current)}
}

func (b Burden) minus(c Burden) Burden {
	return Burden{b.State, b.Power.Minus(c.Power), b.Current.Minus(c.Current)}
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
	return Burden{Power: l.Vector, Current: i}, why
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
