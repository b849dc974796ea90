package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// ventedBattery reports vented cells in a cabinet or a case whose doors let no
// air through.
var ventedBattery = &lint.Rule{
	ID:      "site/vented-battery",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a vented battery in a closed cabinet",
	Why: `Vented cells give off hydrogen whenever they are charged, and acid mist with it. In a
closed cabinet it gathers under the roof, above the relay that switches the
charger. It takes 4 % of hydrogen in air and one spark.`,
	Source: "common practice; IEC 62485-2 is the standard for where stationary batteries stand (its text not read)",
	Omits:  "how much air the cells need, which follows from their charging current; the room's own ventilation; sealed cells, which give off gas when they are overcharged",
	Decides: "who answers for the battery, under the local code; no flame, no spark, insulated tools, water for the eyes; " +
		batteryCautions,
	Rack: checkVentedBattery,
	Bad:  ventedExample("cabinet"),
	Good: ventedExample("four-post"),
}

func ventedExample(kind string) string {
	return fmt.Sprintf(`
frame "f" {
  system = "19in"
  kind   = %q
  units  = 42
}
equipment "cells" {
  kind    = "battery"
  height  = "6U"
  battery = "vented-lead"
}
rack "r1" {
  frame = frame.f
  mount "cells-1" {
    at        = 1
    equipment = equipment.cells
  }
}
`, kind)
}

func checkVentedBattery(p *lint.Pass, rack *estate.Rack) {
	frame := rack.Frame
	if frame == nil {
		return
	}
	for m, q := range inPlace(rack) {
		if !q.Battery.Vented() {
			continue
		}
		open, ok := frame.DoorOpen.Get()
		switch {
		case frame.Kind == estate.NoFrameKind:
			p.MountUnchecked(m, "the kind of %s is missing, so that it may be closed", ofFrame(frame))
			continue
		case frame.Kind != estate.Cabinet && frame.Kind != estate.RoadCase && frame.Kind != estate.WallFrame || ok && open > 0:
			continue
		case frame.DoorOpen.State == estate.IsUnknown:
			p.MountUnchecked(m, "%s", lacks("door_open", ofFrame(frame), frame.DoorOpen.State))
			continue
		}
		doors := "which declares no door_open; where its doors are shut"
		if ok {
			doors = "whose doors are " + percent(open) + " open;"
		}
		f := lint.AtMount(m, "equipment")
		f.Message = fmt.Sprintf("%s (%s) stands in %s, a %s %s its gas gathers there", m.Name, q.Battery, ofFrame(frame), frame.Kind, doors)
		f.Others = []string{ofFrame(frame)}
		f.Related = []lint.Related{
			{At: q.Source.Attr("battery"), Message: "its cells are declared here"},
			{At: frame.Source.Attr("kind"), Message: "the frame is declared here"},
		}
		p.Report(f)
	}
}
