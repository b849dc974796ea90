package lint

import (
	"context"
	"slices"

	"cagenut/lang/estate"
)

// Ruled gives findings that were made elsewhere, by rules about a change, as an
// estate wants them: at the levels that it adjusts, with its waivers, and
// without what its rule set has not. Findings of other rules stay as they are.
// The result is sorted; the only error is the context's.
func Ruled(ctx context.Context, e *estate.Estate, rules []*Rule, found []Finding, today estate.Date) ([]Finding, error) {
	of := map[string][]Finding{}
	for _, f := range found {
		of[f.Rule] = append(of[f.Rule], f)
	}
	var own []*Rule
	for _, r := range rules {
		if !r.Change || len(of[r.ID]) == 0 {
			continue
		}
		mine := of[r.ID]
		stated := *r
		stated.Change, stated.Rack, stated.After = false, nil, nil
		stated.Estate = func(p *Pass) {
			for _, f := range mine {
				p.Report(f)
			}
		}
		own = append(own, &stated)
		delete(of, r.ID)
	}
	result, err := Run(ctx, e, Options{Rules: own, Today: today, Workers: 1, Partial: true})
	if err != nil {
		return nil, err
	}
	all := result.Findings
	for _, f := range found {
		if _, rest := of[f.Rule]; rest {
			all = append(all, f)
		}
	}
	slices.SortStableFunc(all, Compare)
	return all, nil
}
