package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// onWall reports a UPS or a battery in a wall frame.
var onWall = &lint.Rule{
	ID:      "load/on-wall",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a UPS or a battery hangs on a wall",
	Why: `The wall's fixings decide what a wall frame carries, and nobody remembers them.
Cabinets have come off the wall when a cord was pushed in, held only by their
data cables. A UPS is most of such a frame's mass, must be lifted off every
few years to change its batteries, and can stand on the floor as well.`,
	Source:  "common practice",
	Omits:   "what the wall and its fixings carry (load/wall-fixings); other heavy equipment (load/frame-rating)",
	Decides: "a competent person who knows the wall and its fixings",
	Rack:    checkOnWall,
	Bad:     onWallExample("wall"),
	Good:    onWallExample("cabinet"),
}

func onWallExample(kind string) string {
	return fmt.Sprintf(`
frame "small" {
  system = "19in"
  kind   = %q
  units  = 9
}
equipment "office-ups" {
  kind   = "ups"
  height = "2U"
  mass   = "34 kg"
}
rack "r1" {
  frame = frame.small
  mount "ups-1" {
    at        = 1
    equipment = equipment.office-ups
  }
}
`, kind)
}

func checkOnWall(p *lint.Pass, rack *estate.Rack) {
	f := rack.Frame
	if f == nil || f.Kind != estate.WallFrame {
		return
	}
	for _, m := range rack.Mounts {
		if !m.Equipment.HoldsBattery() {
			continue
		}
		found := lint.AtMount(m, "equipment")
		weight := ""
		if mass, why := m.Weighs(); why == "" {
			weight = fmt.Sprintf(" of %s", mass)
		}
		what := "battery"
		if m.Equipment.Kind == "ups" {
			what = "UPS"
		}
		found.Message = fmt.Sprintf("%s, a %s%s, hangs on a wall with %s", m.Name, what, weight, rack.Name)
		found.Others = []string{"frame." + f.Name}
		found.Related = []lint.Related{{At: f.Source.Attr("kind"), Message: "the frame is declared as a wall frame here"}}
		p.Report(found)
	}
}
