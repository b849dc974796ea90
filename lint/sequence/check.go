package sequence

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// A judge has every state between judged by the rules that a layout is judged
// by. What is so before the change, or after it, is not the plan's doing: the
// former is there, the latter was reviewed with the change.
type judge struct {
	ctx    context.Context
	p      *Plan
	w      *world
	o      Options
	rack   []*lint.Rule // judged on the racks that a step touches
	whole  []*lint.Rule // judged on those and the racks that share feeds with them
	rest   []*lint.Rule // judged where a block ends, on the same
	reach  map[string]bool
	shared map[string]map[string]bool // racks that share a feed with a rack, itself included
	known  map[string]bool            // keys of what is found before or after
	last   []*estate.Rack
	states []judged
	judged []int // the steps after which states were judged, ascending
	err    error
}

type judged struct {
	step  int
	found []lint.Finding
}

// betweenGroups are the groups of rules that states between are judged by;
// what a record says, and what is merely untidy for an hour, is left out.
var betweenGroups = []string{"space", "fit", "load", "power"}

// atRestOnly are rules that hold for resting states only: a group that is apart
// by design may be close while a member is parked, and units are open while
// somebody works at them.
var atRestOnly = []string{"space/open-unit", "space/reserved", "space/half-empty", "space/fraction", "power/group-shares", "power/single-corded", "power/no-feed", "power/no-outlet", "power/same-source"}

// restGroups are the groups of rules for resting states that are judged where a
// block ends; what is open then is closed by steps of its own.
var restGroups = []string{"power"}

func newJudge(ctx context.Context, p *Plan, w *world, o Options) *judge {
	j := &judge{ctx: ctx, p: p, w: w, o: o, reach: map[string]bool{}, known: map[string]bool{}, last: w.snapshot()}
	for _, r := range o.Rules {
		group, _, _ := strings.Cut(r.ID, "/")
		switch {
		case slices.Contains(restGroups, group) && slices.Contains(atRestOnly, r.ID) && (r.Rack != nil || r.Estate != nil):
			j.rest = append(j.rest, r)
		case !slices.Contains(betweenGroups, group) || slices.Contains(atRestOnly, r.ID):
		case r.Rack != nil:
			j.rack = append(j.rack, r)
		case r.Estate != nil:
			j.whole = append(j.whole, r)
		}
	}
	feeds := map[*estate.Feed]bool{}
	note := func(r *estate.Rack) {
		j.reach[r.Name] = true
		for _, f := range r.RackFeeds() {
			feeds[f] = true
		}
	}
	for _, job := range p.Jobs {
		for _, m := range []*estate.Mount{job.Old, job.New} {
			if m != nil && m.Rack != nil {
				if r := w.rack(m.Rack.Name); r != nil {
					note(r)
				}
			}
		}
	}
	for _, places := range nearby(w, p) {
		note(places)
	}
	on := map[*estate.Feed][]string{}
	for _, racks := range [][]*estate.Rack{w.racks, w.end.Racks} {
		for _, r := range racks {
			for _, f := range r.RackFeeds() {
				if feeds[f] {
					j.reach[r.Name] = true
				}
				on[f] = append(on[f], r.Name)
			}
		}
	}
	j.shared = map[string]map[string]bool{}
	for _, r := range w.racks {
		j.shared[r.Name] = map[string]bool{r.Name: true}
	}
	for _, names := range on {
		for _, a := range names {
			for _, b := range names {
				if m := j.shared[a]; m != nil {
					m[b] = true
				}
			}
		}
	}
	inReach := func(r *estate.Rack) bool { return j.reach[r.Name] }
	end := *w.end
	end.Racks = slices.DeleteFunc(slices.Clone(end.Racks), func(r *estate.Rack) bool { return !inReach(r) })
	for _, e := range []*estate.Estate{w.estate(inReach), &end} {
		for _, f := range j.run(e, slices.Concat(j.rack, j.whole, j.rest)) {
			j.known[f.Key()] = true
		}
	}
	return j
}

// nearby gives the neighbours of the racks that a plan works at: something may
// be parked there.
func nearby(w *world, p *Plan) []*estate.Rack {
	b := &binding{plan: p, w: w}
	seen := map[string]bool{}
	var out []*estate.Rack
	for _, job := range p.Jobs {
		m := job.Mount()
		if m == nil || m.Rack == nil || w.rack(m.Rack.Name) == nil || seen[m.Rack.Name] {
			continue
		}
		seen[m.Rack.Name] = true
		out = append(out, b.neighbours(w.rack(m.Rack.Name))...)
	}
	return out
}

func (j *judge) run(e *estate.Estate, rules []*lint.Rule) []lint.Finding {
	if len(rules) == 0 || j.err != nil {
		return nil
	}
	result, err := lint.Run(j.ctx, e, lint.Options{Rules: rules, Today: j.o.Today, Workers: 1})
	if err != nil {
		j.err = err
		return nil
	}
	return slices.DeleteFunc(result.Findings, func(f lint.Finding) bool { return f.Level != lint.Error || f.Waiver != nil })
}

// judge judges the state after a step and reports whether all rules hold that
// hold before and after.
func (j *judge) judge(step int) bool {
	j.p.States++
	j.judged = append(j.judged, step)
	now := j.w.snapshot()
	touched := map[string]bool{}
	for i, r := range now {
		if r != j.last[i] {
			touched[r.Name] = true
		}
	}
	j.last = now
	found := j.run(j.w.estate(func(r *estate.Rack) bool { return touched[r.Name] }), j.rack)
	found = append(found, j.run(j.w.estate(func(r *estate.Rack) bool {
		for name := range touched {
			if j.shared[name][r.Name] {
				return true
			}
		}
		return false
	}), j.whole)...)
	found = slices.DeleteFunc(found, func(f lint.Finding) bool { return j.known[f.Key()] })
	if len(found) > 0 {
		j.states = append(j.states, judged{step, found})
	}
	return len(found) == 0
}

// judgeRest judges the state in which a block ends by the rules that hold for
// resting states only.
func (j *judge) judgeRest(block int) {
	racks := map[string]bool{}
	for i := j.p.Blocks[block].From; i < len(j.p.Steps); i++ {
		racks[j.p.Steps[i].At.Rack] = true
	}
	found := j.run(j.w.estate(func(r *estate.Rack) bool {
		for name := range racks {
			if j.shared[name][r.Name] {
				return true
			}
		}
		return false
	}), j.rest)
	if found = slices.DeleteFunc(found, func(f lint.Finding) bool { return j.known[f.Key()] }); len(found) > 0 {
		if j.p.unrest == nil {
			j.p.unrest = map[int][]lint.Finding{}
		}
		j.p.unrest[block] = found
	}
}

// checkWindowEnds finds windows that end in a state which breaks a rule for
// resting states that holds before and after.
func (p *Plan) checkWindowEnds() {
	for _, n := range p.Windows {
		block := n.Blocks[len(n.Blocks)-1]
		for _, f := range p.unrest[block] {
			p.Findings = append(p.Findings, lint.Finding{
				Rule: "plan/not-at-rest", Level: lint.Error, At: f.At, Thing: f.Thing, Rack: f.Rack, Others: append(slices.Clone(f.Others), f.Rule),
				Message: fmt.Sprintf("window %d ends after step %d, and until the next one %s does not hold: %s; let one window hold both, or have it accepted for that time",
					n.Number, p.Blocks[block].To, f.Rule, f.Message),
				Related: f.Related,
			})
		}
	}
}

// finish turns what was found in the states between into findings of the plan:
// one for each thing and rule, at the first step after which it is so, with for
// how long it is.
func (j *judge) finish() {
	seen := map[string]bool{}
	lasts := map[string]quantity.Duration{}
	for _, s := range j.states {
		until := len(j.p.Steps)
		if i, _ := slices.BinarySearch(j.judged, s.step+1); i < len(j.judged) {
			until = j.judged[i] + 1
		}
		for i := s.step + 1; i < until; i++ {
			for _, f := range s.found {
				lasts[f.Key()] += j.p.Steps[i].Minutes
			}
		}
	}
	for _, s := range j.states {
		for _, f := range s.found {
			if seen[f.Key()] {
				continue
			}
			seen[f.Key()] = true
			step := &j.p.Steps[s.step]
			j.p.Findings = append(j.p.Findings, lint.Finding{
				Rule: "plan/unsafe-step", Level: lint.Error, At: f.At, Thing: f.Thing, Rack: f.Rack, Others: append(slices.Clone(f.Others), f.Rule),
				Message: fmt.Sprintf("after step %d (%s), for some %s min, %s does not hold: %s", step.Number, strings.TrimSuffix(step.Do, "."),
					minutesText(j.p.WithContingency(lasts[f.Key()])), f.Rule, f.Message),
				Related: f.Related,
			})
		}
	}
}

// unsafe counts the findings that make a plan worse than another.
func (p *Plan) unsafe() int {
	n := 100 * len(p.Refused)
	for i := range p.Findings {
		if p.Findings[i].Rule == "plan/unsafe-step" {
			n++
		}
	}
	return n
}

// waive marks the findings that the estate's waivers accept.
func (p *Plan) waive(today estate.Date) {
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Waiver == nil {
			f.Waiver = p.waiverOn(f.Rule, f.Thing, today)
		}
	}
}

// waiverOn gives the waiver that accepts what a rule finds on a thing, or nil.
func (p *Plan) waiverOn(rule, thing string, today estate.Date) *estate.Waiver {
	for _, w := range p.after.Rulings.Waivers {
		if w.Rule == rule && w.On == thing && (w.Until == 0 || today <= w.Until) {
			return w
		}
	}
	return nil
}

// Failed reports whether the plan has findings at or above a level that
// nothing accepts.
func (p *Plan) Failed(at lint.Level) bool {
	return slices.ContainsFunc(p.Findings, func(f lint.Finding) bool { return f.Waiver == nil && f.Level >= at })
}

// unknownPlaces says of which things the place is not known, so that nothing
// could be reckoned with them.
func (p *Plan) unknownPlaces(b *binding) {
	for i, j := range b.jobs {
		if from, to := siteOfMount(j.Old), siteOfMount(j.New); from != "" && to != "" && from != to {
			p.Unchecked = append(p.Unchecked, lint.Unchecked{
				Rule: "plan/too-long", At: j.New.Source.At(), Thing: j.Thing, Rack: j.Rack,
				Because: fmt.Sprintf("%s goes from site.%s to site.%s; the way between them is not planned, and its window is that of where it goes", j.Name, from, to),
			})
		}
		for n, m := range []*estate.Mount{j.Old, j.New} {
			it := &b.p.Items[i]
			if m == nil || j.Kind == Refeed || len(it.Place(n).Boxes) > 0 {
				continue
			}
			p.Unchecked = append(p.Unchecked, lint.Unchecked{
				Rule: "plan/unsafe-step", At: m.Source.At(), Thing: m.Ref(), Rack: j.Rack,
				Because: "the units that " + m.Ref() + " takes are not known; nothing keeps other things out of them",
			})
		}
	}
}

func siteOfMount(m *estate.Mount) string {
	if m == nil || m.Rack == nil {
		return ""
	}
	return siteName(m.Rack.Site())
}
