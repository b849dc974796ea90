package lang

import (
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/txtar"

	"cagenut/lang/estate"
	"cagenut/lang/source"
)

// FuzzLoad reads anything as a file of an estate, in both forms. Nothing may
// panic, and every place must be inside the file and every message printable.
func FuzzLoad(f *testing.F) {
	paths, err := filepath.Glob("testdata/*.txtar")
	if err != nil {
		f.Fatal(err)
	}
	for _, path := range paths {
		a, err := txtar.ParseFile(path)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range a.Files {
			f.Add(string(file.Data))
		}
	}
	for _, b := range Schema() {
		f.Add(inParents(b, b.Example))
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, name := range []string{"a.hcl", "a.hcl.json"} {
			checkRead(t, name, text)
		}
	})
}

func checkRead(t *testing.T, name, text string) {
	t.Helper()
	e, diags, err := Load(t.Context(), source.Memory("test", map[string]string{name: text}), Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	inside := func(what string, r estate.Range) {
		if r.File != name || r.Start < 0 || r.End < r.Start || int(r.End) > len(text) {
			t.Errorf("%s is at %+v of a file of %d bytes", what, r, len(text))
		}
	}
	for _, d := range diags {
		inside(d.Summary, d.Range)
		if d.Summary == "" || d.Severity == noSeverity || len(d.Summary) > 1000 || strings.Contains(d.Summary, "\n") || !utf8.ValidString(d.Summary) {
			t.Errorf("diagnostic %+v", d)
		}
	}
	for _, u := range e.Unresolved {
		inside(u.Name, u.At)
	}
	for _, r := range e.Racks {
		inside(r.Name, r.Source.At())
		inside(r.Name, r.Source.Whole())
		for _, m := range r.Mounts {
			inside(m.Name, m.Source.Whole())
			for _, a := range m.Source.Attrs {
				inside(a.Name, m.Source.Attr(a.Name))
			}
			if m.Rack != r {
				t.Errorf("mount %s of rack %s is in %v", m.Name, r.Name, m.Rack)
			}
		}
	}
}
