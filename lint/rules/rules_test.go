package rules_test

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lang/text"
	"cagenut/lint"
	"cagenut/lint/rules"
)

// today is the day on which examples and fixtures are judged.
var today = estate.NewDate(2026, time.November, 25)

// load reads files that hold no mistake of the language.
func load(t *testing.T, files map[string]string) *estate.Estate {
	t.Helper()
	e, diags, err := lang.Load(context.Background(), source.Memory("test", files), lang.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		t.Errorf("%s: %s", place(files, d.Range), d.Summary)
	}
	return e
}

// judge runs rules on an estate as if it were the given day.
func judge(t *testing.T, e *estate.Estate, day estate.Date, run ...*lint.Rule) *lint.Result {
	t.Helper()
	asked := map[string]bool{}
	for _, r := range run {
		asked[r.ID] = true
		if r.After != nil { // it judges what all others find
			run = rules.All()
		}
	}
	r, err := lint.Run(context.Background(), e, lint.Options{Rules: run, Today: day, Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	r.Findings = slices.DeleteFunc(r.Findings, func(f lint.Finding) bool { return !asked[f.Rule] })
	r.Unchecked = slices.DeleteFunc(r.Unchecked, func(u lint.Unchecked) bool { return !asked[u.Rule] })
	return r
}

// place names the line that a range is on.
func place(files map[string]string, r estate.Range) string {
	return r.File + ":" + text.New([]byte(files[r.File])).Position(int(r.Start)).String()
}

var (
	identifier = regexp.MustCompile(`^[a-z]+/[a-z]+(-[a-z]+)*$`)
	ruleSet    = regexp.MustCompile(`^20\d\d\.[1-9]$`)
)

func TestRulesAreWholeAndTold(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range rules.All() {
		t.Run(r.ID, func(t *testing.T) {
			if !identifier.MatchString(r.ID) {
				t.Errorf("identifier %q is not group/mistake", r.ID)
			}
			for _, id := range append([]string{r.ID}, r.Aliases...) {
				if seen[id] {
					t.Errorf("identifier %q stands twice", id)
				}
				seen[id] = true
			}
			if !ruleSet.MatchString(r.Since) {
				t.Errorf("Since is %q, want a rule set such as 2026.1", r.Since)
			}
			if r.Level < lint.Note {
				t.Errorf("Level is %v", r.Level)
			}
			checks := 0
			for _, has := range []bool{r.Rack != nil, r.Estate != nil, r.After != nil, r.Change} {
				if has {
					checks++
				}
			}
			if checks != 1 {
				t.Error("want exactly one of Rack, Estate, After and Change")
			}
			if r.Change != (r.Before != "") {
				t.Error("Before is for rules on changes, and they need it")
			}
			for name, s := range map[string]string{"Summary": r.Summary, "Why": r.Why, "Source": r.Source, "Bad": r.Bad, "Good": r.Good} {
				if strings.TrimSpace(s) == "" {
					t.Errorf("%s is empty", name)
				}
			}
			if strings.HasSuffix(r.Summary, ".") || strings.Contains(r.Summary, "\n") {
				t.Errorf("Summary %q is not one line without a full stop", r.Summary)
			}
			if g := group(r); (g == "power" || g == "load") && r.Decides == "" {
				t.Error("a rule of power or load says who decides")
			}
			for _, l := range r.Limits {
				if l.Name == "" || l.Default == nil || l.Doc == "" {
					t.Errorf("limit %q lacks name, default or documentation", l.Name)
				}
			}
		})
	}
}

// group gives the part of a rule's identifier before the stroke.
func group(r *lint.Rule) string {
	g, _, _ := strings.Cut(r.ID, "/")
	return g
}

// A text that sends the reader to another rule names one that there is.
func TestTextsNameRulesThatAre(t *testing.T) {
	known, groups := map[string]bool{}, map[string]bool{}
	for _, r := range rules.All() {
		known[r.ID], groups[group(r)] = true, true
	}
	word := regexp.MustCompile(`\b([a-z]+)/[a-z]+(-[a-z]+)*\b`)
	found := 0
	for _, r := range rules.All() {
		texts := []string{r.Why, r.Source, r.Omits, r.Decides}
		for _, l := range r.Limits {
			texts = append(texts, l.Doc)
		}
		for _, m := range word.FindAllStringSubmatch(strings.Join(texts, "\n"), -1) {
			if !groups[m[1]] {
				continue
			}
			if found++; !known[m[0]] {
				t.Errorf("%s speaks of %s, and there is no such rule", r.ID, m[0])
			}
		}
	}
	if found < 10 {
		t.Errorf("only %d texts name another rule; is the pattern right?", found)
	}
}

// The examples that explain prints must be true.
func TestExamples(t *testing.T) {
	for _, r := range rules.All() {
		if r.Change {
			continue // see TestExamplesOfChanges
		}
		t.Run(r.ID, func(t *testing.T) {
			bad := map[string]string{"bad.hcl": r.Bad}
			if got := judge(t, load(t, bad), today, r); len(got.Findings) == 0 {
				t.Errorf("Bad gives no finding; unchecked: %v", got.Unchecked)
			}
			good := map[string]string{"good.hcl": r.Good}
			got := judge(t, load(t, good), today, r)
			for _, f := range got.Findings {
				t.Errorf("Good, %s: %s", place(good, f.At), f.Message)
			}
			// An example that is quiet only because a figure is missing
			// shows nothing.
			for _, u := range got.Unchecked {
				t.Errorf("Good, %s: not checked, because %s", place(good, u.At), u.Because)
			}
		})
	}
}
