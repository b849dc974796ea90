package rules_test

import (
	"context"
	"testing"
	"time"

	"cagenut/lang/change"
	"cagenut/lint"
	"cagenut/lint/rules"
	"cagenut/lint/sequence"
)

// The examples of rules on changes are planned: from Before to Bad the rule
// reports something, from Before to Good no plan rule does.
func TestExamplesOfChanges(t *testing.T) {
	plan := func(t *testing.T, r *lint.Rule, after string) []lint.Finding {
		before := load(t, map[string]string{"before.hcl": r.Before})
		end := load(t, map[string]string{"after.hcl": after})
		c := change.Between(before, end)
		var confirmed []sequence.Confirmation
		for _, site := range end.Sites {
			if site.AsBuilt != "" { // examples have no tags
				confirmed = append(confirmed, sequence.Confirmation{Site: site, Racks: sequence.WorkedAt(c)})
			}
		}
		p, err := sequence.Make(context.Background(), c, sequence.Options{
			Rules: rules.All(), Today: today, From: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Confirmations: confirmed,
		})
		if err != nil {
			t.Fatal(err)
		}
		return p.Findings
	}
	seen := 0
	for _, r := range rules.All() {
		if !r.Change {
			continue
		}
		seen++
		t.Run(r.ID, func(t *testing.T) {
			found := false
			for _, f := range plan(t, r, r.Bad) {
				found = found || f.Rule == r.ID && f.Level == r.Level
				t.Log(f.Rule, f.Message)
			}
			if !found {
				t.Error("Bad gives no such finding")
			}
			for _, f := range plan(t, r, r.Good) {
				t.Errorf("Good: %s: %s", f.Rule, f.Message)
			}
		})
	}
	if seen < 8 {
		t.Errorf("%d rules on changes only", seen)
	}
}
