package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// electrician is who decides about loads of feeds.
const electrician = "a licensed electrician, under the local code"

// continuousLimit is the share of a rating that lasting load may take where the
// site states none.
var continuousLimit = lint.Limit{
	Name: "continuous", Default: 0.8,
	Doc: "share of a feed's rating for lasting load where the site states none: 0.8 by NFPA 70 (articles 210.19 to 215.3); " +
		"IEC 60364-4-43 has no such factor, so sites under it state continuous = 1.0. Where no site states one, what lies between it and the rating is a warning",
}

// An allowance is what a feed may carry for hours.
type allowance struct {
	rated  quantity.Current
	most   quantity.Current
	origin string // whose share it is
	stated bool   // the site states the share
}

// allowed gives what a feed may carry, or why that is not known.
func allowed(p *lint.Pass, f *estate.Feed) (allowance, string) {
	rated, ok := f.Rated.Get()
	if !ok {
		return allowance{}, fmt.Sprintf("the rating of %s is %s", f.Ref(), f.Rated.State)
	}
	a := allowance{rated: rated}
	share := lint.LimitFor[float64](p, "continuous", f)
	a.origin = fmt.Sprintf("%s by NFPA 70, as no site states a share; IEC practice has none", quantity.Number(share, 2))
	if site := f.Site(); site != nil {
		a.origin = fmt.Sprintf("%s by NFPA 70, as site.%s states no share; IEC practice has none", quantity.Number(share, 2), site.Name)
		if s, ok := site.Continuous.Get(); ok {
			share, a.stated = s, true
			a.origin = fmt.Sprintf("%s by site.%s", quantity.Number(share, 2), site.Name)
		}
	}
	a.most = quantity.Of(share*rated.Amperes(), quantity.Ampere)
	return a, ""
}

// over compares a current with what is allowed. The level is that of an error
// beyond the rating, and beyond a share that the site has stated.
func (a allowance) over(i quantity.Current) (lint.Level, bool) {
	switch {
	case i <= a.most:
		return lint.NoLevel, false
	case i > a.rated || a.stated:
		return lint.Error, true
	}
	return lint.Warning, true
}

// says tells what is allowed: "12.8 A of its 16 A are allowed (0.8 by
// site.quay)".
func (a allowance) says() string {
	return fmt.Sprintf("%s of its %s are allowed (%s)", a.most, a.rated, a.origin)
}

// carries tells what a feed carries next to the most that it may: "14.7 A (3380 W
// maximum at 230 V)".
func carries(l *estate.Load, i, most quantity.Current) string {
	s := fmt.Sprintf("%s (%s", i.Beside(most), estate.ActiveText(l.Vector))
	if b := l.Basis(); b != "" {
		s += " " + b
	}
	if va := estate.VoltAmperes(l.Power, l.Apparent); va != "" {
		s += ", " + va + " by power factor,"
	}
	v := l.Feed.Voltage.Value
	switch {
	case l.Feed.Phases == 3:
		s += fmt.Sprintf(" at %s, three phases taken as balanced", v)
	default:
		lowest, ok := physics.LowestDC(v)
		if ok && l.Feed.Direct() {
			s += fmt.Sprintf(" at %s, the lowest of %s", lowest, v)
			break
		}
		s += fmt.Sprintf(" at %s", v)
	}
	return s + atLeast(l.Whole()) + ")"
}

// amount gives a power, and the apparent power where a power factor is
// declared: "3380 W, 3558 VA by power factor".
func amount(v physics.Vector[quantity.Power]) string {
	if va := estate.VoltAmperes(v.Most(), v.Apparent()); va != "" {
		return estate.ActiveText(v) + ", " + va + " by power factor"
	}
	return estate.ActiveText(v)
}

// onlyRack names the rack that all mounts are in, or nothing.
func onlyRack(mounts []*estate.Mount) string {
	name := ""
	for i, m := range mounts {
		if m.Rack == nil || i > 0 && m.Rack.Name != name {
			return ""
		}
		name = m.Rack.Name
	}
	return name
}

// largest points at the n mounts that draw most, and says how many others share
// the rest.
func largest(l *estate.Load, n int) []lint.Related {
	type draw struct {
		m *estate.Mount
		p quantity.Power
	}
	var top []draw
	drawing := 0
	for _, m := range l.Mounts {
		p, _, why := m.Load(l.Feed.Site())
		if why != "" || p == 0 {
			continue
		}
		drawing++
		at := len(top)
		for at > 0 && top[at-1].p < p {
			at--
		}
		if at < n {
			top = append(top[:at], append([]draw{{m, p}}, top[at:]...)...)
			top = top[:min(n, len(top))]
		}
	}
	var out []lint.Related
	for _, d := range top {
		out = append(out, lint.Related{At: d.m.Source.At(), Message: fmt.Sprintf("%s takes %s", d.m.Ref(), d.p)})
	}
	if rest := drawing - len(top); rest > 0 && len(out) > 0 {
		out[len(out)-1].Message += fmt.Sprintf("; %d more take the rest", rest)
	}
	return out
}

// feedUnchecked records that the rule could not be judged on a feed.
func feedUnchecked(p *lint.Pass, f *estate.Feed, rack, because string) {
	p.NotChecked(lint.Unchecked{At: f.Source.At(), Thing: f.Ref(), Rack: rack, Because: because})
}

// normalFirst puts the normal state, as nil, before lost ones.
func normalFirst(states []*estate.LostState) []*estate.LostState {
	return append([]*estate.LostState{nil}, states...)
}

// outageOf gives what is lost in a state; the normal one is nil.
func outageOf(state *estate.LostState) *estate.Outage {
	if state == nil {
		return nil
	}
	return &state.Out
}

// withLost names the state in which a finding holds, for the beginning of its
// message: "with feed.b lost, ". The normal state needs no word.
func withLost(f *lint.Finding, state *estate.LostState) string {
	if state == nil {
		return ""
	}
	f.Others = append(f.Others, state.Thing)
	f.Related = append(f.Related, lint.Related{At: state.At, Message: state.Thing + " is taken as lost"})
	return "with " + state.Says + ", "
}
