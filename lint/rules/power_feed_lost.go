package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// feedLost reports a feed that would carry too much with another one lost: each
// feed in turn, then each breaker and source that several feeds hang on, then
// each strip. A feed that is over with nothing lost is left to power/feed-over.
var feedLost = &lint.Rule{
	ID:      "power/feed-lost",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a feed would be overloaded when another one fails",
	Why: `Equipment with two supplies draws half from each, so the meter reads half
the load on a good day. When one feed fails the other must carry everything at
once; if it cannot, it trips too, and the redundancy that was paid for has made
one fault into two. What counts is the sum of both feeds, not each of them:
40 % and 40 % of a rating will do, and so will 60 % and 20 %.`,
	Source:  "NFPA 70 articles 210.19 to 215.3 for the share; the rule for pairs of feeds is common practice",
	Omits:   "power factor (taken as one); breakers and sources themselves (power/upstream-over)",
	Decides: electrician,
	Limits:  []lint.Limit{continuousLimit},
	Estate:  checkFeedLost,
	Bad: `
site "quay" { continuous = 0.8 }
room "hq" { site = site.quay }
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "server" {
  height = "2U"
  draw   = { maximum = "850 W" }
  inlets = { type = "c14", count = 2, needs = 1 }
}
feed "a" {
  room    = room.hq
  source  = "ups"
  voltage = "230 V"
  rated   = "16 A"
}
feed "b" {
  room    = room.hq
  source  = "mains"
  voltage = "230 V"
  rated   = "16 A"
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
`,
	Good: `
site "quay" { continuous = 0.8 }
room "hq" { site = site.quay }
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "server" {
  height = "2U"
  draw   = { maximum = "850 W" }
  inlets = { type = "c14", count = 2, needs = 1 }
}
feed "a" {
  room    = room.hq
  source  = "ups"
  voltage = "230 V"
  rated   = "16 A"
}
feed "b" {
  room    = room.hq
  source  = "mains"
  voltage = "230 V"
  rated   = "16 A"
}
rack "r1" {
  frame = frame.cab
  stack "server" {
    from      = 1
    count     = 3
    equipment = equipment.server
    feeds     = [feed.a, feed.b]
  }
}
`,
}

// A lostState is what fails together.
type lostState struct {
	out   estate.Outage
	says  string       // "feed.b lost"
	thing string       // "feed.b" or "source ups"
	at    estate.Range // where it is declared
	alone bool         // one feed
}

// lostStates gives each feed alone, then each breaker and source that several
// feeds hang on, then each strip.
func lostStates(e *estate.Estate, supply *estate.Supply) []lostState {
	var out []lostState
	var shared []estate.Upstream
	seen := map[string]bool{}
	for _, f := range supply.Feeds() {
		out = append(out, lostState{
			out: estate.Outage{Feeds: []*estate.Feed{f}}, says: f.Ref() + " lost", thing: f.Ref(), at: f.Source.At(), alone: true,
		})
		for _, u := range e.Upstream(f) {
			if !seen[u.Ref] {
				seen[u.Ref] = true
				shared = append(shared, u)
			}
		}
	}
	dying := map[string]bool{}
	for _, u := range shared {
		var feeds []*estate.Feed
		var names []string
		for _, f := range supply.Feeds() {
			if e.DiesWith(f, u.Ref, false) {
				feeds = append(feeds, f)
				names = append(names, f.Ref())
			}
		}
		// Of several things that take the same feeds with them the nearest
		// says enough.
		key := list(names)
		if len(feeds) < 2 || dying[key] {
			continue
		}
		dying[key] = true
		out = append(out, lostState{
			out: estate.Outage{Feeds: feeds}, says: fmt.Sprintf("%s lost (%s)", u.Ref, list(names)), thing: u.Ref, at: u.At,
		})
	}
	for _, strip := range supply.Strips() {
		out = append(out, lostState{
			out: estate.Outage{Mounts: []*estate.Mount{strip}}, says: strip.Ref() + " lost", thing: strip.Ref(), at: strip.Source.At(),
		})
	}
	return out
}

func checkFeedLost(p *lint.Pass) {
	supply := p.Estate.Supply()
	told := map[*estate.Feed]bool{} // reported for one feed lost: what else is lost says nothing new
	silent := map[*estate.Feed]bool{}
	for _, state := range lostStates(p.Estate, supply) {
		for _, l := range supply.RisingIn(&state.out) {
			feed := l.Feed
			if silent[feed] || !state.alone && told[feed] {
				continue
			}
			rack := onlyRack(supply.On(feed))
			limit, why := allowed(p, feed)
			i, noVoltage := feed.Current(l.Power)
			if why == "" {
				why = noVoltage
			}
			if why != "" {
				silent[feed] = true
				feedUnchecked(p, feed, rack, why)
				continue
			}
			normal := supply.Load(feed)
			if n, _ := feed.Current(normal.Power); n > limit.most {
				silent[feed] = true
				continue
			}
			level, over := limit.over(i)
			if !over {
				if !l.Whole() && !silent[feed] {
					silent[feed] = true
					feedUnchecked(p, feed, rack, l.Because())
				}
				continue
			}
			told[feed] = true
			p.Report(lint.Finding{
				At: feed.Source.Attr("rated"), Thing: feed.Ref(), Others: []string{state.thing}, Rack: rack, Level: level,
				Message: fmt.Sprintf("with %s, %s carries %s; %s", state.says, feed.Ref(), carries(&l, i), limit.says()),
				Related: append([]lint.Related{{At: state.at, Message: state.thing + " is taken as lost"}}, largest(&l, 3)...),
			})
		}
	}
}
