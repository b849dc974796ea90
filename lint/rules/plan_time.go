package rules

import "cagenut/lint"

// planWindow is the part of a standing window that the examples share.
const planWindow = `
window "tue-night" {
  site   = site.quay
  days   = ["tue"]
  opens  = "22:00"
`

// Freeze is reported where every window that would do falls into a freeze.
var Freeze = &lint.Rule{
	ID:      "plan/freeze",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "the only windows for a step fall into a freeze",
	Why: `In a freeze nothing is changed: the people who would notice, or mend it, are
busy with the season. A window that begins before a freeze and ends in it counts
as frozen.`,
	Source: "common practice",
	Before: planThings + planRack("hq-a", bothFeeds, "1"),
	Bad: planThings + planRack("hq-a", bothFeeds, "3") + planWindow + `  closes = "02:00"
}
freeze "winter" {
  site = site.quay
  from = "2026-11-25"
  to   = "2028-03-01"
}
`,
	Good: planThings + planRack("hq-a", bothFeeds, "3") + planWindow + `  closes = "02:00"
}
freeze "winter" {
  site = site.quay
  from = "2026-12-20"
  to   = "2027-01-06"
}
`,
	Change: true,
}

// TooFewPeople is reported where no window of the site has the people, the
// lift or the electrician that a step calls for.
var TooFewPeople = &lint.Rule{
	ID:      "plan/too-few-people",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a step calls for more people, a lift or an electrician, and no window of the site has that",
	Why: `Who lifts is reckoned from the declared mass and the height of the thing's
middle above the floor. The table is a starting point: the site's own handling
assessment decides. Fixed wiring, strips, UPS and batteries are for an
electrician: a window says with competences whether one is there. Where one
window of a site says it, those that do not have none; where no window does,
nothing is refused and the plan lists it as not judged. Of a lift, what a window
says that it carries, how high it rises and how far forward it reaches is held
against the thing, its place, and the door and stabiliser before the posts. Where
the maker asks for more people than the table, these are asked for. A waiver accepts the finding by name and until a day.`,
	Source:  "common practice; makers' labels of 18, 32 and 55 kg are from memory, unverified",
	Decides: "whoever answers for manual handling at the site",
	Before:  planThings + planRack("hq-a", bothFeeds, "1"),
	Bad: planThings + planRack("hq-a", bothFeeds, "3") + planWindow + `  closes = "02:00"
  people = 1
}
`,
	Good: planThings + planRack("hq-a", bothFeeds, "3") + planWindow + `  closes = "02:00"
  people = 2
}
`,
	Change: true,
}

// TooLong is reported where a run of steps that cannot be cut is longer than
// every window of its site.
var TooLong = &lint.Rule{
	ID:      "plan/too-long",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "steps that cannot be cut are longer than every window",
	Why: `A window ends at rest: nothing parked, nothing out, every cord on. What has
to be done in one go and does not fit cannot be begun. The finding says how long
a window would have to be; another target or a second set of rails may do, too.`,
	Source: "common practice",
	Omits:  "how long work really takes: calibrate the pace from signed sheets",
	Before: planThings + planRack("hq-a", bothFeeds, "1"),
	Bad: planThings + planRack("hq-a", bothFeeds, "3") + planWindow + `  closes = "23:00"
}
`,
	Good: planThings + planRack("hq-a", bothFeeds, "3") + planWindow + `  closes = "02:00"
}
`,
	Change: true,
}

// BackOut is reported where a step is planned so late that it could not be
// undone before the margin of its window.
var BackOut = &lint.Rule{
	ID:      "plan/back-out",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "going back after a step would overrun the window",
	Why: `Until the turning point of its block a step that fails is undone, with all
before it. The time for that has to be left, and the margin stays untouched.
From the turning point on the way forward is the shorter one.`,
	Source: "common practice",
	Before: planThings + planRack("hq-a", bothFeeds, "1"),
	Bad: planThings + planRack("hq-a", bothFeeds, "3") + planWindow + `  closes = "23:58"
}
`,
	Good: planThings + planRack("hq-a", bothFeeds, "3") + planWindow + `  closes = "02:00"
}
`,
	Change: true,
}
