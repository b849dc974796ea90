package rearrange

import "slices"

// settle puts moves into the order that the problem's ranks ask for, as far as
// the moves do not depend on each other. While something is parked, what lets
// it go on to its goal comes first; then, if the problem asks for it, what
// covers space that a move before it left.
//
// Two moves depend on each other where they are of one item, where one goes to
// space that the other leaves or goes to, where their items share a group, a
// scarce resource or a pair of Before. Exchanging neighbours that do not depend on each
// other changes nothing, so the new order is as possible as the old one.
func settle(p *Problem, moves []Move) []Move {
	n := len(moves)
	needs := make([][]int, n) // earlier moves that each depends on
	covers := make([]bool, n) // it goes to space that one of these leaves
	for j := range n {
		for i := range j {
			if p.depend(moves[i], moves[j]) {
				needs[j] = append(needs[j], i)
				covers[j] = covers[j] || p.Cover && p.place(moves[j].Item, moves[j].To).meets(p.place(moves[i].Item, moves[i].From))
			}
		}
	}
	done := make([]bool, n)
	parked := make(map[int]bool)
	order := make([]Move, 0, n)
	wanted := make([]bool, n)
	want := func(i int) {
		stack := []int{i}
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if wanted[i] || done[i] {
				continue
			}
			wanted[i] = true
			stack = append(stack, needs[i]...)
		}
	}
	for len(order) < n {
		clear(wanted)
		for i := range n {
			if !done[i] && parked[moves[i].Item] {
				want(i)
			}
		}
		pick := -1
		for i := range n {
			if done[i] || len(parked) > 0 && !wanted[i] || slices.ContainsFunc(needs[i], func(k int) bool { return !done[k] }) {
				continue
			}
			if pick < 0 || covers[i] && !covers[pick] || covers[i] == covers[pick] && p.rank(moves[i]) < p.rank(moves[pick]) {
				pick = i
			}
		}
		done[pick] = true
		m := moves[pick]
		if m.To >= FirstPark {
			parked[m.Item] = true
		} else {
			delete(parked, m.Item)
		}
		order = append(order, m)
	}
	return order
}

func (p *Problem) place(item, n int) *Place { return p.Items[item].Place(n) }

func (p *Problem) rank(m Move) int64 {
	if p.Rank == nil {
		return int64(m.Item)
	}
	return p.Rank(m)
}

// depend reports whether the order of two moves matters.
func (p *Problem) depend(a, b Move) bool {
	if a.Item == b.Item {
		return true
	}
	x, y := &p.Items[a.Item], &p.Items[b.Item]
	aFrom, aTo := x.Place(a.From), x.Place(a.To)
	bFrom, bTo := y.Place(b.From), y.Place(b.To)
	if aTo.meets(bFrom) || aTo.meets(bTo) || aFrom.meets(bTo) {
		return true
	}
	for _, g := range x.Group {
		if slices.Contains(y.Group, g) {
			return true
		}
	}
	for _, r := range slices.Concat(aFrom.Takes, aTo.Takes) {
		if bFrom.takes(r.Of) != 0 || bTo.takes(r.Of) != 0 {
			return true
		}
	}
	return slices.Contains(p.Before, [2]int{a.Item, b.Item}) || slices.Contains(p.Before, [2]int{b.Item, a.Item})
}
