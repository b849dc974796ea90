package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// wallFixings reports a wall frame that weighs more, with all that is in it,
// than its fixings are said to bear. Racks that do not say are left alone.
var wallFixings = &lint.Rule{
	ID:      "load/wall-fixings",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a wall frame weighs more than its fixings bear",
	Why: `The rating of a wall frame is that of its steel. What holds it are four screws in a wall
that nobody here has seen: a cabinet in plasterboard came off when a power cord was pushed
in, and hung on its data cables.`,
	Source:  "common practice",
	Omits:   "the lever of deep equipment and of a swing frame that stands open, which pulls the upper fixings out; the wall itself; the frame's own rating (load/frame-rating)",
	Decides: "a competent person who knows the wall and its fixings; only to proven structure",
	Limits:  []lint.Limit{cablesLimit},
	Rack:    checkWallFixings,
	Bad:     fixingsExample("40 kg"),
	Good:    fixingsExample("80 kg"),
}

func fixingsExample(bear string) string {
	return fmt.Sprintf(`
frame "wall-9" {
  system = "19in"
  kind   = "wall"
  units  = 9
  mass   = "18 kg"
}
equipment "switch" {
  height = "1U"
  mass   = "9 kg"
}
rack "qt-w" {
  frame   = frame.wall-9
  fixings = %q
  stack "access" {
    from      = 1
    count     = 3
    equipment = equipment.switch
  }
}
`, bear)
}

func checkWallFixings(p *lint.Pass, rack *estate.Rack) {
	frame := rack.Frame
	if frame == nil || frame.Kind != estate.WallFrame || rack.Fixings.State == estate.IsMissing {
		return
	}
	bear, ok := rack.Fixings.Get()
	if !ok {
		p.RackUnchecked(rack, "%s", lacks("rating of the fixings", rack.Ref(), rack.Fixings.State))
		return
	}
	total, why := grossMass(p, rack), weighed(rack)
	if total <= bear {
		if why != "" {
			p.RackUnchecked(rack, "%s", why)
		}
		return
	}
	f := lint.AtRack(rack, "fixings")
	f.Message = fmt.Sprintf("%s weighs %s with its frame (cables added%s); its fixings bear %s%s", rack.Name, total, atLeast(why == ""), bear, basis(rack.Fixings))
	f.Others = []string{ofFrame(frame)}
	f.Related = append(figureAt(&frame.Source, frame.Mass, "the mass of %s", frame.Name), heaviest(rack.Mounts, 2)...)
	p.Report(f)
}
