package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// upstreamOver reports a breaker or a source that carries more than it is rated
// for: the sum of the feeds on it, in normal state or with anything else lost. A
// source rated in VA is held against apparent power, one rated in W against
// active power. A UPS among the mounts is left to [upsOver].
var upstreamOver = &lint.Rule{
	ID:      "power/upstream-over",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a breaker or a source carries more than it is rated for",
	Why: `Each feed is inside its limit, and the UPS behind four of them is not; or it is,
until the other one fails and all four double. A UPS that is overloaded goes to
bypass, and the next dip of the mains takes everything.`,
	Source: "the maker's sheet for sources; NFPA 70 articles 210.19 to 215.3 for the share of breakers",
	Omits: "losses of sources; runtime of batteries (power/ups-runtime); power factors that are not declared (taken as one where a draw is in watts); " +
		"currents that lead or are distorted count as if all lagged alike, which is the most that they can come to",
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
	for _, c := range p.Supply().Carriers() {
		switch {
		case c.Breaker != nil:
			judgeBreaker(p, c)
		case c.Source != nil:
			judgeSource(p, c)
		}
	}
}

func judgeBreaker(p *lint.Pass, c *estate.Carrier) {
	for _, b := range c.In {
		if f, over := breakerOver(p, c, b); over {
			p.Report(f)
			return
		}
	}
	why := c.Because()
	if why == "" {
		why = linesUnjudged(p, c)
	}
	if !c.Breaker.Rated.Known() {
		why = lacks("rating", c.Breaker.Ref(), c.Breaker.Rated.State)
	}
	if why != "" {
		p.NotChecked(lint.Unchecked{At: c.Breaker.Source.At(), Thing: c.Breaker.Ref(), Because: why})
	}
}

func judgeSource(p *lint.Pass, c *estate.Carrier) {
	for _, b := range c.In {
		if f, over := sourceOver(c, b); over {
			p.Report(f)
			return
		}
	}
	if why := sourceUnjudged(c); why != "" {
		p.NotChecked(lint.Unchecked{At: c.Source.Source.At(), Thing: c.Source.Ref(), Because: why})
	}
}

// breakerOver compares what a breaker carries in a state with what it may.
func breakerOver(p *lint.Pass, c *estate.Carrier, carried estate.Burden) (lint.Finding, bool) {
	b := c.Breaker
	limit, ok := breakerAllowance(p, c)
	if !ok {
		return lint.Finding{}, false
	}
	current, most, line := c.Fullest(carried)
	level, over := limit.over(current)
	if !over {
		return lint.Finding{}, false
	}
	where := ""
	switch {
	case most > current:
		where = " at least on one of its lines"
	case line > 0:
		where = fmt.Sprintf(" on line %d", line)
	}
	f := lint.Finding{At: b.Source.Attr("rated"), Thing: b.Ref(), Level: level}
	f.Message = fmt.Sprintf("%s%s carries %s%s (%s over %s%s); %s", withLost(&f, carried.State), b.Ref(), current.Beside(limit.most), where, amount(carried.Power), quantity.Count(len(c.Feeds), "feed"), atLeast(c.Because() == ""), limit.says())
	return f, true
}

// breakerAllowance gives what a breaker may carry, or false where its rating is
// not known.
func breakerAllowance(p *lint.Pass, c *estate.Carrier) (allowance, bool) {
	rated, ok := c.Breaker.Rated.Get()
	if !ok {
		return allowance{}, false
	}
	as := *c.Feeds[0]
	as.Rated = estate.Is(rated)
	limit, why := allowed(p, &as)
	return limit, why == ""
}

// linesUnjudged says which lines would have to be known to judge a breaker that
// was over in no state, or "".
func linesUnjudged(p *lint.Pass, c *estate.Carrier) string {
	limit, ok := breakerAllowance(p, c)
	if !ok || !c.ThreePhase() {
		return ""
	}
	for _, b := range c.In {
		_, most, _ := c.Fullest(b)
		if _, over := limit.over(most); !over {
			continue
		}
		var names []string
		for _, f := range c.Feeds {
			if f.Phases == 1 && f.Lines == "" {
				names = append(names, f.Ref())
			}
		}
		if len(names) == 0 {
			return ""
		}
		return fmt.Sprintf("the lines of %s are missing; all on one line of %s, they would make it carry %s%s",
			list(names), c.Breaker.Ref(), most.Beside(limit.most), withState(b.State))
	}
	return ""
}

// withState names a lost state at the end of a sentence.
func withState(state *estate.LostState) string {
	if state == nil {
		return ""
	}
	return " with " + state.Says
}

// sourceOver compares what a source gives in a state with its rating.
func sourceOver(c *estate.Carrier, b estate.Burden) (lint.Finding, bool) {
	s := c.Source
	says, over := overRating(s.Rated, b)
	if !over {
		return lint.Finding{}, false
	}
	f := lint.Finding{At: s.Source.Attr("rated"), Thing: s.Ref()}
	f.Message = fmt.Sprintf("%s%s gives %s over %s%s; %s", withLost(&f, b.State), s.Ref(), says.carried, quantity.Count(len(c.Feeds), "feed"), atLeast(c.Because() == ""), says.rated)
	return f, true
}

// sourceUnjudged says why a source that was not over could not be judged whole.
// A utility needs no rating, nor does a source that a UPS in a rack gives: that
// one is judged where it stands.
func sourceUnjudged(c *estate.Carrier) string {
	s := c.Source
	if s.Rated.Known() {
		return ratingUnjudged(s.Rated, c)
	}
	if s.Kind == estate.Utility || s.Rated.State() == estate.IsMissing && s.Mount != nil && s.Mount.Equipment != nil && s.Mount.Equipment.Rated.State() != estate.IsMissing {
		return ""
	}
	return lacks("rating", s.Ref(), s.Rated.State())
}

// An overRated is how a burden and a rating that it passes are told.
type overRated struct{ carried, rated string }

// overRating compares a burden with both powers of a rating.
func overRating(r estate.Rating, b estate.Burden) (overRated, bool) {
	active, apparent := b.Power.Active, b.Power.Apparent()
	w, knownW := r.Active.Get()
	s, knownS := r.Apparent.Get()
	overW, overS := knownW && active > w, knownS && apparent > s
	va := estate.InVoltAmperes
	switch {
	case overW && overS:
		return overRated{
			fmt.Sprintf("%s and %s", va(apparent), active),
			fmt.Sprintf("it is rated for %s%s and %s%s, %s and %s less", va(s), basis(r.Apparent), w, basis(r.Active), va(apparent-s), active-w),
		}, true
	case overS:
		carried := va(apparent)
		switch {
		case b.Power.Most() != apparent:
			carried += " (" + estate.ActiveText(b.Power) + ")"
		case active == apparent:
			carried += " (at power factor 1)"
		}
		return overRated{carried, fmt.Sprintf("it is rated for %s%s, %s less", va(s), basis(r.Apparent), va(apparent-s))}, true
	case overW:
		carried := active.String()
		if apparent != active {
			carried += " (" + va(apparent) + ")"
		}
		return overRated{carried, fmt.Sprintf("it is rated for %s%s, %s less", w, basis(r.Active), active-w)}, true
	}
	return overRated{}, false
}

// ratingUnjudged says what is not known of a carrier that was found over its
// rating in no state, as far as it could change that.
func ratingUnjudged(r estate.Rating, c *estate.Carrier) string {
	if c.Draw != "" {
		return c.Draw
	}
	if r.Apparent.Known() && c.Factor != "" {
		return c.Factor
	}
	if w, ok := r.Active.Get(); ok && c.Watts != "" {
		most := quantity.Power(0)
		for _, b := range c.In {
			most = max(most, b.Power.Most())
		}
		if most > w {
			return c.Watts
		}
	}
	return ""
}
