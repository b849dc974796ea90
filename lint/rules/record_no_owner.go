package rules

import (
	"cagenut/lang/estate"
	"cagenut/lint"
)

// noOwner reports a mount that nobody answers for: it states no owner, and its
// rack states none either.
var noOwner = &lint.Rule{
	ID:      "record/no-owner",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a mount that nobody answers for",
	Why: `Somebody must be asked before a thing is moved or switched off, and told afterwards.
Without an owner it stays where it is for ever, or goes one night and is missed the next
morning.`,
	Source: "common practice",
	Omits:  "Whether the owner named still exists.",
	Bad: exampleCabinet + `equipment "storage" {
  height = "2U"
}
rack "a" {
  frame = frame.cab-42
  mount "store-1" {
    at        = 4
    equipment = equipment.storage
  }
}
`,
	Good: exampleCabinet + `equipment "storage" {
  height = "2U"
}
rack "a" {
  frame = frame.cab-42
  owner = "shore-systems" # answers for whatever in the rack names no other
  mount "store-1" {
    at        = 4
    equipment = equipment.storage
  }
}
`,
	Rack: func(pass *lint.Pass, r *estate.Rack) {
		if r.Owner != "" {
			return
		}
		for _, m := range r.Mounts {
			if m.Owner == "" {
				f := lint.AtMount(m, "")
				f.Message = m.Ref() + " has no owner, and neither has its rack"
				pass.Report(f)
			}
		}
	},
}
