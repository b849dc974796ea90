package rules

import (
	"cmp"
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// leakage reports standing leakage that takes too much of a residual current
// device's rating, and a protective conductor that carries more of it than an
// ordinary one should. It looks where a residual current or a leakage is
// declared.
var leakage = &lint.Rule{
	ID:      "power/leakage",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "earth leakage adds up to too much for a residual current device or a protective conductor",
	Why: `Every supply with a filter leaks a little into its protective conductor, all day,
with nothing wrong. Twenty of them take the residual current device to the edge,
and it opens at the next surge with everything behind it. And where the earth of
a strip breaks, that current looks for another way: through whoever touches the
rack. Do not remove a bond while supplies are connected; gear that leaks much
needs a reliable earth before its supply.`,
	Source: "IEC 60364-5-53, 531.3 (30 % of the rated residual current), IEC 60364-5-54, 543.7 (reinforced protective conductors above 10 mA), " +
		"IEC 61008 (opening between half the rating and the whole): from memory, unverified",
	Omits: "leakage of wiring; leakage over three phases, part of which cancels; surges; pulsating and smooth direct currents, which ask for a type of device; " +
		"what protects people, which is no matter of adding up",
	Decides: electrician,
	Limits: []lint.Limit{
		{Name: "share", Default: physics.ResidualShare, Doc: "share of a residual current device's rating that standing leakage may take (IEC 60364-5-53, from memory)"},
		{Name: "most", Default: physics.OrdinaryEarth, Doc: "current in a protective conductor that is not declared as reinforced (IEC 60364-5-54, from memory)"},
	},
	Estate: checkLeakage,
	Bad:    leakageExample(8),
	Good:   leakageExample(7),
}

func leakageExample(n int) string {
	return fmt.Sprintf(`
frame "cab" {
  system = "19in"
  units  = 42
}
feed "a" {
  voltage  = "230 V"
  rated    = "16 A"
  residual = "30 mA"
}
equipment "server" {
  height  = "1U"
  draw    = "180 W"
  leakage = "1.2 mA"
  inlets  = { type = "c14", count = 1, needs = 1 }
}
rack "r1" {
  frame = frame.cab
  stack "server" {
    from      = 1
    count     = %d
    equipment = equipment.server
    feeds     = [feed.a]
  }
}
`, n)
}

func checkLeakage(p *lint.Pass) {
	if !anyLeakage(p.Estate) {
		return
	}
	supply := p.Supply()
	moving := behindTransfer(supply)
	leaks := map[*estate.Feed][]leaking{}
	under := map[*estate.Breaker][]*estate.Feed{}
	for _, f := range supply.Feeds() {
		if f.Direct() || len(supply.On(f)) == 0 {
			continue
		}
		leaks[f] = leakingStates(supply, f, moving)
		for _, u := range p.Estate.Upstream(f) {
			if u.Breaker != nil && u.Breaker.Residual.State != estate.IsMissing {
				under[u.Breaker] = append(under[u.Breaker], f)
			}
		}
	}
	told := map[*estate.Feed]bool{}
	for _, f := range supply.Feeds() {
		if len(leaks[f]) == 0 {
			continue
		}
		d := device{ref: f.Ref(), at: f.Source.At(), attr: f.Source.Attr("residual"), rack: onlyRack(supply.On(f)), residual: f.Residual, feeds: []*estate.Feed{f}}
		silent := judgeResidual(p, supply, &d, leaks)
		told[f] = judgeConductor(p, supply, f, d.rack, leaks[f], silent)
	}
	for _, b := range p.Estate.Breakers {
		d := device{ref: b.Ref(), at: b.Source.At(), attr: b.Source.Attr("residual"), residual: b.Residual, feeds: under[b]}
		if len(d.feeds) > 0 {
			judgeResidual(p, supply, &d, leaks)
		}
	}
	for _, strip := range supply.Strips() {
		judgeStripConductor(p, supply, strip, told, moving)
	}
}

// anyLeakage reports whether anything is declared that the rule looks for.
func anyLeakage(e *estate.Estate) bool {
	for _, q := range e.Equipment {
		if q.Leakage.State != estate.IsMissing {
			return true
		}
	}
	for _, f := range e.Feeds {
		if f.Residual.State != estate.IsMissing {
			return true
		}
	}
	for _, b := range e.Breakers {
		if b.Residual.State != estate.IsMissing {
			return true
		}
	}
	return false
}

// A leaking is the leakage on a feed in a state; the normal one is nil.
type leaking struct {
	state *estate.LostState
	sum   estate.Leaking
}

// behindTransfer gives the mounts that hang behind a transfer switch: only their
// leakage comes over to another feed, so that only they can make one carry more
// with something lost.
func behindTransfer(supply *estate.Supply) map[*estate.Mount]bool {
	moving := map[*estate.Mount]bool{}
	for _, strip := range supply.Strips() {
		if strip.Equipment == nil || !strip.Equipment.Transfers() {
			continue
		}
		for _, m := range supply.Behind(strip) {
			moving[m] = true
		}
	}
	return moving
}

func anyOf(mounts []*estate.Mount, set map[*estate.Mount]bool) bool {
	return slices.ContainsFunc(mounts, func(m *estate.Mount) bool { return set[m] })
}

// leakingStates gives the leakage on a feed in the normal state, and in those
// that change it.
func leakingStates(supply *estate.Supply, f *estate.Feed, moving map[*estate.Mount]bool) []leaking {
	out := []leaking{{sum: supply.Leakage(f, nil)}}
	if !anyOf(supply.On(f), moving) {
		return out
	}
	for _, state := range supply.StatesOf(supply.On(f)) {
		if l := supply.Leakage(f, &state.Out); l.Known != out[0].sum.Known || len(l.Lacks) != len(out[0].sum.Lacks) {
			out = append(out, leaking{state, l})
		}
	}
	return out
}

// A device is a residual current device and the feeds behind it.
type device struct {
	ref      string
	at, attr estate.Range
	rack     string
	residual estate.Figure[quantity.Current]
	feeds    []*estate.Feed
}

// judgeResidual compares the leakage behind a device with its rating, and
// reports whether it said that something is not known.
func judgeResidual(p *lint.Pass, supply *estate.Supply, d *device, leaks map[*estate.Feed][]leaking) (silent bool) {
	if d.residual.State == estate.IsMissing {
		return false
	}
	unchecked := func(why string) bool {
		p.NotChecked(lint.Unchecked{At: d.at, Thing: d.ref, Rack: d.rack, Because: why})
		return true
	}
	rated, ok := d.residual.Get()
	if !ok {
		return unchecked(lacks("residual current", d.ref, d.residual.State))
	}
	share := lint.LimitFor[float64](p, "share", d.feeds[0])
	most := physics.ResidualRoom(rated, share)
	why := ""
	for _, l := range together(d.feeds, leaks) {
		if l.sum.Known > most {
			f := lint.Finding{At: d.attr, Thing: d.ref, Rack: d.rack, Others: []string{"residual current"}}
			with := withLost(&f, l.state)
			f.Message = fmt.Sprintf("%s%s of standing leakage hangs on %s (%s%s%s); %s of its residual current device's %s%s, %s, is the limit: %s too much",
				with, l.sum.Known.Milli(), d.ref, quantity.Count(l.sum.Inlets, "inlet"), atLeast(len(l.sum.Lacks) == 0), overPhases(d.feeds),
				percent(share), rated.Milli(), basis(d.residual), most.Milli(), (l.sum.Known - most).Milli())
			if half := rated / 2; l.sum.Known >= half {
				f.Message += fmt.Sprintf("; such a device may open from %s", half.Milli())
			}
			f.Related = append(f.Related, mostLeaking(supply, d.feeds, outageOf(l.state))...)
			p.Report(f)
			return false
		}
		if why == "" {
			why = l.sum.Because()
		}
	}
	return why != "" && unchecked(why)
}

// together adds the leakages of feeds, state by state, the normal one first.
func together(feeds []*estate.Feed, leaks map[*estate.Feed][]leaking) []leaking {
	out := make([]leaking, 1)
	for _, f := range feeds {
		out[0].sum.Add(leaks[f][0].sum)
	}
	place := map[*estate.LostState]int{}
	for _, f := range feeds {
		for _, l := range leaks[f][1:] {
			if _, ok := place[l.state]; ok {
				continue
			}
			place[l.state] = len(out)
			with := leaking{state: l.state}
			for _, g := range feeds {
				at := leaks[g][0].sum
				for i := range leaks[g] {
					if leaks[g][i].state == l.state {
						at = leaks[g][i].sum
					}
				}
				with.sum.Add(at)
			}
			out = append(out, with)
		}
	}
	return out
}

// judgeConductor compares the leakage on a feed with what an ordinary
// protective conductor may carry, and reports whether it is more.
func judgeConductor(p *lint.Pass, supply *estate.Supply, feed *estate.Feed, rack string, leaks []leaking, silent bool) bool {
	if feed.Earth == estate.ReinforcedEarth {
		return false
	}
	most := lint.LimitFor[quantity.Current](p, "most", feed)
	why := ""
	for _, l := range leaks {
		if l.sum.Known > most {
			f := lint.Finding{At: feed.Source.Attr("earth"), Thing: feed.Ref(), Rack: rack, Others: []string{"protective conductor"}}
			with := withLost(&f, l.state)
			f.Message = fmt.Sprintf("%sthe protective conductor of %s carries %s of standing leakage (%s%s%s); %s is the limit unless its earth is declared as reinforced",
				with, feed.Ref(), l.sum.Known.Milli(), quantity.Count(l.sum.Inlets, "inlet"), atLeast(len(l.sum.Lacks) == 0), overPhases([]*estate.Feed{feed}), most.Milli())
			f.Related = append(f.Related, mostLeaking(supply, []*estate.Feed{feed}, outageOf(l.state))...)
			p.Report(f)
			return true
		}
		if why == "" && l.sum.Known > 0 {
			why = l.sum.Because()
		}
	}
	if why != "" && !silent {
		feedUnchecked(p, feed, rack, why)
	}
	return false
}

// judgeStripConductor is judgeConductor for the cord of a strip on feeds that
// were not reported themselves.
func judgeStripConductor(p *lint.Pass, supply *estate.Supply, strip *estate.Mount, told map[*estate.Feed]bool, moving map[*estate.Mount]bool) {
	if strip.Equipment == nil || strip.Equipment.Earth == estate.ReinforcedEarth {
		return
	}
	for _, in := range p.Estate.Live(strip, nil) {
		if told[in.Feed] || in.Feed.Direct() {
			return
		}
	}
	most := lint.LimitFor[quantity.Current](p, "most", strip)
	states := normalFirst(nil)
	if anyOf(supply.Behind(strip), moving) {
		states = normalFirst(supply.StatesOf(supply.Behind(strip)))
	}
	for _, state := range states {
		sum := supply.StripLeakage(strip, outageOf(state))
		if sum.Known <= most {
			continue
		}
		f := lint.AtMount(strip, "equipment")
		with := withLost(&f, state)
		f.Message = fmt.Sprintf("%sthe protective conductor of the cord of %s carries %s of standing leakage (%s%s); %s is the limit unless the earth of equipment.%s is declared as reinforced",
			with, strip.Ref(), sum.Known.Milli(), quantity.Count(sum.Inlets, "inlet"), atLeast(len(sum.Lacks) == 0), most.Milli(), strip.Equipment.Name)
		p.Report(f)
		return
	}
}

// mostLeaking points at the three mounts that leak most.
func mostLeaking(supply *estate.Supply, feeds []*estate.Feed, o *estate.Outage) []lint.Related {
	type leak struct {
		m   *estate.Mount
		sum estate.Leaking
	}
	var all []leak
	for _, f := range feeds {
		for _, m := range supply.On(f) {
			if sum := supply.LeakageOf(m, f, o); sum.Known > 0 {
				all = append(all, leak{m, sum})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b leak) int { return cmp.Compare(b.sum.Known, a.sum.Known) })
	var out []lint.Related
	for _, l := range all[:min(3, len(all))] {
		out = append(out, lint.Related{At: l.m.Source.At(), Message: fmt.Sprintf("%s leaks %s over %s", l.m.Ref(), l.sum.Known.Milli(), quantity.Count(l.sum.Inlets, "inlet"))})
	}
	if rest := len(all) - len(out); rest > 0 {
		out[len(out)-1].Message += fmt.Sprintf("; %d more leak the rest", rest)
	}
	return out
}

// overPhases says how leakage over three phases is added.
func overPhases(feeds []*estate.Feed) string {
	for _, f := range feeds {
		if f.Phases == 3 {
			return ", added as it stands: over three phases part of it cancels"
		}
	}
	return ""
}
