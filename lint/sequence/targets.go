package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
	"cagenut/lint/sequence/rearrange"
)

// proposalsMost is how many other targets are proposed for one knot.
const proposalsMost = 3

// propose looks, for everything that has to be parked, for another target by
// which the loop disappears, and reports loops of one.
func (b *binding) propose() {
	for _, k := range b.knots {
		b.plan.Proposals = append(b.plan.Proposals, b.targets(k.Items)...)
		for _, i := range k.Loop {
			j := b.jobs[i]
			if len(k.Loop) == 1 && j.Old != nil && j.New != nil {
				b.plan.Findings = append(b.plan.Findings, lint.Finding{
					Rule: "plan/over-itself", Level: lint.Warning, At: j.New.Source.Attr("at"), Thing: j.Thing, Rack: j.Rack,
					Message: fmt.Sprintf("%s goes from %s to %s, less than its own height: it needs a place to stand meanwhile", j.Name, j.Old.Label(), j.New.Label()),
				})
			}
		}
	}
}

// targets gives other targets for the things of a knot by which nothing has to
// be parked: for one of them, or for all but one.
func (b *binding) targets(items []int) []Proposal {
	if len(items) > 8 {
		return nil
	}
	var out []Proposal
	try := func(changed []int) {
		if len(out) >= proposalsMost {
			return
		}
		if p, ok := b.retarget(items, changed); ok {
			out = append(out, p)
		}
	}
	order := slices.Clone(items)
	slices.SortStableFunc(order, func(x, y int) int {
		return int((massOf(b.jobs[x].Mount()) - massOf(b.jobs[y].Mount())) / quantity.Gram)
	})
	for _, i := range order {
		try([]int{i})
	}
	if len(items) > 2 {
		for _, i := range slices.Backward(order) { // the heaviest keeps its target first
			try(slices.DeleteFunc(slices.Clone(order), func(k int) bool { return k == i }))
		}
	}
	return out
}

// retarget looks for the nearest free units for some things of a knot with
// which the knot needs no parking.
func (b *binding) retarget(items, changed []int) (Proposal, bool) {
	p := &rearrange.Problem{Limit: 100_000}
	for _, i := range items {
		it := b.p.Items[i]
		it.Group, it.Park = nil, nil
		it.Start.Takes, it.Goal.Takes = nil, nil
		p.Items = append(p.Items, it)
	}
	shifted := b.together(items, changed, p)
	var spots []*estate.Mount
	for n, i := range changed {
		j := b.jobs[i]
		if j.Old == nil || j.New == nil || j.New.ZeroU != nil {
			return Proposal{}, false
		}
		at := slices.Index(items, i)
		var spot *estate.Mount
		if shifted != nil {
			spot = shifted[n]
		} else {
			spot = b.nearest(b.at(i, rearrange.AtGoal).mount, p, at)
		}
		if spot == nil || !withinSlack(b.at(i, rearrange.AtStart).mount, spot) {
			return Proposal{}, false
		}
		p.Items[at].Goal = rearrange.Place{Boxes: b.boxes(spot, true), Up: true}
		spots = append(spots, spot)
	}
	var said []string
	for n, i := range changed {
		goal := b.at(i, rearrange.AtGoal).mount
		said = append(said, fmt.Sprintf("%s of %s is free for %s, %s", spots[n].Label(), spots[n].Rack.Name, b.jobs[i].Name, apart(spots[n], goal)))
	}
	job := b.jobs[changed[0]]
	if s, err := rearrange.Solve(p); err != nil || len(s.Moves) > len(items) {
		return Proposal{}, false
	}
	targets := "target"
	if len(changed) > 1 {
		targets = "targets"
	}
	return Proposal{Job: job, Text: fmt.Sprintf("other %s, and nothing has to be parked: %s", targets, strings.Join(said, "; "))}, true
}

// apart says how far a place is from the one that was asked for.
func apart(at, goal *estate.Mount) string {
	x, _ := at.Extent()
	y, _ := goal.Extent()
	up, way := x.Bottom-y.Bottom, "above"
	if up < 0 {
		up, way = -up, "below"
	}
	return fmt.Sprintf("same face, %dU %s %s", (up+quantity.RackUnit/2)/quantity.RackUnit, way, goal.Label())
}

// together looks for a shift by whole units, the smallest there is, that
// brings the goals of several things to free units of their racks, so that
// what was to stand together does; nil where there is none.
func (b *binding) together(items, changed []int, p *rearrange.Problem) []*estate.Mount {
	if len(changed) < 2 {
		return nil
	}
	var most int
	for _, i := range changed {
		goal := b.at(i, rearrange.AtGoal).mount
		if goal == nil || goal.ZeroU != nil || goal.Rack.Frame == nil || goal.Raised.Known() {
			return nil
		}
		most = max(most, goal.Rack.Frame.Modules())
	}
	for shift := 1; shift < most; shift++ {
		for _, by := range []int{-shift, shift} {
			var spots []*estate.Mount
			for _, i := range changed {
				goal := b.at(i, rearrange.AtGoal).mount
				want := goal.At + estate.Units(by)
				for _, spot := range b.unwanted(goal, p, slices.Index(items, i)) {
					if spot.At == want {
						spots = append(spots, spot)
					}
				}
			}
			if len(spots) == len(changed) {
				return spots
			}
		}
	}
	return nil
}

// nearest gives the free place of the goal's rack that is nearest to the goal.
func (b *binding) nearest(goal *estate.Mount, p *rearrange.Problem, but int) *estate.Mount {
	var best *estate.Mount
	var least quantity.Length
	g, _ := goal.Extent()
	for _, spot := range b.unwanted(goal, p, but) {
		e, _ := spot.Extent()
		apart := e.Bottom - g.Bottom
		if apart < 0 {
			apart = -apart
		}
		if best == nil || apart < least {
			best, least = spot, apart
		}
	}
	return best
}

// unwanted gives the free places of a goal's rack that nothing comes or goes
// to, the goal of the thing itself aside.
func (b *binding) unwanted(goal *estate.Mount, p *rearrange.Problem, but int) []*estate.Mount {
	var out []*estate.Mount
	for _, spot := range b.freeSpots(goal, b.w.rack(goal.Rack.Name)) {
		e, _ := spot.Extent()
		boxes := b.boxes(spot, true)
		meets := false
		for n := range p.Items {
			places := []rearrange.Place{p.Items[n].Start, p.Items[n].Goal}
			if n == but {
				places = places[:1]
			}
			for _, place := range places {
				for _, x := range place.Boxes {
					for _, y := range boxes {
						meets = meets || x.Meets(y)
					}
				}
			}
		}
		for i := range b.p.Items { // what other knots want
			for _, place := range []*rearrange.Place{&b.p.Items[i].Start, &b.p.Items[i].Goal} {
				for _, x := range place.Boxes {
					for _, y := range boxes {
						meets = meets || x.Meets(y) && !b.sameItem(i, p, but)
					}
				}
			}
		}
		if !meets && len(spot.Rack.Reserved(e, spot.Posts(), 0)) == 0 {
			out = append(out, spot)
		}
	}
	return out
}

// sameItem reports whether an item of the whole problem is the one that is
// given another target: its old target is free then.
func (b *binding) sameItem(i int, p *rearrange.Problem, but int) bool {
	return but >= 0 && b.p.Items[i].Name == p.Items[but].Name
}
