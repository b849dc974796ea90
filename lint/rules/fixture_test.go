package rules_test

import (
	"fmt"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"cagenut/lang/estate"
	"cagenut/lint"
	"cagenut/lint/rules"
)

// TestFixtures runs testdata/GROUP/MISTAKE/CASE.txtar: a sentence, then files.
//
// What is expected stands in a comment on the line that it is about:
//
//	at = 41 # want space/overlap `the whole message`
//	at = 41 # want warning space/overlap `...` where the level is not the rule's
//	mount "m" { # unchecked space/overlap `because`
//	at = 40 # see space/overlap `the message of a related place`
//
// Findings and unchecked things that are not expected fail, and so do
// expectations that are not met; related places may be left out. The rule of
// the folder runs, and every rule that an expectation names. A line "today
// 2027-02-01" in the sentence judges on that day. A file NAME.fixed is what
// NAME is after every fix, and must then be quiet.
func TestFixtures(t *testing.T) {
	known := map[string]*lint.Rule{}
	for _, r := range rules.All() {
		known[r.ID] = r
	}
	err := filepath.WalkDir("testdata", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".txtar" {
			return err
		}
		id := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(path)), "testdata/")
		t.Run(id+"/"+strings.TrimSuffix(d.Name(), ".txtar"), func(t *testing.T) {
			if known[id] == nil {
				t.Fatalf("no rule %q", id)
			}
			runFixture(t, path, known, known[id])
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

var (
	expectation = regexp.MustCompile("(want|unchecked|see) (?:(note|warning|error) )?([a-z/-]+) `([^`]*)`")
	fixtureDay  = regexp.MustCompile(`(?m)^today (\d{4}-\d{2}-\d{2})$`)
)

func runFixture(t *testing.T, path string, known map[string]*lint.Rule, own *lint.Rule) {
	archive, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	files, fixed := map[string]string{}, map[string]string{}
	for _, f := range archive.Files {
		if name, ok := strings.CutSuffix(f.Name, ".fixed"); ok {
			fixed[name] = string(f.Data)
			continue
		}
		files[f.Name] = string(f.Data)
	}
	day := today
	if m := fixtureDay.FindSubmatch(archive.Comment); m != nil {
		if day, err = estate.ParseDate(string(m[1])); err != nil {
			t.Fatal(err)
		}
	}

	run := []*lint.Rule{own}
	var want []string
	for _, name := range sortedKeys(files) {
		for i, line := range strings.Split(files[name], "\n") {
			_, comment, _ := strings.Cut(line, "#")
			for _, m := range expectation.FindAllStringSubmatch(comment, -1) {
				kind, level, id, message := m[1], m[2], m[3], m[4]
				rule := known[id]
				if rule == nil {
					t.Fatalf("%s:%d: no rule %q", name, i+1, id)
				}
				if !slices.Contains(run, rule) {
					run = append(run, rule)
				}
				if kind == "want" && level == "" {
					level = rule.Level.String()
				}
				want = append(want, expected(name, i+1, kind, level, id, message))
			}
		}
	}

	result := judge(t, load(t, files), day, run...)
	var got []string
	for _, f := range result.Findings {
		got = append(got, expectedAt(files, f.At, "want", f.Level.String(), f.Rule, f.Message))
		for _, rel := range f.Related {
			see := expectedAt(files, rel.At, "see", "", f.Rule, rel.Message)
			if slices.Contains(want, see) && !slices.Contains(got, see) {
				got = append(got, see)
			}
		}
	}
	for _, u := range result.Unchecked {
		got = append(got, expectedAt(files, u.At, "unchecked", "", u.Rule, u.Because))
	}
	for _, w := range without(want, got) {
		t.Errorf("%s: did not come: %s", path, w)
	}
	for _, g := range without(got, want) {
		t.Errorf("%s: not expected:  %s", path, g)
	}
	if len(fixed) > 0 {
		checkFixed(t, files, fixed, result, day, run)
	}
}

// checkFixed applies the first fix of every finding.
func checkFixed(t *testing.T, files, fixed map[string]string, result *lint.Result, day estate.Date, run []*lint.Rule) {
	var edits []lint.Edit
	for _, f := range result.Findings {
		if len(f.Fixes) > 0 {
			edits = append(edits, f.Fixes[0].Edits...)
		}
	}
	// From the end, so that what comes before keeps its place.
	slices.SortFunc(edits, func(a, b lint.Edit) int { return int(b.At.Start - a.At.Start) })
	mended := map[string]string{}
	for name, text := range files {
		for _, e := range edits {
			if e.At.File == name {
				text = text[:e.At.Start] + e.New + text[e.At.End:]
			}
		}
		mended[name] = text
	}
	for _, name := range sortedKeys(fixed) {
		if diff := cmp.Diff(fixed[name], mended[name]); diff != "" {
			t.Errorf("%s after its fixes (-want +got):\n%s", name, diff)
		}
	}
	for _, f := range judge(t, load(t, mended), day, run...).Findings {
		t.Errorf("after the fixes, %s: %s", place(mended, f.At), f.Message)
	}
}

// without gives the elements of a that b lacks, each as often as it lacks it.
func without(a, b []string) []string {
	b = slices.Clone(b)
	var out []string
	for _, s := range a {
		if i := slices.Index(b, s); i >= 0 {
			b = slices.Delete(b, i, i+1)
		} else {
			out = append(out, s)
		}
	}
	return out
}

func expected(file string, line int, kind, level, id, message string) string {
	if level != "" {
		level += " "
	}
	return fmt.Sprintf("%s:%03d: # %s %s%s `%s`", file, line, kind, level, id, message)
}

func expectedAt(files map[string]string, r estate.Range, kind, level, id, message string) string {
	line := 1 + strings.Count(files[r.File][:r.Start], "\n")
	return expected(r.File, line, kind, level, id, message)
}

func sortedKeys(m map[string]string) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
