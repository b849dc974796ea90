package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

var cablesLimit = lint.Limit{
	Name: "cables", Default: 0.05,
	Doc: "share of the mounted mass added for cables and cage nuts (common practice: 0.05 to 0.10)",
}

// floorLoad reports a rack that presses on its floor more than the room's floor
// is rated for, spread over its footprint and half of the aisles before and
// behind it.
var floorLoad = &lint.Rule{
	ID:      "load/floor",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a rack is too heavy for the floor of its room",
	Why: `Floors of offices carry a quarter of what a full rack presses on its footprint;
they hold because the aisles around it are empty. What counts is the mass of
the frame and all in it, over the area that is its own and nobody else's.`,
	Source:  "EN 50174-2 (at least 5 kPa distributed); ANSI/TIA-942 (12 kPa for Rated-3); the share of aisles is common practice",
	Omits:   "single feet and tiles (load/point); racks that share an aisle with heavier ones; the floor's own beams",
	Decides: engineer,
	Limits: []lint.Limit{
		{Name: "front", Default: 600 * quantity.Millimetre, Doc: "half of the aisle in front, counted as the rack's own (common practice)"},
		{Name: "rear", Default: 450 * quantity.Millimetre, Doc: "half of the aisle behind (common practice)"},
		cablesLimit,
	},
	Rack: checkFloor,
	Bad:  floorExample("5 kPa"),
	Good: floorExample("12 kPa"),
}

func floorExample(rated string) string {
	return fmt.Sprintf(`
room "hq" { floor_load = %q }
row "r" { room = room.hq }
frame "cab" {
  system = "19in"
  units  = 42
  width  = "600 mm"
  depth  = "1200 mm"
  mass   = "130 kg"
}
equipment "store" {
  height = "4U"
  mass   = "95 kg"
}
rack "r1" {
  row   = row.r
  frame = frame.cab
  stack "store" {
    from      = 1
    count     = 9
    equipment = equipment.store
  }
}
`, rated)
}

func checkFloor(p *lint.Pass, rack *estate.Rack) {
	f, room := rack.Frame, rack.Room()
	if f == nil || room == nil || f.Kind == estate.WallFrame || len(rack.Mounts) == 0 {
		return
	}
	rated, ok := room.FloorLoad.Get()
	if !ok {
		p.RackUnchecked(rack, "the floor load that room.%s may carry is %s", room.Name, room.FloorLoad.State)
		return
	}
	mounted := rack.Mass()
	width, okWidth := f.Width.Get()
	depth, okDepth := f.Depth.Get()
	own, okMass := f.Mass.Get()
	switch {
	case !okWidth:
		p.RackUnchecked(rack, "%s", lacks("width", ofFrame(f), f.Width.State))
		return
	case !okDepth:
		p.RackUnchecked(rack, "%s", lacks("depth", ofFrame(f), f.Depth.State))
		return
	}
	total := grossMass(p, rack)
	area := physics.AreaOf(width, depth+lint.LimitFor[quantity.Length](p, "front", rack)+lint.LimitFor[quantity.Length](p, "rear", rack))
	pressure := physics.FloorPressure(total, area)
	if pressure <= rated {
		switch {
		case !okMass:
			p.RackUnchecked(rack, "%s", lacks("mass", ofFrame(f), f.Mass.State))
		case !mounted.Whole():
			p.RackUnchecked(rack, "%s", mounted.Because())
		}
		return
	}
	found := lint.AtRack(rack, "frame")
	found.Message = fmt.Sprintf("%s weighs %s (frame %s, cables added%s) and presses with %s on %s of floor (half of the aisles counted); room.%s may carry %s",
		rack.Name, total, own, atLeast(okMass && mounted.Whole()), pressure, area, room.Name, rated)
	found.Others = []string{"room." + room.Name}
	found.Related = []lint.Related{{At: room.Source.Attr("floor_load"), Message: "the floor's rating is declared here"}}
	p.Report(found)
}

// grossMass gives what a rack weighs with its frame and cables, as far as it is
// known.
func grossMass(p *lint.Pass, rack *estate.Rack) quantity.Mass {
	mounted := rack.Mass().Known
	cables := quantity.Of(lint.LimitFor[float64](p, "cables", rack)*mounted.Kilograms(), quantity.Kilogram)
	return mounted + cables + rack.Frame.Mass.Or(0)
}
