package lint

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"cagenut/lang/estate"
)

// Options say how to judge.
type Options struct {
	Rules   []*Rule
	Today   estate.Date
	Workers int // racks judged at the same time; 0 for one a processor
	// RuleSet is the rule set to judge by: "" for the one that the estate
	// pins, [Newest] for all rules.
	RuleSet string
	// Partial says that only part of the estate was read, so that what is not
	// found may be in the rest.
	Partial bool
	// Carried is what an earlier run found on what has not changed since, where
	// only the part of the estate is given that may have.
	Carried *Carried
	// Each is told how many of how many racks have been judged, if it is set.
	// Workers call it, some at the same time.
	Each func(done, all int)
}

// Newest is the name of the rule set that has every rule.
const Newest = "next"

// set gives the rule set in force, "" for the newest.
func (o *Options) set(e *estate.Estate) string {
	switch o.RuleSet {
	case "":
		return e.Rules
	case Newest:
		return ""
	}
	return o.RuleSet
}

// A Result is what rules found, sorted.
type Result struct {
	Findings  []Finding
	Unchecked []Unchecked
	Waivers   []WaiverState // in the order declared
	Racks     int           // how many racks were judged
	Mounts    int
}

// Count gives how many findings have the level and are not waived.
func (r *Result) Count(l Level) int {
	n := 0
	for i := range r.Findings {
		if r.Findings[i].Level == l && r.Findings[i].Waiver == nil {
			n++
		}
	}
	return n
}

// Run judges the estate by the rules. The only errors are the context's, and
// [ErrFelt] where results are carried.
func Run(ctx context.Context, e *estate.Estate, o Options) (*Result, error) {
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	set := o.set(e)
	run := slices.DeleteFunc(slices.Clone(o.Rules), func(r *Rule) bool { return !r.In(set) })
	ruled := newRulings(e, run)
	ruled.set, ruled.partial = set, o.Partial || len(e.Broken) > 0
	supply := sync.OnceValue(e.Supply)
	pass := func(rule *Rule, out *Result) *Pass {
		return &Pass{Estate: e, Today: o.Today, rule: rule, rulings: ruled, out: out, supply: supply}
	}

	parts := make([]Result, workers+1)
	var wg sync.WaitGroup
	var next, done atomic.Int64
	for w := range workers {
		wg.Go(func() {
			out := &parts[w]
			passes := make([]*Pass, len(run))
			for i, rule := range run {
				passes[i] = pass(rule, out)
			}
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(e.Racks) {
					return
				}
				for _, p := range passes {
					if p.rule.Rack != nil {
						p.rule.Rack(p, e.Racks[i])
					}
				}
				if o.Each != nil {
					o.Each(int(done.Add(1)), len(e.Racks))
				}
			}
		})
	}
	for _, rule := range run {
		if rule.Estate != nil && ctx.Err() == nil {
			rule.Estate(pass(rule, &parts[workers]))
		}
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}

	total := &Result{Racks: len(e.Racks)}
	for _, r := range e.Racks {
		total.Mounts += len(r.Mounts)
	}
	for i := range parts {
		total.Findings = append(total.Findings, parts[i].Findings...)
		total.Unchecked = append(total.Unchecked, parts[i].Unchecked...)
	}
	if o.Carried != nil && !o.Carried.join(total, run) {
		return nil, ErrFelt
	}
	total.sort()
	ruled.waive(total.Findings, o.Today)
	total.Waivers = ruled.states(total)
	after := &Result{}
	for _, rule := range run {
		if rule.After != nil {
			rule.After(pass(rule, after), total)
		}
	}
	ruled.waive(after.Findings, o.Today)
	total.Findings = append(total.Findings, after.Findings...)
	total.Unchecked = append(total.Unchecked, after.Unchecked...)
	total.sort()
	return total, nil
}

func (r *Result) sort() {
	slices.SortFunc(r.Findings, Compare)
	slices.SortFunc(r.Unchecked, compareUnchecked)
}
