package rules

import (
	"cmp"
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// pointLoad reports a rack whose worst foot, or whose share of a tile with that
// of a neighbour, is more than the room's floor may carry there.
var pointLoad = &lint.Rule{
	ID:      "load/point",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a foot or a tile carries more than the floor may bear",
	Why: `A rack stands on four feet, and on an uneven floor on three. A raised floor
fails at one tile: where two racks each put a foot on it, it carries a third of
both. A floor strut has snapped while a disk was being changed, and colleagues
caught the falling rack.`,
	Source:  "makers' site planning pages: a third of a rack on one tile, both neighbours on a shared one; 1.25 for an uneven floor is common practice",
	Omits:   "where tiles lie; cut-outs; racks being rolled, of which half may stand on one tile",
	Decides: engineer,
	Limits: []lint.Limit{
		{Name: "uneven", Default: 1.25, Doc: "how many times its even share the worst foot carries (common practice: 1.25 to 1.5)"},
		cablesLimit,
	},
	Estate: checkPoint,
	Bad:    pointExample("2.5 kN"),
	Good:   pointExample("4.4 kN"),
}

func pointExample(rated string) string {
	return fmt.Sprintf(`
room "hq" { point_load = %q }
row "r" { room = room.hq }
frame "cab" {
  system = "19in"
  units  = 42
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

func checkPoint(p *lint.Pass) {
	rows := map[*estate.Row][]*estate.Rack{}
	for _, rack := range p.Estate.Racks {
		room := rack.Room()
		if room == nil || rack.Frame == nil || rack.Frame.Kind == estate.WallFrame || len(rack.Mounts) == 0 {
			continue
		}
		if room.TileLoad.State != estate.IsMissing {
			rows[rack.Row] = append(rows[rack.Row], rack)
		}
		if room.PointLoad.State != estate.IsMissing {
			checkFoot(p, rack, room)
		}
	}
	for _, row := range p.Estate.Rows {
		racks := rows[row]
		slices.SortStableFunc(racks, func(a, b *estate.Rack) int { return cmp.Compare(a.Place, b.Place) })
		for i, rack := range racks {
			var before *estate.Rack
			if i > 0 && racks[i-1].Place != 0 && racks[i-1].Place == rack.Place-1 {
				before = racks[i-1]
			}
			checkTile(p, rack, before, row.Room)
		}
	}
}

// weighed reports whether all masses of a rack are known, or says what is not.
func weighed(rack *estate.Rack) string {
	if rack.Frame.Mass.State != estate.IsGiven {
		return lacks("mass", ofFrame(rack.Frame), rack.Frame.Mass.State)
	}
	return rack.Mass().Because()
}

func checkFoot(p *lint.Pass, rack *estate.Rack, room *estate.Room) {
	rated, ok := room.PointLoad.Get()
	if !ok {
		p.RackUnchecked(rack, "the point load that room.%s may carry is %s", room.Name, room.PointLoad.State)
		return
	}
	total, why := grossMass(p, rack), weighed(rack)
	uneven := lint.LimitFor[float64](p, "uneven", rack)
	force := physics.PerFoot(total, 4, uneven)
	where := "a foot"
	if b, missing := rack.Balance(); missing == "" {
		if feet, missing := rack.Frame.Feet(); missing == "" && rack.Frame.Fixed != estate.Stabilised {
			on := physics.OnFeet(total, b.Centre, feet)
			worst := max(on[0], on[1], on[2], on[3])
			force = quantity.Of(float64(worst)*uneven, quantity.Millinewton)
			where = "its " + [4]string{"front left", "front right", "rear left", "rear right"}[slices.Index(on[:], worst)] + " foot"
		}
	}
	if force <= rated {
		if why != "" {
			p.RackUnchecked(rack, "%s", why)
		}
		return
	}
	found := lint.AtRack(rack, "frame")
	found.Message = fmt.Sprintf("%s weighs %s%s: %s may press with %s (%s times its share, for an uneven floor); room.%s may carry %s",
		rack.Name, total, atLeast(why == ""), where, force, quantity.Number(uneven, 2), room.Name, rated)
	found.Others = []string{"room." + room.Name}
	found.Related = []lint.Related{{At: room.Source.Attr("point_load"), Message: "the floor's rating is declared here"}}
	p.Report(found)
}

func checkTile(p *lint.Pass, rack, before *estate.Rack, room *estate.Room) {
	rated, ok := room.TileLoad.Get()
	if !ok {
		p.RackUnchecked(rack, "the load that a tile of room.%s may carry is %s", room.Name, room.TileLoad.State)
		return
	}
	total, why := grossMass(p, rack), weighed(rack)
	masses, who := []quantity.Mass{total}, fmt.Sprintf("%s (%s)", rack.Name, total)
	others := []string{"room." + room.Name, "tile"}
	if before != nil {
		beside := grossMass(p, before)
		masses = append(masses, beside)
		who = fmt.Sprintf("%s (%s) and %s (%s) may share", before.Name, beside, rack.Name, total)
		others = append(others, before.Ref())
		if why == "" {
			why = weighed(before)
		}
	} else {
		who += " may stand on"
	}
	force := physics.OnTile(physics.TileStanding, masses...)
	if force <= rated {
		if why != "" {
			p.RackUnchecked(rack, "%s", why)
		}
		return
	}
	found := lint.AtRack(rack, "frame")
	found.Message = fmt.Sprintf("%s one tile with a third of their weight%s, %s; a tile of room.%s may carry %s",
		who, atLeast(why == ""), force, room.Name, rated)
	if before == nil {
		found.Message = fmt.Sprintf("%s one tile with a third of its weight%s, %s; a tile of room.%s may carry %s",
			who, atLeast(why == ""), force, room.Name, rated)
	}
	found.Others = others
	found.Related = []lint.Related{{At: room.Source.Attr("tile_load"), Message: "a tile's rating is declared here"}}
	p.Report(found)
}
