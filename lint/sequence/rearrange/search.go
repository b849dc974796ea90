package rearrange

import (
	"container/heap"
	"encoding/binary"
	"slices"
)

// A search looks for the shortest order of moves of some items, while all
// others stay at their starts or at their goals.
//
// It is a best-first search over where each item is. A state's bound is the
// moves made, plus one for each item that is not at its goal, plus one for
// each loop among these that shares no item with another: whichever item of a
// loop moves first has to move twice.
type search struct {
	p     *Problem
	items []int
	limit int
	work  int     // comparisons of places so far
	park  [][]int // the parking places of each item that may be used: place numbers
	// narrowed says that some were left out because other items come or go there.
	narrowed bool
	// clear holds, of park, those that no item of the search comes or goes to.
	clear [][]int
}

func newSearch(p *Problem, items []int, near index, limit int) *search {
	s := &search{p: p, items: items, limit: limit}
	s.park = make([][]int, len(items))
	s.clear = make([][]int, len(items))
	inside := make([]bool, len(p.Items))
	for _, i := range items {
		inside[i] = true
	}
	for k, i := range items {
	place:
		for n := range p.Items[i].Park {
			place := &p.Items[i].Park[n]
			clear := true
			for _, j := range near.of(place) {
				if !place.meets(&p.Items[j].Start) && !place.meets(&p.Items[j].Goal) {
					continue
				}
				if !inside[j] {
					s.narrowed = true
					continue place
				}
				clear = false
			}
			s.park[k] = append(s.park[k], FirstPark+n)
			if clear {
				s.clear[k] = append(s.clear[k], FirstPark+n)
			}
		}
	}
	return s
}

// run gives the moves, a number of moves below which none will do, and whether
// the search was exact: the moves are the fewest, or, where there are none,
// every state was looked at. Parking only where nobody wants to go is tried
// first, because it is quick and mostly enough.
func (s *search) run() (moves []Move, least int, exact bool) {
	start := make([]int, len(s.items))
	least = s.bound(start)
	quick, _ := s.best(start, s.quickly, 1<<30)
	if quick != nil && len(quick) == least {
		return quick, least, true
	}
	most := 1 << 30
	if quick != nil {
		most = len(quick)
	}
	full, ended := s.best(start, s.anyhow, most)
	if full == nil {
		full = quick // nothing shorter was found
	}
	if !ended || s.narrowed {
		return full, least, false
	}
	if full != nil {
		least = len(full)
	}
	return full, least, true
}

// A node is a state on the way.
type node struct {
	at     []int
	from   *node
	steps  []Move // the moves that lead here from there
	made   int    // moves so far
	bound  int    // no way through here has fewer moves in all
	cost   int    // of the parking so far
	number int    // in order of making, so that ties fall the same way
}

type queue []*node

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	a, b := q[i], q[j]
	switch {
	case a.bound != b.bound:
		return a.bound < b.bound
	case a.cost != b.cost:
		return a.cost < b.cost
	case a.made != b.made:
		return a.made > b.made
	}
	return a.number < b.number
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(*node)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// best looks for the shortest way with fewer than most moves, making states by
// next. It reports whether the search ended by itself.
func (s *search) best(start []int, next func(*node) []*node, most int) ([]Move, bool) {
	open := &queue{{at: start, bound: s.bound(start)}}
	seen := make(map[string][2]int)
	made := 0
	s.work = 0
	for open.Len() > 0 {
		n := heap.Pop(open).(*node)
		if n.made == n.bound && s.done(n.at) {
			return n.path(), true
		}
		if was, ok := seen[key(n.at)]; ok && (was[0] < n.made || was[0] == n.made && was[1] < n.cost) {
			continue
		}
		if s.work > s.limit {
			return nil, false
		}
		for _, child := range next(n) {
			rest := s.bound(child.at)
			child.from, child.bound = n, child.made+rest
			if child.bound >= most {
				continue
			}
			k := key(child.at)
			if was, ok := seen[k]; ok && (was[0] < child.made || was[0] == child.made && was[1] <= child.cost) {
				continue
			}
			seen[k] = [2]int{child.made, child.cost}
			made++
			child.number = made
			heap.Push(open, child)
		}
	}
	return nil, true
}

func (n *node) path() []Move {
	moves := []Move{}
	for ; n != nil; n = n.from {
		for _, m := range slices.Backward(n.steps) {
			moves = append(moves, m)
		}
	}
	slices.Reverse(moves)
	return moves
}

func key(at []int) string {
	b := make([]byte, 0, 2*len(at))
	for _, a := range at {
		b = binary.LittleEndian.AppendUint16(b, uint16(a))
	}
	return string(b)
}

func (s *search) done(at []int) bool {
	return !slices.ContainsFunc(at, func(a int) bool { return a != AtGoal })
}

func (s *search) place(i int, n int) *Place { return s.p.Items[s.items[i]].Place(n) }

// after gives the state that follows n by one move.
func (s *search) after(n *node, i, to int) *node {
	at := slices.Clone(n.at)
	at[i] = to
	child := &node{at: at, made: n.made + 1, cost: n.cost, steps: []Move{{s.items[i], n.at[i], to}}}
	if to >= FirstPark {
		child.cost += s.place(i, to).Cost
	}
	return child
}

// anyhow gives every state that one possible move leads to.
func (s *search) anyhow(n *node) []*node {
	var next []*node
	for i, a := range n.at {
		if a != AtGoal && s.may(n.at, i, AtGoal) {
			next = append(next, s.after(n, i, AtGoal))
		}
		for _, to := range s.park[i] {
			if to != a && s.may(n.at, i, to) {
				next = append(next, s.after(n, i, to))
			}
		}
	}
	return next
}

// quickly settles whatever can go to its goal without harm, and only then
// gives a choice of what to park where nobody wants to go.
//
// Going to its goal does no harm to others where nobody else wants that space,
// which is so for goals and clear parking places, unless the item goes down
// there and its group needs it, or it takes of something scarce.
func (s *search) quickly(n *node) []*node {
	here := &node{at: slices.Clone(n.at), made: n.made, cost: n.cost}
	for moved := true; moved; {
		moved = false
		for i, a := range here.at {
			if a == AtGoal || !s.harmless(i) || !s.may(here.at, i, AtGoal) {
				continue
			}
			here.at[i] = AtGoal
			here.made++
			here.steps = append(here.steps, Move{s.items[i], a, AtGoal})
			moved = true
		}
	}
	if len(here.steps) > 0 {
		return []*node{here}
	}
	knotted := make([]bool, len(s.items))
	for _, loop := range s.components(n.at) {
		for _, i := range loop {
			knotted[i] = true
		}
	}
	var next []*node
	for i, a := range n.at {
		if a == AtGoal {
			continue
		}
		if s.may(n.at, i, AtGoal) {
			next = append(next, s.after(n, i, AtGoal))
		}
		if it := &s.p.Items[s.items[i]]; a != AtStart || !knotted[i] && len(it.Group) == 0 && len(it.Start.Takes) == 0 {
			continue
		}
		for _, to := range s.clear[i] {
			if s.may(n.at, i, to) {
				next = append(next, s.after(n, i, to))
			}
		}
	}
	return next
}

func (s *search) harmless(i int) bool {
	it := &s.p.Items[s.items[i]]
	return (len(it.Group) == 0 || it.Goal.Up) && len(it.Goal.Takes) == 0
}

// may reports whether an item can go to one of its places now.
func (s *search) may(at []int, i, to int) bool {
	p, it := s.p, &s.p.Items[s.items[i]]
	place := it.Place(to)
	s.work += len(at)
	if !it.Shift && it.Place(at[i]).meets(place) {
		return false
	}
	for j, a := range at {
		if j != i && place.meets(s.place(j, a)) {
			return false
		}
	}
	for _, pair := range p.Before {
		if pair[1] != s.items[i] {
			continue
		}
		if j := slices.Index(s.items, pair[0]); j >= 0 && at[j] != AtGoal {
			return false
		}
	}
	for _, g := range it.Group {
		up := p.Groups[g].Steady
		for j, a := range at {
			if j != i && s.place(j, a).Up && slices.Contains(p.Items[s.items[j]].Group, g) {
				up++
			}
		}
		if up < p.Groups[g].Up {
			return false
		}
	}
	for _, take := range place.Takes {
		left := p.Resources[take.Of].Limit - take.Amount
		for j, a := range at {
			if j != i {
				left -= s.place(j, a).takes(take.Of)
			}
		}
		if left < 0 {
			return false
		}
	}
	return true
}

// bound gives a number of moves that are needed at least from a state.
func (s *search) bound(at []int) int {
	n := len(s.loops(at))
	for _, a := range at {
		if a != AtGoal {
			n++
		}
	}
	return n
}
