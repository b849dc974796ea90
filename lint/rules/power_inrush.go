package rules

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"cagenut/lang/estate"
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
	Omits:   "outlets that are switched on one after the other, unless a sequence says so: its steps with 100 ms or more between them count apart; the impedance of the wiring, which limits the peak",
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
	supply, when := p.Supply(), moments(p.Estate)
	for _, feed := range supply.Feeds() {
		sums := map[moment]quantity.Current{}
		related := map[moment][]lint.Related{}
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
			at := when[m.Ref()]
			if peak > 0 && len(related[at]) < 3 {
				related[at] = append(related[at], lint.Related{At: m.Source.At(), Message: fmt.Sprintf("%s peaks at %s", m.Ref(), peak)})
			}
			sums[at] += peak
		}
		worst, sum := worstMoment(sums)
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
			Message: fmt.Sprintf("switched on together%s, what hangs on %s may peak at %s%s; %s (%s, curve %s) may trip from %s",
				worst, feed.Ref(), sum, atLeast(missing == ""), b.Ref(), rated, b.Curve, trips),
			Related: append([]lint.Related{{At: b.Source.At(), Message: "the breaker is declared here"}}, related[worst]...),
		})
	}
}

// apartFrom is the time between two steps from which their peaks do not fall
// together (common practice: 100 ms or more for each outlet).
const apartFrom = 100 * quantity.Millisecond

// A moment is one at which things are switched on together: a step of a
// sequence, or, the zero moment, that at which power is there.
type moment struct {
	sequence, step string
}

// String says which moment it is, after a space, or nothing for the zero one.
func (m moment) String() string {
	if m == (moment{}) {
		return ""
	}
	return fmt.Sprintf(" at step %s of sequence.%s", m.step, m.sequence)
}

// moments gives when mounts, by their names, are switched on. A step that
// follows too soon, or that does not say how soon, counts with the one before
// it; the first one without a delay is there with the power.
func moments(e *estate.Estate) map[string]moment {
	out := map[string]moment{}
	for _, s := range e.Sequences {
		var at moment
		for _, step := range s.Steps {
			if delay, ok := step.Delay.Get(); ok && delay >= apartFrom {
				at = moment{s.Name, step.Name}
			}
			for _, m := range step.On {
				if _, ok := out[m.Ref()]; !ok {
					out[m.Ref()] = at
				}
			}
		}
	}
	return out
}

// worstMoment gives the moment of the largest sum, of like ones the first by
// name.
func worstMoment(sums map[moment]quantity.Current) (worst moment, most quantity.Current) {
	for _, at := range slices.SortedFunc(maps.Keys(sums), func(a, b moment) int {
		return cmp.Or(cmp.Compare(a.sequence, b.sequence), cmp.Compare(a.step, b.step))
	}) {
		if sums[at] > most {
			worst, most = at, sums[at]
		}
	}
	return worst, most
}
