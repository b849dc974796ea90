package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// ventBetween reports a vent panel between other things in a frame whose own
// fan draws the air through it. A vent is a mount whose equipment is of kind
// "vent".
var ventBetween = &lint.Rule{
	ID:      "air/vent-between",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a vent between things that the frame's fan should draw air past",
	Why: `A fan in the roof draws its air from the nearest hole. With the front closed that is
the bottom, and the air passes everything on its way up; a vent halfway lets it in
there, and whatever hangs below cooks in air that stands still. Without a fan the same vent
is right: convection needs it.`,
	Source: "common practice of audio and video racks: no vents between items in a rack whose fans rely on a closed front",
	Omits:  "where the fan sits; vents above or below everything else; open units without a blank (space/open-unit); gaps beside the posts",
	Rack:   checkVentBetween,
	Bad:    ventExample(5),
	Good:   ventExample(1),
}

func ventExample(at int) string {
	return fmt.Sprintf(`
frame "av" {
  system = "19in"
  kind   = "cabinet"
  units  = 24
  fan    = true
}
equipment "amplifier" { height = "2U" }
equipment "vent" {
  kind   = "vent"
  height = "1U"
}
rack "stage" {
  frame = frame.av
  mount "amplifier-1" {
    at        = 3
    equipment = equipment.amplifier
  }
  mount "vent-1" {
    at        = %d
    equipment = equipment.vent
  }
  mount "amplifier-2" {
    at        = 6
    equipment = equipment.amplifier
  }
}
`, at)
}

func checkVentBetween(p *lint.Pass, rack *estate.Rack) {
	if rack.Frame == nil || !rack.Frame.Fan {
		return
	}
	vents := false
	for _, q := range inPlace(rack) {
		vents = vents || q.Kind == "vent"
	}
	if !vents {
		return
	}
	extents(p, rack)
	placed := rack.Placed()
	for _, vent := range placed {
		if vent.Equipment == nil || vent.Equipment.Kind != "vent" {
			continue
		}
		var below, above *estate.Mount // the nearest
		for _, o := range placed {
			switch {
			case o.Equipment == nil || o.Equipment.Kind == "vent" || o.Posts() != vent.Posts() || o.Meets(vent.Extent):
			case o.Top <= vent.Bottom+estate.Touch:
				below = o.Mount
			case above == nil:
				above = o.Mount
			}
		}
		if below == nil || above == nil {
			continue
		}
		f := lint.AtMount(vent.Mount, "at")
		f.Message = fmt.Sprintf("%s lets air in between %s and %s; the fan of %s then draws none past %s", vent.Name, below.Name, above.Name, ofFrame(rack.Frame), below.Name)
		f.Others = []string{ofFrame(rack.Frame)}
		f.Related = []lint.Related{
			{At: rack.Frame.Source.Attr("fan"), Message: "the frame's fan is declared here"},
			{At: below.Source.Attr("at"), Message: below.Name + " is mounted here"},
		}
		p.Report(f)
	}
}
