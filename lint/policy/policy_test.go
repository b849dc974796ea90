package policy_test

import (
	"context"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lang/text"
	"cagenut/lint"
	"cagenut/lint/policy"
	builtin "cagenut/lint/rules"
)

var update = flag.Bool("update", false, "write what is found as what is wanted")

var today = estate.NewDate(2026, time.November, 25)

// TestFixtures runs testdata/CASE.txtar: a sentence, files, and in the section
// "want" one line a result, sorted: findings, what was not checked, and
// mistakes in policies, each with file and line.
func TestFixtures(t *testing.T) {
	err := filepath.WalkDir("testdata", func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".txtar" {
			return err
		}
		t.Run(strings.TrimSuffix(d.Name(), ".txtar"), func(t *testing.T) { fixture(t, path) })
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func fixture(t *testing.T, path string) {
	archive, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	files, want := map[string]string{}, ""
	for _, f := range archive.Files {
		if f.Name == "want" {
			want = string(f.Data)
			continue
		}
		files[f.Name] = string(f.Data)
	}
	got := strings.Join(judge(t, files), "\n") + "\n"
	if *update {
		i := slices.IndexFunc(archive.Files, func(f txtar.File) bool { return f.Name == "want" })
		archive.Files[i].Data = []byte(got)
		if err := os.WriteFile(path, txtar.Format(archive), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", path, diff)
	}
}

func judge(t *testing.T, files map[string]string) []string {
	t.Helper()
	ctx := context.Background()
	e, diags, err := lang.Load(ctx, source.Memory("test", files), lang.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		if d.Severity == lang.Error && strings.HasPrefix(d.Summary, "no file names the estate") {
			continue
		}
		t.Errorf("%s:%s: %s", d.File, line(files, d.Range), d.Summary)
	}
	rules, mistakes := policy.Rules(e, today)
	var got []string
	for _, m := range mistakes {
		got = append(got, fmt.Sprintf("%s:%s %s %q: %s", m.File, line(files, m.Range), m.Severity, files[m.File][m.Start:m.End], m.Summary))
	}
	for _, m := range lint.CheckRulings(e, slices.Concat(builtin.All(), rules)) {
		got = append(got, fmt.Sprintf("%s:%s %s %q: %s", m.File, line(files, m.Range), m.Severity, files[m.File][m.Start:m.End], m.Summary))
	}
	res, err := lint.Run(ctx, e, lint.Options{Rules: rules, Today: today, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range res.Findings {
		waived := ""
		if f.Waiver != nil {
			waived = " (waived)"
		}
		got = append(got, fmt.Sprintf("%s:%s %s %s %s: %s%s", f.At.File, line(files, f.At), f.Level, f.Rule, f.Thing, f.Message, waived))
	}
	for _, u := range res.Unchecked {
		got = append(got, fmt.Sprintf("%s:%s unchecked %s %s: %s", u.At.File, line(files, u.At), u.Rule, u.Thing, u.Because))
	}
	slices.Sort(got)
	return got
}

func line(files map[string]string, r estate.Range) string {
	return fmt.Sprintf("%03d", text.New([]byte(files[r.File])).Position(int(r.Start)).Line)
}
