package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// ModuleCount reports a mount in a frame of another unit that is given fewer
// or more of its units than its panel needs.
//
// What counts is the height of the panel, not the nominal one: nine U are
// 400.05 mm, but their panel is 399.26 mm and fills 16 units of 25 mm, not 17.
// Too few is an error, too many a note: the units are lost to others.
var ModuleCount = &lint.Rule{
	ID:      "fit/module-count",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a height converted to units of another size by the wrong figure",
	Why: `Equipment of one system in a frame of another is counted twice, and
somebody converts by the nominal height. One unit too few does not go in; one
too many is lost for good.`,
	Source: "EN 300 119; common practice",
	Bad:    moduleThings + fmt.Sprintf(moduleRack, "10-24"),
	Good:   moduleThings + fmt.Sprintf(moduleRack, "10-25"),
	Rack:   moduleCount,
}

const (
	moduleThings = `frame "exchange" {
  system = "25mm"
  kind   = "four-post"
  clear  = "2000 mm"
}

equipment "shelf" {
  system = "19in"
  height = "9U"
}

equipment "flange-19" {
  kind   = "adapter"
  system = "25mm"
  takes  = "19in"
}

`
	moduleRack = `rack "x-1" {
  frame = frame.exchange

  mount "shelf-1" {
    at        = "%s"
    equipment = equipment.shelf
    adapter   = equipment.flange-19
  }
}
`
)

func moduleCount(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	if f == nil || f.System == nil {
		return
	}
	for m, q := range inPlace(r) {
		if f.Native(q) || m.Through == 0 {
			continue
		}
		panel, ok := q.Panel()
		if !ok {
			p.MountUnchecked(m, "%s", lacks("height", ofEquipment(q), q.Height.State))
			continue
		}
		needs, given := f.System.Modules(panel), int((m.Through-m.At)/estate.OneUnit)+1
		if needs == given {
			continue
		}
		finding := lint.AtMount(m, "at")
		word := f.System.Word
		finding.Message = fmt.Sprintf("%s is given %d %s; its panel is %s high and needs %d of %s",
			m.Name, given, word, panel, needs, f.System.Pitch)
		if given > needs {
			finding.Level = lint.Note
			if nominal := f.System.Modules(q.Height.Length); nominal == given {
				finding.Message += fmt.Sprintf(" (%d is what its nominal %s would need)", nominal, q.Height.Length)
			}
		}
		finding.Related = attrAt(&q.Source, "height", "the height of %s", q.Name)
		p.Report(finding)
	}
}
