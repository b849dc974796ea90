package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// lineOver reports a three-phase feed of which one line carries more than it
// may, as the vector sum of the banks on it, in normal state or with anything
// else lost. A feed that would be over even balanced is left to
// power/feed-over and power/feed-lost.
var lineOver = &lint.Rule{
	ID:      "power/line-over",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "one line of three phases carries more than it may",
	Why: `The total says nothing about the lines. A load well inside a strip's volt-amperes,
plugged into two of its three banks, puts the line that both share over its
limit, and it is that line's pole of the breaker that trips all three.`,
	Source: "circuit theory: a line between two banks carries √(a² + b² + a b), not a + b; NFPA 70 articles 210.19 to 215.3 for the share",
	Omits: "power factors that are not declared (taken as one where a draw is in watts); currents that lead, beside others that lag, " +
		"which can load a line more than is reckoned; harmonics; the neutral",
	Decides: electrician,
	Limits:  []lint.Limit{continuousLimit},
	Estate:  checkLineOver,
	Bad:     lineExample([9]int{1, 2, 3, 9, 10, 11, 12, 13, 14}),
	Good:    lineExample([9]int{1, 9, 17, 2, 3, 10, 11, 18, 19}),
}

// lineExample puts three loads of 1000 W and six of 530 W into outlets of a
// strip of three banks of eight.
func lineExample(outlets [9]int) string {
	s := `
site "north" { continuous = 0.8 }
room "hall" { site = site.north }
frame "cab" {
  system = "19in"
  units  = 42
}
feed "t" {
  room    = room.hall
  source  = "panel"
  voltage = "208 V"
  phases  = 3
  rated   = "30 A"
}
equipment "strip-24" {
  kind   = "strip"
  height = "1700 mm"
  inlets = { type = "l15-30-p", count = 1, needs = 1 }
  outlets = [
    { type = "c13", count = 8, bank = "1" },
    { type = "c13", count = 8, bank = "2" },
    { type = "c13", count = 8, bank = "3" },
  ]
  banks = [
    { name = "1", lines = "1-2" },
    { name = "2", lines = "2-3" },
    { name = "3", lines = "3-1" },
  ]
}
equipment "kilo" {
  height = "1U"
  draw   = "1000 W"
  inlets = { type = "c14", count = 1, needs = 1 }
}
equipment "half" {
  height = "1U"
  draw   = "530 W"
  inlets = { type = "c14", count = 1, needs = 1 }
}
rack "r1" {
  frame = frame.cab
  zero_u "strip" {
    equipment = equipment.strip-24
    side      = "left"
    from      = "50 mm"
    feeds     = [feed.t]
  }
`
	for i, outlet := range outlets {
		kind := "kilo"
		if i >= 3 {
			kind = "half"
		}
		s += fmt.Sprintf(`  mount "%s-%d" {
    at        = %d
    equipment = equipment.%s
    cords     = { to = "strip", outlet = %d }
  }
`, kind, i+1, i+1, kind, outlet)
	}
	return s + "}\n"
}

func checkLineOver(p *lint.Pass) {
	supply := p.Supply()
	for _, feed := range supply.Feeds() {
		if feed.Phases == 3 && len(supply.On(feed)) > 0 {
			judgeLines(p, supply, feed)
		}
	}
}

func judgeLines(p *lint.Pass, supply *estate.Supply, feed *estate.Feed) {
	rack := onlyRack(supply.On(feed))
	limit, why := allowed(p, feed)
	if why != "" {
		feedUnchecked(p, feed, rack, why)
		return
	}
	for _, state := range normalFirst(supply.StatesOf(supply.On(feed))) {
		out := outageOf(state)
		lines, why := supply.Lines(feed, out)
		if why != "" {
			feedUnchecked(p, feed, rack, why)
			return
		}
		worst, n := lines[0], 1
		for j, line := range lines {
			if line > worst {
				worst, n = line, j+1
			}
		}
		level, over := limit.over(worst)
		if !over {
			continue
		}
		l := supply.LoadIn(feed, out)
		if balanced, _ := feed.Current(l.Apparent); balanced > limit.most {
			return
		}
		f := lint.Finding{At: feed.Source.Attr("rated"), Thing: feed.Ref(), Others: []string{fmt.Sprintf("line %d", n)}, Rack: rack, Level: level}
		with := withLost(&f, state)
		f.Message = fmt.Sprintf("%sline %d of %s carries %s (lines %s, vector sum of its banks, %s in all); %s",
			with, n, feed.Ref(), worst.Beside(limit.most), lineList(lines), amount(l.Vector), limit.says())
		f.Related = append(f.Related, largest(&l, 3)...)
		p.Report(f)
		return
	}
}

func lineList(lines [3]quantity.Current) string {
	return fmt.Sprintf("%s, %s and %s", quantity.Number(lines[0].Amperes(), 1), quantity.Number(lines[1].Amperes(), 1), lines[2])
}

// unbalanced reports a three-phase feed whose lines carry unlike currents.
// Below half an ampere of deviation nothing is said, and a lesser deviation is a
// note.
var unbalanced = &lint.Rule{
	ID:      "power/unbalanced",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "the lines of three phases carry unlike currents",
	Why: `One line is full while two have room, so that the feed gives less than was paid
for; with a neutral, what does not balance flows back through it.
Rebalancing must not put both cords of a machine on one feed.`,
	Source:  "published pages call less than 10 % of the mean fine, act above 15 % or 20 %, and pass over less than half an ampere; there is no standard",
	Omits:   "power factors that are not declared (taken as one where a draw is in watts); currents that lead; what is balanced further upstream",
	Decides: electrician,
	Limits: []lint.Limit{
		{Name: "share", Default: 0.15, Doc: "largest deviation of a line from the mean, as a share of the mean (published pages: 0.15 and 0.20)"},
		{Name: "note_share", Default: 0.10, Doc: "deviation from which it is a note (published pages)"},
		{Name: "least", Default: 500 * quantity.Milliampere, Doc: "deviation that is passed over whatever its share"},
	},
	Estate: checkUnbalanced,
	Bad:    lineExample([9]int{1, 2, 3, 9, 10, 11, 12, 13, 14}),
	Good:   lineExample([9]int{1, 9, 17, 2, 3, 10, 11, 18, 19}),
}

func checkUnbalanced(p *lint.Pass) {
	supply := p.Supply()
	for _, feed := range supply.Feeds() {
		if feed.Phases != 3 || len(supply.On(feed)) == 0 {
			continue
		}
		rack := onlyRack(supply.On(feed))
		lines, why := supply.Lines(feed, nil)
		if why != "" {
			feedUnchecked(p, feed, rack, why)
			continue
		}
		share := physics.Imbalance(lines)
		mean := (lines[0] + lines[1] + lines[2]) / 3
		level, limit := lint.Warning, lint.LimitFor[float64](p, "share", feed)
		if least := lint.LimitFor[float64](p, "note_share", feed); share <= limit && least < limit {
			level, limit = lint.Note, least
		}
		if share <= limit || quantity.Of(share*mean.Amperes(), quantity.Ampere) < lint.LimitFor[quantity.Current](p, "least", feed) {
			continue
		}
		message := fmt.Sprintf("the lines of %s carry %s: one deviates by %s %% from the mean of %s; %s %% is the limit",
			feed.Ref(), lineList(lines), quantity.Number(100*share, 1), mean, quantity.Number(100*limit, 1))
		if loads, fullest, pairs := supply.Plugged(feed); pairs > 1 {
			if best, _ := physics.Split(loads, pairs); best < fullest {
				message += fmt.Sprintf("; plugged round, the fullest bank could carry %s in place of %s", best, fullest)
			}
		}
		p.Report(lint.Finding{At: feed.Source.At(), Thing: feed.Ref(), Rack: rack, Level: level, Message: message})
	}
}
