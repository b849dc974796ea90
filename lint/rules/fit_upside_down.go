package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// UpsideDown reports a mount that hangs upside down although its maker forbids
// it.
var UpsideDown = &lint.Rule{
	ID:      "fit/upside-down",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "hangs upside down, which its maker forbids",
	Why: `Batteries leak, disks and fans wear out sooner, and warm air that should
rise stays inside. Some gear may be turned; its sheet says so.`,
	Source: "makers' sheets",
	Bad:    exampleCabinet + fmt.Sprintf(upsideDownThings, "\n    inverted  = true"),
	Good:   exampleCabinet + fmt.Sprintf(upsideDownThings, ""),
	Rack: func(p *lint.Pass, r *estate.Rack) {
		for m, q := range inPlace(r) {
			if m.Inverted && q.Upright {
				f := lint.AtMount(m, "inverted")
				f.Message = fmt.Sprintf("%s hangs upside down; equipment.%s must stand upright", m.Name, q.Name)
				f.Related = attrAt(&q.Source, "upright", "its maker forbids it")
				p.Report(f)
			}
		}
	},
}

const upsideDownThings = `equipment "ups" {
  system  = "19in"
  height  = "2U"
  upright = true
}

rack "hq-a" {
  frame = frame.cab-42

  mount "ups-1" {
    at        = 1
    equipment = equipment.ups%s
  }
}
`
