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

// refuseTarget refuses to plan for an end in which two of the things that come
// or move claim the same space, or one of them what something else has: no
// order leads there. It reports whether it has.
func (p *Plan) refuseTarget(b *binding) bool {
	fixed := map[string][]*estate.Mount{}
	moved := map[*estate.Mount]bool{}
	for _, j := range b.jobs {
		moved[j.key()] = true
	}
	for _, r := range b.w.racks {
		for _, m := range r.Mounts {
			if !moved[b.w.origin[m]] {
				fixed[r.Name] = append(fixed[r.Name], m)
			}
		}
	}
	refuse := func(jobs []*Job, what string) {
		p.Refused = append(p.Refused, Refusal{
			Jobs: jobs, Proved: true,
			Why:   fmt.Sprintf("%s and %s claim the same units in the end", jobs[0].Thing, what),
			Mends: []string{"mend the estate that the change leads to first: lint says which units both claim"},
		})
		j := jobs[0]
		p.Findings = append(p.Findings, lint.Finding{
			Rule: "plan/unsafe-step", Level: lint.Error, At: j.New.Source.Attr("at"), Thing: j.Thing, Rack: j.Rack, Others: []string{what},
			Message: fmt.Sprintf("%s goes to %s, which %s has in the end as well", j.Name, where(b.at(b.index(j), rearrange.AtGoal).mount), what),
		})
	}
	for i, j := range b.jobs {
		goal := b.p.Items[i].Goal.Boxes
		if len(goal) == 0 {
			continue
		}
		for k := range i {
			if other := b.p.Items[k].Goal.Boxes; len(other) > 0 && goal[0].Meets(other[0]) {
				refuse([]*Job{j, b.jobs[k]}, b.jobs[k].Thing)
			}
		}
		if j.Old != nil && j.Kind == Rerail {
			continue
		}
		for _, m := range fixed[b.at(i, rearrange.AtGoal).mount.Rack.Name] {
			if boxes := b.boxes(m, false); len(boxes) > 0 && goal[0].Meets(boxes[0]) {
				refuse([]*Job{j}, m.Ref())
			}
		}
	}
	return len(p.Refused) > 0
}

func (b *binding) index(j *Job) int { return slices.Index(b.jobs, j) }

// refuse says of each knot why it cannot be undone, and what would.
func (b *binding) refuse(stuck *rearrange.ImpossibleError) {
	for _, k := range stuck.Knots {
		r := Refusal{Proved: k.Proved}
		for _, i := range k.Items {
			r.Jobs = append(r.Jobs, b.jobs[i])
		}
		for _, i := range k.Loop {
			r.Loop = append(r.Loop, b.jobs[i])
		}
		f := lint.Finding{Rule: "plan/no-parking", Level: lint.Error}
		about := r.Jobs
		switch {
		case k.Group > 0:
			g := b.group(b.p.Groups[k.Group-1].Name)
			f.Rule = "plan/pair-together"
			r.Why = fmt.Sprintf("group %s asks for %d of %d members up, and moving one takes it down", g.Name, g.Up, len(g.Of))
			r.Mends = append(r.Mends,
				fmt.Sprintf("lower up of group.%s for the time of the work, in a commit of its own that its owner approves", g.Name),
				fmt.Sprintf("add a member to group.%s first, in a change of its own", g.Name))
			f.Thing = "group." + g.Name
			f.At = g.Source.Attr("up")
		case len(r.Loop) > 0:
			about = r.Loop
			r.Why = loopText(r.Loop) + ", and nothing can be parked"
		default:
			r.Why = "no order of these jobs was found in which each has room, groups stay up and nothing is overloaded"
		}
		r.Mends = append(r.Mends, b.mends(k, about)...)
		if !k.Proved {
			r.Why += "; the search ended at its limit, so an order may exist"
		}
		if f.Thing == "" {
			f.Thing, f.At, f.Rack = about[0].Thing, about[0].Mount().Source.Attr("at"), about[0].Rack
		}
		for _, j := range about {
			if j.Thing != f.Thing {
				f.Others = append(f.Others, j.Thing)
			}
		}
		f.Message = r.Why
		if len(r.Mends) > 0 {
			f.Message += "; " + r.Mends[0] + " would make it possible"
		}
		b.plan.Refused = append(b.plan.Refused, r)
		b.plan.Findings = append(b.plan.Findings, f)
		b.plan.Proposals = append(b.plan.Proposals, b.targets(k.Items)...)
	}
}

func (b *binding) group(name string) *estate.Group {
	for _, g := range b.plan.after.Groups {
		if g.Name == name {
			return g
		}
	}
	return nil
}

// loopText says who waits for whom.
func loopText(loop []*Job) string {
	if len(loop) == 1 {
		return fmt.Sprintf("%s goes to units that it has itself now", loop[0].Name)
	}
	parts := make([]string, len(loop))
	for i, j := range loop {
		parts[i] = fmt.Sprintf("%s must leave before %s can enter", j.Name, loop[(i+1)%len(loop)].Name)
	}
	return strings.Join(parts, ", ")
}

// why says which loop the parking of an item breaks.
func (b *binding) why(item int) string {
	for _, k := range b.knots {
		if !slices.Contains(k.Items, item) {
			continue
		}
		if len(k.Loop) > 0 {
			var loop []*Job
			for _, i := range k.Loop {
				loop = append(loop, b.jobs[i])
			}
			return loopText(loop)
		}
		if k.Group > 0 {
			return "its group stays up meanwhile"
		}
	}
	return "it makes room for what has to pass"
}

// mends says what would make a knot possible: the fewest free units that would
// do, in which rack, and a bench.
func (b *binding) mends(k rearrange.Knot, about []*Job) []string {
	var out []string
	var smallest *Job
	var least quantity.Length
	for _, j := range about {
		m := b.w.spot(j.Mount())
		e, ok := m.Extent()
		if !ok || j.Old == nil || j.New == nil {
			continue
		}
		if smallest == nil || e.Height() < least || e.Height() == least && massOf(m) < massOf(smallest.Mount()) {
			smallest, least = j, e.Height()
		}
	}
	if smallest == nil {
		return nil
	}
	m := b.w.spot(smallest.Mount())
	units := (least + quantity.RackUnit - estate.Touch) / quantity.RackUnit
	rack := b.w.rack(m.Rack.Name)
	largest := quantity.Length(0)
	for _, e := range estate.FreeIn(rack.Frame, rack.Mounts, m.Posts()) {
		largest = max(largest, e.Height())
	}
	out = append(out, fmt.Sprintf("%dU free in a row at the %s of %s, clear of all that comes or goes there (the most now is %dU), to park %s",
		units, m.Posts(), rack.Name, largest/quantity.RackUnit, smallest.Name))
	room := "a room"
	if r := rack.Room(); r != nil {
		room = "room." + r.Name
	}
	mass := "its mass, once that is known,"
	if kg, ok := smallest.Mount().Equipment.Mass.Get(); ok {
		mass = kg.String()
	}
	out = append(out, fmt.Sprintf("a bench in %s with room for %dU and rated for %s or more", room, units, mass))
	for _, bench := range b.w.end.Benches {
		if bench.Room == nil || rack.Room() == nil || bench.Room.Name != rack.Room().Name {
			continue
		}
		if int64(bench.Units) < int64(units) {
			out = append(out, fmt.Sprintf("more room on bench.%s: it takes %dU", bench.Name, bench.Units))
		}
		if rated, ok := bench.Rated.Get(); ok && rated < massOf(smallest.Mount()) {
			out = append(out, fmt.Sprintf("bench.%s rated for %s instead of %s", bench.Name, massOf(smallest.Mount()), rated))
		}
	}
	return out
}
