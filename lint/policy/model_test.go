package policy

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"cagenut/examples"
	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint"
)

// readAll loads the files of a folder.
func readAll(t *testing.T, dir fs.FS) *estate.Estate {
	t.Helper()
	files := map[string]string{}
	err := fs.WalkDir(dir, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !source.IsEstateFile(path) {
			return err
		}
		b, err := fs.ReadFile(dir, path)
		files[path] = string(b)
		return err
	})
	if err != nil || len(files) == 0 {
		t.Fatalf("no estate: %v", err)
	}
	return loadFiles(t, files)
}

func loadFiles(t *testing.T, files map[string]string) *estate.Estate {
	t.Helper()
	e, _, err := lang.Load(context.Background(), source.Memory("test", files), lang.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// hollow is an estate in which nothing is as it should be: names that lead
// nowhere, figures that are missing, units that do not exist.
const hollow = `
estate "hollow" {}
site "s" {}
room "r" {
  site = site.nowhere
}
row "w" {
  room = room.r
}
frame "f" {}
equipment "q" {}
feed "a" {}
rack "lost" {
  frame = frame.nowhere
  mount "m" {
    at        = 3
    equipment = equipment.q
    feeds     = [feed.a, feed.nowhere]
  }
}
rack "odd" {
  row   = row.w
  frame = frame.f
  mount "m" {
    at        = 900
    equipment = equipment.nowhere
  }
  mount "n" {
    at        = "120 mm"
    equipment = equipment.q
  }
  zero_u "z" {
    equipment = equipment.q
    side      = "left"
  }
}
group "g" {
  of = [rack.odd.m, rack.nowhere.m]
  up = 1
}
`

// TestEveryFieldCanBeRead reads every field of every object that can be
// reached in four steps from an estate. Nothing may panic, and what is not
// known has a reason.
func TestEveryFieldCanBeRead(t *testing.T) {
	estates := map[string]*estate.Estate{
		"ferry":  readAll(t, examples.Ferry()),
		"hollow": loadFiles(t, map[string]string{"estate.hcl": hollow}),
		"empty":  {},
	}
	for name, e := range estates {
		t.Run(name, func(t *testing.T) {
			m := NewModel(e, estate.NewDate(2026, 11, 25))
			w := &walker{t: t, read: map[string]int{}}
			w.object(m.Scope("estate"), e, "estate", 4)
			for _, g := range e.Groups {
				w.object(m.Scope("group"), g, "group", 2)
			}
			for _, s := range []string{"room", "frame", "equipment", "feed", "rack", "row"} {
				if m.Scope(s) == nil {
					t.Fatalf("nothing is judged on %s", s)
				}
			}
			w.object(m.Scope("finding"), &found{&lint.Finding{Rule: "a/b", Waiver: &estate.Waiver{Until: 3}}}, "finding", 2)
			w.object(m.Scope("finding"), &found{&lint.Finding{}}, "finding", 2)
			if name != "ferry" {
				return
			}
			for _, c := range m.Classes() {
				if c == m.breaker || c == m.source || c == m.cord || c == m.step {
					continue // the ferry has none
				}
				for _, f := range c.Fields() {
					if w.read[c.Name+"."+f.Name] == 0 {
						t.Errorf("%s.%s was never read", c.Name, f.Name)
					}
				}
			}
		})
	}
}

type walker struct {
	t    *testing.T
	read map[string]int
}

func (w *walker) object(c *Class, o any, path string, depth int) {
	for _, f := range c.Fields() {
		at := path + "." + f.Name
		w.read[c.Name+"."+f.Name]++
		var u *Unknown
		switch {
		case f.number != nil:
			_, u = f.number(o)
		case f.truth != nil:
			_, u = f.truth(o)
		case f.text != nil:
			_, u = f.text(o)
		case f.date != nil:
			_, u = f.date(o)
		case f.object != nil:
			if next := f.object(o); next != nil && depth > 0 {
				w.object(f.Type.Class, next, at, depth-1)
			}
		case f.each != nil:
			f.each(o, func(x any) bool {
				if f.Type.Elem.Kind == ObjectKind && depth > 0 {
					w.object(f.Type.Elem.Class, x, at+"[]", depth-1)
				}
				return true
			})
		default:
			w.t.Errorf("%s has no getter", at)
		}
		if f.basis != nil {
			if _, b := f.basis(o); (b == nil) != (u == nil) {
				w.t.Errorf("%s: value and basis are not known alike", at)
			}
		}
		if u != nil && (strings.TrimSpace(u.Because) == "" || strings.Contains(u.Because, "%!") || strings.Contains(u.Because, "<nil>")) {
			w.t.Errorf("%s is unknown because %q", at, u.Because)
		}
	}
}

// TestFieldsAreTold holds the documentation of names to its form.
func TestFieldsAreTold(t *testing.T) {
	for _, c := range NewModel(&estate.Estate{}, 1).Classes() {
		if c.Doc == "" || !strings.HasSuffix(c.Doc, ".") {
			t.Errorf("class %s: %q is no sentence", c.Name, c.Doc)
		}
		for _, f := range c.Fields() {
			if f.Doc == "" || strings.HasSuffix(f.Doc, ".") {
				t.Errorf("%s.%s: %q is no phrase", c.Name, f.Name, f.Doc)
			}
		}
	}
}

// TestTheFerryIsJudgedAlike runs the ferry's own policies with one worker and
// with several.
func TestTheFerryIsJudgedAlike(t *testing.T) {
	e := readAll(t, os.DirFS("../../examples/ferry"))
	var first string
	for _, workers := range []int{1, 4} {
		rules, mistakes := Rules(e, estate.NewDate(2026, 11, 25))
		if len(rules) == 0 || len(mistakes) > 0 {
			t.Fatal(rules, mistakes)
		}
		res, err := lint.Run(context.Background(), e, lint.Options{Rules: rules, Today: estate.NewDate(2026, 11, 25), Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		got := fmt.Sprint(res.Findings, res.Unchecked)
		if first == "" {
			first = got
		}
		if got != first {
			t.Errorf("with %d workers: %s, with one: %s", workers, got, first)
		}
	}
}
