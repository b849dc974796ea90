package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// transferSameSource reports a transfer switch whose supplies are lost
// together.
var transferSameSource = &lint.Rule{
	ID:      "power/transfer-same-source",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "both supplies of a transfer switch hang on one source",
	Why: `A transfer switch changes from a dead supply to a live one. With both on one source
there is no live one: it is a box more that can fail, and nothing else.`,
	Source:  "common practice",
	Decides: electrician,
	Rack:    checkTransfer,
	Bad:     transferExample("ups"),
	Good:    transferExample("mains"),
}

func transferExample(source string) string {
	return fmt.Sprintf(`
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "switch-over" {
  kind    = "transfer-switch"
  height  = "1U"
  inlets  = { type = "c20", count = 2, needs = 1 }
  outlets = { type = "c13", count = 8 }
}
feed "a" { source = "ups" }
feed "b" { source = %q }
rack "r1" {
  frame = frame.cab
  mount "transfer-1" {
    at        = 1
    equipment = equipment.switch-over
    feeds     = [feed.a, feed.b]
  }
}
`, source)
}

func checkTransfer(p *lint.Pass, rack *estate.Rack) {
	for _, m := range rack.Mounts {
		if m.Equipment == nil || !m.Equipment.Transfers() || lacksName(p, m.Ref(), "feed") {
			continue
		}
		f := lint.AtMount(m, "feeds")
		if len(m.Feeds) < 2 {
			if len(m.Feeds) == 1 {
				f.Message = fmt.Sprintf("transfer switch %s has one supply, %s", m.Name, m.Feeds[0].Ref())
				f.Others = []string{m.Feeds[0].Ref()}
				p.Report(f)
			}
			continue
		}
		judgeSameSource(p, m)
	}
}
