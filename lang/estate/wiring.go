package estate

import (
	"slices"
	"strings"

	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// The power tree in full: sources, breakers and feeds, strips with banks and
// outlets, cords from inlet to outlet. An estate that leaves it out says only
// which feeds a mount hangs on, one for each inlet.

// A PowerSource is what breakers and feeds come from in the end.
type PowerSource struct {
	Name  string
	Kind  SourceKind
	From  []*PowerSource // what feeds it
	Mount *Mount         // the mount that gives it, such as a UPS in a rack; nil where it stands elsewhere
	Rated Rating
	// Runtime is how long it goes on at a load when what feeds it is lost, by
	// its maker's curve, lightest load first.
	Runtime Figure[[]physics.RuntimePoint]
	Source  Source
}

// Ref gives the name as the language refers to it: source.ups-1.
func (s *PowerSource) Ref() string { return "source." + s.Name }

// SourceKind is what a source is.
type SourceKind uint8

// The kinds of source.
const (
	NoSourceKind SourceKind = iota
	Utility
	Generator
	UPS
	Rectifier
	Board
)

// SourceKinds lists the kinds as the language writes them.
var SourceKinds = []string{"", "utility", "generator", "ups", "rectifier", "board"}

// String names the kind as the language writes it.
func (k SourceKind) String() string { return SourceKinds[k] }

// Stores reports whether the source goes on for a while when what feeds it is
// lost.
func (k SourceKind) Stores() bool { return k == UPS || k == Rectifier || k == Generator }

// A Breaker is a protective device between a source and feeds.
type Breaker struct {
	Name   string
	Supply *PowerSource // what it comes from, if not another breaker
	From   *Breaker     // the breaker before it
	Rated  Figure[quantity.Current]
	Phases int    // how many lines it opens, 1 or 3; 0 where that is not said
	Curve  string // tripping curve of IEC 60898: "B", "C" or "D"
	// Residual is its rated residual operating current, where it is a residual
	// current device as well.
	Residual Figure[quantity.Current]
	Source   Source
}

// Ref gives the name as the language refers to it: breaker.p1-3.
func (b *Breaker) Ref() string { return "breaker." + b.Name }

// OutletSet is like outlets of a strip, fuse panel or transfer switch. Outlets
// are numbered through all sets, from 1.
type OutletSet struct {
	Type    string // coupler, such as "c13"
	Count   int
	Bank    string                  // label of the bank that they hang on, or ""
	Locking Figure[bool]            // they hold a plug against being pulled out
	From    Figure[quantity.Length] // middle of the first of them above the lower end of a strip that hangs upright
	Pitch   Figure[quantity.Length] // from the middle of one to that of the next, upward
}

// A Bank is a branch of a strip with a breaker of its own.
type Bank struct {
	Name  string
	Rated quantity.Current // 0 where it has no breaker
	Lines string           // "1-2", "2-3", "3-1", "1-n", "2-n" or "3-n" on three phases, else ""
}

// A Cord runs from an inlet of a mount to an outlet. The cords of a mount are in
// the order of its inlets.
type Cord struct {
	To      string // label of a strip in the same rack, or "rack.hq-b.strip-a"
	Outlet  int    // number of the outlet, or 0 where it is not said
	Length  Figure[quantity.Length]
	Needed  Figure[quantity.Length] // the length that its way takes, where somebody has measured it
	Plug    string                  // its end at the outlet
	Socket  string                  // its end at the equipment
	Locking Figure[bool]            // both its ends are held against being pulled out
	Fuse    quantity.Current        // in a fuse panel
}

// Criticality is how much hangs on a mount.
type Criticality uint8

// The grades.
const (
	NoCriticality Criticality = iota
	Spare
	Ordinary
	Important
	Critical
)

// Criticalities lists the grades as the language writes them.
var Criticalities = []string{"", "spare", "ordinary", "important", "critical"}

// String names the grade as the language writes it.
func (c Criticality) String() string { return Criticalities[c] }

// VoltageRange is the voltages that inlets take, both ends included: negative
// ones for a direct current supply with earthed plus.
type VoltageRange struct{ From, To quantity.Voltage }

// PowerSourceOf gives the source that a feed comes from: that of its breakers,
// or the one that its attribute "source" names. It is nil where none is
// declared.
func (e *Estate) PowerSourceOf(f *Feed) *PowerSource {
	for b, n := f.Breaker, 0; b != nil && n < maxDepth; b, n = b.From, n+1 {
		if b.Supply != nil {
			return b.Supply
		}
	}
	if f.Origin == "" {
		return nil
	}
	return find(e.PowerSources, f.Origin, func(s *PowerSource) string { return s.Name })
}

// maxDepth bounds every walk up the tree, so that a loop in the files ends.
const maxDepth = 16

// Upstream gives all that a feed hangs on, nearest first: breakers, then
// sources level by level.
func (e *Estate) Upstream(f *Feed) []Upstream {
	var out []Upstream
	add := func(u Upstream) {
		if !slices.ContainsFunc(out, func(o Upstream) bool { return o.Ref == u.Ref }) {
			out = append(out, u)
		}
	}
	for b, n := f.Breaker, 0; b != nil && n < maxDepth; b, n = b.From, n+1 {
		add(Upstream{Ref: b.Ref(), At: b.Source.At(), Breaker: b})
	}
	s := e.PowerSourceOf(f)
	if s == nil {
		if f.Origin != "" {
			add(Upstream{Ref: "source " + f.Origin, At: f.Source.Attr("source")})
		}
		return out
	}
	wave := []*PowerSource{s}
	for n := 0; len(wave) > 0 && n < maxDepth; n++ {
		var next []*PowerSource
		for _, s := range wave {
			add(Upstream{Ref: s.Ref(), At: s.Source.At(), Kind: s.Kind, Source: s})
			next = append(next, s.From...)
		}
		wave = next
	}
	return out
}

// Carries reports whether the sum of all that hangs on it may be compared with
// figures of its own: it is a breaker, or a source of which more is declared than
// its place in the tree.
func (u *Upstream) Carries() bool {
	if u.Source == nil {
		return u.Breaker != nil
	}
	return slices.ContainsFunc(u.Source.Source.Attrs, func(a AttrSpan) bool { return a.Name != "kind" && a.Name != "from" })
}

// An Upstream is one thing that a feed hangs on.
type Upstream struct {
	Ref  string // "breaker.p1-3", "source.ups-1", or "source ups-1" of one that is only named
	At   Range
	Kind SourceKind // of a source, else NoSourceKind

	Breaker *Breaker     // nil of a source
	Source  *PowerSource // nil of a breaker, and of a source that is only named
}

// DiesWith reports whether a feed is lost when the thing of that reference is.
// A source is lost with what feeds it, all of it; one that stores energy goes on
// for a while, and is lost only in the long run.
func (e *Estate) DiesWith(f *Feed, ref string, longRun bool) bool {
	for b, n := f.Breaker, 0; b != nil && n < maxDepth; b, n = b.From, n+1 {
		if b.Ref() == ref {
			return true
		}
	}
	s := e.PowerSourceOf(f)
	if s == nil {
		return f.Origin != "" && "source "+f.Origin == ref
	}
	return s.diesWith(ref, longRun, 0)
}

func (s *PowerSource) diesWith(ref string, longRun bool, depth int) bool {
	if s.Ref() == ref {
		return true
	}
	if len(s.From) == 0 || depth >= maxDepth || !longRun && s.Kind.Stores() {
		return false
	}
	for _, from := range s.From {
		if from == nil || !from.diesWith(ref, longRun, depth+1) {
			return false
		}
	}
	return true
}

// OutletCount gives how many outlets the equipment has.
func (q *Equipment) OutletCount() int {
	n := 0
	for _, o := range q.Outlets {
		n += o.Count
	}
	return n
}

// Outlet gives the set that an outlet number belongs to, or nil.
func (q *Equipment) Outlet(number int) *OutletSet {
	if number < 1 {
		return nil
	}
	for i := range q.Outlets {
		if number <= q.Outlets[i].Count {
			return &q.Outlets[i]
		}
		number -= q.Outlets[i].Count
	}
	return nil
}

// BankNamed gives the bank of that label, or nil.
func (q *Equipment) BankNamed(name string) *Bank {
	for i := range q.Banks {
		if q.Banks[i].Name == name {
			return &q.Banks[i]
		}
	}
	return nil
}

// Transfers reports whether the equipment hands on the first of its supplies
// that is live, as a transfer switch does.
func (q *Equipment) Transfers() bool { return q.Kind == "transfer-switch" }

// StripOf gives the mount that a cord of m runs to, or nil where there is none
// of that name. Only cords to another rack need the estate.
func (e *Estate) StripOf(m *Mount, c *Cord) *Mount {
	if m.Rack == nil {
		return nil
	}
	rest, foreign := strings.CutPrefix(c.To, "rack.")
	if !foreign {
		return m.Rack.Mount(c.To)
	}
	rack, label, ok := strings.Cut(rest, ".")
	if !ok {
		return nil
	}
	if rack == m.Rack.Name {
		return m.Rack.Mount(label)
	}
	if e == nil {
		return nil
	}
	if r := e.Rack(rack); r != nil {
		return r.Mount(label)
	}
	return nil
}

// FollowCords gives every mount that has cords, and writes no feeds, the feeds
// that its cords lead to, one for each cord that leads to one. A transfer
// switch is followed to the first of its own.
func (e *Estate) FollowCords() {
	for _, r := range e.Racks {
		for _, m := range r.Mounts {
			if len(m.Cords) == 0 || m.Source.Has("feeds") {
				continue
			}
			var feeds []*Feed
			for i := range m.Cords {
				if f := e.feedBehind(m, &m.Cords[i], nil, 0); f != nil {
					feeds = append(feeds, f)
				}
			}
			m.Feeds = feeds
		}
	}
}

// Live gives the feeds that a mount's inlets draw on with some things lost, one
// for each live inlet, and with it the cord of each where cords are said.
func (e *Estate) Live(m *Mount, o *Outage) []LiveInlet {
	var out []LiveInlet
	if len(m.Cords) == 0 || m.Source.Has("feeds") {
		for _, f := range m.Feeds {
			if f != nil && !o.dead(f) {
				out = append(out, LiveInlet{Feed: f})
			}
		}
		return out
	}
	for i := range m.Cords {
		c := &m.Cords[i]
		strip := e.StripOf(m, c)
		if f := e.feedBehind(m, c, o, 0); f != nil {
			in := LiveInlet{Feed: f, Cord: c, Strip: strip}
			if q := strip.Equipment; q != nil {
				if set := q.Outlet(c.Outlet); set != nil {
					in.Bank = q.BankNamed(set.Bank)
				}
			}
			out = append(out, in)
		}
	}
	return out
}

// A LiveInlet is one live inlet of a mount.
type LiveInlet struct {
	Feed  *Feed
	Cord  *Cord  // nil where only feeds are said
	Strip *Mount // that the cord runs to
	Bank  *Bank  // that its outlet hangs on, if said
}

// feedBehind gives the feed that a cord leads to with some things lost, or nil.
func (e *Estate) feedBehind(m *Mount, c *Cord, o *Outage, depth int) *Feed {
	strip := e.StripOf(m, c)
	if strip == nil || depth >= maxDepth || o.gone(strip) {
		return nil
	}
	if len(strip.Cords) > 0 && !strip.Source.Has("feeds") {
		for i := range strip.Cords {
			if f := e.feedBehind(strip, &strip.Cords[i], o, depth+1); f != nil {
				return f
			}
			if strip.Equipment == nil || !strip.Equipment.Transfers() {
				return nil
			}
		}
		return nil
	}
	for _, f := range strip.Feeds {
		if f != nil && !o.dead(f) {
			return f
		}
		if strip.Equipment == nil || !strip.Equipment.Transfers() {
			return nil
		}
	}
	return nil
}

// An Outage is what is lost together: feeds, and strips or other mounts that
// hand power on. A nil Outage is the normal state.
type Outage struct {
	Feeds  []*Feed
	Mounts []*Mount

	lost map[*Feed]bool // the feeds again, where they are many; see indexed
}

func (o *Outage) dead(f *Feed) bool {
	if o == nil {
		return false
	}
	if o.lost != nil {
		return o.lost[f]
	}
	return slices.Contains(o.Feeds, f)
}

// indexed gives the same outage, quicker to ask where one source takes
// hundreds of feeds with it.
func (o *Outage) indexed() *Outage {
	const few = 8
	if o == nil || o.lost != nil || len(o.Feeds) <= few {
		return o
	}
	with := *o
	with.lost = make(map[*Feed]bool, len(o.Feeds))
	for _, f := range o.Feeds {
		with.lost[f] = true
	}
	return &with
}

func (o *Outage) gone(m *Mount) bool { return o != nil && slices.Contains(o.Mounts, m) }
