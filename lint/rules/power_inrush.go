package rules

import (
	"fmt"

	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// inrush reports a breaker that may trip when everything on a feed of it is
// switched on at once, as after an outage. It looks at feeds whose breaker has
// a curve and at equipment whose inrush is declared.
var inrush = &lint.Rule{
	ID:      "power/inrush",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "switching everything on at once may trip the breaker",
	Why: `When power comes back everything starts together, and supplies draw several
times their current for some milliseconds. The breaker that has carried the
load for years opens at the first restoration, at night, with nobody there.`,
	Source:  "IEC 60898: instantaneous tripping from 3, 5 and 10 times the rating for the curves B, C and D (from memory, unverified)",
	Omits:   "outlets that are switched on one after the other; the impedance of the wiring, which limits the peak",
	Decides: electrician,
	Estate:  checkInrush,
	Bad:     inrushExample(3),
	Good:    inrushExample(2),
}

func inrushExample(n int) string {
	return fmt.Sprintf(`
frame "case" {
  system = "19in"
  units  = 16
}
source "mains" { kind = "utility" }
breaker "d1" {
  source = source.mains
  rated  = "32 A"
  curve  = "C"
}
feed "l1" {
  breaker = breaker.d1
  voltage = "230 V"
  rated   = "32 A"
}
equipment "amplifier" {
  height = "2U"
  draw   = "600 W"
  inrush = "80 A"
  inlets = { type = "c20", count = 1, needs = 1 }
}
rack "k1" {
  frame = frame.case
  stack "amp" {
    from      = 1
    count     = %d
    equipment = equipment.amplifier
    feeds     = [feed.l1]
  }
}
`, n)
}

func checkInrush(p *lint.Pass) {
	supply := p.Supply()
	for _, feed := range supply.Feeds() {
		var sum quantity.Current
		var related []lint.Related
		missing := ""
		for _, m := range supply.On(feed) {
			if m.Equipment == nil || m.Equipment.Passive() {
				continue
			}
			peak, ok := m.Equipment.Inrush.Get()
			if !ok {
				if missing == "" {
					missing = lacks("inrush", ofEquipment(m.Equipment), m.Equipment.Inrush.State)
				}
				continue
			}
			if peak > 0 && len(related) < 3 {
				related = append(related, lint.Related{At: m.Source.At(), Message: fmt.Sprintf("%s peaks at %s", m.Ref(), peak)})
			}
			sum += peak
		}
		if sum == 0 {
			continue // nobody has declared an inrush here
		}
		rack := onlyRack(supply.On(feed))
		b := feed.Breaker
		if b == nil || b.Curve == "" {
			feedUnchecked(p, feed, rack, "the breaker of "+feed.Ref()+", or its curve, is missing")
			continue
		}
		rated, ok := b.Rated.Get()
		if !ok {
			feedUnchecked(p, feed, rack, lacks("rating", b.Ref(), b.Rated.State))
			continue
		}
		trips, ok := physics.MagneticTrip(rated, b.Curve)
		if !ok || sum <= trips {
			if missing != "" {
				feedUnchecked(p, feed, rack, missing)
			}
			continue
		}
		p.Report(lint.Finding{
			At: feed.Source.At(), Thing: feed.Ref(), Others: []string{b.Ref()}, Rack: rack,
			Message: fmt.Sprintf("switched on together, what hangs on %s may peak at %s%s; %s (%s, curve %s) may trip from %s",
				feed.Ref(), sum, atLeast(missing == ""), b.Ref(), rated, b.Curve, trips),
			Related: append([]lint.Related{{At: b.Source.At(), Message: "the breaker is declared here"}}, related...),
		})
	}
}
