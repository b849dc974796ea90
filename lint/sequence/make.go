package sequence

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
	"cagenut/lint/sequence/rearrange"
)

// Make plans how a change is carried out. The same change gives the same plan.
// The errors are the context's, and that of Options.Done which are not the first
// steps of the sheet; what cannot be planned is in the plan.
func Make(ctx context.Context, c *change.Change, o Options) (*Plan, error) {
	var best *Plan
	var by attempt
	attempts := 0
search:
	for _, habit := range orders {
		banned := map[parkedAt]bool{}
		for {
			now := attempt{habit: habit, banned: banned}
			p, unsafe, err := makeIn(ctx, c, o, now)
			if err != nil {
				return nil, err
			}
			if best == nil || p.unsafe() < best.unsafe() {
				best, by = p, attempt{habit: habit, banned: maps.Clone(banned)}
			}
			attempts++
			if best.unsafe() == 0 || attempts >= attemptsMost(len(best.Steps)) {
				break search
			}
			if len(unsafe) == 0 || p.unsafe() == 0 {
				break
			}
			for _, at := range unsafe {
				banned[at] = true
			}
		}
	}
	best, err := coverNext(ctx, c, o, best, by)
	if err != nil {
		return nil, err
	}
	if err := best.stand(o.Done); err != nil {
		return nil, err
	}
	best.schedule(o)
	best.onTheFloor()
	best.checkWindowEnds()
	best.cordsReach()
	best.pastSlack()
	if len(best.Steps) > 0 {
		best.Confirmations = o.Confirmations
		found, unchecked := Unconfirmed(o.Confirmations)
		best.Findings = append(best.Findings, found...)
		best.Unchecked = append(best.Unchecked, unchecked...)
	}
	if best.Findings, err = lint.Ruled(ctx, best.after, o.Rules, best.Findings, o.Today); err != nil {
		return nil, err
	}
	if o.Check != nil {
		found, unchecked := o.Check(best)
		best.Findings = append(best.Findings, found...)
		best.Unchecked = append(best.Unchecked, unchecked...)
	}
	best.waive(o.Today)
	slices.SortStableFunc(best.Findings, lint.Compare)
	return best, nil
}

// An order is a habit of putting moves that may come in any order; where the
// first leads through a state that a rule refuses, the others are tried.
type order uint8

const (
	usual       order = iota
	fillFirst         // what comes in before what goes out
	refeedsLast       // cords are walked after everything stands
	byHeight          // out from the top and in from the bottom, whatever it serves
)

var orders = []order{usual, fillFirst, refeedsLast, byHeight}

// A parkedAt is a thing and where it is parked. Where that breaks a rule, a
// plan is made again without the place.
type parkedAt struct{ thing, where string }

// attemptsMost is how often a plan of so many steps is made again for a better
// one: a few times where each takes seconds.
func attemptsMost(steps int) int {
	if steps > 500 {
		return 4
	}
	return 24
}

// An attempt is how one plan of several is made.
type attempt struct {
	habit  order
	banned map[parkedAt]bool
	cover  bool // units that a move opened are covered next, where that is possible
}

// coverNext makes a plan again that blanks units for the time being, so that
// what covers them comes next, and gives the better of the two: the new one
// where it needs fewer such blanks and is as good in all else.
func coverNext(ctx context.Context, c *change.Change, o Options, p *Plan, by attempt) (*Plan, error) {
	n := p.interim()
	if n == 0 || attemptsMost(len(p.Steps)) < 24 {
		return p, nil
	}
	by.cover = true
	other, _, err := makeIn(ctx, c, o, by)
	if err != nil {
		return nil, err
	}
	if other.interim() < n && other.unsafe() <= p.unsafe() && len(other.Findings) <= len(p.Findings) && len(other.Refused) == len(p.Refused) &&
		other.Moves == p.Moves && len(other.Steps) <= len(p.Steps) {
		return other, nil
	}
	return p, nil
}

// interim gives how many units a plan blanks for the time being.
func (p *Plan) interim() int {
	n := 0
	for i := range p.Steps {
		n += p.Steps[i].interim
	}
	return n
}

// makeIn makes a plan by one habit, and gives what was parked in states that
// broke a rule.
func makeIn(ctx context.Context, c *change.Change, o Options, by attempt) (*Plan, []parkedAt, error) {
	p := &Plan{Change: c, before: c.Old, after: c.New, limits: lint.LimitsOf(c.New, o.Rules)}
	clock, strange := paceOf(c.New)
	p.Contingency = clock.contingency
	for _, name := range strange {
		p.Record = append(p.Record, fmt.Sprintf("pace: %q is the name of no task and changes nothing", name))
	}
	jobs, record := jobsOf(c)
	p.Record = append(p.Record, record...)
	if o.Recorded {
		for _, j := range jobs {
			p.Record = append(p.Record, "as found, nothing moves: "+j.String())
		}
		return p, nil, ctx.Err()
	}
	p.Jobs = jobs
	w := newWorld(p, jobs)
	b := bind(p, w, clock)
	b.habit, b.banned = by.habit, by.banned
	b.p.Cover = by.cover
	p.unknownPlaces(b)
	if p.refuseLoaded(o.Today) || p.refuseTarget(b) {
		return p, nil, ctx.Err()
	}
	solution, stuck := b.solve(o.Limit)
	if stuck != nil {
		b.refuse(stuck)
		return p, nil, ctx.Err()
	}
	b.propose()
	p.Moves, p.Least = len(solution.Moves), solution.Least
	j := newJudge(ctx, p, w, o)
	r := &writer{
		p: p, w: w, b: b, clock: clock, bench: map[*Job]*estate.Bench{}, open: map[string]unitRun{}, loads: map[*Job][]load{}, rails: map[*Job]bool{}, corded: map[*Job]bool{},
		down: map[*estate.Mount]bool{}, parked: map[*Job]string{}, labelled: map[*Job]bool{},
	}
	var unsafe []parkedAt
	r.check = func(step int) {
		if j.judge(step) {
			return
		}
		for _, job := range p.Jobs {
			if at, ok := r.parked[job]; ok {
				unsafe = append(unsafe, parkedAt{job.Thing, at})
			}
		}
		if r.parking.where != "" {
			unsafe = append(unsafe, r.parking)
		}
	}
	r.rested = j.judgeRest
	r.daytime()
	r.write(solution.Moves)
	j.renumber(p.enclose(w, clock))
	for _, steps := range [][]Step{p.Daytime, p.Steps} {
		for i := range steps {
			steps[i].Count = clock.count(&steps[i])
		}
	}
	p.tips()
	p.holds()
	p.off()
	j.finish()
	p.stagger()
	p.restored()
	p.goesDark()
	p.serviceOrder()
	return p, unsafe, j.err
}

// write writes all steps: what must be there first, the moves, and what goes
// last.
func (r *writer) write(moves []rearrange.Move) {
	p := r.p
	p.layouts = []layout{{0, r.w.snapshot()}}
	for _, j := range p.Jobs {
		if j.Kind == NewFeed || j.Kind == NewRack || j.Kind == Rebond || (j.Kind == MoveRack || j.Kind == NewFrame) && len(j.was.Mounts) == 0 {
			r.begin(j)
			r.stand(j)
			r.end()
		}
	}
	open := 0
	for n, m := range moves {
		j := r.b.jobs[m.Item]
		if open == 0 {
			r.begin(j)
		}
		r.job = j
		open += r.move(m)
		// What replaces a thing under its own label comes before any rest.
		replaced := j.Kind == TakeOut && n+1 < len(moves) && r.b.jobs[moves[n+1].Item].Thing == j.Thing
		if open == 0 && !replaced {
			r.rest(moves[n+1:])
			r.finishBehind(j, moves[n+1:])
		} else if open == 0 {
			r.job = nil
			r.continued = true
		}
	}
	for _, j := range p.Jobs {
		if j.Kind == Relabel && !r.labelled[j] {
			r.label(j)
		}
	}
	r.blankings(nil)
	for _, kind := range []JobKind{OldRack, MoveRack, NewFrame, OldFeed} {
		for _, j := range p.Jobs {
			if j.Kind == kind && (j.was == nil || len(j.was.Mounts) > 0) {
				r.begin(j)
				r.stand(j)
				r.end()
			}
		}
	}
	r.sync()
}

// begin opens a block with a job, unless one is still open.
func (r *writer) begin(j *Job) {
	r.job = j
	if r.continued {
		r.continued = false
		return
	}
	r.block = len(r.p.Blocks)
	r.p.Blocks = append(r.p.Blocks, Block{From: len(r.p.Steps), Site: j.Site, Follows: r.follows})
}

// end closes the block: everything is at rest, but for units that a later block
// covers.
func (r *writer) end() {
	r.sync()
	p := r.p
	b := &p.Blocks[r.block]
	b.To = len(p.Steps)
	p.tally(b)
	if !r.follows {
		r.rested(r.block)
		r.atRest()
		return
	}
	b.leaves = nil
	for _, run := range r.waiting() {
		b.leaves = append(b.leaves, Undo{Do: "blanks over " + run.String() + " for the time being", Minutes: r.clock.minutesFor(FitBlank, run.units)})
	}
}

// tally fills in what a block's steps come to.
func (p *Plan) tally(b *Block) {
	b.People, b.Lift, b.Competences, b.Forward, b.Jobs = 0, false, nil, 0, nil
	for i := b.From; i < b.To; i++ {
		s := &p.Steps[i]
		b.People = max(b.People, s.People+boolInt(s.Watcher))
		b.Lift = b.Lift || s.Lift
		b.needs(s.Competence)
		b.Forward += s.Minutes
		if s.Job != nil && !slices.Contains(b.Jobs, s.Job) {
			b.Jobs = append(b.Jobs, s.Job)
		}
	}
}

// move writes the steps of one move and gives by how many things more than
// before are parked.
func (r *writer) move(m rearrange.Move) int {
	j := r.job
	key := j.key()
	from, to := r.b.at(m.Item, m.From), r.b.at(m.Item, m.To)
	if j.Kind == Refeed {
		r.refeed(key)
		r.leftCords(j)
		return 0
	}
	change := 0
	if m.From >= rearrange.FirstPark {
		r.sync()
		delete(r.parked, j)
		change--
	}
	r.parking = parkedAt{}
	if m.To >= rearrange.FirstPark {
		r.parking = parkedAt{j.Thing, spotName(to)}
	}
	old := r.w.now[key]
	r.left = old
	switch {
	case old != nil && to.mount != nil && m.To == rearrange.AtGoal && r.b.p.Items[m.Item].Shift && overlaps(old, to.mount) && j.Kind != Rerail:
		r.shift(key, to.mount)
	case from.bench != nil:
		r.offBench(j.Mount())
		r.in(key, to.mount, false)
	case old == nil:
		r.in(key, to.mount, true)
	default:
		r.leave(key, to.mount == nil && to.bench == nil)
		switch {
		case to.bench != nil:
			r.toBench(old, to.bench)
		case to.mount != nil:
			if to.mount.Rack.Name != old.Rack.Name {
				s := r.step(Carry, to.mount, "Carry %s to rack %s%s.", old.Name, to.mount.Rack.Name, massText(old))
				lift(s, old)
				s.Undo, s.UndoMinutes = "carry it back", r.clock.of(Carry)
			}
			r.in(key, to.mount, false)
		default:
			s := r.step(Carry, nil, "Bring %s to the store%s.", old.Name, massText(old))
			s.At = placeOfRack(old.Rack)
			lift(s, old)
			s.Undo, s.UndoMinutes = "bring it back", r.clock.of(Carry)
			s.Expect = "booked in; nothing of it left at the rack but its cords"
			s.Cautions = append(s.Cautions, cautionData)
			r.out = ""
		}
	}
	if m.To >= rearrange.FirstPark {
		p := Parking{Job: j, Live: to.live, Where: spotName(to), Why: r.b.why(m.Item)}
		r.p.Parked = append(r.p.Parked, p)
		r.parked[j] = p.Where
		change++
	}
	if old != nil {
		r.reblank(old.Rack, old.Posts())
	}
	if old != nil && m.To == rearrange.AtGoal {
		r.leftCords(j)
	}
	return change
}

// leftCords takes out the cords that a job leaves behind in the rack where its
// thing was before the change: all where it has left the rack, those to other
// feeds where it stays.
func (r *writer) leftCords(j *Job) {
	if j.Old == nil || !draws(j.Old) {
		return
	}
	was := r.w.spot(j.Old)
	n := supplies(j.Old)
	switch {
	case n > 0 && (j.Kind == TakeOut || j.Kind == Transfer):
		r.cordsOut(was, n+1, quantity.Count(n, "supply cord")+" and the data cords")
	case j.Fed || len(j.cords) > 0:
		old := 0
		for i := range j.cords {
			if c := &j.cords[i]; c.Old != nil && (c.New == nil || c.Other()) {
				old++
			}
		}
		for i, f := range j.Old.Feeds {
			if len(j.cords) == 0 && (i >= len(j.New.Feeds) || j.New.Feeds[i].Name != f.Name) {
				old++
			}
		}
		what := "old supply cord"
		if old > 1 {
			what += "s"
		}
		r.cordsOut(was, old, what)
	}
}

func overlaps(a, b *estate.Mount) bool {
	x, ok1 := a.Extent()
	y, ok2 := b.Extent()
	return ok1 && ok2 && a.Rack.Name == b.Rack.Name && a.Posts() == b.Posts() && x.Meets(y)
}

func spotName(s spot) string {
	if s.bench != nil {
		return "bench." + s.bench.Name
	}
	return where(s.mount)
}

// stand writes the step of a rack or feed that comes or goes.
func (r *writer) stand(j *Job) {
	r.sync()
	var s *Step
	switch j.Kind {
	case NewRack:
		s = r.step(StandRack, nil, "Stand rack %s in its place, level it and fix it.", j.Name)
		s.At = placeOfRack(j.rack)
		s.Expect = "level, " + bonded(j.rack) + ", fixed as drawn; who answers for floor and anchors has signed"
		s.Undo, s.UndoMinutes = "free it and take it away empty", r.clock.of(RemoveRack)
		s.People = 3
		s.Cautions = append(s.Cautions, cautionRack, cautionEarth)
	case OldRack:
		s = r.step(RemoveRack, nil, "Free rack %s, which is empty, and take it away.", j.Name)
		s.At = placeOfRack(j.rack)
		s.Expect = "nothing left in it; supplies isolated and proven off"
		s.Undo, s.UndoMinutes = "stand it up again", r.clock.of(StandRack)
		s.People = 3
		s.Cautions = append(s.Cautions, cautionRack, cautionFixedWiring)
	case Rebond:
		to := j.rack.Bond.Ref()
		s = r.step(LayBond, nil, "Lay the bonding conductor of rack %s to %s and connect it, then take off the one to %s.", j.Name, to, orNone(j.bond.Ref()))
		s.At = placeOfRack(j.rack)
		s.Expect = "bonded to " + to + " by a conductor of its own, measured and on record; never without a bond in between"
		s.Undo, s.UndoMinutes = "connect the old conductor again before the new one is taken off", r.clock.of(LayBond)
		s.Competence = "electrician"
		s.Cautions = append(s.Cautions, cautionEarth, cautionFixedWiring)
	case MoveRack, NewFrame:
		r.moveRack(j)
		return
	case NewFeed:
		s = r.step(ProveFeed, nil, "Have feed %s proven at the racks it serves.", j.Name)
		s.Expect = "voltage and breaker as declared; its source followed upstream"
		s.Competence = "electrician"
		s.Cautions = append(s.Cautions, cautionFixedWiring)
	case OldFeed:
		s = r.step(ReleaseFeed, nil, "Have feed %s isolated and locked out after its last load.", j.Name)
		s.Expect = "nothing draws from it; proven dead"
		s.Competence = "electrician"
		s.Undo, s.UndoMinutes = "have it put back", r.clock.of(ProveFeed)
		s.Cautions = append(s.Cautions, cautionFixedWiring)
	}
	if j.feed != nil && j.feed.Room != nil {
		s.At.Room = j.feed.Room.Name
	}
}

// bonded says how a new rack is bonded.
func bonded(rack *estate.Rack) string {
	if to := rack.Bond.Ref(); rack.Bond.State == estate.IsGiven && to != "" {
		return "bonded to " + to
	}
	return "bonded"
}

// daytime writes the work that needs no window.
func (r *writer) daytime() {
	p := r.p
	day := func(task Task, n int, j *Job, format string, args ...any) {
		p.Daytime = append(p.Daytime, Step{Do: fmt.Sprintf(format, args...), Job: j, Task: task, Minutes: r.clock.times(task, n), People: 1, At: placeOf(j.Mount())})
	}
	for i, j := range r.b.jobs {
		m := j.Mount()
		n := supplies(m)
		moves := j.Kind == Fit || j.Kind == Move || j.Kind == Transfer || j.Kind == Turn || j.Kind == ChangeSide || j.Kind == Refeed
		shut := len(doorsOf(r.w.rack(m.Rack.Name))) > 0
		if walked := j.walkedInlets(); j.Kind == Refeed && len(walked) > 0 {
			cords := plural("cord", len(walked)) + " " + inWords(walked) + " of " + m.Name
			if shut {
				day(LabelCord, len(walked), j, "Prepare the labels of %s for both ends. They are put on while the door is open.", cords)
			} else {
				day(LabelCord, len(walked), j, "Label %s at both ends.", cords)
			}
		} else if moves && draws(m) && (j.Kind != Refeed || len(j.cords) == 0) {
			supply := "its supply and its data"
			if n > 0 {
				supply = fmt.Sprintf("%d for supply, and its data", n)
			}
			if shut {
				day(LabelCord, n+1, j, "Prepare the cord labels of %s for both ends: %s. They are put on while the door is open.", m.Name, supply)
			} else {
				day(LabelCord, n+1, j, "Label the cords of %s at both ends: %s.", m.Name, supply)
			}
		}
		if cords := p.CordsToLay(j); len(cords) > 0 {
			day(LayCord, len(cords), j, "%s", p.layOut(m, cords))
		} else if len(m.Cords) == 0 && (j.Kind == Fit || j.Kind == Transfer || j.Fed || j.Kind == Refeed) && n > 0 {
			day(LayCord, n, j, "Lay out the new supply cords of %s, checked for length, and tie them off%s.", m.Name, upTo(sealsOf(m)))
		}
		if j.Kind == Fit && railed(m.Equipment) && r.freeNow(i) && !shut {
			task := railTask(m.Equipment)
			day(task, 1, j, "Fit the rails of %s at %s of rack %s, which is free%s.", m.Name, m.Label(), m.Rack.Name, r.behindBlanks(m))
			r.rails[j] = true
		}
	}
	p.readCords(func(m *estate.Mount) bool { return len(doorsOf(r.w.rack(m.Rack.Name))) == 0 },
		func(n int, j *Job, text string) { day(ReadCord, n, j, "%s", text) })
	for _, j := range p.Jobs {
		if j.Kind == Relabel {
			day(LabelThing, 1, j, "Print the new label of %s.", j.Name)
		}
	}
}

// freeNow reports whether the goal of a job is free before any step.
func (r *writer) freeNow(i int) bool {
	goal := &r.b.p.Items[i].Goal
	for k := range r.b.p.Items {
		for _, x := range r.b.p.Items[k].Start.Boxes {
			for _, y := range goal.Boxes {
				if x.Meets(y) {
					return false
				}
			}
		}
	}
	return true
}

func (r *writer) behindBlanks(m *estate.Mount) string {
	rack := r.w.rack(m.Rack.Name)
	if rack == nil {
		return ""
	}
	on := blanked(rack.Blanks, m.Posts())
	for _, u := range unitsUnder(m) {
		if on[u] {
			return "; its blanks off for that, and on again"
		}
	}
	return ""
}

// label writes the step of a new label.
func (r *writer) label(j *Job) {
	if j.rack != nil {
		r.relabelRack(j)
		return
	}
	r.labelled[j] = true
	r.begin(j)
	m := r.w.now[j.Old]
	if m == nil {
		m = r.w.now[j.New]
	}
	s := r.step(LabelThing, m, "Put the new label on %s: it is called %s now.", j.Old.Name, j.New.Name)
	s.Expect = "label, record and drawing agree"
	s.Undo, s.UndoMinutes = "put the old label back", r.clock.of(LabelThing)
	r.w.take(j.key())
	r.w.put(j.key(), r.w.spot(j.New))
	r.end()
}

// blankings writes the steps of blanks that come or go where nothing else
// does, at some racks; at all of them where at is nil.
func (r *writer) blankings(at func(*estate.Rack) bool) {
	for _, rack := range r.w.snapshot() {
		if at != nil && !at(rack) {
			continue
		}
		for _, face := range []estate.Face{estate.FrontFace, estate.RearFace} {
			rack := r.w.rack(rack.Name)
			wanted, on, taken := r.w.wanted(rack.Name, face), blanked(rack.Blanks, face), covered(rack, face)
			var fit, off []int
			for u := range wanted {
				if !on[u] && !taken[u] {
					fit = append(fit, u)
				}
			}
			for u := range on {
				if !wanted[u] {
					off = append(off, u)
				}
			}
			if len(fit)+len(off) == 0 {
				continue
			}
			slices.Sort(fit)
			slices.Sort(off)
			j := &Job{Kind: Blanking, Thing: rack.Ref(), Name: rack.Name, Rack: rack.Name, Site: rack.Site(), order: len(r.p.Jobs)}
			r.p.Jobs = append(r.p.Jobs, j)
			r.begin(j)
			place := placeOfRack(rack)
			place.Face = face.String()
			if len(off) > 0 {
				s := r.step(OpenBlank, nil, "Take the blanks off U%s of %s.", runsOf(off), rack.Name)
				s.At, s.Minutes = place, r.clock.minutesFor(OpenBlank, off)
				s.At.Units = "U" + runsOf(off)
				s.Undo, s.UndoMinutes = "blanks on again", r.clock.minutesFor(FitBlank, off)
			}
			if len(fit) > 0 {
				s := r.step(FitBlank, nil, "Fit blanks over U%s of %s.", runsOf(fit), rack.Name)
				s.At, s.Minutes = place, r.clock.minutesFor(FitBlank, fit)
				s.At.Units = "U" + runsOf(fit)
				s.Undo, s.UndoMinutes = "blanks off", r.clock.minutesFor(OpenBlank, fit)
			}
			r.w.setBlanks(rack.Name, face, off, fit)
			r.end()
		}
	}
}
