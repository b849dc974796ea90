package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// upstreamOver reports a breaker or a source that carries more than it is rated
// for: the sum of the feeds on it, in normal state or with anything else lost.
var upstreamOver = &lint.Rule{
	ID:      "power/upstream-over",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a breaker or a source carries more than it is rated for",
	Why: `Each feed is inside its limit, and the UPS behind four of them is not; or it is,
until the other one fails and all four double. A UPS that is overloaded goes to
bypass, and the next dip of the mains takes everything.`,
	Source:  "the maker's sheet for sources; NFPA 70 articles 210.19 to 215.3 for the share of breakers",
	Omits:   "losses of sources; runtime of batteries; power factor (taken as one)",
	Decides: electrician,
	Limits:  []lint.Limit{continuousLimit},
	Estate:  checkUpstreamOver,
	Bad:     upstreamExample("2 kVA"),
	Good:    upstreamExample("6 kVA"),
}

func upstreamExample(rated string) string {
	return fmt.Sprintf(`
frame "cab" {
  system = "19in"
  units  = 42
}
source "mains" {
  kind  = "utility"
  rated = "40 kVA"
}
source "ups-1" {
  kind  = "ups"
  from  = [source.mains]
  rated = %q
}
feed "a" {
  source  = "ups-1"
  voltage = "230 V"
  rated   = "16 A"
}
feed "b" {
  source  = "mains"
  voltage = "230 V"
  rated   = "16 A"
}
equipment "server" {
  height = "2U"
  draw   = "700 W"
  inlets = { type = "c14", count = 2, needs = 1 }
}
rack "r1" {
  frame = frame.cab
  stack "server" {
    from      = 1
    count     = 4
    equipment = equipment.server
    feeds     = [feed.a, feed.b]
  }
}
`, rated)
}

func checkUpstreamOver(p *lint.Pass) {
	if len(p.Estate.Breakers)+len(p.Estate.PowerSources) == 0 {
		return
	}
	supply := p.Estate.Supply()
	states := append([]lostState{{}}, lostStates(p.Estate, supply)...)
	on := map[string][]*estate.Feed{}
	for _, f := range supply.Feeds() {
		for _, u := range p.Estate.Upstream(f) {
			on[u.Ref] = append(on[u.Ref], f)
		}
	}
	for _, b := range p.Estate.Breakers {
		judgeBreaker(p, supply, b, on[b.Ref()], states)
	}
	for _, s := range p.Estate.PowerSources {
		judgeSource(p, supply, s, on[s.Ref()], states)
	}
}

// carried adds up what feeds carry in a state.
func carried(supply *estate.Supply, feeds []*estate.Feed, out *estate.Outage) (power quantity.Power, current quantity.Current, why string) {
	for _, f := range feeds {
		l := supply.LoadIn(f, out)
		power += l.Power
		if why == "" {
			why = l.Because()
		}
		if l.Power == 0 {
			continue
		}
		i, missing := f.Current(l.Power)
		if missing != "" && why == "" {
			why = missing
		}
		current += i
	}
	return power, current, why
}

func outageOf(states []lostState, i int) (*estate.Outage, string) {
	if i == 0 {
		return nil, ""
	}
	return &states[i].out, "with " + states[i].says + ", "
}

func judgeBreaker(p *lint.Pass, supply *estate.Supply, b *estate.Breaker, feeds []*estate.Feed, states []lostState) {
	if len(feeds) == 0 {
		return
	}
	unchecked := func(because string) {
		p.NotChecked(lint.Unchecked{At: b.Source.At(), Thing: b.Ref(), Because: because})
	}
	rated, ok := b.Rated.Get()
	if !ok {
		unchecked(lacks("rating", b.Ref(), b.Rated.State))
		return
	}
	as := *feeds[0]
	as.Rated = estate.Is(rated)
	limit, _ := allowed(p, &as)
	missing := ""
	for i := range states {
		out, with := outageOf(states, i)
		power, current, why := carried(supply, feeds, out)
		if missing == "" {
			missing = why
		}
		level, over := limit.over(current)
		if !over {
			continue
		}
		f := lint.Finding{At: b.Source.Attr("rated"), Thing: b.Ref(), Level: level}
		if i > 0 {
			f.Others = []string{states[i].thing}
			f.Related = []lint.Related{{At: states[i].at, Message: states[i].thing + " is taken as lost"}}
		}
		f.Message = fmt.Sprintf("%s%s carries %s (%s over %s%s); %s", with, b.Ref(), current, power, count(len(feeds), "feed"), atLeast(why == ""), limit.says())
		p.Report(f)
		return
	}
	if missing != "" {
		unchecked(missing)
	}
}

func judgeSource(p *lint.Pass, supply *estate.Supply, s *estate.PowerSource, feeds []*estate.Feed, states []lostState) {
	if len(feeds) == 0 {
		return
	}
	unchecked := func(because string) {
		p.NotChecked(lint.Unchecked{At: s.Source.At(), Thing: s.Ref(), Because: because})
	}
	rated, ok := s.Rated.Get()
	if !ok {
		if s.Kind != estate.Utility {
			unchecked(lacks("rating", s.Ref(), s.Rated.State))
		}
		return
	}
	missing := ""
	for i := range states {
		out, with := outageOf(states, i)
		power, _, why := carried(supply, feeds, out)
		if missing == "" {
			missing = why
		}
		if power <= rated {
			continue
		}
		f := lint.Finding{At: s.Source.Attr("rated"), Thing: s.Ref()}
		if i > 0 {
			f.Others = []string{states[i].thing}
			f.Related = []lint.Related{{At: states[i].at, Message: states[i].thing + " is taken as lost"}}
		}
		f.Message = fmt.Sprintf("%s%s gives %s over %s%s; it is rated for %s", with, s.Ref(), power, count(len(feeds), "feed"), atLeast(why == ""), rated)
		p.Report(f)
		return
	}
	if missing != "" {
		unchecked(missing)
	}
}
