package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// narrowAisle reports a row whose aisle in front or behind is narrower than
// the limit. An aisle that is not declared is left alone, one that is unknown is
// not checked.
var narrowAisle = &lint.Rule{
	ID:      "site/narrow-aisle",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "an aisle too narrow to work in",
	Why: `Equipment is pulled out to its full length into the aisle before the racks, with a
person and often a lift beyond it; behind them somebody must kneel and turn. An aisle that
is too narrow is found when the new server hangs half out of the rack.`,
	Source:  "common practice in the manner of TIA-942 and TIA-569: 1.0 m in front, 0.6 m behind",
	Omits:   "how far equipment slides out, escape ways, and the working space before electrical panels, whose places are not declared",
	Decides: "the site's fire and electrical rules",
	Limits: []lint.Limit{
		{Name: "front", Default: 1000 * quantity.Millimetre, Doc: "least width before the fronts (common practice; 1200 mm is better)"},
		{Name: "rear", Default: 600 * quantity.Millimetre, Doc: "least width behind the rears (common practice; 1000 mm is better)"},
	},
	Bad: `row "hq-1" {
  front_aisle = "900 mm"
  rear_aisle  = "700 mm"
}
`,
	Good: `row "hq-1" {
  front_aisle = "1200 mm"
  rear_aisle  = "700 mm"
}
`,
	Estate: func(pass *lint.Pass) {
		for _, row := range pass.Estate.Rows {
			judgeAisle(pass, row, "front_aisle", "before", row.FrontAisle, lint.LimitFor[quantity.Length](pass, "front", row))
			judgeAisle(pass, row, "rear_aisle", "behind", row.RearAisle, lint.LimitFor[quantity.Length](pass, "rear", row))
		}
	},
}

func judgeAisle(pass *lint.Pass, row *estate.Row, attr, where string, aisle estate.Figure[quantity.Length], least quantity.Length) {
	ref := "row." + row.Name
	wide, ok := aisle.Get()
	switch {
	case aisle.State == estate.IsUnknown:
		pass.NotChecked(lint.Unchecked{At: row.Source.Attr(attr), Thing: ref, Because: fmt.Sprintf("the aisle %s %s is unknown", where, ref)})
	case ok && wide < least:
		pass.Report(lint.Finding{At: row.Source.Attr(attr), Thing: ref, Others: []string{attr},
			Message: fmt.Sprintf("the aisle %s %s is %s wide; at least %s are needed", where, ref, told(pass, aisle), pass.Length(least))})
	}
}
