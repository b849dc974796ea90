package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// waiverEnded reports waivers whose last day is past, and those that end soon.
// One that has ended while its finding is still there is an error, for what it
// accepted is reported again; one whose finding is gone is a note.
var waiverEnded = &lint.Rule{
	ID:      "record/waiver-ended",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a waiver that has ended, or ends soon",
	Why: `A waiver is a promise to mend something by a day. On that day it is mended, or somebody
decides anew; nobody should learn of it from a build that fails.`,
	Source: "common practice",
	Limits: []lint.Limit{{Name: "limit", Default: 14, Doc: "days before its end from which a waiver is reported"}},
	Bad: exampleCabinet + `rack "a" {
  frame = frame.cab-42
}
waive "space/open-unit" {
  on     = rack.a
  until  = "2026-11-24"
  reason = "blanks are on order"
}
`,
	Good: exampleCabinet + `rack "a" {
  frame = frame.cab-42
}
waive "space/open-unit" {
  on     = rack.a
  until  = "2027-03-31"
  reason = "blanks are on order"
}
`,
	After: func(pass *lint.Pass, res *lint.Result) {
		soon := estate.Date(lint.LimitFor[int](pass, "limit", nil))
		for _, w := range res.Waivers {
			if w.Until == 0 {
				continue // its end is missing or mistaken, which the language says
			}
			f := lint.Finding{At: w.Source.Attr("until"), Thing: w.On, Others: []string{w.Rule}, Rack: rackOf(w.On)}
			left := int(w.Until - pass.Today)
			switch {
			case left < 0 && w.Accepts:
				f.Level = lint.Error
				f.Message = fmt.Sprintf("the waiver of %s on %s ended on %s, and what it accepted is still there", w.Rule, w.On, w.Until)
			case left < 0:
				f.Level = lint.Note
				f.Message = fmt.Sprintf("the waiver of %s on %s ended on %s; take it out", w.Rule, w.On, w.Until)
			case w.Until <= pass.Today+soon:
				f.Message = fmt.Sprintf("the waiver of %s on %s ends %s", w.Rule, w.On, inDays(left, w.Until))
			default:
				continue
			}
			pass.Report(f)
		}
	},
}

// inDays says when a day is that lies so many days ahead.
func inDays(n int, day estate.Date) string {
	switch n {
	case 0:
		return "today"
	case 1:
		return "tomorrow"
	}
	return fmt.Sprintf("in %d days, on %s", n, day)
}

// waiverIdle reports waivers in force that accept nothing. One whose rule did
// not run, or could not be judged on its thing, is not idle, and none is while
// only part of the estate is read.
var waiverIdle = &lint.Rule{
	ID:      "record/waiver-idle",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a waiver that accepts nothing",
	Why: `What it accepted is mended, or its name has changed. Left in place it will one day
accept something that nobody has looked at.`,
	Source: "common practice",
	Bad: exampleCabinet + `equipment "storage" {
  height = "2U"
}
rack "a" {
  frame = frame.cab-42
  mount "store-1" {
    at        = 4
    equipment = equipment.storage
    owner     = "shore-systems"
  }
}
waive "record/no-owner" {
  on     = rack.a.store-1
  until  = "2027-03-31"
  reason = "the owner is being asked"
}
`,
	Good: exampleCabinet + `equipment "storage" {
  height = "2U"
}
rack "a" {
  frame = frame.cab-42
  mount "store-1" {
    at        = 4
    equipment = equipment.storage
  }
}
waive "record/no-owner" {
  on     = rack.a.store-1
  until  = "2027-03-31"
  reason = "the owner is being asked"
}
`,
	After: func(pass *lint.Pass, res *lint.Result) {
		for _, w := range res.Waivers {
			if w.Accepts || !w.Judged || w.Until < pass.Today {
				continue
			}
			pass.Report(lint.Finding{
				At: w.Source.At(), Thing: w.On, Others: []string{w.Rule}, Rack: rackOf(w.On),
				Message: fmt.Sprintf("%s finds nothing on %s, so that this waiver accepts nothing; take it out", w.Rule, w.On),
			})
		}
	},
}
