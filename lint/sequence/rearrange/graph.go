package rearrange

// waits gives, for each item that is not at its goal, the items that must
// leave the place they are in before it can enter its goal; itself among them
// where its own old place is in the way.
func (s *search) waits(at []int) [][]int {
	on := make([][]int, len(s.items))
	for i, a := range at {
		if a == AtGoal {
			continue
		}
		it := &s.p.Items[s.items[i]]
		for j, b := range at {
			if b == AtGoal || j == i && it.Shift {
				continue
			}
			if it.Goal.meets(s.place(j, b)) {
				on[i] = append(on[i], j)
			}
		}
	}
	return on
}

// loops gives loops of the waiting graph that share no item, short ones first
// found: each of them costs one more move than it has items.
func (s *search) loops(at []int) [][]int {
	on := s.waits(at)
	gone := make([]bool, len(on))
	var loops [][]int
	for i := range on {
		for _, j := range on[i] {
			if j == i {
				loops = append(loops, []int{i})
				gone[i] = true
			}
		}
	}
	for {
		var shortest []int
		for i := range on {
			if gone[i] || len(on[i]) == 0 {
				continue
			}
			if loop := loopThrough(on, gone, i, len(shortest)); loop != nil {
				shortest = loop
				if len(loop) == 2 {
					break
				}
			}
		}
		if shortest == nil {
			return loops
		}
		for _, i := range shortest {
			gone[i] = true
		}
		loops = append(loops, shortest)
	}
}

// loopThrough gives a shortest loop through an item, in the order in which
// each must leave before the one after it can enter; nil where there is none
// that is shorter than most (0 for any length).
func loopThrough(on [][]int, gone []bool, start, most int) []int {
	from := make([]int, len(on))
	for i := range from {
		from[i] = -1
	}
	layer := []int{start}
	for length := 1; len(layer) > 0 && (most == 0 || length < most); length++ {
		var next []int
		for _, i := range layer {
			for _, j := range on[i] {
				if gone[j] {
					continue
				}
				if j == start {
					loop := []int{i}
					for i != start {
						i = from[i]
						loop = append(loop, i)
					}
					return loop
				}
				if from[j] < 0 {
					from[j] = i
					next = append(next, j)
				}
			}
		}
		layer = next
	}
	return nil
}

// components gives the sets of items that wait for each other in loops, by
// Tarjan's algorithm; items that wait for themselves are sets of one.
func (s *search) components(at []int) [][]int {
	on := s.waits(at)
	index := make([]int, len(on))
	low := make([]int, len(on))
	stacked := make([]bool, len(on))
	var stack []int
	var sets [][]int
	count := 0
	var visit func(int)
	visit = func(i int) {
		count++
		index[i], low[i] = count, count
		stack = append(stack, i)
		stacked[i] = true
		self := false
		for _, j := range on[i] {
			switch {
			case j == i:
				self = true
			case index[j] == 0:
				visit(j)
				low[i] = min(low[i], low[j])
			case stacked[j]:
				low[i] = min(low[i], index[j])
			}
		}
		if low[i] != index[i] {
			return
		}
		var set []int
		for {
			j := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			stacked[j] = false
			set = append(set, j)
			if j == i {
				break
			}
		}
		if len(set) > 1 || self {
			sets = append(sets, set)
		}
	}
	for i := range on {
		if index[i] == 0 {
			visit(i)
		}
	}
	return sets
}
