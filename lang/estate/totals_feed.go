package estate

import (
	"cmp"
	"slices"

	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// A Supply says which mounts draw on which feeds, over all racks that a feed
// reaches. It is made once and then asked for the load of feeds in normal
// state and with feeds lost.
type Supply struct {
	feeds []*Feed // by name
	on    map[*Feed][]*Mount
}

// Supply gives who draws on which feed in the whole estate.
func (e *Estate) Supply() *Supply {
	n := 0
	for _, r := range e.Racks {
		n += len(r.Mounts)
	}
	mounts := make([]*Mount, 0, n)
	for _, r := range e.Racks {
		mounts = append(mounts, r.Mounts...)
	}
	s := SupplyOf(mounts)
	for _, f := range e.Feeds {
		if _, ok := s.on[f]; !ok {
			s.on[f] = nil
			s.feeds = append(s.feeds, f)
		}
	}
	s.sort()
	return s
}

// SupplyOf is [Estate.Supply] for any mounts, such as those of a state on the
// way from one layout to another.
func SupplyOf(mounts []*Mount) *Supply {
	s := &Supply{on: map[*Feed][]*Mount{}}
	for _, m := range mounts {
		for i, f := range m.Feeds {
			if f == nil || slices.Contains(m.Feeds[:i], f) {
				continue // unresolved, or a second cord of the same mount
			}
			if _, ok := s.on[f]; !ok {
				s.feeds = append(s.feeds, f)
			}
			s.on[f] = append(s.on[f], m)
		}
	}
	s.sort()
	return s
}

func (s *Supply) sort() {
	slices.SortStableFunc(s.feeds, func(a, b *Feed) int { return cmp.Compare(a.Name, b.Name) })
}

// Feeds lists the feeds, by name.
func (s *Supply) Feeds() []*Feed { return s.feeds }

// On lists the mounts with a cord on the feed, in the order given.
func (s *Supply) On(f *Feed) []*Mount { return s.on[f] }

// A Load is what a feed carries in one state.
type Load struct {
	Feed   *Feed
	Power  quantity.Power // known part
	Mounts []*Mount       // that draw on it in this state
	Lacks  []Lack         // those whose draw is not known
	Bases  []DrawBasis    // the bases of the figures added, each once
}

// Whole reports whether all draws are known.
func (l *Load) Whole() bool { return len(l.Lacks) == 0 }

// Because says in one phrase what is not known, or "".
func (l *Load) Because() string { return because(l.Lacks) }

// Basis names the bases of the figures added: "maximum", "maximum and
// nameplate".
func (l *Load) Basis() string {
	s := ""
	for i, b := range l.Bases {
		switch {
		case i == 0:
		case i == len(l.Bases)-1:
			s += " and "
		default:
			s += ", "
		}
		s += b.String()
	}
	return s
}

// Load gives what the feed carries with the given feeds lost; none lost is the
// normal state. A mount with several inlets shares evenly over those that are
// live; one with fewer live inlets than it needs is down and draws nothing. A
// lost feed carries nothing.
func (s *Supply) Load(f *Feed, lost ...*Feed) Load {
	l := Load{Feed: f}
	if slices.Contains(lost, f) {
		return l
	}
	site := f.Site()
	for _, m := range s.on[f] {
		share, of := m.share(f, lost)
		if share == 0 {
			continue
		}
		l.Mounts = append(l.Mounts, m)
		p, basis, why := m.Load(site)
		if why != "" {
			l.Lacks = append(l.Lacks, Lack{m, why})
			continue
		}
		if basis != NoDrawBasis && !slices.Contains(l.Bases, basis) {
			l.Bases = append(l.Bases, basis)
			slices.Sort(l.Bases)
		}
		l.Power += p * quantity.Power(share) / quantity.Power(of)
	}
	return l
}

// share gives how many of the mount's live cords hang on the feed, and how many
// are live at all; 0 where the mount is down.
func (m *Mount) share(f *Feed, lost []*Feed) (on, live int) {
	for _, g := range m.Feeds {
		if g == nil || slices.Contains(lost, g) {
			continue
		}
		live++
		if g == f {
			on++
		}
	}
	if len(lost) > 0 && !m.runsOn(live) {
		return 0, live
	}
	return on, live
}

// runsOn reports whether so many live cords keep the mount running.
func (m *Mount) runsOn(live int) bool {
	if live == 0 {
		return false
	}
	if m.Equipment == nil {
		return true
	}
	_, needs := m.Equipment.InletCount()
	return live >= needs
}

// UpWithout reports whether the mount runs with the given feeds lost. A mount
// on no feed at all is not the feeds' business and stays as it is.
func (m *Mount) UpWithout(lost ...*Feed) bool {
	any, live := false, 0
	for _, f := range m.Feeds {
		if f == nil {
			continue
		}
		any = true
		if !slices.Contains(lost, f) {
			live++
		}
	}
	return !any || m.runsOn(live)
}

// Rising gives the loads of the feeds that carry more when the given ones are
// lost, by name.
func (s *Supply) Rising(lost ...*Feed) []Load {
	var out []Load
	for _, f := range s.beside(lost) {
		with := s.Load(f, lost...)
		before := s.Load(f)
		if with.Power > before.Power || len(with.Lacks) > 0 {
			out = append(out, with)
		}
	}
	return out
}

// beside gives the feeds that share a mount with one of the given ones, by
// name.
func (s *Supply) beside(feeds []*Feed) []*Feed {
	var out []*Feed
	for _, f := range feeds {
		for _, m := range s.on[f] {
			for _, g := range m.Feeds {
				if g != nil && !slices.Contains(feeds, g) && !slices.Contains(out, g) {
					out = append(out, g)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *Feed) int { return cmp.Compare(a.Name, b.Name) })
	return out
}

// Site gives the feed's site, or nil.
func (f *Feed) Site() *Site {
	if f.Room == nil {
		return nil
	}
	return f.Room.Site
}

// Ref gives the name as the language refers to it: feed.a.
func (f *Feed) Ref() string { return "feed." + f.Name }

// Direct reports whether the feed is direct current: it has no phases, or its
// voltage is negative, or below the 60 V up to which telecom supplies work.
func (f *Feed) Direct() bool {
	v, ok := f.Voltage.Get()
	return f.Phases == 0 || ok && v < 60*quantity.Volt
}

// Current gives the current of a load on the feed, at unity power factor and
// balanced over three phases, or why it cannot be reckoned. A 48 V direct
// current load is reckoned at the lowest voltage, where its current is highest
// (EN 300 132-2).
func (f *Feed) Current(p quantity.Power) (quantity.Current, string) {
	v, ok := f.Voltage.Get()
	if !ok {
		return 0, "the voltage of " + f.Ref() + " is " + f.Voltage.State.String()
	}
	if lowest, ok := physics.LowestDC(v); ok && f.Direct() {
		v = lowest
	}
	if f.Phases == 3 {
		return physics.CurrentThreePhase(p, v, 1), ""
	}
	return physics.Current(p, v, 1), ""
}
