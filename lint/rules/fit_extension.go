package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// Extension reports a mount on slides that, drawn out all the way with a
// person before it, needs more than the aisle at the posts it hangs on. A site
// that declares no aisles, or a mount without an extension, is not asked.
var Extension = &lint.Rule{
	ID:      "fit/extension",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "drawn out on its slides it does not fit into the aisle",
	Why: `It touches the row across before the lid can be lifted, or nobody can
stand before it. Makers ask for 900 mm in front.`,
	Omits:  "whether the rack stands while it is drawn out (load/tip-over, load/no-anchor)",
	Source: "makers' sheets",
	Limits: []lint.Limit{
		{Name: "person", Default: 600 * quantity.Millimetre, Doc: "room for a person before what is drawn out; common practice"},
	},
	Bad:  fmt.Sprintf(extensionThings, 1200),
	Good: fmt.Sprintf(extensionThings, 1400),
	Rack: extension,
}

const extensionThings = `row "hq-1" {
  front_aisle = "%d mm"
}

` + exampleCabinet + `equipment "server" {
  system    = "19in"
  height    = "2U"
  mounting  = "slides"
  extension = "750 mm"
}

rack "hq-a" {
  row   = row.hq-1
  frame = frame.cab-42

  mount "server-1" {
    at        = 8
    equipment = equipment.server
  }
}
`

func extension(p *lint.Pass, r *estate.Rack) {
	for m, q := range inPlace(r) {
		if q.Mounting != estate.Slides || r.Row == nil {
			continue
		}
		aisle, what := r.Row.FrontAisle, "before"
		if m.Posts() == estate.RearFace {
			aisle, what = r.Row.RearAisle, "behind"
		}
		if aisle.State == estate.IsMissing || q.Extension.State == estate.IsMissing {
			continue
		}
		if !q.Extension.Known() {
			p.MountUnchecked(m, "%s", lacks("extension of the slides", ofEquipment(q), q.Extension.State))
			continue
		}
		if !aisle.Known() {
			p.MountUnchecked(m, "the width of the aisle %s row.%s is %s", what, r.Row.Name, aisle.State)
			continue
		}
		person := lint.LimitFor[quantity.Length](p, "person", m)
		need := q.Extension.Value + person
		if need <= aisle.Value {
			continue
		}
		f := lint.AtMount(m, "equipment")
		f.Message = fmt.Sprintf("%s drawn out needs %s (%s%s + %s for a person); the aisle %s row %s is %s, %s too little",
			m.Name, p.Length(need), bare(p, q.Extension.Value), basis(q.Extension), bare(p, person), what, r.Row.Name, told(p, aisle), p.Length(need-aisle.Value))
		f.Related = append(figureAt(&q.Source, q.Extension, "the slides of %s", q.Name),
			figureAt(&r.Row.Source, aisle, "the aisle %s row %s", what, r.Row.Name)...)
		p.Report(f)
	}
}
