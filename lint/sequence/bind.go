package sequence

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint/sequence/rearrange"
)

// A binding states the movable jobs of a change as a problem of places.
type binding struct {
	plan   *Plan
	w      *world
	clock  *clockwork
	jobs   []*Job // those that move something, or have members of groups down
	spots  [][]spot
	turn   map[string]int // in which order racks are worked at
	names  map[string]int // planes of racks, as rearrange counts frames
	p      *rearrange.Problem
	habit  order
	banned map[parkedAt]bool // where things must not be parked
	knots  []rearrange.Knot  // what cannot be done without parking
}

// A spot is a place of a job's thing: its start, its goal, then where it may
// be parked.
type spot struct {
	mount *estate.Mount // in terms of the world; nil outside and on a bench
	bench *estate.Bench
	live  bool
}

// widths is how finely the width of a unit is divided: halves to tenths of a
// unit and most others come out whole.
const widths = 27720

// boxes gives the space that a mount takes: the panel's plane at its posts,
// where two things conflict whatever their depth, and its body, where what
// hangs on the front posts meets what hangs on the rear ones. A body whose
// depth is not known is left out.
func (b *binding) boxes(m *estate.Mount, body bool) []rearrange.Box {
	e, ok := m.Extent()
	if !ok {
		return nil
	}
	box := rearrange.Box{Low: int64(e.Bottom + estate.Touch/2), High: int64(e.Top - estate.Touch/2), Back: 1, Right: widths}
	if z := m.ZeroU; z != nil {
		box.Frame = b.plane(m.Rack, "beside", z.Side.String(), z.Plane.String())
		return []rearrange.Box{box}
	}
	if !m.Slot.Whole() {
		of := int64(m.Slot.Of)
		box.Left, box.Right = widths*int64(m.Slot.Part-1)/of, widths*int64(m.Slot.Part)/of
	}
	box.Frame = b.plane(m.Rack, m.Posts().String())
	all := []rearrange.Box{box}
	if d, missing := m.Depths(); missing == "" && body {
		box.Frame = b.plane(m.Rack, "body")
		box.Front, box.Back = int64(max(d.Whole.From, 0)), int64(d.Whole.To)
		if m.Posts() == estate.RearFace {
			box.Front, box.Back = int64(d.Whole.From), int64(d.Body.To)
		}
		all = append(all, box)
	}
	return all
}

func (b *binding) plane(r *estate.Rack, words ...string) int {
	key := fmt.Sprint(r.Name, words)
	n, ok := b.names[key]
	if !ok {
		n = len(b.names)
		b.names[key] = n
	}
	return n
}

// bind makes the problem of a plan's jobs.
func bind(p *Plan, w *world, clock *clockwork) *binding {
	b := &binding{plan: p, w: w, clock: clock, turn: turns(w), names: map[string]int{}, p: &rearrange.Problem{}}
	for _, j := range p.Jobs {
		if j.Old == nil && j.New == nil || j.Kind == Relabel {
			continue
		}
		start, goal := spot{}, spot{}
		it := rearrange.Item{Name: j.Name}
		moves := j.Kind != Refeed
		if j.Old != nil {
			start = spot{mount: w.now[j.key()], live: true}
			it.Start.Up = true
			if moves {
				it.Start.Boxes = b.boxes(start.mount, true)
			}
		}
		if j.New != nil {
			goal = spot{mount: w.spot(j.New), live: true}
			it.Goal.Up = true
			if moves {
				it.Goal.Boxes = b.boxes(goal.mount, true)
			}
		}
		// A light thing on ears alone is held by hand while it is shifted, and
		// the same hardware on another kit is put back where it was.
		it.Shift = j.Kind == Rerail || handHeld(start.mount, goal.mount)
		b.jobs = append(b.jobs, j)
		b.spots = append(b.spots, []spot{start, goal})
		b.p.Items = append(b.p.Items, it)
	}
	b.tolerate()
	b.groups()
	b.p.Rank = b.rank
	return b
}

// handHeld reports whether a thing may be shifted over its own old place
// without being set down: it hangs on its ears, and one or two people hold it.
func handHeld(from, to *estate.Mount) bool {
	if from == nil || to == nil || from.Equipment == nil || from.Rack.Name != to.Rack.Name {
		return false
	}
	if m := from.Equipment.Mounting; m != estate.Ears && m != estate.Centre {
		return false
	}
	mass, ok := from.Equipment.Mass.Get()
	if !ok {
		return false
	}
	crew := physics.ProposeBetween(mass, middle(from), middle(to))
	return !crew.Lift
}

// middle gives how high the middle of a mount is above the floor; where the
// frame's base is not known it is taken as standing on the floor.
func middle(m *estate.Mount) quantity.Length {
	h, _ := m.MiddleAboveFloor()
	return h
}

// tolerate leaves out the bodies of things that meet front to rear in the end:
// that is accepted there, so it may be so on the way.
func (b *binding) tolerate() {
	for i := range b.p.Items {
		for j := range i {
			x, y := &b.p.Items[i].Goal, &b.p.Items[j].Goal
			if len(x.Boxes) > 1 && len(y.Boxes) > 1 && x.Boxes[1].Meets(y.Boxes[1]) && !x.Boxes[0].Meets(y.Boxes[0]) {
				x.Boxes, y.Boxes = x.Boxes[:1], y.Boxes[:1]
			}
		}
	}
}

// groups states which jobs are members of which groups, and how many of each
// must stay up: what the group asks for, or what is up before or after where
// that is fewer already.
func (b *binding) groups() {
	job := map[*estate.Mount]int{}
	for i, j := range b.jobs {
		if j.Old != nil {
			job[j.Old] = i
		}
		if j.New != nil {
			job[j.New] = i
		}
	}
	was := map[string]*estate.Group{}
	for _, g := range b.plan.before.Groups {
		was[g.Name] = g
	}
	for _, g := range b.plan.after.Groups {
		group := rearrange.Group{Name: g.Name}
		var members []int
		add := func(m *estate.Mount) bool {
			i, moved := job[m]
			if moved && b.staysUp(b.jobs[i]) {
				return false
			}
			if moved && !slices.Contains(members, i) {
				members = append(members, i)
			}
			return moved
		}
		for _, m := range g.Of {
			if !add(m) {
				group.Steady++
			}
		}
		if old := was[g.Name]; old != nil {
			for _, m := range old.Of {
				if i, ok := job[m]; ok && b.jobs[i].New == nil {
					add(m)
				}
			}
		}
		start, goal := group.Steady, group.Steady
		for _, i := range members {
			start += boolInt(b.jobs[i].Old != nil)
			goal += boolInt(b.jobs[i].New != nil)
		}
		group.Up = min(g.Up, start, goal)
		if len(members) == 0 {
			continue
		}
		for _, i := range members {
			b.p.Items[i].Group = append(b.p.Items[i].Group, len(b.p.Groups))
		}
		b.p.Groups = append(b.p.Groups, group)
	}
}

// staysUp reports whether a job leaves its thing running: its cords are walked
// to other feeds one by one.
func (b *binding) staysUp(j *Job) bool {
	return j.Kind == Refeed && len(j.Old.Feeds) > 1
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// rank puts moves that may come in any order into the one in which a crew
// would do them: rack by rack; in a rack first what only changes cords, then
// what goes out, from the top down and the heavy first, then what changes
// units, and last what comes in, from the bottom up and the heavy first. What
// serves others goes out after them and comes in before them.
func (b *binding) rank(m rearrange.Move) int64 {
	j := b.jobs[m.Item]
	from, to := b.at(m.Item, m.From), b.at(m.Item, m.To)
	class := int64(2)
	height := int64(0)
	turn := int64(0) // by what it serves
	serves := layerOf(j.Mount())
	if serves == noLayer {
		serves = applications
	}
	if b.habit == byHeight {
		serves = 0
	}
	switch {
	case strip(j.Mount()) && b.behindDoor(j) && j.Kind == Fit:
		return 1<<50 + int64(b.turn[j.Rack])<<32 // as far as one opening allows
	case strip(j.Mount()) && b.behindDoor(j) && j.Kind == TakeOut:
		class = 15
	case strip(j.Mount()) && j.Kind == Fit:
		return int64(b.w.index[j.Rack]) // what feeds others comes before them
	case strip(j.Mount()) && j.Kind == TakeOut:
		return 1<<60 + int64(b.w.index[j.Rack]) // and goes after them
	case j.Kind == Refeed && b.habit == refeedsLast:
		class = 5
	case j.Kind == Refeed:
		class = 0
	case to.mount == nil && to.bench == nil:
		class, height = 1, 1<<20-int64(middle(from.mount)/quantity.Millimetre)
		turn = int64(lastOn - serves)
	case from.mount == nil && from.bench == nil:
		class, height = 4, int64(middle(to.mount)/quantity.Millimetre)
		turn = int64(serves)
		if b.habit == fillFirst {
			class = 0
		}
	case m.To >= rearrange.FirstPark:
		class = 3
	default:
		height = -int64(massOf(j.Mount()) / quantity.Kilogram)
	}
	rack := j.Rack
	n := int64(b.turn[rack])
	if class == 1 && from.mount != nil {
		n = int64(b.turn[from.mount.Rack.Name])
	}
	return 1<<50 + n<<32 | class<<28 | turn<<24 | (height + 1<<22)
}

// strip reports whether a thing is a strip of outlets beside the posts.
func strip(m *estate.Mount) bool {
	return m.ZeroU != nil && m.Equipment != nil && m.Equipment.Kind == "strip"
}

func massOf(m *estate.Mount) quantity.Mass {
	if m == nil || m.Equipment == nil {
		return 0
	}
	return m.Equipment.Mass.Or(0)
}

func (b *binding) at(item, place int) spot { return b.spots[item][place] }

// solve finds the order of moves: first without any parking, and where that
// leaves knots, with all the places where their things could be parked.
func (b *binding) solve(limit int) (*rearrange.Solution, *rearrange.ImpossibleError) {
	b.p.Limit = 200_000
	s, err := rearrange.Solve(b.p)
	var no *rearrange.ImpossibleError
	if !errors.As(err, &no) {
		return s, nil
	}
	b.knots = no.Knots
	for _, k := range no.Knots {
		for _, i := range k.Items {
			b.park(i)
		}
	}
	b.p.Limit = limit
	s, err = rearrange.Solve(b.p)
	if !errors.As(err, &no) {
		return s, nil
	}
	return s, no
}

// park adds the places where a job's thing could be parked, the best first.
func (b *binding) park(i int) {
	j := b.jobs[i]
	it := &b.p.Items[i]
	if len(it.Park) > 0 || len(it.Start.Boxes) == 0 && len(it.Goal.Boxes) == 0 {
		return
	}
	type candidate struct {
		spot
		place rearrange.Place
	}
	var all []candidate
	thing := j.Old
	if thing == nil {
		thing = j.New
	}
	model := b.w.spot(thing)
	for n, rack := range b.neighbours(model.Rack) {
		for _, m := range b.freeSpots(model, rack) {
			if n > 0 && fixedCables(model) || !withinSlack(model, m) || b.banned[parkedAt{j.Thing, where(m)}] {
				continue // what fixed cables end at stays within their slack
			}
			live := b.feedParked(m, model, rack, n == 0)
			place := rearrange.Place{Boxes: b.boxes(m, true), Up: live || !draws(m)}
			place.Cost = b.parkCost(j, m, n, live)
			all = append(all, candidate{spot{mount: m, live: place.Up}, place})
		}
	}
	for n, bench := range b.w.end.Benches {
		room := model.Rack.Room()
		if bench.Room != nil && room != nil && bench.Room.Name != room.Name || fixedCables(model) || b.banned[parkedAt{j.Thing, "bench." + bench.Name}] {
			continue
		}
		place := rearrange.Place{Up: bench.Powered || !draws(model), Takes: b.onBench(n, model), Cost: b.parkCost(j, nil, benchFar, bench.Powered)}
		if place.Takes == nil {
			continue
		}
		all = append(all, candidate{spot{bench: bench, live: place.Up}, place})
	}
	slices.SortStableFunc(all, func(x, y candidate) int { return cmp.Compare(x.place.Cost, y.place.Cost) })
	for _, c := range all {
		it.Park = append(it.Park, c.place)
		b.spots[i] = append(b.spots[i], c.spot)
	}
}

// onBench gives what a thing takes of a bench, or nil where it cannot stand
// there at all.
func (b *binding) onBench(n int, m *estate.Mount) []rearrange.Take {
	bench := b.w.end.Benches[n]
	find := func(name string, limit int64) int {
		for r := range b.p.Resources {
			if b.p.Resources[r].Name == name {
				return r
			}
		}
		b.p.Resources = append(b.p.Resources, rearrange.Resource{Name: name, Limit: limit})
		return len(b.p.Resources) - 1
	}
	e, ok := m.Extent()
	if !ok {
		return nil
	}
	units := int64((e.Height() + quantity.RackUnit - estate.Touch) / quantity.RackUnit)
	takes := []rearrange.Take{{Of: find("units of bench."+bench.Name, int64(bench.Units)), Amount: units}}
	if units > int64(bench.Units) {
		return nil
	}
	if rated, ok := bench.Rated.Get(); ok {
		mass, ok := m.Equipment.Mass.Get()
		if !ok || mass > rated {
			return nil // what is not known to be light enough stands on no rated bench
		}
		takes = append(takes, rearrange.Take{Of: find("rating of bench."+bench.Name, int64(rated)), Amount: int64(mass)})
	}
	return takes
}
