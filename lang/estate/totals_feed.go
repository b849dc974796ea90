package estate

import (
	"cmp"
	"slices"
	"sync"

	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// A Supply says which mounts draw on which feeds, over all racks that a feed
// reaches. It is made once and then asked for the load of feeds in normal
// state and with feeds lost; by one goroutine at a time, since it keeps what it
// has worked out.
type Supply struct {
	estate *Estate // for cords to other racks; nil where only mounts are known
	feeds  []*Feed // by name
	on     map[*Feed][]*Mount
	strips map[*Mount][]*Mount // what has a cord to a strip
	behind []*Mount            // strips, in the order first met
	normal map[*Feed]Load      // with nothing lost, as far as asked

	carriersOnce sync.Once
	carriers     []*Carrier

	once        sync.Once
	lost        []LostState
	feedStates  map[*Feed][]int // places in lost
	stripStates map[*Mount][]int
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
	s := supplyOf(e, mounts)
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
func SupplyOf(mounts []*Mount) *Supply { return supplyOf(nil, mounts) }

func supplyOf(e *Estate, mounts []*Mount) *Supply {
	s := &Supply{estate: e, on: map[*Feed][]*Mount{}, strips: map[*Mount][]*Mount{}, normal: map[*Feed]Load{}}
	for _, m := range mounts {
		feeds := m.Feeds
		if len(m.Cords) > 0 {
			feeds = s.reach(m)
		}
		for i, f := range feeds {
			if f == nil || slices.Contains(feeds[:i], f) {
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

// reach gives every feed that a mount with cords may come to draw on, and notes
// the strips that it hangs on, through whatever lies between.
func (s *Supply) reach(m *Mount) []*Feed {
	feeds := slices.Clone(m.Feeds)
	s.follow(m, m, &feeds, 0)
	return feeds
}

// follow adds the feeds behind the cords of one mount on the way from m.
func (s *Supply) follow(m, at *Mount, feeds *[]*Feed, depth int) {
	if depth >= maxDepth {
		return
	}
	for i := range at.Cords {
		strip := s.estate.StripOf(at, &at.Cords[i])
		if strip == nil {
			continue
		}
		if _, ok := s.strips[strip]; !ok {
			s.behind = append(s.behind, strip)
		}
		if !slices.Contains(s.strips[strip], m) {
			s.strips[strip] = append(s.strips[strip], m)
		}
		if !m.Source.Has("feeds") {
			*feeds = append(*feeds, strip.Feeds...)
		}
		s.follow(m, strip, feeds, depth+1)
	}
}

// Strips lists the mounts that cords run to, in the order first met.
func (s *Supply) Strips() []*Mount { return s.behind }

// Behind lists the mounts that hang on a strip, straight or through another, in
// the order given.
func (s *Supply) Behind(strip *Mount) []*Mount { return s.strips[strip] }

func (s *Supply) sort() {
	slices.SortStableFunc(s.feeds, func(a, b *Feed) int { return cmp.Compare(a.Name, b.Name) })
}

// Feeds lists the feeds, by name.
func (s *Supply) Feeds() []*Feed { return s.feeds }

// On lists the mounts with a cord on the feed, in the order given.
func (s *Supply) On(f *Feed) []*Mount { return s.on[f] }

// A Load is what a feed carries in one state.
type Load struct {
	Feed     *Feed
	Power    quantity.Power // known part; volt-amperes without a power factor count as watts
	Apparent quantity.Power // apparent power of the known part, in volt-amperes; it makes the current
	Mounts   []*Mount       // that draw on it in this state
	Lacks    []Lack         // those whose draw is not known
	Bases    []DrawBasis    // the bases of the figures added, each once

	Vector     physics.Vector[quantity.Power] // the known part, whose size is Apparent
	Loose      []Lack                         // those whose watts are not known apart from their volt-amperes
	Unfactored []Lack                         // those whose power factor is said to be unknown: Apparent may be more
}

// Whole reports whether the current is known: all draws and their power
// factors.
func (l *Load) Whole() bool { return len(l.Lacks)+len(l.Unfactored) == 0 }

// Because says in one phrase what is not known of the current, or "".
func (l *Load) Because() string {
	if len(l.Unfactored) == 0 {
		return because(l.Lacks)
	}
	return because(slices.Concat(l.Lacks, l.Unfactored))
}

// PowerBecause says in one phrase what is not known of the power, or "".
func (l *Load) PowerBecause() string { return because(l.Lacks) }

// LooseBecause says in one phrase why the watts are not known apart from the
// volt-amperes, or "".
func (l *Load) LooseBecause() string { return because(l.Loose) }

// take adds what a mount takes.
func (l *Load) take(m *Mount, t Taking) {
	l.Vector = l.Vector.Plus(t.Vector)
	if t.Loose != "" {
		l.Loose = append(l.Loose, Lack{m, t.Loose})
	}
	if t.Unfactored != "" {
		l.Unfactored = append(l.Unfactored, Lack{m, t.Unfactored})
	}
}

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
	if len(lost) == 0 {
		l, ok := s.normal[f]
		if !ok {
			l = s.LoadIn(f, nil)
			s.normal[f] = l
		}
		return l
	}
	return s.LoadIn(f, &Outage{Feeds: lost})
}

// LoadIn is [Supply.Load] for any outage.
func (s *Supply) LoadIn(f *Feed, o *Outage) Load {
	l := Load{Feed: f}
	if o.dead(f) {
		return l
	}
	order := loadOrder(f.Site())
	l.Mounts = make([]*Mount, 0, len(s.on[f]))
	for _, m := range s.on[f] {
		share, of := s.share(m, f, o)
		if share == 0 {
			continue
		}
		l.Mounts = append(l.Mounts, m)
		p, basis, why := m.draw(order)
		if why != "" {
			l.Lacks = append(l.Lacks, Lack{m, why})
			continue
		}
		if basis != NoDrawBasis && !slices.Contains(l.Bases, basis) {
			l.Bases = append(l.Bases, basis)
			slices.Sort(l.Bases)
		}
		l.take(m, m.Takes(p*quantity.Power(share)/quantity.Power(of), basis, f))
	}
	l.Power, l.Apparent = l.Vector.Most(), l.Vector.Apparent()
	return l
}

// share gives how many of the mount's live cords hang on the feed, and how many
// are live at all; 0 where the mount is down.
func (s *Supply) share(m *Mount, f *Feed, o *Outage) (on, live int) {
	on, live = s.live(m, f, o)
	if o != nil && !m.runsOn(live) {
		return 0, live
	}
	return on, live
}

// live is share without asking whether the mount is down.
func (s *Supply) live(m *Mount, f *Feed, o *Outage) (on, live int) {
	if len(m.Cords) == 0 {
		for _, g := range m.Feeds {
			if g == nil || o.dead(g) {
				continue
			}
			live++
			if g == f {
				on++
			}
		}
	} else {
		for _, in := range s.estate.Live(m, o) {
			live++
			if in.Feed == f {
				on++
			}
		}
	}
	return on, live
}

// Draws gives what each live inlet of a mount draws in an outage, and on which
// basis, or why the mount's draw is not known. A mount that is down draws
// nothing.
func (s *Supply) Draws(m *Mount, o *Outage) (inlets []LiveInlet, each quantity.Power, basis DrawBasis, why string) {
	inlets = s.estate.Live(m, o)
	if len(inlets) == 0 || o != nil && !m.runsOn(len(inlets)) {
		return nil, 0, NoDrawBasis, ""
	}
	p, basis, why := m.Load(inlets[0].Feed.Site())
	return inlets, p / quantity.Power(len(inlets)), basis, why
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
func (s *Supply) Rising(lost ...*Feed) []Load { return s.RisingIn(&Outage{Feeds: lost}) }

// RisingJointly is [Supply.RisingIn] for the feeds that only several lost feeds
// together reach: the others carry what they carry with one of them lost.
func (s *Supply) RisingJointly(o *Outage) []Load {
	o = o.indexed()
	by := map[*Feed]*Feed{} // a lost feed that a live one shares a mount with
	var joint []*Feed
	several := map[*Feed]bool{}
	for _, f := range o.Feeds {
		for _, m := range s.on[f] {
			feeds := m.Feeds
			if len(m.Cords) > 0 {
				feeds = s.reach(m)
			}
			for _, g := range feeds {
				if g == nil || g == f || several[g] || o.dead(g) {
					continue
				}
				switch by[g] {
				case nil:
					by[g] = f
				case f:
				default:
					several[g] = true
					joint = append(joint, g)
				}
			}
		}
	}
	slices.SortStableFunc(joint, func(a, b *Feed) int { return cmp.Compare(a.Name, b.Name) })
	var out []Load
	for _, f := range joint {
		with := s.LoadIn(f, o)
		if with.Power > s.Load(f).Power || !with.Whole() {
			out = append(out, with)
		}
	}
	return out
}

// Touched gives the loads in an outage of the feeds that share a mount with what
// is lost, by name, whether they rise or fall.
func (s *Supply) Touched(o *Outage) []Load {
	var out []Load
	for _, f := range s.touched(o) {
		out = append(out, s.LoadIn(f, o))
	}
	return out
}

// RisingIn is [Supply.Rising] for any outage.
func (s *Supply) RisingIn(o *Outage) []Load {
	var out []Load
	o = o.indexed()
	for _, f := range s.touched(o) {
		with := s.LoadIn(f, o)
		before := s.Load(f)
		if with.Power > before.Power || !with.Whole() {
			out = append(out, with)
		}
	}
	return out
}

// touched gives the feeds that share a mount with what is lost, by name.
func (s *Supply) touched(o *Outage) []*Feed {
	var out []*Feed
	seen := map[*Feed]bool{}
	see := func(mounts []*Mount) {
		for _, m := range mounts {
			feeds := m.Feeds
			if len(m.Cords) > 0 {
				feeds = s.reach(m)
			}
			for _, g := range feeds {
				if g != nil && !seen[g] && !o.dead(g) {
					seen[g] = true
					out = append(out, g)
				}
			}
		}
	}
	for _, f := range o.Feeds {
		see(s.on[f])
	}
	for _, strip := range o.Mounts {
		see(s.strips[strip])
	}
	slices.SortStableFunc(out, func(a, b *Feed) int { return cmp.Compare(a.Name, b.Name) })
	return out
}

// UpIn reports whether a mount runs in an outage. A mount on no feed at all is
// not the feeds' business and stays as it is.
func (e *Estate) UpIn(m *Mount, o *Outage) bool {
	if len(m.Feeds) == 0 && len(m.Cords) == 0 {
		return true
	}
	return m.runsOn(len(e.Live(m, o)))
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

// Current gives the current of an apparent power on the feed, balanced over
// three phases, or why it cannot be reckoned. A 48 V direct current load is
// reckoned at the lowest voltage, where its current is highest (EN 300 132-2).
func (f *Feed) Current(p quantity.Power) (quantity.Current, string) {
	v, why := f.volts()
	if why != "" {
		return 0, why
	}
	if f.Phases == 3 {
		return physics.CurrentThreePhase(p, v, 1), ""
	}
	return physics.Current(p, v, 1), ""
}

// CurrentVector is [Feed.Current] for a power in its parts.
func (f *Feed) CurrentVector(p physics.Vector[quantity.Power]) (physics.Vector[quantity.Current], string) {
	v, why := f.volts()
	if why != "" {
		return physics.Vector[quantity.Current]{}, why
	}
	if f.Phases == 3 {
		return physics.CurrentVectorThreePhase(p, v), ""
	}
	return physics.CurrentVector(p, v), ""
}

// volts gives the voltage that currents are reckoned at, or why it is not
// known.
func (f *Feed) volts() (quantity.Voltage, string) {
	v, ok := f.Voltage.Get()
	if !ok {
		return 0, "the voltage of " + f.Ref() + " is " + f.Voltage.State.String()
	}
	if lowest, ok := physics.LowestDC(v); ok && f.Direct() {
		v = lowest
	}
	return v, ""
}
