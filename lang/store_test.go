package lang

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/testdata/bulk"
)

// storeEstates are estates that together use most of the language.
func storeEstates(t *testing.T) map[string]source.Tree {
	everything := map[string]string{"estate.hcl": "estate \"e\" {\n  language = 1\n  rules = \"2026.1\"\n  skip = [\"infra/**\"]\n}\n"}
	for _, b := range Schema() {
		if b.Name != "estate" && b.Example != "" && len(b.In) == 0 {
			everything[b.Name+".hcl"] = b.Example + "\n"
		}
	}
	return map[string]source.Tree{
		"ferry":      source.Folder(filepath.Join("..", "examples", "ferry")),
		"bulk":       source.Memory("bulk", bulk.Files(30)),
		"everything": source.Memory("everything", everything),
		// What waits for figures of other files, mistakes in it included, which
		// show only when all files are read.
		"waiting": source.Memory("waiting", map[string]string{
			"estate.hcl": "estate \"e\" {}\ngiven {\n  base  = 3\n  twice = given.base * 2\n  limit = \"25 kg\"\n  ring  = given.ring\n}\n",
			"a.hcl": "frame \"f\" {\n  system = \"19in\"\n  units  = given.twice * 7\n  mass   = given.limit\n  rated  = given.limmit\n  depth  = { is = \"${given.base} mm\", basis = \"measured\" }\n}\n" +
				"rack \"r\" {\n  frame = frame.f\n  stack \"n\" {\n    from      = given.base\n    count     = 2\n    equipment = equipment.q\n  }\n}\nequipment \"q\" {}\n",
			"b.hcl": "adjust \"load/heavy-high\" {\n  limit  = given.limit\n  resaon = given.limit\n}\npace {\n  fit_slides = \"${given.base} min\"\n}\n",
		}),
	}
}

// TestKeptIsParsed loads estates anew and from what was kept: nothing may
// differ, down to the place of each attribute.
func TestKeptIsParsed(t *testing.T) {
	for name, tree := range storeEstates(t) {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			want, wantDiags := loadWith(t, tree, nil)
			s := OpenStore(dir)
			first, _ := loadWith(t, tree, s)
			if err := s.Save(); err != nil {
				t.Fatal(err)
			}
			s = OpenStore(dir)
			if len(s.segments) != 1 {
				t.Fatalf("the store has %d segments, want 1", len(s.segments))
			}
			again, diags := loadWith(t, tree, s)
			if s.used.Load() == 0 || len(s.new) > 0 {
				t.Errorf("%d bytes were used and %d files parsed again", s.used.Load(), len(s.new))
			}
			for which, got := range map[string]*estate.Estate{"with an empty store": first, "from the store": again} {
				if !reflect.DeepEqual(got, want) {
					t.Errorf("the estate loaded %s differs from the one loaded without", which)
				}
			}
			if !reflect.DeepEqual(diags, wantDiags) {
				t.Errorf("mistakes from the store: %v, want %v", diags, wantDiags)
			}
		})
	}
}

func loadWith(t *testing.T, tree source.Tree, s *Store) (*estate.Estate, []Diagnostic) {
	t.Helper()
	e, diags, err := Load(context.Background(), tree, Options{Store: s})
	if err != nil {
		t.Fatal(err)
	}
	return e, diags
}

// TestStoreKeepsNoMistakes: a file with mistakes is read again each time, so
// that they are reported each time.
func TestStoreKeepsNoMistakes(t *testing.T) {
	dir := t.TempDir()
	tree := source.Memory("wrong", map[string]string{
		"estate.hcl": "estate \"e\" { language = 1 }\n", "a.hcl": "rack \"a\" {\n  frames = 3\n}\n", "b.hcl": "rack \"b\" {\n",
	})
	_, want := loadWith(t, tree, nil)
	for range 2 {
		s := OpenStore(dir)
		_, got := loadWith(t, tree, s)
		if err := s.Save(); err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, want) || len(got) == 0 {
			t.Errorf("mistakes with a store: %v, want %v", got, want)
		}
	}
}

// TestStoreByContent: a file is known again under another name, and a changed
// one is not.
func TestStoreByContent(t *testing.T) {
	s := OpenStore(t.TempDir())
	a := map[string]string{"estate.hcl": "estate \"e\" { language = 1 }\n", "a.hcl": "row \"one\" {}\n"}
	loadWith(t, source.Memory("a", a), s)
	if err := s.Save(); err != nil {
		t.Fatal(err)
	}
	s = OpenStore(s.dir)
	e, _ := loadWith(t, source.Memory("b", map[string]string{"estate.hcl": a["estate.hcl"], "moved/b.hcl": a["a.hcl"], "c.hcl": "row \"two\" {}\n"}), s)
	if len(s.new) != 1 {
		t.Errorf("%d files were parsed, want the new one", len(s.new))
	}
	if got := e.Rows[1].Source.File; got != "moved/b.hcl" || e.Rows[1].Name != "one" {
		t.Errorf("row %s is in %s, want one in moved/b.hcl", e.Rows[1].Name, got)
	}
}

// TestStoreDamaged: whatever happened to a segment, the estate is the same.
func TestStoreDamaged(t *testing.T) {
	tree := source.Memory("bulk", bulk.Files(3))
	want, _ := loadWith(t, tree, nil)
	dir := t.TempDir()
	s := OpenStore(dir)
	loadWith(t, tree, s)
	if err := s.Save(); err != nil {
		t.Fatal(err)
	}
	names, _ := filepath.Glob(filepath.Join(dir, "parts-*"))
	if len(names) != 1 {
		t.Fatalf("the store has %d files, want 1", len(names))
	}
	whole, err := os.ReadFile(names[0])
	if err != nil {
		t.Fatal(err)
	}
	for what, damage := range map[string]func([]byte) []byte{
		"cut short":     func(b []byte) []byte { return b[:segmentHead+5] },
		"no end":        func(b []byte) []byte { return b[:len(b)-9] },
		"empty":         func(b []byte) []byte { return nil },
		"a bit flipped": func(b []byte) []byte { b[len(b)-50] ^= 4; return b },
		"other version": func(b []byte) []byte { b[len(segmentMagic)] ^= 1; return b },
	} {
		if err := os.WriteFile(names[0], damage([]byte(string(whole))), 0o666); err != nil {
			t.Fatal(err)
		}
		s := OpenStore(dir)
		if len(s.segments) != 0 && what != "a bit flipped" && what != "no end" {
			t.Errorf("%s: the segment was taken for good", what)
		}
		if got, _ := loadWith(t, tree, s); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: the estate differs", what)
		}
		if len(s.new) == 0 {
			t.Errorf("%s: no file was parsed again", what)
		}
	}
}

// TestStoreShared: many at once, which write, merge and read one folder.
func TestStoreShared(t *testing.T) {
	dir := t.TempDir()
	var wait sync.WaitGroup
	for w := range 4 {
		wait.Go(func() {
			for i := range 8 {
				files := bulk.Files(2)
				files[bulk.Path(w)] = bulk.Rack(w, strings.Repeat("x", 1+i))
				s := OpenStore(dir)
				e, _ := loadWith(t, source.Memory("shared", files), s)
				if len(e.Racks) < 2 {
					t.Errorf("the estate has %d racks", len(e.Racks))
				}
				if err := s.Save(); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
	left, err := os.ReadDir(dir)
	if err != nil || len(left) == 0 || len(left) > 4*(mostSegments+1) {
		t.Errorf("the store was left with %d files, %v", len(left), err)
	}
	for _, e := range left {
		if strings.HasPrefix(e.Name(), "tmp-") {
			t.Errorf("%s was left behind", e.Name())
		}
	}
}

// TestStoreLeavesLargeSegments: a change of one file after the other does not
// write anew what all files were parsed to, and leaves few segments.
func TestStoreLeavesLargeSegments(t *testing.T) {
	dir := t.TempDir()
	files := bulk.Files(160)
	save := func() map[string]bool {
		s := OpenStore(dir)
		loadWith(t, source.Memory("changing", files), s)
		if err := s.Save(); err != nil {
			t.Fatal(err)
		}
		names := map[string]bool{}
		left, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range left {
			names[e.Name()] = true
		}
		return names
	}
	first := save()
	for i := range 12 {
		files[bulk.Path(3)] = bulk.Rack(3, strings.Repeat("x", 1+i))
		now := save()
		if len(now) > mostSegments+1 {
			t.Errorf("after change %d there are %d segments", i+1, len(now))
		}
		for name := range first {
			if !now[name] {
				t.Errorf("after change %d the first segment is gone", i+1)
			}
		}
	}
}

// FuzzPart feeds bytes that no writer made to the reader of parts.
func FuzzPart(f *testing.F) {
	w, r := newPartWriter(), newReader()
	for path, text := range bulk.Files(1) {
		if data, ok := w.part(r.read(path, []byte(text))); ok {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		newKeptReader(newReader()).part("x.hcl", data)
	})
}

func BenchmarkKeptPart(b *testing.B) {
	text := bulk.Rack(0, "")
	data, ok := newPartWriter().part(newReader().read("r.hcl", []byte(text)))
	if !ok {
		b.Fatal("the part cannot be kept")
	}
	b.Run("parse", func(b *testing.B) {
		r := newReader()
		b.SetBytes(int64(len(text)))
		b.ReportAllocs()
		for b.Loop() {
			r.read("r.hcl", []byte(text))
		}
	})
	b.Run("kept", func(b *testing.B) {
		k := newKeptReader(newReader())
		b.SetBytes(int64(len(text)))
		b.ReportAllocs()
		for b.Loop() {
			k.part("r.hcl", data)
		}
	})
}
