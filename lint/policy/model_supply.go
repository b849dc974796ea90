package policy

import (
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// loss is what a feed carries with another one lost.
type loss struct {
	of   *estate.Feed
	lost *estate.Feed
	load estate.Load
}

// losses gives, for each feed of a rack lost in turn, what the others that
// share a mount with it then carry.
func (m *Model) losses(r *estate.Rack) []*loss {
	var out []*loss
	feeds := r.RackFeeds()
	for _, lost := range feeds {
		for _, f := range feeds {
			if f != lost {
				out = append(out, &loss{of: f, lost: lost, load: m.supply().Load(f, lost)})
			}
		}
	}
	return out
}

func (m *Model) describeSupply() {
	c := m.feed
	ref := (*estate.Feed).Ref
	addName(c, func(t *estate.Feed) string { return t.Name })
	AddObject(c, "room", m.room, "the room in which it ends", func(t *estate.Feed) *estate.Room { return t.Room })
	AddText(c, "source", `what it comes from; feeds with the same source are not independent; "" where it is not declared`, known(func(t *estate.Feed) string { return t.Origin }))
	addFigure(c, "voltage", Volt, "its voltage", volts, "voltage", ref, func(t *estate.Feed) estate.Figure[quantity.Voltage] { return t.Voltage })
	addFigure(c, "rated", Ampere, "the rating of its overcurrent protection", amperes, "rating", ref, func(t *estate.Feed) estate.Figure[quantity.Current] { return t.Rated })
	addFigure(c, "residual", Ampere, "the rated residual operating current of its residual current device", amperes, "residual current", ref, func(t *estate.Feed) estate.Figure[quantity.Current] { return t.Residual })
	addWord(c, "earth", "what its protective conductor is made for", func(t *estate.Feed) estate.Earth { return t.Earth })
	AddText(c, "lines", `the lines of three phases that it hangs between, such as "2-n", or ""`, known(func(t *estate.Feed) string { return t.Lines }))
	AddText(c, "outlet", `the coupler that it ends in at the rack, or ""`, known(func(t *estate.Feed) string { return t.Outlet }))
	AddObject(c, "breaker", m.breaker, "its protective device, or null", func(t *estate.Feed) *estate.Breaker { return t.Breaker })
	AddObject(c, "supply", m.source, "what it comes from, over all breakers, or null where that is not declared", func(t *estate.Feed) *estate.PowerSource { return m.whole.PowerSourceOf(t) })
	AddCount(c, "phases", "", "how many phases it has", counted(func(t *estate.Feed) int { return t.Phases }))
	beyond(AddObjects(c, "mounts", m.mount, "the mounts with a cord on it", func(t *estate.Feed) []*estate.Mount { return m.supply().On(t) }))
	beyond(AddNumber(c, "load", Watt, "what it carries with nothing lost", func(t *estate.Feed) (Number, *Unknown) {
		l := m.supply().Load(t)
		return watts(l.Power), unsure(l.PowerBecause())
	}))
	beyond(AddNumber(c, "current", Ampere, "its current with nothing lost, at the power factors declared, else unity", func(t *estate.Feed) (Number, *Unknown) {
		l := m.supply().Load(t)
		return currentOf(t, &l)
	}))
	beyond(AddObjects(c, "losses", m.loss, "what it carries with each of the feeds that share a mount with it lost in turn", func(t *estate.Feed) []*loss {
		var beside []*estate.Feed
		for _, o := range m.supply().On(t) {
			for _, f := range o.Feeds {
				if f != nil && f != t && !slices.Contains(beside, f) {
					beside = append(beside, f)
				}
			}
		}
		slices.SortFunc(beside, func(a, b *estate.Feed) int { return int(a.Source.Block.Start - b.Source.Block.Start) })
		var out []*loss
		for _, f := range beside {
			out = append(out, &loss{of: t, lost: f, load: m.supply().Load(t, f)})
		}
		return out
	}))

	c = m.breaker
	addName(c, func(t *estate.Breaker) string { return t.Name })
	AddObject(c, "breaker", m.breaker, "the breaker before it, or null", func(t *estate.Breaker) *estate.Breaker { return t.From })
	AddObject(c, "source", m.source, "what it comes from, or null where that is another breaker", func(t *estate.Breaker) *estate.PowerSource { return t.Supply })
	addFigure(c, "rated", Ampere, "its rating", amperes, "rating", func(t *estate.Breaker) string { return "breaker." + t.Name }, func(t *estate.Breaker) estate.Figure[quantity.Current] { return t.Rated })
	addFigure(c, "residual", Ampere, "its rated residual operating current, as a residual current device", amperes, "residual current", (*estate.Breaker).Ref, func(t *estate.Breaker) estate.Figure[quantity.Current] { return t.Residual })
	AddCount(c, "phases", "", "how many phases it opens; 0 where that is not declared", counted(func(t *estate.Breaker) int { return t.Phases }))
	AddText(c, "curve", `its tripping curve after IEC 60898: "B", "C", "D" or ""`, known(func(t *estate.Breaker) string { return t.Curve }))

	c = m.source
	addName(c, func(t *estate.PowerSource) string { return t.Name })
	addWord(c, "kind", "what it is", func(t *estate.PowerSource) estate.SourceKind { return t.Kind })
	AddObject(c, "mount", m.mount, "the mount that it is, such as a UPS in a rack, or null", func(t *estate.PowerSource) *estate.Mount { return t.Mount })
	AddObjects(c, "from", m.source, "what feeds it", func(t *estate.PowerSource) []*estate.PowerSource {
		var out []*estate.PowerSource
		for _, s := range t.From {
			if s != nil {
				out = append(out, s)
			}
		}
		return out
	})
	addRating(c, (*estate.PowerSource).Ref, func(t *estate.PowerSource) estate.Rating { return t.Rated })
	addRuntime(c, (*estate.PowerSource).Ref, func(t *estate.PowerSource) estate.Figure[[]physics.RuntimePoint] { return t.Runtime })

	c = m.cord
	AddText(c, "to", `the strip that it goes to, or ""`, known(func(t *estate.Cord) string { return t.To }))
	AddCount(c, "outlet", "", "the number of its outlet, or 0 where that is not said", counted(func(t *estate.Cord) int { return t.Outlet }))
	to := func(t *estate.Cord) string { return "a cord to " + t.To }
	addFigure(c, "length", Millimetre, "its length", millimetres, "length", to, func(t *estate.Cord) estate.Figure[quantity.Length] { return t.Length })
	addFigure(c, "needed", Millimetre, "the length that its way takes, where somebody has measured it", millimetres, "needed length", to, func(t *estate.Cord) estate.Figure[quantity.Length] { return t.Needed })
	AddBool(c, "locking", "whether both its ends are held against being pulled out", func(t *estate.Cord) (bool, *Unknown) {
		if !t.Locking.Known() {
			return false, unknown("whether a cord to %s is locking is %s", t.To, t.Locking.State)
		}
		return t.Locking.Value, nil
	})
	AddText(c, "plug", `its end at the outlet, or ""`, known(func(t *estate.Cord) string { return t.Plug }))
	AddText(c, "socket", `its end at the equipment, or ""`, known(func(t *estate.Cord) string { return t.Socket }))
	AddNumber(c, "fuse", Ampere, "its fuse, in a fuse panel", func(t *estate.Cord) (Number, *Unknown) {
		if t.Fuse == 0 {
			return Number{}, unknown("the fuse of a cord to %s is missing", t.To)
		}
		return amperes(t.Fuse), nil
	})

	c = m.loss
	AddObject(c, "lost", m.feed, "the feed that is lost", func(t *loss) *estate.Feed { return t.lost })
	AddObject(c, "feed", m.feed, "the feed that carries on", func(t *loss) *estate.Feed { return t.of })
	AddNumber(c, "load", Watt, "what it then carries", func(t *loss) (Number, *Unknown) { return watts(t.load.Power), unsure(t.load.PowerBecause()) })
	AddNumber(c, "current", Ampere, "its current then, at the power factors declared, else unity", func(t *loss) (Number, *Unknown) { return currentOf(t.of, &t.load) })

	c = m.group
	addName(c, func(t *estate.Group) string { return t.Name })
	beyond(AddObjects(c, "members", m.mount, "its members", func(t *estate.Group) []*estate.Mount { return members(t) }))
	AddCount(c, "up", "mounts", "how many of them must stay up", counted(func(t *estate.Group) int { return t.Up }))
	AddTexts(c, "apart", "what the members must not share", func(t *estate.Group) []string { return t.Apart })
}

// addRating adds what something can give.
func addRating[T any](c *Class, ref func(T) string, get func(T) estate.Rating) {
	addFigure(c, "rated", Watt, "what it can give: apparent power where that is declared, else active power", watts, "rating", ref, func(t T) estate.Figure[quantity.Power] {
		if r := get(t); !r.Apparent.Known() {
			return r.Active
		}
		return get(t).Apparent
	})
	addFigure(c, "rated_active", Watt, "the active power that it can give", watts, "rated active power", ref, func(t T) estate.Figure[quantity.Power] { return get(t).Active })
	addFigure(c, "rated_apparent", Watt, "the apparent power that it can give", watts, "rated apparent power", ref, func(t T) estate.Figure[quantity.Power] { return get(t).Apparent })
}

// addRuntime adds a maker's curve of runtimes.
func addRuntime[T any](c *Class, ref func(T) string, get func(T) estate.Figure[[]physics.RuntimePoint]) {
	AddNumbers(c, "runtime", Minute, "how long it goes on at the points of its maker's curve, lightest load first", func(t T) []Number {
		var out []Number
		for _, p := range get(t).Value {
			out = append(out, minutesOf(p.Lasts))
		}
		return out
	})
	AddNumbers(c, "runtime_loads", Watt, "the loads of those points", func(t T) []Number {
		var out []Number
		for _, p := range get(t).Value {
			out = append(out, watts(p.Load))
		}
		return out
	})
}

func members(g *estate.Group) []*estate.Mount {
	var out []*estate.Mount
	for _, t := range g.Of {
		if t != nil {
			out = append(out, t)
		}
	}
	return out
}

func (m *Model) groupsOf(t *estate.Mount) []*estate.Group {
	return m.groups()[t]
}

func indexGroups(e *estate.Estate) map[*estate.Mount][]*estate.Group {
	x := map[*estate.Mount][]*estate.Group{}
	for _, g := range e.Groups {
		for _, t := range members(g) {
			if of := x[t]; len(of) == 0 || of[len(of)-1] != g {
				x[t] = append(of, g)
			}
		}
	}
	return x
}

func currentOf(f *estate.Feed, l *estate.Load) (Number, *Unknown) {
	if !l.Whole() {
		return Number{}, unsure(l.Because())
	}
	i, why := f.Current(l.Apparent)
	return amperes(i), unsure(why)
}

// found is a finding as policies see it.
type found struct{ f *lint.Finding }

func (m *Model) describeFinding() {
	c := m.finding
	AddText(c, "rule", `the identifier of its rule: "fit/too-deep"`, known(func(t *found) string { return t.f.Rule }))
	AddText(c, "level", `"error", "warning" or "note"`, known(func(t *found) string { return t.f.Level.String() }))
	AddText(c, "thing", `what it is about: "rack.hq-a.store-1"`, known(func(t *found) string { return t.f.Thing }))
	AddText(c, "rack", `the name of the rack that it is in, or ""`, known(func(t *found) string { return t.f.Rack }))
	AddText(c, "message", "what it says", known(func(t *found) string { return t.f.Message }))
	AddBool(c, "waived", "whether a waiver accepts it", known(func(t *found) bool { return t.f.Waiver != nil }))
	AddText(c, "waived_by", `who accepts it, or ""`, known(func(t *found) string {
		if t.f.Waiver == nil {
			return ""
		}
		return t.f.Waiver.By
	}))
	AddDate(c, "waived_until", "the last day on which it is accepted", func(t *found) (estate.Date, *Unknown) {
		if t.f.Waiver == nil {
			return 0, unknown("no waiver accepts it")
		}
		return t.f.Waiver.Until, nil
	})
}
