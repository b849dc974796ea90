package rearrange

import (
	"slices"
)

// Solve finds an order of moves with as few moves as it can: the fewest there
// are, wherever the search for them ends within the problem's limit. Between
// solutions of equally many moves it takes the one whose parking costs least.
// The same problem gives the same solution.
//
// Where some items cannot be brought to their goals the error is an
// [*ImpossibleError], and the solution holds the moves of the others.
func Solve(p *Problem) (*Solution, error) {
	limit := p.Limit
	if limit <= 0 {
		limit = DefaultLimit
	}
	whole := &Solution{}
	var knots []Knot
	together := false
	near := p.index()
	for _, items := range p.parts(near) {
		s := newSearch(p, items, near, limit)
		moves, least, exact := s.run()
		if !exact && s.narrowed && !together {
			// Parking where other items come or go was not tried: look at all
			// of them at once, if that ends.
			together = true
			if moves, ok := solveAll(p, near, limit); ok {
				return &Solution{Moves: settle(p, moves), Least: len(moves)}, nil
			}
		}
		whole.Least += least
		if moves == nil {
			knots = append(knots, s.knot(exact))
			continue
		}
		whole.Moves = append(whole.Moves, moves...)
	}
	whole.Moves = settle(p, whole.Moves)
	if len(knots) > 0 {
		return whole, &ImpossibleError{knots}
	}
	return whole, nil
}

// solveAll looks for the shortest order of all items together.
func solveAll(p *Problem, near index, limit int) ([]Move, bool) {
	all := make([]int, len(p.Items))
	for i := range all {
		all[i] = i
	}
	s := newSearch(p, all, near, limit)
	moves, _, exact := s.run()
	return moves, exact && moves != nil
}

// An index holds, by frame, the items that come or go there.
type index map[int][]int

func (p *Problem) index() index {
	near := index{}
	for i := range p.Items {
		for _, place := range []*Place{&p.Items[i].Start, &p.Items[i].Goal} {
			for _, b := range place.Boxes {
				if all := near[b.Frame]; len(all) == 0 || all[len(all)-1] != i {
					near[b.Frame] = append(all, i)
				}
			}
		}
	}
	return near
}

// of gives the items that come or go in a place's frames; one may be there
// twice.
func (n index) of(p *Place) []int {
	if len(p.Boxes) == 1 {
		return n[p.Boxes[0].Frame]
	}
	var out []int
	for _, b := range p.Boxes {
		out = append(out, n[b.Frame]...)
	}
	return out
}

// parts gives sets of items that can be rearranged one set after the other:
// items of different sets never want each other's places, share no group and
// nothing scarce, and do not wait for one another. Sets and items are in the order of the problem.
func (p *Problem) parts(near index) [][]int {
	n := len(p.Items)
	root := make([]int, n)
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	join := func(i, j int) {
		i, j = find(i), find(j)
		root[max(i, j)] = min(i, j)
	}
	group := make(map[int]int)
	resource := make(map[int]int)
	share := func(first map[int]int, key, i int) {
		if j, ok := first[key]; ok {
			join(i, j)
		} else {
			first[key] = i
		}
	}
	for i := range p.Items {
		a := &p.Items[i]
		for _, j := range slices.Concat(near.of(&a.Start), near.of(&a.Goal)) {
			b := &p.Items[j]
			if j < i && find(i) != find(j) && (a.Start.meets(&b.Goal) || a.Goal.meets(&b.Start) || a.Start.meets(&b.Start) || a.Goal.meets(&b.Goal)) {
				join(i, j)
			}
		}
		for _, g := range a.Group {
			share(group, g, i)
		}
		// What only parking takes is free again before another set begins.
		for _, place := range []*Place{&a.Start, &a.Goal} {
			for _, take := range place.Takes {
				share(resource, take.Of, i)
			}
		}
	}
	for _, pair := range p.Before {
		join(pair[0], pair[1])
	}
	at := make(map[int]int)
	var parts [][]int
	for i := range n {
		r := find(i)
		k, ok := at[r]
		if !ok {
			k = len(parts)
			at[r] = k
			parts = append(parts, nil)
		}
		parts[k] = append(parts[k], i)
	}
	return parts
}

// knot describes why the searched items cannot be rearranged.
func (s *search) knot(proved bool) Knot {
	k := Knot{Items: slices.Clone(s.items), Proved: proved}
	start := make([]int, len(s.items))
	if loops := s.loops(start); len(loops) > 0 {
		for _, i := range loops[0] {
			k.Loop = append(k.Loop, s.items[i])
		}
	}
	for _, n := range s.items {
		it := &s.p.Items[n]
		for _, take := range slices.Concat(it.Start.Takes, it.Goal.Takes) {
			if !slices.Contains(k.Scarce, take.Of) {
				k.Scarce = append(k.Scarce, take.Of)
			}
		}
	}
	// A member that cannot leave even while all others are up.
	for i, n := range s.items {
		it := &s.p.Items[n]
		for _, g := range it.Group {
			if !it.Start.Up || k.Group != 0 {
				continue
			}
			up := s.p.Groups[g].Steady
			for j, m := range s.items {
				other := &s.p.Items[m]
				if i != j && slices.Contains(other.Group, g) && (other.Start.Up || other.Goal.Up) {
					up++
				}
			}
			if up < s.p.Groups[g].Up {
				k.Group = g + 1
			}
		}
	}
	return k
}
