package policy_test

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint/policy"
	builtin "cagenut/lint/rules"
)

// TestExamplePolicies runs the trials of the policies that are there to be
// copied, and sees that every policy has one.
func TestExamplePolicies(t *testing.T) {
	const dir = "../../examples/policies"
	paths, err := filepath.Glob(dir + "/*.hcl")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no example policies: %v", err)
	}
	readme, err := os.ReadFile(dir + "/README.md")
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, p := range paths {
		b, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		files[filepath.Base(p)] = string(b)
		if !strings.Contains(string(readme), "| "+filepath.Base(p)+" |") {
			t.Errorf("%s: README.md does not tell of it", p)
		}
	}
	ctx := context.Background()
	rulings, mistakes, err := lang.Policies(ctx, source.Memory("examples", files))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range mistakes {
		t.Errorf("%s:%s: %s", m.File, line(files, m.Range), m.Summary)
	}
	e := &estate.Estate{Name: "examples", Rulings: rulings}
	_, mistakes = policy.Rules(e, today)
	for _, m := range mistakes {
		t.Errorf("%s:%s: %s", m.File, line(files, m.Range), m.Summary)
	}
	results, err := policy.Try(ctx, e, builtin.All(), today)
	if err != nil {
		t.Fatal(err)
	}
	tried := map[string]bool{}
	for _, r := range results {
		tried[r.Trial.Policy] = true
		for _, f := range r.Faults {
			t.Errorf("%s:%s: policy %s: %s", r.Trial.Source.File, line(files, r.Trial.Source.At()), r.Trial.Policy, f)
		}
	}
	for _, p := range e.Rulings.Policies {
		if !tried[p.Name] {
			t.Errorf("policy %s has no trial", p.Name)
		}
		if i := slices.IndexFunc(e.Rulings.Policies, func(q *estate.Policy) bool { return q.Name == p.Name }); e.Rulings.Policies[i] != p {
			t.Errorf("two policies are named %s", p.Name)
		}
	}
}
