package diff

import (
	"context"
	"flag"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/examples"
	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/render/style"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares got with the named file, or writes it under -update.
func golden(t *testing.T, name, got string) {
	t.Helper()
	name = filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatalf("%v (run: go test ./render/diff -update)", err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s\nrun: go test ./render/diff -update", name, diff)
	}
}

// branches gives the ferry line's estate at the tip of each branch of its
// history.
func branches(t *testing.T) map[string]*estate.Estate {
	t.Helper()
	commits, err := examples.FerryHistory()
	if err != nil {
		t.Fatal(err)
	}
	tips := map[string]map[string]string{}
	for _, c := range commits {
		if tips[c.Branch] == nil {
			tips[c.Branch] = map[string]string{}
			maps.Copy(tips[c.Branch], tips[c.From])
		}
		for _, f := range c.Files {
			tips[c.Branch][f.Name] = string(f.Data)
		}
	}
	out := map[string]*estate.Estate{}
	for name, files := range tips {
		out[name] = load(t, files)
	}
	return out
}

func load(t *testing.T, files map[string]string) *estate.Estate {
	t.Helper()
	e, diags, err := lang.Load(context.Background(), source.Memory("memory", files), lang.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		t.Errorf("%s:%d: %s", d.File, d.Start, d.Summary)
	}
	return e
}

func print(c *change.Change, o Options, t *style.Table) string { return style.Page(Text(c, o), t) }

// odd is a change of all that can change.
func odd(t *testing.T) *change.Change {
	read := func(name string) *estate.Estate {
		text, err := os.ReadFile(filepath.Join("testdata", name))
		if err != nil {
			t.Fatal(err)
		}
		return load(t, map[string]string{"estate.hcl": string(text)})
	}
	return change.Between(read("before.hcl"), read("after.hcl"))
}

func TestText(t *testing.T) {
	at := branches(t)
	tests := []struct {
		name   string
		change *change.Change
		o      Options
	}{
		{"proposal", change.Between(at["main"], at["proposal"]), Options{}},
		{"mended", change.Between(at["main"], at["mended"]), Options{}},
		{"ship-swap", change.Between(at["main"], at["ship-swap"]), Options{ASCII: true}},
		{"audit", change.Between(at["main"], at["audit"]), Options{Bare: true}},
		{"nothing", change.Between(at["main"], at["main"]), Options{}},
		{"odd", odd(t), Options{}},
		{"odd-40", odd(t), Options{ASCII: true, Width: 40}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { golden(t, tt.name+".txt", print(tt.change, tt.o, nil)) })
	}
}

func TestOtherForms(t *testing.T) {
	golden(t, "odd-stat.txt", style.Page(Stat(odd(t), Options{}), nil))
	golden(t, "odd-stat-40.txt", style.Page(Stat(odd(t), Options{Width: 40, ASCII: true}), nil))
	var b strings.Builder
	if err := Markdown(&b, odd(t), Options{}); err != nil {
		t.Fatal(err)
	}
	golden(t, "odd.md", b.String())
	two := odd(t).In(func(r *estate.Rack) bool { return r.Name == "second" })
	golden(t, "odd-one-rack.txt", print(two, Options{Bare: true}, nil))
}

var escapes = regexp.MustCompile("\x1b\\[[0-9;]*m")

// TestEveryChangeFits asks that lines fit the width, that ASCII is ASCII, and
// that colour changes no text.
func TestEveryChangeFits(t *testing.T) {
	at := branches(t)
	changes := []*change.Change{odd(t)}
	for _, name := range []string{"proposal", "mended", "ship-swap", "audit"} {
		changes = append(changes, change.Between(at["main"], at[name]), change.Between(at[name], at["main"]))
	}
	for i, c := range changes {
		for _, width := range []int{40, 53, 80, 132} {
			for _, ascii := range []bool{false, true} {
				o := Options{Width: width, ASCII: ascii}
				plain := print(c, o, nil)
				for _, line := range strings.Split(plain, "\n") {
					if w := style.Width(line); w > width {
						t.Errorf("change %d, width %d: %d cells: %q", i, width, w, line)
					}
					if ascii && strings.ContainsFunc(line, func(r rune) bool { return r > '~' }) {
						t.Errorf("change %d: not ASCII: %q", i, line)
					}
				}
				if bare := escapes.ReplaceAllString(print(c, o, style.New(true)), ""); bare != plain {
					t.Errorf("change %d, width %d: colour changes the text:\n%s", i, width, cmp.Diff(plain, bare))
				}
			}
		}
	}
}

func TestLetters(t *testing.T) {
	tests := []struct{ name, old, new, was, is string }{
		{"one letter", "BW-4471", "BW-4481", "BW-44{7}1", "BW-44{8}1"},
		{"an addition", "BW-44", "BW-4471", "BW-44", "BW-44{71}"},
		{"more added than kept", "feed.a", "feed.a, feed.b", "feed.a", "feed.a, feed.b"},
		{"little in common", "network", "telephone", "network", "telephone"},
		{"braces of their own", "a{b}c", "a{d}c", "a{b}c", "a{d}c"},
		{"wide letters", "受付機1", "受付機2", "受付機{1}", "受付機{2}"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			was, is := letters(tt.old, tt.new)
			if a, b := was.Render(nil), is.Render(nil); a != tt.was || b != tt.is {
				t.Errorf("letters(%q, %q) = %q, %q, want %q, %q", tt.old, tt.new, a, b, tt.was, tt.is)
			}
		})
	}
}
