package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// wrongCount reports a mount whose stated run of units, as in at = "38-39", is
// not the run that its equipment takes there. A fraction of a unit counts as
// the whole unit that it lies in.
//
// The height that the catalogue gives is what every other rule works with.
var wrongCount = &lint.Rule{
	ID:      "record/wrong-count",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a stated run of units that is not the height of the equipment",
	Why: `Either the place was read off wrongly or the catalogue has the wrong height. In both
cases the neighbour's unit is wrong as well.`,
	Source: "common practice",
	Bad: `frame "cab-42" {
  system  = "19in"
  units   = 42
  counted = "up"
}
equipment "storage" {
  system = "19in"
  height = "2U"
}
rack "a" {
  frame = frame.cab-42
  mount "store-1" {
    at        = "12-14"
    equipment = equipment.storage
  }
}
`,
	Good: `frame "cab-42" {
  system  = "19in"
  units   = 42
  counted = "up"
}
equipment "storage" {
  system = "19in"
  height = "2U"
}
rack "a" {
  frame = frame.cab-42
  mount "store-1" {
    at        = "12-13"
    equipment = equipment.storage
  }
}
`,
	Rack: func(pass *lint.Pass, r *estate.Rack) {
		if r.Frame == nil {
			return
		}
		for _, m := range r.Mounts {
			if m.Through == 0 || m.Equipment == nil || !r.Frame.Native(m.Equipment) {
				continue // units of another size are fit/module-count's business
			}
			e, ok := m.Extent()
			if !ok {
				pass.MountUnchecked(m, "the height of equipment.%s is %s", m.Equipment.Name, m.Equipment.Height.State)
				continue
			}
			is := r.Frame.UnitsOf(e)
			if is.From == m.At && is.To == m.Through {
				continue
			}
			f := lint.AtMount(m, "at")
			f.Message = fmt.Sprintf("%s states units %s-%s; equipment.%s is %s high and takes %s from %s on",
				m.Name, m.At, m.Through, m.Equipment.Name, heightOf(m.Equipment), r.Frame.Label(r.Frame.Extent(is)), m.At)
			f.Related = []lint.Related{{At: m.Equipment.Source.Attr("height"), Message: "the height is declared here"}}
			pass.Report(f)
		}
	},
}

// heightOf writes the height of equipment as its catalogue entry does.
func heightOf(q *estate.Equipment) string {
	switch q.Height.Word {
	case "":
		return q.Height.Length.String()
	case "U":
		return q.Height.Count.String() + "U"
	}
	return q.Height.Count.String() + " " + q.Height.Word
}
