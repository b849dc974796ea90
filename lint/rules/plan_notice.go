package rules

import (
	"strings"

	"cagenut/lint"
)

// ShortNotice is reported where the windows of a plan open sooner than the
// site's notice allows.
var ShortNotice = &lint.Rule{
	ID:      "plan/short-notice",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a window opens before those concerned have had the site's notice",
	Why: `Owners, neighbours and the desk are told some days ahead, so that somebody can
say no in time. The days are counted from the day of the plan to the day on which
the window opens. Those concerned may agree to less.`,
	Source: "common practice",
	Omits:  "whom a site tells, and whether they were told",
	Before: planThings + planRack("hq-a", bothFeeds, "1"),
	Bad:    announced("notice", "7") + planRack("hq-a", bothFeeds, "3") + planWindow + "  closes = \"02:00\"\n}\n",
	Good:   announced("notice", "6") + planRack("hq-a", bothFeeds, "3") + planWindow + "  closes = \"02:00\"\n}\n",
	Change: true,
}

// NoRecord is reported where a site asks for a record number of every change
// and the plan is made without one.
var NoRecord = &lint.Rule{
	ID:      "plan/no-record",
	Since:   "2026.1",
	Level:   lint.Note,
	Summary: "the site asks for a record number, and the change has none",
	Why: `Who wanted the change, who agreed, and when: all of that hangs on the number of
its record. A sheet without one cannot be found again in a year.`,
	Source: "common practice",
	Omits:  "whether the record exists, and what it says",
	Before: planThings + planRack("hq-a", bothFeeds, "1"),
	Bad:    announced("record", "true") + planRack("hq-a", bothFeeds, "3"),
	Good:   announced("record", "false") + planRack("hq-a", bothFeeds, "3"),
	Change: true,
}

// NoReason is reported where a site asks for the reason of every change and the
// plan is made without one.
var NoReason = &lint.Rule{
	ID:      "plan/no-reason",
	Since:   "2026.1",
	Level:   lint.Note,
	Summary: "the site asks for the reason of a change, and the change has none",
	Why: `The commits say what is changed. Whoever decides at two in the morning whether to go
on or back needs to know what it is for, and what happens if it is not done tonight.`,
	Source: "common practice",
	Omits:  "whether the reason is a good one; what the commits say",
	Before: planThings + planRack("hq-a", bothFeeds, "1"),
	Bad:    announced("reason", "true") + planRack("hq-a", bothFeeds, "3"),
	Good:   announced("reason", "false") + planRack("hq-a", bothFeeds, "3"),
	Change: true,
}

// announced is what the examples share, with one more attribute of the site.
func announced(name, value string) string {
	return strings.Replace(planThings, `site "quay" { zone = "Europe/Tallinn" }`,
		"site \"quay\" {\n  zone   = \"Europe/Tallinn\"\n  "+name+" = "+value+"\n}", 1)
}
