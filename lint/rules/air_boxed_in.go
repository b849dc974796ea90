package rules

import (
	"cmp"
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// boxedIn reports equipment that breathes sideways with too little room beside
// it, or with a neighbouring rack's exhaust at its intake.
var boxedIn = &lint.Rule{
	ID:      "air/boxed-in",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "sideways breathing equipment has no air",
	Why: `Large switches often breathe from side to side. In a narrow cabinet the air has
nowhere to go but round the front; side by side in open racks each drinks what
the last one has warmed. Of three such switches in a row the last died first
when the cooling failed.`,
	Source: "makers' sheets ask 50 to 100 mm around vents; the rest is common practice",
	Omits:  "ducts that turn the air; side panels that are left off",
	Limits: []lint.Limit{{
		Name: "clearance", Default: 75 * quantity.Millimetre,
		Doc: "room beside the body, in a cabinet (makers' sheets: 50 to 100 mm)",
	}},
	Estate: checkBoxedIn,
	Bad:    boxedExample("600 mm"),
	Good:   boxedExample("800 mm"),
}

func boxedExample(width string) string {
	return fmt.Sprintf(`
frame "cab" {
  system = "19in"
  kind   = "cabinet"
  units  = 42
  width  = %q
}
equipment "core" {
  height = "7U"
  body   = "460 mm"
  air    = "left-to-right"
}
rack "r1" {
  frame = frame.cab
  mount "core-1" {
    at        = 20
    equipment = equipment.core
  }
}
`, width)
}

// sideways gives the side of a rack at which a mount draws in air, as seen from
// the front of the rack, or NoSide. What hangs on the rear posts is turned.
func sideways(m *estate.Mount) estate.Side {
	if m.Equipment == nil {
		return estate.NoSide
	}
	var in, turned estate.Side
	switch m.Equipment.Air {
	case estate.LeftToRight:
		in, turned = estate.LeftSide, estate.RightSide
	case estate.RightToLeft:
		in, turned = estate.RightSide, estate.LeftSide
	default:
		return estate.NoSide
	}
	if m.Face == estate.RearFace {
		return turned
	}
	return in
}

func checkBoxedIn(p *lint.Pass) {
	rows := map[*estate.Row][]*estate.Rack{}
	for _, rack := range p.Estate.Racks {
		if rack.Frame == nil {
			continue
		}
		any := false
		for _, m := range rack.Mounts {
			if sideways(m) == estate.NoSide {
				continue
			}
			any = true
			if rack.Frame.Kind == estate.Cabinet {
				checkBeside(p, rack, m)
			}
		}
		if any && rack.Row != nil && rack.Place > 0 && rack.Frame.Kind != estate.Cabinet {
			rows[rack.Row] = append(rows[rack.Row], rack)
		}
	}
	for _, row := range p.Estate.Rows {
		racks := rows[row]
		slices.SortStableFunc(racks, func(a, b *estate.Rack) int { return cmp.Compare(a.Place, b.Place) })
		for i := 1; i < len(racks); i++ {
			// Places count from the left as seen from the front.
			if racks[i].Place == racks[i-1].Place+1 {
				checkNeighbours(p, racks[i-1], racks[i])
			}
		}
	}
}

func checkBeside(p *lint.Pass, rack *estate.Rack, m *estate.Mount) {
	f, q := rack.Frame, m.Equipment
	width, ok := f.Width.Get()
	if !ok {
		p.MountUnchecked(m, "%s", lacks("width", ofFrame(f), f.Width.State))
		return
	}
	body, ok := q.Body.Get()
	if !ok {
		p.MountUnchecked(m, "%s", lacks("body", ofEquipment(q), q.Body.State))
		return
	}
	limit := lint.LimitFor[quantity.Length](p, "clearance", rack)
	if beside := (width - body) / 2; beside < limit {
		found := lint.AtMount(m, "at")
		found.Message = fmt.Sprintf("%s breathes %s and has %s beside it (%s wide in %s, %s wide); %s is the limit",
			m.Name, q.Air, p.Length(beside), p.Length(body), f.Name, p.Length(width), p.Length(limit))
		found.Others = []string{"frame." + f.Name}
		found.Related = []lint.Related{{At: q.Source.Attr("air"), Message: "its way of air is declared here"}}
		p.Report(found)
	}
}

// checkNeighbours reports intakes at the exhausts of the rack beside.
func checkNeighbours(p *lint.Pass, left, right *estate.Rack) {
	for _, a := range left.Placed() {
		for _, b := range right.Placed() {
			if sideways(a.Mount) == estate.NoSide || sideways(a.Mount) != sideways(b.Mount) || !a.Meets(b.Extent) {
				continue
			}
			warm, warmed := a, b
			if sideways(a.Mount) == estate.RightSide {
				warm, warmed = b, a
			}
			found := lint.AtMount(warmed.Mount, "at")
			found.Message = fmt.Sprintf("%s draws in what %s, beside it, blows out", warmed.Ref(), warm.Ref())
			found.Others = []string{warm.Ref()}
			found.Related = []lint.Related{{At: warm.Source.Attr("at"), Message: fmt.Sprintf("%s is mounted here", warm.Name)}}
			p.Report(found)
		}
	}
}
