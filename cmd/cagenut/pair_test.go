package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/testdata/bulk"
	"cagenut/testdata/outside"
)

// TestDiffReadsOnlyWhatMatters compares differences that were told from a part
// of the estate with those told from all of it: mounts that are moved between
// racks and rows, altered, added and taken out, whole racks, and the
// catalogue.
func TestDiffReadsOnlyWhatMatters(t *testing.T) {
	git := outside.Need(t, "git")
	dir := t.TempDir()
	const racks = 45 // three rows, each with feeds of its own
	files := bulk.Files(racks)
	write := func(path, text string) {
		t.Helper()
		name := filepath.Join(dir, filepath.FromSlash(path))
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		files[path] = text
	}
	commit := func(subject string) {
		t.Helper()
		outside.Run(t, "", git, "-C", dir, "add", "-A")
		outside.Run(t, "", git, "-C", dir, "-c", "user.name=Rack Planner", "-c", "user.email=planner@brackwater.example", "commit", "-q", "-m", subject)
	}
	outside.Run(t, "", git, "init", "-q", dir)
	for path, text := range files {
		write(path, text)
	}
	commit("start")

	rnd := rand.New(rand.NewPCG(1, 2))
	// mount gives the text of the last mount of a rack's file.
	mount := func(text string) string {
		return text[strings.LastIndex(text, "\n  mount"):strings.Index(text, "\n  blank")]
	}
	steps := []struct {
		name string
		edit func()
	}{
		{"a serial", func() {
			path := bulk.Path(rnd.IntN(racks))
			write(path, strings.Replace(files[path], `"AR-`, `"BR-`, 1))
		}},
		{"between racks", func() {
			a, b := bulk.Path(3), bulk.Path(rnd.IntN(10)+8)
			m := mount(files[a])
			write(a, strings.Replace(files[a], m, "", 1))
			write(b, strings.Replace(files[b], mount(files[b]), m, 1))
		}},
		{"between rows", func() {
			a, b := bulk.Path(7), bulk.Path(racks-1)
			m := mount(files[a])
			write(a, strings.Replace(files[a], m, "", 1))
			write(b, strings.Replace(files[b], mount(files[b]), m, 1))
		}},
		{"a new feed", func() {
			path := bulk.Path(30)
			write(path, strings.Replace(files[path], "feed.f01-02-a", "feed.f01-03-b", 2))
		}},
		{"a rack gone", func() {
			path := bulk.Path(35)
			if err := os.Remove(filepath.Join(dir, filepath.FromSlash(path))); err != nil {
				t.Fatal(err)
			}
		}},
		{"the catalogue", func() {
			write("catalogue.hcl", strings.Replace(files["catalogue.hcl"], `"710 mm"`, `"711 mm"`, 1))
		}},
		{"layout of lines alone", func() {
			path := bulk.Path(40)
			write(path, "# a note\n"+files[path])
		}},
	}
	run := func(args ...string) string {
		t.Helper()
		p, stdout, stderr := session(dir)
		if status := run(context.Background(), p, args); status > statusReported {
			t.Fatalf("%v: status %d: %s", args, status, stderr)
		}
		return stdout.String()
	}
	run("lint") // fills the store
	for i, s := range steps {
		s.edit()
		for _, form := range []string{"json", "text"} { // against the folder, before it is committed
			want := run("diff", "--no-store", "--format", form)
			if diff := cmp.Diff(want, run("diff", "--format", form)); diff != "" {
				t.Errorf("%s, folder, %s (-whole +part):\n%s", s.name, form, diff)
			}
		}
		commit(s.name)
		revs := []string{"HEAD~1", "HEAD"}
		want := run(append([]string{"diff", "--no-store", "--format", "json"}, revs...)...)
		if diff := cmp.Diff(want, run(append([]string{"diff", "--format", "json"}, revs...)...)); diff != "" {
			t.Errorf("%s (-whole +part):\n%s", s.name, diff)
		}
		all := []string{fmt.Sprintf("HEAD~%d", i+1), "HEAD"}
		want = run(append([]string{"diff", "--no-store", "--format", "json"}, all...)...)
		if diff := cmp.Diff(want, run(append([]string{"diff", "--format", "json"}, all...)...)); diff != "" {
			t.Errorf("all up to %s (-whole +part):\n%s", s.name, diff)
		}
	}
}
