package policy

import (
	"context"
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
	"cagenut/lint/sequence"
)

// Steps gives what judges the steps of a plan by the policies of an estate
// whose each is step. Adjustments and waivers hold as they do for other
// policies. It is nil where there is no such policy.
func Steps(ctx context.Context, e *estate.Estate, today estate.Date) sequence.StepCheck {
	model := NewModel(e, today)
	var judges []*judge
	var rules []*lint.Rule
	for _, p := range e.Rulings.Policies {
		if p.Each != "step" {
			continue
		}
		if rule, j, _ := compileJudge(model, p); rule != nil {
			judges, rules = append(judges, j), append(rules, rule)
		}
	}
	if len(rules) == 0 {
		return nil
	}
	return func(plan *sequence.Plan) ([]lint.Finding, []lint.Unchecked) {
		for i, rule := range rules {
			j := judges[i]
			own := *rule
			own.Change = false
			own.Estate = func(pass *lint.Pass) { j.steps(pass, plan) }
			rules[i] = &own
		}
		result, err := lint.Run(ctx, e, lint.Options{Rules: rules, Today: today, Workers: 1, Partial: true})
		if err != nil {
			return nil, nil // the context is done, which whoever asked sees
		}
		return result.Findings, result.Unchecked
	}
}

func (j *judge) steps(pass *lint.Pass, plan *sequence.Plan) {
	s := j.state()
	for i := range plan.Steps {
		step := &plan.Steps[i]
		t := &planned{step: step}
		sub := subject{at: j.policy.Source.At(), ref: fmt.Sprintf("step %d", step.Number), rack: step.At.Rack}
		if step.Job != nil {
			t.mount = step.Job.Mount()
			sub.ref = step.Job.Thing
			sub.others = []string{fmt.Sprintf("step %d", step.Number)}
		}
		if t.mount != nil {
			sub.at = t.mount.Source.At()
		}
		for _, r := range plan.Racks(step.Number) {
			if r.Name == step.At.Rack {
				t.rack = r
			}
		}
		if t.rack != nil && !lint.Covers(j.policy.Within, t.rack) || t.rack == nil && len(j.policy.Within) > 0 {
			continue
		}
		j.one(pass, s, t, sub)
	}
}
