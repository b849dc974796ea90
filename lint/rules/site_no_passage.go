package rules

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// noPassage reports racks, and heavy things in racks that come empty, which
// pass no route into their room: a gate leaves too little room, or bears too
// little. Only rooms that declare routes are looked at.
var noPassage = &lint.Rule{
	ID:      "site/no-passage",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "something passes no route into its room",
	Why: `A rack has gone into the lift on the third floor and would not come out in the
basement: the door of that landing was a few millimetres lower. They cut metal off
it in the car. Each door, car, ramp and gangway is measured for itself, and a lift
that is too weak is found with the rack in it.`,
	Source: "common practice: each gate measured on the spot, 20 mm kept free",
	Omits: "straight passage of an upright thing only: corners and turning in a corridor, tilting through a door, and floors between gates are not looked at; " +
		"a trolley, pallet, and the people who go along weigh and take room beside it",
	Decides: "the makers of lifts and gangways, the building's engineer, and whoever measures the way; a loaded rack is moved by its rolling rating",
	Limits: []lint.Limit{
		{Name: "spare", Default: 20 * quantity.Millimetre, Doc: "room to be kept free at a gate (common practice)"},
		{Name: "heavy", Default: 25 * quantity.Kilogram, Doc: "mass from which equipment is looked at by itself, where its rack comes empty (common practice)"},
		cablesLimit,
	},
	Rack: checkNoPassage,
	Bad:  passageExample("1990 mm"),
	Good: passageExample("2030 mm"),
}

func passageExample(height string) string {
	return fmt.Sprintf(`
route "dock" {
  gate "dock-door" {
    width  = "1200 mm"
    height = "2100 mm"
  }
  gate "basement-landing" {
    width  = "900 mm"
    height = %q
    length = "1400 mm"
    rated  = "1000 kg"
    by     = "facilities"
  }
}
room "hq" { routes = [route.dock] }
row "hq-1" { room = room.hq }
frame "cab-42" {
  system = "19in"
  units  = 42
  width  = "600 mm"
  depth  = "1000 mm"
  height = "2000 mm"
  mass   = "118 kg"
}
rack "hq-a" {
  row   = row.hq-1
  frame = frame.cab-42
}
`, height)
}

func checkNoPassage(p *lint.Pass, rack *estate.Rack) {
	room := rack.Room()
	if room == nil || rack.Frame == nil || len(room.Routes) == 0 {
		return
	}
	cargo := rack.Cargo(lint.LimitFor[float64](p, "cables", rack))
	f := lint.AtRack(rack, "frame")
	judgePassage(p, rack, room, &cargo, f, func(why string) { p.RackUnchecked(rack, "%s", why) })
	if rack.ComesLoaded() {
		return
	}
	heavy := lint.LimitFor[quantity.Mass](p, "heavy", rack)
	for _, m := range rack.Mounts {
		if m.Equipment == nil || m.ZeroU != nil {
			continue
		}
		cargo := m.Cargo()
		if cargo.MassLacks == "" && cargo.Mass < heavy {
			continue
		}
		judgePassage(p, rack, room, &cargo, lint.AtMount(m, "equipment"), func(why string) { p.MountUnchecked(m, "%s", why) })
	}
}

// judgePassage reports a thing that passes none of a room's routes. Where it
// may pass one of them, but that is not known, it is not checked.
func judgePassage(p *lint.Pass, rack *estate.Rack, room *estate.Room, cargo *estate.Cargo, f lint.Finding, unchecked func(why string)) {
	spare := lint.LimitFor[quantity.Length](p, "spare", rack)
	var ways []string
	lacks, tight := "", false
	for _, route := range room.Routes {
		var stops []string
		lack := ""
		for _, at := range route.Passages(cargo) {
			gate := at.Gate
			var short []string
			for _, c := range at.Clear {
				if c.Spare() < spare {
					short = append(short, fmt.Sprintf("a clear %s of %s for its %s of %s", c.Attr, told(p, c.Clear), c.Side, told(p, c.Takes)))
					f.Related = append(f.Related, lint.Related{At: gate.Source.Attr(c.Attr), Message: fmt.Sprintf("the %s of gate %s is declared here", c.Attr, gate.Name)})
				}
			}
			var stop []string
			if len(short) > 0 {
				tight = true
				stop = append(stop, "has "+list(short))
			}
			if gate.TooHeavy(cargo) {
				stop = append(stop, fmt.Sprintf("bears %s%s for its mass of %s%s", gate.Rated.Value, basis(gate.Rated), cargo.Mass, atLeast(cargo.MassLacks == "")))
				f.Related = append(f.Related, lint.Related{At: gate.Source.Attr("rated"), Message: fmt.Sprintf("what gate %s bears is declared here", gate.Name)})
			}
			if len(stop) > 0 {
				stops = append(stops, fmt.Sprintf("gate %s %s", gate.Name, strings.Join(stop, ", and ")))
			}
			if lack == "" && len(at.Lacks) > 0 {
				lack = at.Lacks[0]
			}
		}
		switch {
		case len(stops) > 0:
			ways = append(ways, fmt.Sprintf("by route.%s: %s", route.Name, strings.Join(stops, "; ")))
			f.Others = append(f.Others, "route."+route.Name)
		case lack == "":
			return // it passes
		case lacks == "":
			lacks = lack
		}
	}
	if lacks != "" {
		unchecked(lacks)
		return
	}
	f.Message = fmt.Sprintf("%s does not get into room.%s %s", cargo.Name, room.Name, strings.Join(ways, "; "))
	if tight {
		f.Message += fmt.Sprintf("; %s are to be kept free", p.Length(spare))
	}
	p.Report(f)
}
