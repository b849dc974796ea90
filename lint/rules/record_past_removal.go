package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// pastRemoval reports a mount that is still there after the day by which it
// was to be gone, and a reserve whose last day is past.
var pastRemoval = &lint.Rule{
	ID:      "record/past-removal",
	Since:   "2026.1",
	Level:   lint.Note,
	Summary: "still there after the day by which it was to be gone",
	Why: `A loan that is not returned is paid for every month, and a thing that nobody needs any
more holds units, feeds and air that the next one is refused. Either it goes or the record
says why it stays.`,
	Source: "common practice",
	Limits: []lint.Limit{{Name: "limit", Default: 0, Doc: "days after the day before it is reported (common practice: up to 60)"}},
	Bad: exampleCabinet + `equipment "server" {
  height = "2U"
}
rack "a" {
  frame = frame.cab-42
  mount "loan-1" {
    at        = 4
    equipment = equipment.server
    until     = "2026-03-31" # the loan ends
  }
}
`,
	Good: exampleCabinet + `equipment "server" {
  height = "2U"
}
rack "a" {
  frame = frame.cab-42
  mount "loan-1" {
    at        = 4
    equipment = equipment.server
    until     = "2027-03-31" # the loan was made longer
  }
}
`,
	Rack: func(pass *lint.Pass, r *estate.Rack) {
		for _, m := range r.Mounts {
			late := int(pass.Today - m.Until)
			if m.Until == 0 || late <= lint.LimitFor[int](pass, "limit", m) {
				continue
			}
			f := lint.AtMount(m, "until")
			f.Message = fmt.Sprintf("%s was to be gone by %s, %s ago", m.Name, m.Until, days(late))
			pass.Report(f)
		}
		for _, held := range r.Reserves {
			late := int(pass.Today - held.Until)
			if held.Until == 0 || late <= lint.LimitFor[int](pass, "limit", r) {
				continue
			}
			pass.Report(lint.Finding{
				At: held.Source.Attr("until"), Thing: r.Ref() + "." + held.Name, Rack: r.Name,
				Message: fmt.Sprintf("the units of %s were held until %s, %s ago; let them go, or hold them anew", held.Name, held.Until, days(late)),
			})
		}
	},
}

// days prints a number of days.
func days(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}
