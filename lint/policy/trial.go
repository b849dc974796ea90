package policy

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint"
)

// A TrialResult is what came of one trial.
type TrialResult struct {
	Trial  *estate.Trial
	Faults []string // what is not as the trial wants it, one sentence each; none where all is
}

// trialFile is the file that the estate of a trial is read as.
const trialFile = "trial.hcl"

// Try runs the trials of an estate: each policy on the small estates that are
// written for it. A policy on findings is tried on what the built-in rules find
// there, waivers of the small estate applied.
func Try(ctx context.Context, e *estate.Estate, builtin []*lint.Rule, today estate.Date) ([]TrialResult, error) {
	policies := map[string]*estate.Policy{}
	var names []string
	for _, p := range e.Rulings.Policies {
		if policies[p.Name] == nil {
			policies[p.Name] = p
			names = append(names, p.Name)
		}
	}
	var out []TrialResult
	for _, t := range e.Rulings.Trials {
		res := TrialResult{Trial: t}
		p := policies[t.Policy]
		if p == nil {
			res.Faults = []string{fmt.Sprintf("there is no policy %q%s", t.Policy, nearest(t.Policy, names))}
			out = append(out, res)
			continue
		}
		faults, err := try(ctx, e, builtin, p, t, today)
		if err != nil {
			return nil, err
		}
		res.Faults = faults
		out = append(out, res)
	}
	return out, nil
}

func try(ctx context.Context, whole *estate.Estate, builtin []*lint.Rule, p *estate.Policy, t *estate.Trial, today estate.Date) ([]string, error) {
	small, diags, err := lang.Load(ctx, source.Memory("trial", map[string]string{source.RootFile: `estate "trial" {}`, trialFile: t.Text}), lang.Options{Workers: 1})
	if err != nil {
		return nil, err
	}
	var faults []string
	for _, d := range diags {
		if d.Severity == lang.Error {
			faults = append(faults, fmt.Sprintf("line %d of its estate: %s", 1+strings.Count(t.Text[:d.Start], "\n"), d.Summary))
		}
	}
	for _, u := range small.Unresolved {
		faults = append(faults, fmt.Sprintf("line %d of its estate: %s is declared nowhere", 1+strings.Count(t.Text[:u.At.Start], "\n"), u.Name))
	}
	if len(faults) > 0 {
		return faults, nil
	}
	// The policy is tried where it stands, so its scope is lifted; the named
	// figures are those of the estate it belongs to.
	tried := *p
	tried.Within = nil
	small.Rulings.Policies = []*estate.Policy{&tried}
	small.Givens = whole.Givens
	if t.On != 0 {
		today = t.On
	}
	rules, mistakes := Rules(small, today)
	for _, m := range mistakes {
		if m.Severity == lang.Error {
			return []string{"the policy itself is wrong: " + m.Summary}, nil
		}
	}
	id := rules[0].ID
	if p.Each == "finding" {
		rules = append(rules, builtin...)
	}
	res, err := lint.Run(ctx, small, lint.Options{Rules: rules, Today: today, Workers: 1})
	if err != nil {
		return nil, err
	}
	var found, unsure []string
	said := map[string]string{}
	for _, f := range res.Findings {
		if f.Rule != id {
			continue
		}
		found = append(found, f.Thing)
		said[f.Thing] = f.Message
	}
	for _, u := range res.Unchecked {
		if u.Rule != id {
			continue
		}
		unsure = append(unsure, u.Thing)
		said[u.Thing] = u.Because
	}
	faults = append(faults, compareThings("finds fault with %s", "it should find fault with %s, and does not", t.Finds, found, said)...)
	return append(faults, compareThings("leaves %s unchecked", "it should leave %s unchecked, and does not", t.Unsure, unsure, said)...), nil
}

// compareThings says what is missing and what is too much, sorted.
func compareThings(does, should string, want, got []string, said map[string]string) []string {
	var out []string
	slices.Sort(got)
	for _, thing := range slices.Compact(got) {
		if !slices.Contains(want, thing) {
			out = append(out, fmt.Sprintf("it "+does+", which the trial does not want: %s", thing, said[thing]))
		}
	}
	wanted := slices.Sorted(slices.Values(want))
	for _, thing := range slices.Compact(wanted) {
		if !slices.Contains(got, thing) {
			out = append(out, fmt.Sprintf(should, thing))
		}
	}
	return out
}
