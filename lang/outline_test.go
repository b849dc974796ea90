package lang

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/testdata/bulk"
	"cagenut/testdata/outside"
)

// committed gives files as a commit of a repository of their own.
func committed(t *testing.T, files map[string]string) source.Tree {
	t.Helper()
	git := outside.Need(t, "git")
	dir := t.TempDir()
	for path, text := range files {
		name := filepath.Join(dir, filepath.FromSlash(path))
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	outside.Run(t, "", git, "init", "-q", dir)
	outside.Run(t, "", git, "-C", dir, "add", "-A")
	outside.Run(t, "", git, "-C", dir, "-c", "user.name=Rack Planner", "-c", "user.email=planner@brackwater.example", "commit", "-q", "-m", "all")
	place, err := source.Locate(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { place.Repo.Close() })
	tree, err := place.At(context.Background(), "HEAD")
	if err != nil {
		t.Fatal(err)
	}
	return tree
}

// textsOf gives the files of a folder of the repository.
func textsOf(t *testing.T, dir string) map[string]string {
	t.Helper()
	tree := source.Folder(dir)
	files, err := tree.Files(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for _, f := range files {
		b, err := tree.Read(context.Background(), f)
		if err != nil {
			t.Fatal(err)
		}
		texts[f.Path] = string(b)
	}
	return texts
}

// leadsTo tells all that a rack leads to: where it stands, what carries
// its current, and what is in it.
func leadsTo(r *estate.Rack) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %v %v %v\n", r.Name, r.Frame != nil, r.Row != nil && r.Row.Across != nil, r.Layout != nil)
	if r.Row != nil {
		fmt.Fprintln(&b, r.Row.Name, r.Room() != nil && r.Room().Site != nil)
	}
	var supplies func(s *estate.PowerSource)
	supplies = func(s *estate.PowerSource) {
		if s != nil {
			fmt.Fprintln(&b, "source", s.Name, s.Rated)
			for _, from := range s.From {
				supplies(from)
			}
		}
	}
	feed := func(f *estate.Feed) {
		fmt.Fprintln(&b, "feed", f.Name, f.Origin, f.Rated, f.Room != nil)
		for k := f.Breaker; k != nil; k = k.From {
			fmt.Fprintln(&b, "breaker", k.Name, k.Rated)
			supplies(k.Supply)
		}
	}
	for _, f := range r.Feeds {
		feed(f)
	}
	for _, m := range r.Mounts {
		fmt.Fprintln(&b, m.Name, m.At, m.Equipment != nil && m.Equipment.Name != "")
		for _, f := range m.Feeds {
			feed(f)
		}
	}
	return b.String()
}

// TestPartHasAllThatARackLeadsTo loads for each rack the part of its estate
// that its outline names, from a fresh outline and from one that was kept.
func TestPartHasAllThatARackLeadsTo(t *testing.T) {
	ctx := context.Background()
	for name, files := range map[string]map[string]string{
		"bulk":        bulk.Files(45),
		"ferry":       textsOf(t, filepath.Join("..", "examples", "ferry")),
		"observatory": textsOf(t, filepath.Join("..", "examples", "observatory")),
	} {
		t.Run(name, func(t *testing.T) {
			commit := committed(t, files)
			for which, tree := range map[string]source.Tree{"commit": commit, "files": source.Memory("memory", files)} {
				whole, _, err := Load(ctx, tree, Options{})
				if err != nil {
					t.Fatal(err)
				}
				dir := t.TempDir()
				store := OpenStore(dir)
				all, err := tree.Files(ctx)
				if err != nil {
					t.Fatal(err)
				}
				smallest := len(all)
				for round := range 2 {
					opts := Options{Store: store}
					o, err := OutlineOf(ctx, tree, opts)
					if err != nil {
						t.Fatal(err)
					}
					if round == 1 && which == "commit" && len(store.new) > 0 {
						t.Errorf("%s: %d things were told again though they were kept", which, len(store.new))
					}
					found := 0
					for _, r := range whole.Racks {
						path, ok := o.File(r.Name)
						if !ok {
							path = r.Source.File // it is declared with other things
						} else if found++; path != r.Source.File {
							t.Errorf("%s: the outline has rack %s in %s, and it is in %s", which, r.Name, path, r.Source.File)
						}
						part := o.Part(path)
						files, err := part.Files(ctx)
						if err != nil {
							t.Fatal(err)
						}
						smallest = min(smallest, len(files))
						e, diags, err := Load(ctx, part, opts)
						if err != nil || len(diags) > 0 {
							t.Fatalf("%s: the part of %s: %v, %v", which, r.Name, diags, err)
						}
						if got, want := leadsTo(e.Rack(r.Name)), leadsTo(r); got != want {
							t.Errorf("%s: rack %s in its part:\n%swant\n%s", which, r.Name, got, want)
						}
					}
					if found == 0 {
						t.Errorf("%s: no rack is in the outline", which)
					}
					if err := store.Save(); err != nil {
						t.Fatal(err)
					}
					store = OpenStore(dir)
				}
				if smallest == len(all) {
					t.Errorf("%s: each part is the whole of %d files", which, len(all))
				}
				if _, ok := mustOutline(t, tree, Options{Store: store}).File("no-such-rack"); ok {
					t.Errorf("%s: a rack that is nowhere is found", which)
				}
			}
		})
	}
}

func mustOutline(t *testing.T, tree source.Tree, opts Options) *Outline {
	t.Helper()
	o, err := OutlineOf(context.Background(), tree, opts)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// TestSkippedFilesAreNotInAnOutline takes a rack out of the estate by skipping
// its file, which leaves the folder that holds it as it was.
func TestSkippedFilesAreNotInAnOutline(t *testing.T) {
	files := bulk.Files(3)
	store := OpenStore(t.TempDir())
	name := bulk.Name(0)
	path, ok := mustOutline(t, committed(t, files), Options{Store: store}).File(name)
	if !ok || path != bulk.Path(0) {
		t.Fatalf("File(%s) = %s, %t", name, path, ok)
	}
	files[source.RootFile] = strings.Replace(files[source.RootFile], "{", "{\n  skip = [\""+path+"\"]\n", 1)
	o := mustOutline(t, committed(t, files), Options{Store: store})
	if path, ok := o.File(name); ok {
		t.Errorf("rack %s is found in %s, which is skipped", name, path)
	}
	got, err := o.Part(bulk.Path(1)).Files(context.Background())
	if err != nil || !slices.ContainsFunc(got, func(f source.File) bool { return f.Path == bulk.Path(1) }) {
		t.Errorf("the part of another rack has %v, %v", got, err)
	}
}
