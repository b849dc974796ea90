package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// Reserved reports a mount that stands in units which a reserve holds on the
// day of the run. A reserve ends with its last day and is then quiet.
var Reserved = &lint.Rule{
	ID:      "space/reserved",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a mount stands in units that are held for something else",
	Why: `Somebody counted on these units, often next to what will grow. Ask who
holds them, then end the reserve in the same change.`,
	Source: "common practice",
	Bad:    exampleCabinet + reservedThings + fmt.Sprintf(reservedRack, 31),
	Good:   exampleCabinet + reservedThings + fmt.Sprintf(reservedRack, 34),
	Rack:   reserved,
}

const (
	reservedThings = `equipment "controller" {
  system = "19in"
  height = "2U"
}

`
	reservedRack = `rack "hq-a" {
  frame = frame.cab-42

  reserve "growth" {
    at     = "30-33"
    until  = "2027-06-30"
    reason = "second storage shelf"
  }
  mount "controller-1" {
    at        = %d
    equipment = equipment.controller
  }
}
`
)

func reserved(p *lint.Pass, r *estate.Rack) {
	if r.Frame == nil || len(r.Reserves) == 0 {
		return
	}
	extents(p, r)
	for _, m := range r.Placed() {
		for _, held := range r.Reserved(m.Extent, m.Posts(), p.Today) {
			e, _ := held.Extent()
			f := lint.AtMount(m.Mount, "at")
			f.Others = []string{r.Ref() + " reserve " + held.Name}
			f.Message = fmt.Sprintf("%s takes %s, which the reserve %s holds%s", m.Name, r.Frame.Label(m.Shared(e)), held.Name, heldFor(held))
			f.Related = []lint.Related{{At: held.Source.Attr("at"), Message: fmt.Sprintf("%s is held here", r.Frame.Label(e))}}
			p.Report(f)
		}
	}
}

// heldFor tells how long a reserve holds and why, as far as it says so.
func heldFor(held *estate.Reserve) string {
	s := ""
	if held.Until != 0 {
		s += " until " + held.Until.String()
	}
	if held.Reason != "" {
		s += " (" + held.Reason + ")"
	}
	return s
}
