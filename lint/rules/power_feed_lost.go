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
	Omits:   "power factors that are not declared (taken as one where a draw is in watts); breakers and sources themselves (power/upstream-over)",
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

func checkFeedLost(p *lint.Pass) {
	supply := p.Supply()
	told := map[*estate.Feed]bool{} // reported for one feed lost: what else is lost says nothing new
	silent := map[*estate.Feed]bool{}
	for _, state := range supply.LostStates() {
		rising := supply.RisingIn
		if !state.Alone && len(state.Out.Feeds) > 0 {
			rising = supply.RisingJointly
		}
		for _, l := range rising(&state.Out) {
			feed := l.Feed
			if silent[feed] || !state.Alone && told[feed] {
				continue
			}
			rack := onlyRack(supply.On(feed))
			limit, why := allowed(p, feed)
			i, noVoltage := feed.Current(l.Apparent)
			if why == "" {
				why = noVoltage
			}
			if why != "" {
				silent[feed] = true
				feedUnchecked(p, feed, rack, why)
				continue
			}
			normal := supply.Load(feed)
			if n, _ := feed.Current(normal.Apparent); n > limit.most {
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
				At: feed.Source.Attr("rated"), Thing: feed.Ref(), Others: []string{state.Thing}, Rack: rack, Level: level,
				Message: fmt.Sprintf("with %s, %s carries %s; %s", state.Says, feed.Ref(), carries(&l, i, limit.most), limit.says()),
				Related: append([]lint.Related{{At: state.At, Message: state.Thing + " is taken as lost"}}, largest(&l, 3)...),
			})
		}
	}
}
