package rules

import (
	"fmt"

	"cagenut/lint"
)

// PlanCordShort is reported where the work brings the ends of a supply cord
// further apart than it is long.
var PlanCordShort = &lint.Rule{
	ID:      "plan/cord-short",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a supply cord does not reach where the work brings its ends",
	Why: `A thing moved by twenty units goes back, or its cords are changed for others in
the middle of the night: the commonest hidden cost of a move. The cord's declared
length is compared with its way after the work, of the thing that moves and of
everything that hangs on a strip that moves. As in power/cord-short, which judges the
layout and whose limits hold here too, it is an error where declared figures show it
and a warning where only an estimate of the way does.`,
	Source:  "common practice",
	Omits:   "data cords; cords to other racks, unless needed is written",
	Decides: "whoever lays the cord",
	Before:  planThings + planStrip + planCorded(3, "1 m", ""),
	Bad:     planThings + planStrip + planCorded(30, "1 m", ""),
	Good:    planThings + planStrip + planCorded(30, "2 m", ""),
	Change:  true,
}

// CordUnread is reported where a thing or a strip moves and nobody has said
// anew what its supply cords need, or ever how long they are.
var CordUnread = &lint.Rule{
	ID:      "plan/cord-unread",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a thing is moved, and the lengths of its cords were not read again",
	Why: `What a cord needed was measured in the old place; in the new one it is another
figure, and the record goes on to claim the old one. Where the length of a cord is
not declared at all it is a note: whether it reaches is found out in the window,
with the thing in somebody's hands.`,
	Source:  "common practice",
	Omits:   "things whose record tells only feeds and no cords",
	Decides: "whoever lays the cord",
	Before:  planThings + planStrip + planCorded(3, "2 m", `needed = { is = "700 mm", basis = "measured", on = "2026-03-02" }, `),
	Bad:     planThings + planStrip + planCorded(30, "2 m", `needed = { is = "700 mm", basis = "measured", on = "2026-03-02" }, `),
	Good:    planThings + planStrip + planCorded(30, "2 m", `needed = { is = "1600 mm", basis = "measured", on = "2026-11-20" }, `),
	Change:  true,
}

// PastSlack is reported where a thing is moved further than the fixed cables
// that end at it let it.
var PastSlack = &lint.Rule{
	ID:      "plan/past-slack",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a thing is moved further than the slack of its fixed cables",
	Why: `A panel at the end of installed cables goes as far as their slack and no
further; beyond it the cables are terminated and tested anew, which is a day of its
own. The move is compared with the slack that is declared in the old place: its
height, and the depth between the posts where it changes its face. Toward where the
cables come from it takes none, where the room says overhead = true or false. A
panel that does not say its slack is listed as not judged.`,
	Source:  "common practice",
	Omits:   "how the cables run and are tied; moves to other racks, which are listed as not judged",
	Decides: "whoever terminates and tests the cables",
	Before:  planThings + planPanel + fmt.Sprintf(planPanelRack, 2, "1 m"),
	Bad:     planThings + planPanel + fmt.Sprintf(planPanelRack, 30, "1 m"),
	Good:    planThings + planPanel + fmt.Sprintf(planPanelRack, 20, "1 m"),
	Change:  true,
}

const (
	planTall = `frame "tall-42" {
  system    = "19in"
  kind      = "four-post"
  units     = 42
  counted   = "up"
  post_span = "740 mm"
  base      = "100 mm"
  mass      = "80 kg"
  rated     = "800 kg"
  fixed     = "anchored"
}

`
	planStrip = planTall + `equipment "strip-20" {
  kind    = "strip"
  height  = "1750 mm"
  mass    = "4 kg"
  inlets  = { type = "c20", count = 1, needs = 1 }
  outlets = { type = "c13", count = 20, from = "80 mm", pitch = "40 mm" }
}

`
	planPanel = planTall + `equipment "panel-24" {
  kind     = "panel"
  system   = "19in"
  height   = "1U"
  depth    = "120 mm"
  mass     = "2 kg"
  mounting = "ears"
}

`
	planPanelRack = `rack "hq-a" {
  row   = row.hq-1
  frame = frame.tall-42

  mount "panel-1" {
    at        = %d
    equipment = equipment.panel-24
    slack     = %q
  }
}
`
)

// planCorded is a rack with a server at a unit on two strips, its cords of one
// length; more is said of each cord.
func planCorded(at int, length, more string) string {
	return fmt.Sprintf(`rack "hq-a" {
  row   = row.hq-1
  frame = frame.tall-42
  feeds = [feed.a, feed.b]

  zero_u "strip-a" {
    equipment = equipment.strip-20
    side      = "left"
    from      = "0 mm"
    feeds     = [feed.a]
  }
  zero_u "strip-b" {
    equipment = equipment.strip-20
    side      = "right"
    from      = "0 mm"
    feeds     = [feed.b]
  }
  mount "node-1" {
    at        = %d
    equipment = equipment.server
    cords = [
      { to = "strip-a", outlet = 3, length = %[2]q, %[3]slocking = true },
      { to = "strip-b", outlet = 3, length = %[2]q, %[3]slocking = true },
    ]
  }
}
`, at, length, more)
}
