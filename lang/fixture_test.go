package lang

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lang/text"
)

var update = flag.Bool("update", false, "write what is seen into the fixtures")

// A fixture is a sentence, files of an estate, and a last section "want" with
// what is wrong with them: the place, the text marked, and the message.
func TestFixtures(t *testing.T) {
	paths, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(paths) == 0 {
		t.Fatalf("testdata holds no fixtures: %v", err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(path)
			if err != nil {
				t.Fatal(err)
			}
			files := map[string]string{}
			want := ""
			for _, f := range a.Files {
				if f.Name == "want" {
					want = string(f.Data)
					continue
				}
				files[f.Name] = string(f.Data)
			}
			got := report(t, files)
			if *update {
				n := len(a.Files)
				if n > 0 && a.Files[n-1].Name == "want" {
					n--
				}
				a.Files = append(a.Files[:n:n], txtar.File{Name: "want", Data: []byte(got)})
				if err := os.WriteFile(path, txtar.Format(a), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("what is wrong with %s differs (-want +got):\n%s\nrun: go test ./lang -run Fixtures -update", path, diff)
			}
		})
	}
}

// report loads files and lists what is wrong with them, a line each.
func report(t *testing.T, files map[string]string) string {
	t.Helper()
	e, diags, err := Load(context.Background(), source.Memory("test", files), Options{})
	if err != nil {
		t.Fatal(err)
	}
	show := func(r estate.Range) string {
		src := files[r.File]
		at := text.New([]byte(src)).Position(int(r.Start))
		marked := strings.ReplaceAll(src[min(int(r.Start), len(src)):min(int(r.End), len(src))], "\n", `\n`)
		return fmt.Sprintf("%s:%s [%s]", r.File, at, text.Printable(marked))
	}
	var b strings.Builder
	for _, d := range diags {
		fmt.Fprintf(&b, "%s %s: %s\n", show(d.Range), d.Severity, d.Summary)
		if d.Detail != "" {
			fmt.Fprintf(&b, "    %s\n", strings.ReplaceAll(d.Detail, "\n", "\n    "))
		}
		for _, r := range d.Related {
			fmt.Fprintf(&b, "    %s %s\n", show(r.At), r.Message)
		}
	}
	for _, u := range e.Unresolved {
		fmt.Fprintf(&b, "%s unresolved %s %s, near %q, from %s\n", show(u.At), u.Kind, u.Name, u.Near, u.From)
	}
	for _, p := range e.Broken {
		fmt.Fprintf(&b, "broken %s\n", p)
	}
	return b.String()
}
