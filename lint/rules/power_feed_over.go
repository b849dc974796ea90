package rules

import (
	"fmt"

	"cagenut/lint"
)

// feedOver reports a feed that carries more than lasting load may, with every
// other feed there. It adds up all racks that the feed reaches.
var feedOver = &lint.Rule{
	ID:      "power/feed-over",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a feed carries more than it may, with nothing lost",
	Why: `A feed loaded beyond its rating trips sooner or later, and takes down at
once everything that hangs on it. Loads that last three hours or more may take
only a part of the rating in North American practice, since the device runs
warm; elsewhere the device's own curve decides.`,
	Source:  "NFPA 70 articles 210.19, 210.20 and 215.3 (125 % of continuous load); IEC 60364-4-43 clause 433.1",
	Omits:   "power factors that are not declared (taken as one where a draw is in watts); currents that lead or are distorted count as if all lagged alike, which is the most that they can come to; single lines of three phases (power/line-over)",
	Decides: electrician,
	Limits:  []lint.Limit{continuousLimit},
	Estate:  checkFeedOver,
	Bad: `
site "quay" { continuous = 0.8 }
room "hq" { site = site.quay }
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "server" {
  height = "2U"
  draw   = { maximum = "800 W" }
  inlets = { type = "c14", count = 1, needs = 1 }
}
feed "a" {
  room    = room.hq
  voltage = "230 V"
  rated   = "16 A"
}
rack "r1" {
  frame = frame.cab
  stack "server" {
    from      = 1
    count     = 4
    equipment = equipment.server
    feeds     = [feed.a]
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
  draw   = { maximum = "800 W" }
  inlets = { type = "c14", count = 1, needs = 1 }
}
feed "a" {
  room    = room.hq
  voltage = "230 V"
  rated   = "16 A"
}
rack "r1" {
  frame = frame.cab
  stack "server" {
    from      = 1
    count     = 3
    equipment = equipment.server
    feeds     = [feed.a]
  }
}
`,
}

func checkFeedOver(p *lint.Pass) {
	supply := p.Supply()
	for _, feed := range supply.Feeds() {
		l := supply.Load(feed)
		if len(l.Mounts) == 0 {
			continue
		}
		rack := onlyRack(supply.On(feed))
		limit, why := allowed(p, feed)
		if why != "" {
			feedUnchecked(p, feed, rack, why)
			continue
		}
		i, why := feed.Current(l.Apparent)
		if why != "" {
			feedUnchecked(p, feed, rack, why)
			continue
		}
		level, over := limit.over(i)
		if !over {
			if !l.Whole() {
				feedUnchecked(p, feed, rack, l.Because())
			}
			continue
		}
		p.Report(lint.Finding{
			At: feed.Source.Attr("rated"), Thing: feed.Ref(), Rack: rack, Level: level,
			Message: fmt.Sprintf("%s carries %s; %s", feed.Ref(), carries(&l, i, limit.most), limit.says()),
			Related: largest(&l, 3),
		})
	}
}
