package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// centreOfMass reports a rack that tips when it leans by less than the limits,
// or whose centre of mass lies high. It looks at racks that stand free.
var centreOfMass = &lint.Rule{
	ID:      "load/centre-of-mass",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a rack is top-heavy",
	Why: `A rack whose centre of mass is high, or near the edge of its feet, goes over on
a ramp, on a threshold, or when somebody climbs it. Equipment is tested not to
fall when it leans by ten degrees; a rack that passes that by a hair has
nothing left for the push.`,
	Source:  "IEC 62368-1 clause 8.6 (10 degrees); 15 degrees and half the height are common practice",
	Omits:   "racks that are anchored; what is pulled out (load/tip-over)",
	Decides: engineer,
	Limits: []lint.Limit{
		{Name: "angle", Default: 15 * quantity.Degree, Doc: "angle of leaning that is a warning (common practice)"},
		{Name: "error_angle", Default: 10 * quantity.Degree, Doc: "angle of leaning that is an error (IEC 62368-1)"},
		{Name: "height", Default: 0.5, Doc: "share of the frame's height above which the centre is high (common practice)"},
	},
	Rack: checkCentreOfMass,
	Bad:  centreExample(37),
	Good: centreExample(1),
}

func centreExample(at int) string {
	return fmt.Sprintf(`
frame "cab" {
  system     = "19in"
  kind       = "cabinet"
  units      = 42
  base       = "100 mm"
  front_room = "80 mm"
  post_span  = "740 mm"
  width      = "600 mm"
  depth      = "1000 mm"
  height     = "2000 mm"
  feet_width = "500 mm"
  feet_depth = "900 mm"
  mass       = "110 kg"
  fixed      = "none"
}
equipment "store" {
  height = "4U"
  depth  = "680 mm"
  mass   = "95 kg"
}
rack "r1" {
  frame = frame.cab
  mount "store-1" {
    at        = %d
    equipment = equipment.store
  }
}
`, at)
}

func checkCentreOfMass(p *lint.Pass, rack *estate.Rack) {
	f := rack.Frame
	if f == nil || len(rack.Mounts) == 0 {
		return
	}
	free, known := f.StandsFree()
	if !free {
		return
	}
	b, why := rack.Balance()
	if why != "" {
		p.RackUnchecked(rack, "%s", why)
		return
	}
	found := lint.AtRack(rack, "frame")
	share := lint.LimitFor[float64](p, "height", rack)
	high := float64(b.Centre.Up) > share*float64(f.Height.Value)
	feet, why := f.Feet()
	if why == "" {
		found.Level, found.Message = leaning(p, rack, &b, feet)
	}
	if found.Message == "" && high {
		found.Message = fmt.Sprintf("the centre of mass of %s (%s) is %s above the floor; half-way up, %s of its %s, is the limit",
			rack.Name, b.Total, round(p, b.Centre.Up), round(p, quantity.Length(share*float64(f.Height.Value))), round(p, f.Height.Value))
	}
	switch {
	case found.Message == "" && why != "":
		p.RackUnchecked(rack, "%s", why)
		return
	case found.Message == "":
		return
	case !known:
		p.RackUnchecked(rack, "%s", fixingUnknown(f))
		return
	}
	found.Others = []string{"frame." + f.Name}
	found.Related = heaviest(rack.Mounts, 3)
	p.Report(found)
}

// leaning judges the angle at which a rack tips, in the worst direction.
func leaning(p *lint.Pass, rack *estate.Rack, b *estate.Balance, feet physics.Feet) (lint.Level, string) {
	t := physics.TiltsOf(b.Centre, feet)
	least := t.Least()
	warn, grave := lint.LimitFor[quantity.Angle](p, "angle", rack), lint.LimitFor[quantity.Angle](p, "error_angle", rack)
	if least >= warn {
		return lint.NoLevel, ""
	}
	way := "to the right"
	switch least {
	case t.Forward:
		way = "forward"
	case t.Backward:
		way = "backward"
	case t.Left:
		way = "to the left"
	}
	level, limit := lint.Warning, warn
	if least < grave {
		level, limit = lint.Error, grave
	}
	return level, fmt.Sprintf("%s (%s, centre of mass %s above the floor) tips %s when it leans by %s; %s is the limit",
		rack.Name, b.Total, round(p, b.Centre.Up), way, least, limit)
}
