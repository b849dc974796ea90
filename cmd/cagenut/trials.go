package main

import (
	"context"
	"fmt"

	"cagenut/lang"
	"cagenut/lang/quantity"
	"cagenut/lint/policy"
	"cagenut/lint/rules"
)

// runTrials tries the policies and prints what is not as the trials want it.
func (p *program) runTrials(ctx context.Context, r *reading) error {
	today, err := p.day()
	if err != nil {
		return err
	}
	results, err := policy.Try(ctx, r.estate, rules.All(), today)
	if err != nil {
		return err
	}
	if len(results) == 0 {
		return usagef("there are no trials in %s; write one beside a policy as trial \"NAME\" { estate = ... finds = [...] }", r.tree.Name())
	}
	// A mistake in the text may hide a trial, so it fails the run.
	failed := 0
	for _, m := range r.mistakes {
		if m.Severity == lang.Error {
			failed++
			fmt.Fprintf(p.stdout, "%s: %s\n", r.where(m.Range), m.Summary)
		}
	}
	broken := failed
	for _, res := range results {
		if len(res.Faults) == 0 {
			continue
		}
		failed++
		for _, fault := range res.Faults {
			fmt.Fprintf(p.stdout, "%s: policy %s: %s\n", r.where(res.Trial.Source.At()), res.Trial.Policy, fault)
		}
	}
	fmt.Fprintf(p.stdout, "%s, %d as they should be\n", quantity.Count(len(results), "trial"), len(results)-(failed-broken))
	if failed > 0 {
		return errReported
	}
	return nil
}
