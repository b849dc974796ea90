package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// onCastors reports a rack in a row that works standing on its castors. Road
// cases are made for that; anchored frames go nowhere; what is mounted in no row, or
// not at all, is not at work.
var onCastors = &lint.Rule{
	ID:      "load/on-castors",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a rack at work stands on its castors",
	Why: `Castors bring a rack in. At work it stands on feet that are screwed down past them:
on castors it gives way when somebody pushes at a stuck rail, walks off a tile, and
bears on four small wheels what four plates were made for. A brake holds the
wheel, not the rack.`,
	Source:  "common practice: the installation sheets of frames have the feet lowered before anything is mounted",
	Omits:   "trolleys that are meant to be rolled (adjust the level within their frame); whether the floor is level",
	Decides: "the frame's maker",
	Rack:    checkOnCastors,
	Bad:     onCastorsExample("castors"),
	Good:    onCastorsExample("feet"),
}

func onCastorsExample(standing string) string {
	return fmt.Sprintf(`
row "hq-1" {}
frame "cab" {
  system   = "19in"
  kind     = "cabinet"
  units    = 42
  standing = %q
}
equipment "store" { height = "4U" }
rack "hq-a" {
  row   = row.hq-1
  frame = frame.cab
  mount "store-1" {
    at        = 1
    equipment = equipment.store
  }
}
`, standing)
}

func checkOnCastors(p *lint.Pass, rack *estate.Rack) {
	f := rack.Frame
	if f == nil || rack.Row == nil || len(rack.Mounts) == 0 || f.Standing != estate.Castors || f.Kind == estate.RoadCase || f.Fixed == estate.Anchored {
		return
	}
	found := lint.AtRack(rack, "frame")
	weight := ""
	if mass := rack.Mass(); mass.Known > 0 {
		weight = fmt.Sprintf(" with %s%s mounted", atLeastWord(mass.Whole()), mass.Known)
	}
	found.Message = fmt.Sprintf("%s stands in row.%s on the castors of %s%s; lower its feet, and write standing = \"feet\"", rack.Name, rack.Row.Name, ofFrame(f), weight)
	found.Others = []string{ofFrame(f)}
	found.Related = []lint.Related{{At: f.Source.Attr("standing"), Message: "what the frame stands on is declared here"}}
	p.Report(found)
}
