package rules

import (
	"cmp"
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// batteryHigh reports a battery with other things, or open room, below it. Only
// equipment that declares what its cells are is looked at; wall frames are the
// business of [onWall].
var batteryHigh = &lint.Rule{
	ID:      "load/battery-high",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a battery is not in the lowest units",
	Why: `Batteries are the densest thing in a rack and come out every few years, with the
rack running. At the bottom two people slide them on to a trolley; anywhere else
they are lifted past live equipment, and what leaks or smokes has everything
above it and everything below.`,
	Source:  "common practice: UPS and battery packs at the very bottom",
	Omits:   "what the cells weigh (load/heavy-high); batteries inside equipment that does not say so",
	Decides: "the battery's maker and the site's own handling assessment; " + batteryCautions,
	Limits: []lint.Limit{
		{Name: "below", Default: 3 * 4445 * quantity.Millimetre / 100, Doc: "height below a battery that may hold something else, such as cable entries (common practice: 3U)"},
	},
	Rack: checkBatteryHigh,
	Bad:  batteryExample(12),
	Good: batteryExample(1),
}

const batteryCautions = "cells are live with the mains off, with a high fault current; lead cells give off hydrogen when they are charged hard, and spill; lithium cells fall under transport rules, and their fire feeds itself"

func batteryExample(at int) string {
	return fmt.Sprintf(`
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "pack" {
  kind    = "battery"
  height  = "3U"
  battery = "sealed-lead"
}
rack "r1" {
  frame = frame.cab
  mount "pack-1" {
    at        = %d
    equipment = equipment.pack
  }
}
`, at)
}

// withBattery reports whether a rack holds something that declares its cells.
func withBattery(rack *estate.Rack) bool {
	for _, q := range inPlace(rack) {
		if q.Battery != estate.NoBattery {
			return true
		}
	}
	return false
}

func checkBatteryHigh(p *lint.Pass, rack *estate.Rack) {
	if rack.Frame == nil || rack.Frame.Kind == estate.WallFrame || !withBattery(rack) {
		return
	}
	extents(p, rack)
	limit := lint.LimitFor[quantity.Length](p, "below", rack)
	placed := rack.Placed()
	for i, m := range placed {
		if m.Equipment == nil || m.Equipment.Battery == estate.NoBattery {
			continue
		}
		other, top := notBattery(rack.Frame, placed, m.Bottom)
		if other <= limit {
			continue
		}
		f := lint.AtMount(m.Mount, "at")
		weight := ""
		if mass, why := m.Weighs(); why == "" {
			weight = fmt.Sprintf(", %s,", mass)
		}
		f.Message = fmt.Sprintf("%s (%s)%s has %s below it that hold no battery; at most %s may", m.Name, m.Equipment.Battery, weight, p.Length(other), p.Length(limit))
		f.Related = []lint.Related{{At: m.Equipment.Source.Attr("battery"), Message: "its cells are declared here"}}
		if top != nil && i > 0 {
			f.Related = append(f.Related, lint.Related{At: top.Source.Attr("at"), Message: top.Name + " is mounted below it"})
		}
		p.Report(f)
	}
}

// notBattery gives how much of a frame's height below a height is taken up by
// no battery, units that cannot be used left out, and the highest thing there
// that is none.
func notBattery(f *estate.Frame, placed []estate.Placed, below quantity.Length) (quantity.Length, *estate.Mount) {
	at, other := f.Usable().Bottom, quantity.Length(0)
	var top *estate.Mount
	var taken []estate.Extent
	for _, u := range f.Unusable {
		taken = append(taken, f.Extent(u))
	}
	for _, m := range placed {
		switch {
		case m.Bottom >= below:
		case m.Equipment.HoldsBattery():
			taken = append(taken, m.Extent)
		default:
			top = m.Mount
		}
	}
	slices.SortFunc(taken, func(a, b estate.Extent) int { return cmp.Compare(a.Bottom, b.Bottom) })
	for _, e := range taken {
		other += max(min(e.Bottom, below)-at, 0)
		at = max(at, e.Top)
	}
	return other + max(below-at, 0), top
}
