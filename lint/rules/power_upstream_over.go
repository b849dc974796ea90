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
	Omits:   "losses of sources; runtime of batteries; power factors that are not declared (taken as one), and all of them where a source is rated",
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

// A carrier is a breaker or a source, and what it carries in a state.
type carrier struct {
	breaker  *estate.Breaker
	source   *estate.PowerSource
	feeds    int
	first    *estate.Feed
	power    quantity.Power
	apparent quantity.Power
	current  quantity.Current
	why      string // what of it is not known
	told     bool
}

// A burden is what one feed lays on what is upstream of it.
type burden struct {
	power    quantity.Power
	apparent quantity.Power
	current  quantity.Current
}

func checkUpstreamOver(p *lint.Pass) {
	if len(p.Estate.Breakers)+len(p.Estate.PowerSources) == 0 {
		return
	}
	supply := p.Supply()
	of := map[string]*carrier{}
	var order []*carrier
	for _, b := range p.Estate.Breakers {
		of[b.Ref()] = &carrier{breaker: b}
		order = append(order, of[b.Ref()])
	}
	for _, s := range p.Estate.PowerSources {
		of[s.Ref()] = &carrier{source: s}
		order = append(order, of[s.Ref()])
	}
	carriers := map[*estate.Feed][]*carrier{}
	normal := map[*estate.Feed]burden{}
	for _, f := range supply.Feeds() {
		l := supply.Load(f)
		b, why := burdenOf(&l)
		normal[f] = b
		for _, u := range p.Estate.Upstream(f) {
			c := of[u.Ref]
			if c == nil {
				continue
			}
			carriers[f] = append(carriers[f], c)
			if c.feeds == 0 {
				c.first = f
			}
			c.feeds++
			c.power, c.apparent, c.current = c.power+b.power, c.apparent+b.apparent, c.current+b.current
			if c.why == "" {
				c.why = why
			}
		}
	}
	for _, c := range order {
		c.judge(p, nil, burden{})
	}
	states := supply.LostStates()
	for i := range states {
		more := map[*carrier]burden{}
		add := func(f *estate.Feed, b burden, sign int) {
			for _, c := range carriers[f] {
				m := more[c]
				m.power += b.power * quantity.Power(sign)
				m.apparent += b.apparent * quantity.Power(sign)
				m.current += b.current * quantity.Current(sign)
				more[c] = m
			}
		}
		for _, f := range states[i].Out.Feeds {
			add(f, normal[f], -1)
		}
		for _, l := range supply.Touched(&states[i].Out) {
			b, _ := burdenOf(&l)
			add(l.Feed, b, 1)
			add(l.Feed, normal[l.Feed], -1)
		}
		for _, c := range order {
			if b, ok := more[c]; ok {
				c.judge(p, &states[i], b)
			}
		}
	}
	for _, c := range order {
		c.unjudged(p)
	}
}

func burdenOf(l *estate.Load) (burden, string) {
	why := l.Because()
	if l.Power == 0 {
		return burden{}, why
	}
	i, missing := l.Feed.Current(l.Apparent)
	if why == "" {
		why = missing
	}
	return burden{l.Power, l.Apparent, i}, why
}

// judge compares what the carrier carries in a state with its rating, and
// reports it in the first state in which it is over.
func (c *carrier) judge(p *lint.Pass, state *estate.LostState, more burden) {
	if c.told || c.feeds == 0 {
		return
	}
	power, current := c.power+more.power, c.current+more.current
	var f lint.Finding
	if b := c.breaker; b != nil {
		rated, ok := b.Rated.Get()
		if !ok {
			return
		}
		as := *c.first
		as.Rated = estate.Is(rated)
		limit, _ := allowed(p, &as)
		level, over := limit.over(current)
		if !over {
			return
		}
		f = lint.Finding{At: b.Source.Attr("rated"), Thing: b.Ref(), Level: level}
		f.Message = fmt.Sprintf("%s%s carries %s (%s over %s%s); %s", withLost(&f, state), b.Ref(), current, amount(power, c.apparent+more.apparent), quantity.Count(c.feeds, "feed"), atLeast(c.why == ""), limit.says())
	} else {
		rated, ok := c.source.Rated.Get()
		if !ok || power <= rated {
			return
		}
		f = lint.Finding{At: c.source.Source.Attr("rated"), Thing: c.source.Ref()}
		f.Message = fmt.Sprintf("%s%s gives %s over %s%s; it is rated for %s", withLost(&f, state), c.source.Ref(), power, quantity.Count(c.feeds, "feed"), atLeast(c.why == ""), rated)
	}
	c.told = true
	p.Report(f)
}

// unjudged records a carrier that was not over, and of which not all is known.
func (c *carrier) unjudged(p *lint.Pass) {
	if c.told || c.feeds == 0 {
		return
	}
	why := c.why
	u := lint.Unchecked{}
	if b := c.breaker; b != nil {
		u.At, u.Thing = b.Source.At(), b.Ref()
		if !b.Rated.Known() {
			why = lacks("rating", b.Ref(), b.Rated.State)
		}
	} else {
		s := c.source
		u.At, u.Thing = s.Source.At(), s.Ref()
		if !s.Rated.Known() {
			if s.Kind == estate.Utility {
				return
			}
			why = lacks("rating", s.Ref(), s.Rated.State)
		}
	}
	if why != "" {
		u.Because = why
		p.NotChecked(u)
	}
}
