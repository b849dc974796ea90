package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// notAudited reports a rack that nobody has compared with the record for a
// year. A rack whose record has never said when is left alone: the rule is for
// those who keep that date. A date in the future is reported as well.
var notAudited = &lint.Rule{
	ID:      "record/not-audited",
	Since:   "2026.1",
	Level:   lint.Note,
	Summary: "a rack that nobody has compared with the record for long",
	Why: `Records drift at the unplanned swap and the quick repair. A record that was right two
years ago sends people to the wrong unit at night.`,
	Source: "common practice",
	Omits:  "Racks that state no date; a policy can ask for one: require = known(rack.seen).",
	Limits: []lint.Limit{{Name: "limit", Default: 365, Doc: "days after which a comparison is old (common practice)"}},
	Bad: exampleCabinet + `rack "a" {
  frame = frame.cab-42
  seen  = "2025-06-30"
}
`,
	Good: exampleCabinet + `rack "a" {
  frame = frame.cab-42
  seen  = "2026-06-30"
}
`,
	Rack: func(pass *lint.Pass, r *estate.Rack) {
		if r.Seen == 0 {
			return
		}
		f := lint.AtRack(r, "seen")
		old := int(pass.Today - r.Seen)
		switch limit := lint.LimitFor[int](pass, "limit", r); {
		case old < 0:
			f.Message = fmt.Sprintf("%s was last compared with the record on %s, which is still to come", r.Ref(), r.Seen)
		case old > limit:
			f.Message = fmt.Sprintf("%s was last compared with the record on %s, %s ago; at most %s are allowed", r.Ref(), r.Seen, days(old), days(limit))
		default:
			return
		}
		pass.Report(f)
	},
}
