package rules

import (
	"strings"

	"cagenut/lint"
)

// LoadedRack is reported where a rack that holds things goes to another place,
// or gets another frame.
var LoadedRack = &lint.Rule{
	ID:      "plan/loaded-rack",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a rack goes to another place, or gets another frame, with things in it",
	Why: `A full rack is moved by its rolling rating, with every cord off and every
service handed over; most frames carry far less on castors than on their feet. No
order of work is planned for that: things come out in one change, the empty rack
goes in the next, and things come back in a third. Where somebody found that the
rack stands there already, the record alone follows: window --as-found, or a waiver
where the change has other work as well.`,
	Source:  "common practice",
	Omits:   "a row or a frame that has only got another name; a place that is declared for the first time",
	Decides: "whoever answers for the floor, and a carrier",
	Before:  planThings + placed("1"),
	Bad:     planThings + placed("2"),
	Good:    planThings + strings.Replace(placed("1"), "at        = 1", "at        = 3", 1),
	Change:  true,
}

// placed is a rack with a server at a place of its row.
func placed(place string) string {
	return strings.Replace(planRack("hq-a", bothFeeds, "1"), "  frame =", "  place = "+place+"\n  frame =", 1)
}
