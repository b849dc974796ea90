package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// doorArea reports a warm rack behind doors with too few holes. Frames that
// declare no open share, and so perhaps have no doors, are left alone.
var doorArea = &lint.Rule{
	ID:      "air/door-area",
	Since:   "2026.1",
	Level:   lint.Note,
	Summary: "the doors of a warm rack let too little air through",
	Why: `All the air of a rack passes through its doors. A sheet with few holes, or a glass
front chosen for its looks, makes the fans turn faster and sends the exhaust back
through the rack's own gaps to the intakes.`,
	Source: "common practice: doors are sold from 63 to 80 % open",
	Omits:  "front and rear doors that differ (declare the worse one); dust filters; doors taken off",
	Limits: []lint.Limit{
		{Name: "open", Default: 0.63, Doc: "least share of a door that is open (common practice)"},
		{Name: "heat", Default: 2 * quantity.Kilowatt, Doc: "heat up to which the doors do not matter (common practice)"},
	},
	Rack: checkDoorArea,
	Bad:  doorExample("0.4"),
	Good: doorExample("0.7"),
}

func doorExample(open string) string {
	return fmt.Sprintf(`
frame "cab" {
  system    = "19in"
  kind      = "cabinet"
  units     = 42
  door_open = %s
}
equipment "server" {
  height = "2U"
  draw   = { typical = "310 W", maximum = "450 W" }
}
rack "r1" {
  frame = frame.cab
  stack "server" {
    from      = 1
    count     = 8
    equipment = equipment.server
  }
}
`, open)
}

func checkDoorArea(p *lint.Pass, rack *estate.Rack) {
	frame := rack.Frame
	if frame == nil || frame.DoorOpen.State == estate.IsMissing {
		return
	}
	limit, warm := lint.LimitFor[float64](p, "open", rack), lint.LimitFor[quantity.Power](p, "heat", rack)
	heat := rack.Heat()
	open, ok := frame.DoorOpen.Get()
	switch {
	case !ok && (heat.Known > warm || !heat.Whole()):
		p.RackUnchecked(rack, "%s", lacks("door_open", ofFrame(frame), frame.DoorOpen.State))
	case !ok || open >= limit:
	case heat.Known <= warm:
		if !heat.Whole() {
			p.RackUnchecked(rack, "%s", heat.Because())
		}
	default:
		f := lint.AtRack(rack, "frame")
		f.Message = fmt.Sprintf("%s gives off %s%s; its doors are %s open%s, and above %s the least is %s",
			rack.Name, heat.Known, atLeast(heat.Whole()), percent(open), basis(frame.DoorOpen), warm, percent(limit))
		f.Others = []string{ofFrame(frame)}
		f.Related = []lint.Related{{At: frame.Source.Attr("door_open"), Message: "how open its doors are is declared here"}}
		f.Related = append(f.Related, hottest(rack, 2)...)
		p.Report(f)
	}
}

// hottest points at the n mounts of a rack that give off most heat.
func hottest(rack *estate.Rack, n int) []lint.Related {
	heat := func(m *estate.Mount) quantity.Power {
		p, _, _ := m.Heat(rack.Site())
		return p
	}
	var top []*estate.Mount
	for _, m := range rack.Mounts {
		at := len(top)
		for at > 0 && heat(top[at-1]) < heat(m) {
			at--
		}
		if at < n && heat(m) > 0 {
			top = append(top[:at], append([]*estate.Mount{m}, top[at:]...)...)
			top = top[:min(len(top), n)]
		}
	}
	var out []lint.Related
	for _, m := range top {
		out = append(out, lint.Related{At: m.Source.At(), Message: fmt.Sprintf("%s gives off %s", m.Name, heat(m))})
	}
	return out
}
