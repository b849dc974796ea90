package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
)

// A writer writes the steps of moves while it keeps the world up to date.
type writer struct {
	p      *Plan
	w      *world
	b      *binding
	clock  *clockwork
	job    *Job
	block  int
	bench  map[*Job]*estate.Bench
	open   map[string]unitRun // opened by the work and not closed: by rack and face
	loads  map[*Job][]load    // cords of other things that were taken off
	rails  map[*Job]bool      // the kit of a new thing is in place already
	corded map[*Job]bool      // cords that nobody has declared were taken off

	out     string                 // what is out of its place
	oneFeed string                 // what is on fewer of its feeds than it gets
	left    *estate.Mount          // the place from which it comes, or nil
	down    map[*estate.Mount]bool // what is shut down, by the pointer that worlds know it by
	parked  map[*Job]string        // where things wait
	parking parkedAt               // what is being parked
	synced  int                    // steps whose state is filled in
	check   func(step int)         // judges the state after a step that moved something
	rested  func(block int)        // judges the state in which a block ends
	moved   bool                   // something has been moved since the last check

	labelled map[*Job]bool // new labels that are written already

	continued bool // the open block goes on with the next job
	follows   bool // units that the last block opened are open still
}

// step begins a step at a mount's place.
func (r *writer) step(task Task, at *estate.Mount, format string, args ...any) *Step {
	r.sync()
	r.p.Steps = append(r.p.Steps, Step{
		Number: len(r.p.Steps) + 1, Do: fmt.Sprintf(format, args...), Job: r.job, Block: r.block,
		Task: task, Minutes: r.clock.of(task), People: 1, At: placeOf(at),
	})
	return &r.p.Steps[len(r.p.Steps)-1]
}

func placeOf(m *estate.Mount) Place {
	if m == nil || m.Rack == nil {
		return Place{}
	}
	p := placeOfRack(m.Rack)
	p.Face, p.Units = hangsAt(m).String(), m.Label()
	p.Middle, p.High = m.MiddleAboveFloor()
	return p
}

func placeOfRack(rack *estate.Rack) Place {
	p := Place{Rack: rack.Name}
	if rack.Frame != nil {
		p.Counted = rack.Frame.Counted.String()
	}
	if room := rack.Room(); room != nil {
		p.Room = room.Name
		if room.Site != nil {
			p.Site = room.Site.Name
		}
	}
	return p
}

// leave writes the steps by which a thing leaves its place, and takes it out of
// the world. whole says that it leaves for good.
func (r *writer) leave(key *estate.Mount, whole bool) {
	m := r.w.now[key]
	if strip(m) {
		r.stripOut(key, m)
		return
	}
	q := m.Equipment
	s := r.step(Verify, m, "Find %s: read label%s aloud.", m.Name, serial(m))
	s.Expect = fmt.Sprintf("rack %s, %s, %s: label agrees at both ends", m.Rack.Name, m.Posts(), m.Label())
	if draws(m) {
		s = r.step(HandOver, m, "Hand over the service of %s and shut it down in order.", m.Name)
		r.down[key] = true
		if q.HoldsBattery() {
			s.Cautions = append(s.Cautions, behind(m))
		}
		s.Expect = "owner confirms; the desk sees it go down as announced" + restartNoted(m)
		s.Undo, s.UndoMinutes = "start it and check the service", r.clock.of(Service)
	}
	r.loadsOff(m)
	if n := supplies(m); n > 0 {
		s = r.step(CordsOff, m, "Take the cords of %s off: data, then %s.", m.Name, cords(m, n))
		s.Minutes = r.clock.times(CordsOff, n+1)
		s.Expect = "each cord's far end agrees with its label"
		s.Undo, s.UndoMinutes = "cords on again, one supply after the other, each checked", r.clock.times(PowerOn, n)+r.clock.of(DataOn)
		if n > 1 {
			s.Cautions = append(s.Cautions, moreThanOneSupply(m, n))
		}
		s.Cautions = append(s.Cautions, direct(m.Feeds)...)
		s.Cautions = append(s.Cautions, cautionFibre)
	} else if draws(m) || q != nil && len(q.Inlets) == 0 && q.Air != estate.Still {
		s = r.step(CordsOff, m, "Take the cords of %s off; none are declared.", m.Name)
		r.corded[r.job] = true
		s.Expect = "nothing connected; what was, and where, is written down"
		s.Undo, s.UndoMinutes = "cords on again and checked", r.clock.of(PowerOn)
	}
	if draws(m) {
		s = r.step(Proof, m, "Prove %s off.", m.Name)
		s.Expect = "supply lamps dark, no current seen on its cords"
		s.Hold = &Hold{What: m.Name + " is isolated and proven off"}
		if q.HoldsBattery() {
			s.Competence = "electrician"
			s.Cautions = append(s.Cautions, batteryCaution(q), cautionFixedWiring)
		}
	}
	if fixedCables(m) {
		r.last().Cautions = append(r.last().Cautions, r.p.cautionSlack(r.job))
	}
	task := withdrawal(m)
	s = r.step(task, m, "Take %s out%s.", m.Name, massText(m))
	lift(s, m)
	s.Tool = tools(s)
	s.Expect = "in the hands or on the lift, nothing hanging on cords"
	s.Undo, s.UndoMinutes = "put it back into "+m.Label(), r.clock.of(insertion(m))
	s.Cautions = append(s.Cautions, cautionLifting, cautionPullOut)
	r.w.take(key)
	r.openUnits(m)
	r.out, r.moved = m.Name, true
	if railed(q) {
		s = r.step(RailsOut, m, "Take the rails of %s out of %s.", m.Name, m.Label())
		s.Undo, s.UndoMinutes = "refit the rails", r.clock.of(railTask(q))
		s.Expect = "posts bare, cage nuts counted"
		if !whole && r.job.New != nil && r.job.Kind != Rerail {
			s.Do += " They go with it: a second set would save this wait."
		}
	}
}

// in writes the steps by which a thing comes to a spot, and puts it there.
func (r *writer) in(key, spot *estate.Mount, fresh bool) {
	r.w.put(key, spot)
	m := r.w.now[key]
	r.w.take(key)
	if strip(m) {
		r.stripIn(key, spot, m)
		return
	}
	q := m.Equipment
	r.unblank(m)
	if fresh {
		s := r.step(Verify, m, "Bring %s: read label%s aloud.", m.Name, serial(m))
		s.Expect = fmt.Sprintf("goes to rack %s, %s, %s", m.Rack.Name, m.Posts(), m.Label())
		s.Undo = "leave it where it was"
	}
	if railed(q) && !r.rails[r.job] {
		s := r.step(railTask(q), m, "Fit the rails of %s at %s.", m.Name, m.Label())
		s.Expect = "same holes left and right, front and rear; screwed down"
		s.Undo, s.UndoMinutes = "take the rails out", r.clock.of(RailsOut)
	}
	s := r.step(insertion(m), m, "Put %s into %s and fix it%s.", m.Name, m.Label(), massText(m))
	lift(s, m)
	s.Tool = tools(s)
	s.Expect = "latched or screwed at both posts; slides back fully"
	s.Undo, s.UndoMinutes = "take it out again", r.clock.of(withdrawal(m))
	s.Cautions = append(s.Cautions, cautionLifting, cautionPullOut)
	if fixedCables(m) {
		s.Cautions = append(s.Cautions, r.p.cautionSlack(r.job))
	}
	if r.job.unreadCords() {
		s.Cautions = append(s.Cautions, cautionUnread)
	}
	r.w.put(key, spot)
	m = r.w.now[key]
	r.closed(m)
	r.out, r.moved = "", true
	if r.left != nil && draws(m) { // closed before there is heat again
		r.reblank(r.left.Rack, r.left.Posts())
	}
	r.powerUp(m, fresh)
	delete(r.down, key)
}

// cordsOut writes the step that takes cords of a thing out of where it was, for
// good: what stays behind unplugged is a mystery to the next crew.
func (r *writer) cordsOut(was *estate.Mount, n int, what string) {
	if n == 0 || strip(was) {
		return
	}
	s := r.step(CordsOut, was, "Take the %s of %s out of rack %s.", what, was.Name, was.Rack.Name)
	s.Minutes = r.clock.times(CordsOut, n)
	s.Expect = "both ends of each in one hand; no cord, tie or label of it left there; other cords untouched"
	s.Undo, s.UndoMinutes = "lay the cords in again", r.clock.times(LayCord, n)
	s.Cautions = append(s.Cautions, cautionCord)
}

// stripOut writes the step by which a strip of outlets comes out, after its
// last load.
func (r *writer) stripOut(key, m *estate.Mount) {
	r.loadsOff(m)
	s := r.step(StripOut, m, "Have strip %s isolated, prove it dead, and take it out.", m.Name)
	lift(s, m)
	s.Competence = "electrician"
	s.Expect = "no cord left in it; isolated, locked out, proven dead"
	s.Undo, s.UndoMinutes = "refit it and have it proven live", r.clock.of(StripIn)
	s.Cautions = append(s.Cautions, cautionFixedWiring, cautionEarth)
	r.w.take(key)
	r.out, r.moved = m.Name, true
}

// stripIn writes the step by which a strip of outlets comes in, before its
// first load.
func (r *writer) stripIn(key, spot, m *estate.Mount) {
	s := r.step(StripIn, m, "Fit strip %s, and have it proven live.", m.Name)
	lift(s, m)
	s.Competence = "electrician"
	s.Expect = "bonded, fixed at both ends, voltage and breaker as declared; its source followed upstream"
	s.Undo, s.UndoMinutes = "have it isolated and take it out", r.clock.of(StripOut)
	s.Cautions = append(s.Cautions, cautionFixedWiring, cautionEarth)
	r.w.put(key, spot)
	r.out, r.moved = "", true
	r.loadsOn(r.w.now[key])
}

// powerUp writes the steps that bring a thing back to work.
func (r *writer) powerUp(m *estate.Mount, fresh bool) {
	if !draws(m) {
		r.loadsOn(m)
		if r.corded[r.job] {
			delete(r.corded, r.job)
			s := r.step(DataOn, m, "Put the cords of %s on again, as they were.", m.Name)
			s.Expect = "what was connected is, and works as before; where nothing was, nothing is"
			s.Undo, s.UndoMinutes = "cords off", r.clock.of(CordsOff)
		}
		return
	}
	q := m.Equipment
	for i, f := range m.Feeds {
		s := r.step(PowerOn, m, "Put %s on feed %s%s and check it.", m.Name, f.Name, r.byCord(m, i))
		s.Expect = "supply lamp lit; its current seen on the meter of feed " + f.Name
		s.Undo, s.UndoMinutes = "cord off", r.clock.of(CordsOff)
		s.on = []switched{{m, f}}
		if i == 0 && restartOf(m) == estate.RestartOn {
			s.Cautions = append(s.Cautions, m.Name+" starts by itself as soon as it has a supply (restart \"on\"): nobody's hands in it.")
		}
		r.oneFeed = ""
		if i < len(m.Feeds)-1 {
			r.oneFeed = m.Name + " on " + alone(m.Feeds[:i+1])
		}
		if i == 0 {
			s.Cautions = append(s.Cautions, cautionEarth, cautionMeter)
		} else {
			s.Expect += "; the load shares"
		}
		switch {
		case len(m.Feeds) == 1:
		case i == 0:
			s.Expect += "; it has started on this one before the next goes on"
		case i == len(m.Feeds)-1:
			s.Expect += "; a feed is pulled for a test only if the owner has agreed"
		}
	}
	if len(m.Feeds) == 0 {
		s := r.step(PowerOn, m, "Put the supply of %s on and check it; no feed is declared.", m.Name)
		s.Expect = "supply lamp lit"
		s.Undo, s.UndoMinutes = "cord off", r.clock.of(CordsOff)
		if q.HoldsBattery() {
			s.Competence = "electrician"
			s.Cautions = append(s.Cautions, batteryCaution(q), cautionFixedWiring)
		}
	}
	r.loadsOn(m)
	s := r.step(DataOn, m, "Put the data cords of %s on and dress them.", m.Name)
	s.Expect = "links up as before"
	s.Undo, s.UndoMinutes = "cords off", r.clock.of(CordsOff)
	s = r.step(Service, m, "Start %s and check its service.", m.Name)
	s.Expect = "owner confirms; no alarm"
	s.Undo, s.UndoMinutes = "hand over and shut down", r.clock.of(HandOver)
	if fresh && r.job.Old == nil {
		s.Undo = "shut down"
	}
}

// alone says on which feeds something is while others are still to come.
func alone(feeds []*estate.Feed) string {
	return "feed " + feedNames(feeds) + " alone"
}

// toBench writes the step that sets a thing down on a bench.
func (r *writer) toBench(m *estate.Mount, bench *estate.Bench) {
	s := r.step(Carry, nil, "Set %s down on bench %s%s.", m.Name, bench.Name, massText(m))
	s.At = r.benchPlace(bench)
	lift(s, m)
	s.Tool = "trolley"
	s.Expect = "stands by itself; nothing under or on it"
	s.Undo, s.UndoMinutes = "bring it back", r.clock.of(Carry)
	r.bench[r.job] = bench
	r.out = ""
	if bench.Powered && draws(m) {
		s = r.step(PowerOn, nil, "Put %s on the bench's supply and check it.", m.Name)
		s.At = r.benchPlace(bench)
		s.Expect = "supply lamp lit"
		s.Undo, s.UndoMinutes = "cord off", r.clock.of(CordsOff)
	}
}

// offBench writes the step that fetches a thing from a bench.
func (r *writer) offBench(m *estate.Mount) {
	bench := r.bench[r.job]
	delete(r.bench, r.job)
	if bench.Powered && draws(m) {
		s := r.step(CordsOff, nil, "Take %s off the bench's supply and prove it off.", m.Name)
		s.At = r.benchPlace(bench)
		s.Undo, s.UndoMinutes = "cord on", r.clock.of(PowerOn)
	}
	s := r.step(Carry, nil, "Bring %s back from bench %s: read label%s aloud%s.", m.Name, bench.Name, serial(m), massText(m))
	s.At = r.benchPlace(bench)
	lift(s, m)
	s.Tool = "trolley"
	s.Undo, s.UndoMinutes = "set it down there again", r.clock.of(Carry)
}

func (r *writer) benchPlace(b *estate.Bench) Place {
	p := Place{}
	if b.Room != nil {
		p.Room = b.Room.Name
		if b.Room.Site != nil {
			p.Site = b.Room.Site.Name
		}
	}
	return p
}

// shift writes the step by which a light thing is shifted over its own place.
func (r *writer) shift(key, spot *estate.Mount) {
	from := r.w.now[key]
	r.unblankBut(spot, from)
	s := r.step(Shift, from, "Shift %s from %s to %s: one holds it, one moves the screws%s.", from.Name, from.Label(), spot.Label(), massText(from))
	lift(s, spot)
	s.People = max(s.People, 2)
	s.Expect = "screwed at both posts; cords neither pulled nor pinched"
	s.Undo, s.UndoMinutes = "shift it back", r.clock.of(Shift)
	s.Cautions = append(s.Cautions, cautionReach)
	if fixedCables(from) {
		s.Cautions = append(s.Cautions, r.p.cautionSlack(r.job))
	}
	r.w.take(key)
	r.openUnits(from)
	r.w.put(key, spot)
	r.closed(r.w.now[key])
	r.moved = true
}

// refeed walks the cords of a thing that stays to its new feeds: one cord at a
// time, so that a thing with two stays up.
func (r *writer) refeed(key *estate.Mount) {
	m, end := r.w.now[key], r.w.spot(r.job.New)
	was, is := m.Feeds, end.Feeds
	single := len(was) == 1 && len(is) == 1
	if len(r.job.cords) > 0 {
		single = len(r.job.Old.Cords) == 1 && r.job.cords[0].Old != nil
	}
	s := r.step(Verify, m, "Find %s: read label%s aloud, and which cord is which.", m.Name, serial(m))
	s.Expect = "outlet, cord and label agree at both ends"
	if single || len(was) == 0 {
		s = r.step(HandOver, m, "Hand over the service of %s: it goes down while its only cord is moved.", m.Name)
		s.Expect = "owner confirms"
		s.Undo, s.UndoMinutes = "start it and check the service", r.clock.of(Service)
	}
	if len(r.job.cords) > 0 {
		r.walkCords(m)
		was, is = nil, nil
	}
	alone := single || len(m.Feeds) == 0
	for i := range max(len(was), len(is)) {
		from, to := "", ""
		if i < len(was) {
			from = was[i].Name
		}
		if i < len(is) {
			to = is[i].Name
		}
		if from == to {
			continue
		}
		switch {
		case to == "":
			s = r.step(CordsOff, m, "Take %s off feed %s.", m.Name, from)
			s.Undo, s.UndoMinutes = "cord on again", r.clock.of(PowerOn)
		case from == "":
			s = r.step(PowerOn, m, "Put %s on feed %s and check it.", m.Name, to)
			s.Expect = "its current seen on the meter of feed " + to
			s.Undo, s.UndoMinutes = "cord off", r.clock.of(CordsOff)
		default:
			s = r.step(PowerOn, m, "Move a cord of %s from feed %s to feed %s and check it.", m.Name, from, to)
			s.Minutes += r.clock.of(CordsOff)
			s.Expect = "its current seen on the meter of feed " + to
			s.Undo, s.UndoMinutes = "move the cord back", r.clock.of(PowerOn)+r.clock.of(CordsOff)
			if len(was) > 1 {
				s.Cautions = append(s.Cautions, "The other feed carries this thing alone meanwhile: read its meter first. "+moreThanOneSupply(m, len(was)))
			}
		}
		if i < len(was) {
			s.Cautions = append(s.Cautions, direct(was)...)
		}
		if to != "" {
			s.on = []switched{{m, is[i]}}
		}
		s.Cautions = append(s.Cautions, cautionMeter)
		// Between two cords one feed may carry what it never does at rest.
		part := *r.w.now[key]
		part.Feeds = slices.Concat(is[:min(i+1, len(is))], was[min(i+1, len(was)):])
		r.w.take(key)
		r.w.put(key, &part)
		r.moved = true
	}
	r.w.take(key)
	r.w.put(key, end)
	r.moved = true
	if alone {
		s = r.step(Service, m, "Start %s and check its service.", m.Name)
		s.Expect = "owner confirms; no alarm"
		s.Undo, s.UndoMinutes = "hand over and shut down", r.clock.of(HandOver)
	}
}

// unblank writes the step that takes blanks off the units a thing needs.
func (r *writer) unblank(m *estate.Mount) { r.unblankBut(m, nil) }

func (r *writer) unblankBut(m, but *estate.Mount) {
	on := blanked(m.Rack.Blanks, m.Posts())
	if rack := r.w.rack(m.Rack.Name); rack != nil {
		on = blanked(rack.Blanks, m.Posts())
	}
	var off []int
	for _, u := range unitsUnder(m) {
		if on[u] {
			off = append(off, u)
		}
	}
	if len(off) == 0 {
		return
	}
	s := r.step(OpenBlank, m, "Take the blanks off U%s of %s.", runsOf(off), m.Rack.Name)
	s.Minutes = r.clock.minutesFor(OpenBlank, off)
	s.At.Units = "U" + runsOf(off)
	s.Expect = "blanks and their nuts kept at hand"
	s.Undo, s.UndoMinutes = "blanks on again", r.clock.minutesFor(FitBlank, off)
	r.w.setBlanks(m.Rack.Name, m.Posts(), off, nil)
	r.opened(m.Rack.Name, m.Posts(), off)
}

// openUnits notes the units that a thing leaves open.
func (r *writer) openUnits(m *estate.Mount) {
	taken := covered(r.w.rack(m.Rack.Name), m.Posts())
	r.opened(m.Rack.Name, m.Posts(), slices.DeleteFunc(unitsUnder(m), func(u int) bool { return taken[u] }))
}

// closed notes that a thing covers units again.
func (r *writer) closed(m *estate.Mount) { r.shutUnits(m.Rack.Name, m.Posts(), unitsUnder(m)) }

// shutUnits notes that units of a rack's face are not open any more.
func (r *writer) shutUnits(rack string, face estate.Face, units []int) {
	key := rack + " " + face.String()
	run, ok := r.open[key]
	if !ok {
		return
	}
	run.units = slices.DeleteFunc(slices.Clone(run.units), func(u int) bool { return slices.Contains(units, u) })
	r.open[key] = run
}

// opened notes units that the work has opened. What stays open in the end, by
// design, is not among them.
func (r *writer) opened(rack string, face estate.Face, units []int) {
	key := rack + " " + face.String()
	run := r.open[key]
	run.rack, run.face = rack, face
	run.units = slices.Clone(run.units)
	wanted, end := r.w.wanted(rack, face), r.w.covered(rack, face)
	for _, u := range units {
		if !slices.Contains(run.units, u) && (wanted[u] || end[u]) {
			run.units = append(run.units, u)
		}
	}
	slices.Sort(run.units)
	r.open[key] = run
}

// reblank writes the step that closes the units of a rack's face which the
// work has opened, which are free, and which are blanked in the end.
func (r *writer) reblank(rack *estate.Rack, face estate.Face) {
	rack = r.w.rack(rack.Name)
	wanted, on, taken := r.w.wanted(rack.Name, face), blanked(rack.Blanks, face), covered(rack, face)
	opened := r.open[rack.Name+" "+face.String()].units
	var fit []int
	for u := range wanted {
		if !on[u] && !taken[u] && slices.Contains(opened, u) {
			fit = append(fit, u)
		}
	}
	slices.Sort(fit)
	if len(fit) > 0 {
		s := r.step(FitBlank, nil, "Fit blanks over U%s of %s.", runsOf(fit), rack.Name)
		s.At = placeOfRack(rack)
		s.At.Face, s.At.Units = face.String(), "U"+runsOf(fit)
		s.Minutes = r.clock.minutesFor(FitBlank, fit)
		s.Expect = "no open units left there"
		s.Undo, s.UndoMinutes = "blanks off", r.clock.minutesFor(OpenBlank, fit)
		r.w.setBlanks(rack.Name, face, nil, fit)
		r.shutUnits(rack.Name, face, fit)
	}
}

func (r *writer) last() *Step { return &r.p.Steps[len(r.p.Steps)-1] }

func railTask(q *estate.Equipment) Task {
	if q.Mounting == estate.Slides {
		return FitSlides
	}
	return FitRails
}

func serial(m *estate.Mount) string {
	switch {
	case m.Serial != "":
		return " and serial " + m.Serial
	case m.Asset != "":
		return " and asset number " + m.Asset
	}
	return ""
}

func massText(m *estate.Mount) string {
	if m.Equipment == nil {
		return " (mass unknown)"
	}
	mass, ok := m.Equipment.Mass.Get()
	if !ok {
		return " (mass " + m.Equipment.Mass.State.String() + ")"
	}
	return " (" + mass.String() + ")"
}

func cords(m *estate.Mount, n int) string {
	if len(m.Feeds) == 0 {
		if n == 1 {
			return "the supply"
		}
		return fmt.Sprintf("%d supplies", n)
	}
	names := make([]string, len(m.Feeds))
	for i := range m.Feeds {
		names[len(names)-1-i] = "feed " + m.Feeds[i].Name // in reverse order
	}
	return strings.Join(names, ", then ")
}
