package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// opposed reports neighbours one above the other of which one blows out where
// the other draws in. In a row with a cold and a hot aisle one of them is
// against the aisle, and air/against-aisle says which; so only racks of other
// rows, or of none, are looked at here.
var opposed = &lint.Rule{
	ID:      "air/opposed",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a neighbour blows its exhaust at an intake",
	Why: `Two pieces breathing in opposite directions, one above the other, hand the same
air round between them: each warms what the other draws in.`,
	Source: "common practice",
	Omits:  "facing rows (air/rows-across); sideways air (air/boxed-in)",
	Limits: []lint.Limit{{
		Name: "gap", Default: quantity.RackUnit,
		Doc: "distance from which two pieces are no longer neighbours (common practice)",
	}},
	Rack: checkOpposed,
	Bad: `
frame "open" {
  system = "19in"
  kind   = "four-post"
  units  = 24
}
equipment "switch" {
  height = "1U"
  air    = "rear-to-front"
}
equipment "server" {
  height = "1U"
  air    = "front-to-rear"
}
rack "r1" {
  frame = frame.open
  mount "switch-1" {
    at        = 10
    equipment = equipment.switch
  }
  mount "server-1" {
    at        = 11
    equipment = equipment.server
  }
}
`,
	Good: `
frame "open" {
  system = "19in"
  kind   = "four-post"
  units  = 24
}
equipment "switch" {
  height = "1U"
  air    = "front-to-rear"
}
equipment "server" {
  height = "1U"
  air    = "front-to-rear"
}
rack "r1" {
  frame = frame.open
  mount "switch-1" {
    at        = 10
    equipment = equipment.switch
  }
  mount "server-1" {
    at        = 11
    equipment = equipment.server
  }
}
`,
}

func checkOpposed(p *lint.Pass, rack *estate.Rack) {
	if rack.Row != nil && (rack.Row.Front == estate.ColdAisle || rack.Row.Front == estate.HotAisle) {
		return
	}
	gap := lint.LimitFor[quantity.Length](p, "gap", rack)
	placed := rack.Placed()
	for i, low := range placed {
		if low.Equipment.Air == estate.NoAir && !low.Equipment.Passive() {
			p.MountUnchecked(low.Mount, "the way of air of equipment.%s is missing", low.Equipment.Name)
		}
		if intake(low.Mount) == estate.NoFace {
			continue
		}
		for _, high := range placed[i+1:] {
			if high.Bottom-low.Top >= gap {
				break
			}
			above := !low.Meets(high.Extent) && low.Slot.Overlaps(high.Slot)
			if !above || intake(high.Mount) == estate.NoFace || intake(high.Mount) == intake(low.Mount) {
				continue
			}
			f := lint.AtMount(high.Mount, "at")
			f.Message = fmt.Sprintf("%s draws in air at the %s of the rack and %s, next to it, blows out there",
				high.Name, intake(high.Mount), low.Name)
			f.Others = []string{low.Ref()}
			f.Related = []lint.Related{{At: low.Source.Attr("at"), Message: fmt.Sprintf("%s is mounted here", low.Name)}}
			p.Report(f)
		}
	}
}
