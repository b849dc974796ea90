package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// againstAisle reports equipment that draws its air in from the warm side of
// its row. It looks at front-to-rear and rear-to-front air only; what breathes
// sideways is left to other rules.
var againstAisle = &lint.Rule{
	ID:      "air/against-aisle",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "equipment draws in the air of the hot aisle",
	Why: `A switch mounted with its ports to the rear and fans for ports forward
breathes what the rest of the row has just blown out, 10 to 15 K warmer, and
blows its own heat at everybody's intakes. It fails first on the first hot day.
The part number of the fans often decides the direction: it is ordered, not
turned.`,
	Source: "ASHRAE TC 9.9, thermal guidelines: fronts face the cold aisle; common practice",
	Rack:   checkAgainstAisle,
	Bad: `
row "r" { front = "cold" }
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "switch" {
  height = "1U"
  air    = "front-to-rear"
}
rack "r1" {
  row   = row.r
  frame = frame.cab
  mount "switch-1" {
    at        = 40
    equipment = equipment.switch
    face      = "rear"
  }
}
`,
	Good: `
row "r" { front = "cold" }
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "switch" {
  height = "1U"
  air    = "rear-to-front" # ordered with the fans turned
}
rack "r1" {
  row   = row.r
  frame = frame.cab
  mount "switch-1" {
    at        = 40
    equipment = equipment.switch
    face      = "rear"
  }
}
`,
}

func checkAgainstAisle(p *lint.Pass, rack *estate.Rack) {
	if rack.Row == nil || rack.Row.Front == estate.MixedAisle {
		return
	}
	if rack.Row.Front == estate.NoAisle {
		for _, m := range rack.Mounts {
			if intake(m) != estate.NoFace {
				p.RackUnchecked(rack, "which aisle the fronts of row.%s look at is missing", rack.Row.Name)
				return
			}
		}
		return
	}
	for _, m := range rack.Mounts {
		if m.Equipment == nil {
			continue
		}
		if m.Equipment.Air == estate.NoAir && !m.Equipment.Passive() && m.ZeroU == nil {
			p.MountUnchecked(m, "the way of air of equipment.%s is missing", m.Equipment.Name)
			continue
		}
		face := intake(m)
		if face == estate.NoFace || aisleAt(rack.Row, face) == estate.ColdAisle {
			continue
		}
		f := lint.AtMount(m, "face")
		f.Message = fmt.Sprintf("%s draws in air at the %s of the rack, which looks at the hot aisle (air %s, mounted at the %s; the fronts of %s look at the %s aisle)",
			m.Name, face, m.Equipment.Air, mountedAt(m), rack.Row.Name, rack.Row.Front)
		f.Others = []string{"row." + rack.Row.Name}
		f.Related = []lint.Related{
			{At: m.Equipment.Source.Attr("air"), Message: "its way of air is declared here"},
			{At: rack.Row.Source.Attr("front"), Message: "the row's aisles are declared here"},
		}
		p.Report(f)
	}
}

// intake gives the face of the rack at which a mount draws in air, or NoFace
// for what breathes otherwise, not at all, or in no declared way. What hangs on
// the rear posts has its own front at the rear.
func intake(m *estate.Mount) estate.Face {
	if m.Equipment == nil {
		return estate.NoFace
	}
	switch m.Equipment.Air {
	case estate.FrontToRear:
		return mountedAt(m)
	case estate.RearToFront:
		return otherFace(mountedAt(m))
	}
	return estate.NoFace
}

// mountedAt gives the posts that a mount hangs on: the front ones unless said.
func mountedAt(m *estate.Mount) estate.Face {
	if m.Face == estate.RearFace {
		return estate.RearFace
	}
	return estate.FrontFace
}

func otherFace(f estate.Face) estate.Face {
	if f == estate.RearFace {
		return estate.FrontFace
	}
	return estate.RearFace
}

// aisleAt gives the aisle that a face of the racks in a row looks at.
func aisleAt(row *estate.Row, face estate.Face) estate.Aisle {
	front := row.Front
	if face == estate.FrontFace {
		return front
	}
	if front == estate.ColdAisle {
		return estate.HotAisle
	}
	return estate.ColdAisle
}
