package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// heavyHigh reports a heavy mount whose middle is high. Pieces beside the posts
// are left out: they are fitted before the rack is filled, and by other means.
var heavyHigh = &lint.Rule{
	ID:      "load/heavy-high",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "something heavy is mounted high",
	Why: `What is heavy must be lifted to its place and one day down again, and it
raises the centre of mass of the rack. People lift most between knee and
elbow; above the shoulder they lift less than half of that, and what slips
falls on whoever stands below. A UPS in the topmost units, run out on its rails
before a lift stood under it, has pulled a cabinet over.`,
	Source:  "common practice; the zones of HSE INDG143 and the height factor of NIOSH 94-110 fall the same way",
	Omits:   "whether a lift is at hand; how far the item must be reached",
	Decides: "the site's own handling assessment",
	Limits: []lint.Limit{
		{Name: "limit", Default: 20 * quantity.Kilogram, Doc: "mass that may sit above height (common practice)"},
		{Name: "height", Default: 1200 * quantity.Millimetre, Doc: "height of the item's middle above the floor for limit (common practice)"},
		{Name: "low_limit", Default: 35 * quantity.Kilogram, Doc: "mass that may sit above low_height (common practice)"},
		{Name: "low_height", Default: 600 * quantity.Millimetre, Doc: "height of the item's middle above the floor for low_limit (common practice)"},
		{Name: "error_limit", Default: 50 * quantity.Kilogram, Doc: "mass from which above height is an error (common practice)"},
	},
	Rack: checkHeavyHigh,
	Bad: `
frame "cab" {
  system = "19in"
  units  = 42
  base   = "100 mm"
}
equipment "ups" {
  height = "4U"
  mass   = "65 kg"
}
rack "r1" {
  frame = frame.cab
  mount "ups-1" {
    at        = 39
    equipment = equipment.ups
  }
}
`,
	Good: `
frame "cab" {
  system = "19in"
  units  = 42
  base   = "100 mm"
}
equipment "ups" {
  height = "4U"
  mass   = "65 kg"
}
rack "r1" {
  frame = frame.cab
  mount "ups-1" {
    at        = 1
    equipment = equipment.ups
  }
}
`,
}

func checkHeavyHigh(p *lint.Pass, rack *estate.Rack) {
	if rack.Frame == nil {
		return
	}
	limit, height := lint.LimitFor[quantity.Mass](p, "limit", rack), lint.LimitFor[quantity.Length](p, "height", rack)
	lowLimit, lowHeight := lint.LimitFor[quantity.Mass](p, "low_limit", rack), lint.LimitFor[quantity.Length](p, "low_height", rack)
	grave := lint.LimitFor[quantity.Mass](p, "error_limit", rack)
	for _, m := range rack.Mounts {
		if m.Equipment == nil || m.ZeroU != nil {
			continue
		}
		mass, why := m.Weighs()
		if why != "" {
			p.MountUnchecked(m, "%s", why)
			continue
		}
		if mass <= min(limit, lowLimit) {
			continue
		}
		e, ok := m.Extent()
		if !ok {
			p.MountUnchecked(m, "its height in the rack is not known")
			continue
		}
		// Without the frame's base the middle is at least this high.
		base, baseKnown := rack.Frame.Base.Get()
		middle := base + (e.Bottom+e.Top)/2
		over, most := height, limit
		switch {
		case mass > limit && middle > height:
		case mass > lowLimit && middle > lowHeight:
			over, most = lowHeight, lowLimit
		default:
			if !baseKnown {
				p.MountUnchecked(m, "the height of the lowest unit of frame.%s above the floor is %s", rack.Frame.Name, rack.Frame.Base.State)
			}
			continue
		}
		f := lint.AtMount(m, "at")
		f.Message = fmt.Sprintf("%s weighs %s and its middle is %s%s above the floor; above %s the limit is %s",
			m.Name, mass, atLeastWord(baseKnown), p.Length(middle), p.Length(over), most)
		f.Related = []lint.Related{{At: m.Equipment.Source.Attr("mass"), Message: "its mass is declared here"}}
		if mass > grave && middle > height {
			f.Level = lint.Error
		}
		p.Report(f)
	}
}
