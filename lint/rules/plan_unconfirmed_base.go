package rules

import (
	"strings"

	"cagenut/lint"
)

// UnconfirmedBase is reported where a change starts from a record that has been
// changed on paper since somebody last looked at the racks and confirmed it.
var UnconfirmedBase = &lint.Rule{
	ID:      "plan/unconfirmed-base",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "the record that a change starts from was not confirmed as built since it was last changed",
	Why: `Drawings drift at the unplanned swap, the quick repair and the half-finished
window. A crew that trusts the drawing finds something else in the rack, at
night. A site that writes as_built = "as-built/*" says that a tag of this pattern
is set when somebody has looked at the racks and the record agrees; the commit
that a change starts from has to carry the last one, as far as the racks that are
worked at are concerned. What changes on paper alone needs no confirmation: it
leads to one.`,
	Source: "common practice",
	Omits:  "whether anybody looked; what hangs at a rack without being part of it: the catalogue, feeds, frames; in a shallow clone that lacks the tag it is not checked",
	Before: asBuilt + planRack("hq-a", bothFeeds, "1"),
	Bad:    asBuilt + planRack("hq-a", bothFeeds, "3"),
	Good:   asBuilt + strings.Replace(planRack("hq-a", bothFeeds, "1"), "    equipment", "    serial    = \"BW-4471\"\n    equipment", 1),
	Change: true,
}

// asBuilt is what the examples share; no tag is set in their history.
var asBuilt = announced("as_built", `"as-built/*"`)
