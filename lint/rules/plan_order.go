package rules

import "cagenut/lint"

// PairTogether is reported where members of a group would be down together,
// whatever the order of work.
var PairTogether = &lint.Rule{
	ID:      "plan/pair-together",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "the work takes more members of a group down than may be",
	Why: `A pair is there so that one can be worked at while the other one runs. A
member is down from the moment its service is handed over until it is proven
back; where the group asks for all of them, none can be moved.`,
	Source: "common practice",
	Omits:  "members that share a power source without saying so",
	Before: planThings + planRack("hq-a", bothFeeds, "1", "3") + planGroup("2"),
	Bad:    planThings + planRack("hq-a", bothFeeds, "5", "3") + planGroup("2"),
	Good:   planThings + planRack("hq-a", bothFeeds, "5", "3") + planGroup("1"),
	Change: true,
}

func planGroup(up string) string {
	return "\ngroup \"nodes\" {\n  of = [rack.hq-a.node-1, rack.hq-a.node-2]\n  up = " + up + "\n}\n"
}

// NoParking is reported where things wait for each other's places and nothing
// can be parked.
var NoParking = &lint.Rule{
	ID:      "plan/no-parking",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "things change places, and there is nowhere to park one of them",
	Why: `Of two things that change places one has to wait somewhere: in free units of
its rack or a neighbour's, or on a bench that is declared and carries it; never
on top of another thing, on the floor of an aisle, or hanging on its cords. The
finding says what would make it possible.`,
	Source: "common practice; that two equal things of 2U cannot change places in 4U or 5U is proven by search",
	Before: planThings + planRack("hq-a", bothFeeds, "1", "3", "5"),
	Bad:    planThings + planRack("hq-a", bothFeeds, "3", "1", "5"),
	Good: planThings + planRack("hq-a", bothFeeds, "3", "1", "5") + `
bench "table" {
  room  = room.hq
  units = 4
  rated = "60 kg"
}
`,
	Change: true,
}

// OverItself is reported where a thing is moved by less than its own height.
var OverItself = &lint.Rule{
	ID:      "plan/over-itself",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a thing is moved by less than its own height, so that it blocks its own new place",
	Why: `Its rails have to come out before they can go in one unit further, so it
has to stand somewhere meanwhile. It takes two moves instead of one; a target
that does not touch the old place takes one. What hangs on its ears alone and is
light is held by hand and not reported.`,
	Source: "common practice",
	Before: planThings + planRack("hq-a", bothFeeds, "1"),
	Bad:    planThings + planRack("hq-a", bothFeeds, "2"),
	Good:   planThings + planRack("hq-a", bothFeeds, "3"),
	Change: true,
}

// UnsafeStep is reported where a state on the way breaks a rule that neither
// the estate before nor the one after breaks, or where no order leads to the
// end at all because it claims units twice.
var UnsafeStep = &lint.Rule{
	ID:      "plan/unsafe-step",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a state between before and after breaks a rule that both of them keep",
	Why: `The most dangerous layout is the one that exists for twenty minutes. After
every step that moves something the rules of the groups space, fit, load and
power are judged again; where another order would keep them, it is taken.`,
	Source: "common practice",
	Omits:  "what a rule would find before or after as well: lint reports that",
	Before: planThings + planRack("hq-a", bothFeeds, "1"),
	Bad:    planThings + planRack("hq-a", bothFeeds, "3", "4"),
	Good:   planThings + planRack("hq-a", bothFeeds, "3", "5"),
	Change: true,
}

// ServiceOrder is reported where the work shuts down what others may live on
// while they run, or starts them before it.
var ServiceOrder = &lint.Rule{
	ID:      "plan/service-order",
	Since:   "2026.1",
	Level:   lint.Note,
	Summary: "storage or network is off while servers that may live on it run",
	Why: `Servers are shut down before storage and storage before network; they are
started the other way round, after cooling and power. Amplifiers come on last
and go off first. What goes out or comes in keeps that order within its rack
where nothing else decides; of things moved one at a time no order can keep it,
and their owners have to shut down what lives on them for that time.`,
	Source: "common practice; the kind of the equipment says what it serves",
	Omits:  "what really lives on what: things of one rack or of one service are taken to; what serves others and is not part of the change",
	Before: planThings + planSwitch + planMixed("1", "3"),
	Bad:    planThings + planSwitch + planMixed("6", "1"),
	Good:   planThings + planSwitch + planMixed("1", "5"),
	Change: true,
}

const planSwitch = `equipment "switch" {
  kind     = "switch"
  system   = "19in"
  height   = "1U"
  depth    = "400 mm"
  mass     = "5 kg"
  mounting = "ears"
  draw     = "60 W"
  inlets   = { type = "c14", count = 2, needs = 1 }
}

`

// planMixed is a rack with a switch and a server at some units.
func planMixed(at, server string) string {
	rack := planRack("hq-a", bothFeeds, server)
	return rack[:len(rack)-2] + "\n  mount \"core\" {\n    at        = " + at + "\n    equipment = equipment.switch\n    feeds     = " + bothFeeds + "\n  }\n}\n"
}

// NotAtRest is reported where work ends in a state that is no rest.
var NotAtRest = &lint.Rule{
	ID:      "plan/not-at-rest",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "the work stops while something is parked, out of its place, or on one of its feeds",
	Why: `Between windows nobody watches. What rests for days has to be in its old or
its new place, screwed down, with every cord on: a thing with two inlets that is
left on one feed goes down with it.`,
	Source: "common practice",
	Before: planThings + planRack("hq-a", bothFeeds, "1"),
	Bad:    planThings + planRack("hq-a", "[feed.a]", "3"),
	Good:   planThings + planRack("hq-a", bothFeeds, "3"),
	Change: true,
}
