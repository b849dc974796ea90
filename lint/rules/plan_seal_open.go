package rules

import (
	"strings"

	"cagenut/lint"
)

// SealOpen is reported where the steps of a change open a fire seal and no
// window of the site has anybody to re-make it.
var SealOpen = &lint.Rule{
	ID:      "plan/seal-open",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a fire seal is opened and nobody is there to re-make it",
	Why: `A seal that is opened for one cord and left is a hole in the wall until somebody
looks. The sheet re-makes every seal before its run of steps ends; for that a
window says with competences = ["fire-stopper"] that somebody competent is there.
Where no window of the site says who is there, the plan lists it as not judged. A
half-done sheet that stops with a seal open is reported, too.`,
	Source:  "common practice; after NFPA 70, 800.26, and local codes",
	Omits:   "cables that pass a seal which nobody has declared; how full a seal may be",
	Decides: "whoever answers for the building's fire protection",
	Before:  sealed + planRack("hq-a", bothFeeds, "1"),
	Bad:     sealed + planRack("hq-a", bothFeeds, "1", "3") + planWindow + "  closes = \"02:00\"\n\n  competences = [\"electrician\"]\n}\n",
	Good:    sealed + planRack("hq-a", bothFeeds, "1", "3") + planWindow + "  closes = \"02:00\"\n\n  competences = [\"electrician\", \"fire-stopper\"]\n}\n",
	Change:  true,
}

// sealed is what the examples share, with a fire seal in the way of all cables
// of the row.
var sealed = strings.Replace(planThings, "  front = \"cold\"\n", "  front = \"cold\"\n  seals = [\"FS-12\"]\n", 1)
