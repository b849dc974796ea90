package rules

import "cagenut/lint"

// plan lists the rules of the group "plan". They are about the way from one
// estate to another, so that lint does not report them: a plan does.
var plan = []*lint.Rule{
	PairTogether, GoesDark, ServiceOrder, NoParking, OverItself, UnsafeStep, Freeze, TooFewPeople, TooLong, BackOut, NotAtRest,
	SealOpen, ShortNotice, NoRecord, NoReason, UnconfirmedBase, LoadedRack,
	PlanCordShort, CordUnread, PastSlack,
}

// Pieces that the examples of plan rules share.
const (
	planPlace = `site "quay" { zone = "Europe/Tallinn" }
room "hq" { site = site.quay }
row "hq-1" {
  room  = room.hq
  front = "cold"
}

`
	planFrame = `frame "half-6" {
  system    = "19in"
  kind      = "four-post"
  units     = 6
  counted   = "up"
  post_span = "740 mm"
  base      = "100 mm"
  mass      = "60 kg"
  rated     = "400 kg"
}

`
	planServer = `equipment "server" {
  kind     = "server"
  system   = "19in"
  height   = "2U"
  depth    = "700 mm"
  mass     = "20 kg"
  mounting = "slides"
  rails    = { from = "600 mm", to = "900 mm" }
  draw     = "300 W"
  inlets   = { type = "c14", count = 2, needs = 1 }
}

`
	planFeeds = `feed "a" {
  room    = room.hq
  source  = "ups"
  voltage = "230 V"
  rated   = "16 A"
}
feed "b" {
  room    = room.hq
  source  = "mains"
  voltage = "230 V"
  rated   = "16 A"
}

`
	planThings = planPlace + planFrame + planServer + planFeeds
)

// planRack writes a rack with servers "node-1", "node-2", ... at some units.
func planRack(name, feeds string, units ...string) string {
	text := "rack \"" + name + "\" {\n  row   = row.hq-1\n  frame = frame.half-6\n  feeds = [feed.a, feed.b]\n"
	for i, at := range units {
		text += "\n  mount \"node-" + string(rune('1'+i)) + "\" {\n    at        = " + at + "\n    equipment = equipment.server\n    feeds     = " + feeds + "\n  }\n"
	}
	return text + "}\n"
}

const bothFeeds = "[feed.a, feed.b]"
