package physics

import (
	"cmp"
	"slices"

	"cagenut/lang/quantity"
)

// exactSplit is up to how many loads [Split] looks at every way to share them.
const exactSplit = 14

// Split shares loads among a number of parts, such as the banks of a strip, so
// that the fullest part is as little loaded as can be. It gives what the
// fullest part then carries, and the part of each load, from 0.
//
// Up to fourteen loads the answer is the best there is; beyond that each load,
// the largest first, goes to the part that has least, which is never worse than
// 4/3 of the best (Graham 1969).
func Split(loads []quantity.Power, parts int) (fullest quantity.Power, of []int) {
	if parts < 1 {
		return 0, nil
	}
	order := make([]int, len(loads))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(loads[b], loads[a]) })

	// The largest first to the least loaded: the answer for many, and the bound
	// to beat for few.
	of = make([]int, len(loads))
	sums := make([]quantity.Power, parts)
	for _, i := range order {
		least := 0
		for p := range sums {
			if sums[p] < sums[least] {
				least = p
			}
		}
		of[i] = least
		sums[least] += loads[i]
	}
	fullest = slices.Max(sums)
	if len(loads) > exactSplit {
		return fullest, of
	}

	try := make([]int, len(loads))
	clear(sums)
	var place func(n int)
	place = func(n int) {
		if n == len(order) {
			if most := slices.Max(sums); most < fullest {
				fullest = most
				copy(of, try)
			}
			return
		}
		i := order[n]
		for p := range sums {
			if sums[p]+loads[i] >= fullest {
				continue
			}
			sums[p] += loads[i]
			try[i] = p
			place(n + 1)
			sums[p] -= loads[i]
			if sums[p] == 0 {
				break // the other empty parts would be the same again
			}
		}
	}
	place(0)
	return fullest, of
}
