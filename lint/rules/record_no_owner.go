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
	Bad: `rack "a" {
  mount "store-1" {
    at = 4
  }
}
`,
	Good: `rack "a" {
  owner = "shore-systems" # answers for everything in the rack that names no other
  mount "store-1" {
    at = 4
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
