package source

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestFolder(t *testing.T) {
	dir := t.TempDir()
	write := func(path, text string) {
		name := filepath.Join(dir, filepath.FromSlash(path))
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write("estate.hcl", "estate \"quay\" {}\n")
	write("b/one.hcl", "1")
	write("b.hcl", "2")
	write("b-.hcl", "3")
	write("b/two.hcl.json", "{}")
	write("notes.md", "not ours")
	write("far.hcl/inside.hcl", "a folder may be called so")
	write(".git/config.hcl", "git's own")
	write("other/.git/HEAD", "ref: refs/heads/main\n")
	write("other/racks.hcl", "of another repository")
	write(".hidden/x.hcl", "read as well")
	if err := os.Symlink("estate.hcl", filepath.Join(dir, "link.hcl")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(dir, filepath.Join(dir, "round")); err != nil {
		t.Fatal(err)
	}
	tree := Folder(dir)
	want := `.hidden/x.hcl "read as well"
b-.hcl "3"
b.hcl "2"
b/one.hcl "1"
b/two.hcl.json "{}"
estate.hcl "estate \"quay\" {}\n"
far.hcl/inside.hcl "a folder may be called so"
`
	if diff := cmp.Diff(want, listing(t, tree)); diff != "" {
		t.Errorf("the folder holds (-want +got):\n%s", diff)
	}
	if got, want := fmt.Sprint(Skipped(tree)), "[{link.hcl is a symbolic link} {other is a repository of its own} {round is a symbolic link to a folder}]"; got != want {
		t.Errorf("left out: %s, want %s", got, want)
	}
	_, err := tree.Read(context.Background(), File{Path: "gone.hcl"})
	wantErr(t, err, "reading gone.hcl: no such file or directory")
	_, err = Folder(filepath.Join(dir, "nowhere")).Files(context.Background())
	wantErr(t, err, "reading the folder .: no such file or directory")
}

// TestDifferMemory compares trees that are in no repository.
func TestDifferMemory(t *testing.T) {
	a := Memory("before", map[string]string{"estate.hcl": "e", "gone.hcl": "g", "kept.hcl": "k", "changed.hcl": "1", "notes.md": "n"})
	b := Memory("after", map[string]string{"estate.hcl": "e", "kept.hcl": "k", "changed.hcl": "2", "new.hcl": "n", "notes.md": "m"})
	deltas, err := Differ(context.Background(), a, b)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, d := range deltas {
		got += fmt.Sprintf("%s %t %t\n", d.Path, d.Old != nil, d.New != nil)
	}
	const want = "changed.hcl true true\ngone.hcl true false\nnew.hcl false true\n"
	if got != want {
		t.Errorf("Differ:\n%swant\n%s", got, want)
	}
	_, err = a.Read(context.Background(), File{Path: "new.hcl"})
	wantErr(t, err, "before has no file new.hcl")
}
