package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// Obstruction reports a mount that meets a strut, fan or crossbar of its frame
// in height, depth and width, cords included.
var Obstruction = &lint.Rule{
	ID:      "space/obstruction",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a strut, fan or crossbar of the frame is in the way",
	Why: `The units are free, the depth is there, and half-way in the box stops
against a brace that no elevation shows.`,
	Source: "common practice",
	Bad:    fmt.Sprintf(obstructionThings, 500, 560),
	Good:   fmt.Sprintf(obstructionThings, 600, 660),
	Rack:   obstruction,
}

const obstructionThings = `frame "cab" {
  system    = "19in"
  units     = 24
  post_span = "740 mm"

  obstruction "crossbar" {
    from = "440 mm"
    to   = "480 mm"
    near = "%d mm"
    far  = "%d mm"
  }
}

equipment "server" {
  system = "19in"
  height = "2U"
  body   = "440 mm"
  depth  = "500 mm"
  cords  = "60 mm"
}

rack "a" {
  frame = frame.cab

  mount "server-1" {
    at        = 10
    equipment = equipment.server
  }
}
`

func obstruction(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	if f == nil {
		return
	}
	for _, o := range f.Obstructions {
		box := estate.Extent{Bottom: o.From, Top: o.To}
		for _, m := range r.Placed() {
			if !m.Meets(box) {
				continue
			}
			d, missing := m.Depths()
			if missing != "" {
				p.MountUnchecked(m.Mount, "%s", missing)
				continue
			}
			if !d.Whole.Meets(estate.Run{From: o.Near, To: o.Far}) {
				continue
			}
			beside, missing := clearOf(f, o, m.Mount)
			if beside {
				continue
			}
			if missing != "" {
				p.MountUnchecked(m.Mount, "%s", missing)
				continue
			}
			finding := lint.AtMount(m.Mount, "at")
			finding.Others = []string{ofFrame(f) + " " + o.Name}
			finding.Message = fmt.Sprintf("%s reaches from %s to %s behind the front posts at %s; the %s of %s stands there from %s to %s",
				m.Name, p.Length(d.Whole.From), p.Length(d.Whole.To), m.Label(), o.Name, f.Name, p.Length(o.Near), p.Length(o.Far))
			finding.Related = []lint.Related{{At: o.Source.At(), Message: fmt.Sprintf("the %s of %s", o.Name, f.Name)}}
			p.Report(finding)
		}
	}
}

// clearOf reports whether a mount passes beside an obstruction that stands at
// one side of the opening, and why that is not known.
func clearOf(f *estate.Frame, o *estate.Obstruction, m *estate.Mount) (bool, string) {
	if o.Side == estate.NoSide || o.Reach == 0 {
		return false, ""
	}
	opening, ok := f.Opening.Get()
	if !ok {
		return false, lacks("opening", ofFrame(f), f.Opening.State)
	}
	body, ok := m.Equipment.Body.Get()
	if !ok {
		return false, lacks("body width", ofEquipment(m.Equipment), m.Equipment.Body.State)
	}
	from := quantity.Length(0) // the left edge of what the mount may take
	width := opening
	if !m.Slot.Whole() {
		width = opening / quantity.Length(m.Slot.Of)
		from = width * quantity.Length(m.Slot.Part-1)
	}
	left := from + (width-body)/2
	if o.Side == estate.LeftSide {
		return left >= o.Reach-estate.Touch, ""
	}
	return opening-(left+body) >= o.Reach-estate.Touch, ""
}
