package rules_test

import (
	"os"
	"testing"

	"cagenut/lint/rules"
)

// Loops of sources, breakers and strips, cords to nowhere and names that are
// declared nowhere are mistakes that people make: every rule ends on them, and
// says the same twice.
func TestOddEstates(t *testing.T) {
	text, err := os.ReadFile("testdata/odd/power.hcl")
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{"estate.hcl": string(text)}
	first := judge(t, load(t, files), today, rules.All()...)
	if len(first.Findings) < 10 || len(first.Unchecked) < 10 {
		t.Errorf("%d findings, %d unchecked", len(first.Findings), len(first.Unchecked))
	}
	again := judge(t, load(t, files), today, rules.All()...)
	for i := range first.Findings {
		if first.Findings[i].Message != again.Findings[i].Message {
			t.Errorf("first %q, then %q", first.Findings[i].Message, again.Findings[i].Message)
		}
	}
}
