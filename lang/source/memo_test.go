package source

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestMemo changes files between runs in all the ways that a look must show,
// and some that it cannot.
func TestMemo(t *testing.T) {
	root, store := t.TempDir(), filepath.Join(t.TempDir(), "cagenut")
	old := time.Now().Add(-time.Hour)
	write := func(path, text string, when time.Time) {
		t.Helper()
		name := filepath.Join(root, path)
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(name, when, when); err != nil {
			t.Fatal(err)
		}
	}
	// run reads all files as a load does, and says which hashes were known.
	run := func() (known map[string]bool) {
		t.Helper()
		tree := RememberingFolder(root, store)
		files, err := tree.Files(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		known = map[string]bool{}
		for _, f := range files {
			known[f.Path] = f.Hash != ""
			data, h, err := ReadHashed(context.Background(), tree, f)
			if err != nil {
				t.Fatal(err)
			}
			if want := HashOf(data, ""); h != want || f.Hash != "" && f.Hash != want {
				t.Errorf("the hash of %s is remembered as %s and read as %s, want %s", f.Path, f.Hash, h, want)
			}
		}
		if err := Remember(tree); err != nil {
			t.Fatal(err)
		}
		return known
	}
	wantKnown := func(when string, got map[string]bool, want map[string]bool) {
		t.Helper()
		for path, k := range want {
			if got[path] != k {
				t.Errorf("%s: %s known: %t, want %t", when, path, got[path], k)
			}
		}
	}
	write("estate.hcl", "one", old)
	write("a.hcl", "two", old)
	if lookAt(mustStat(t, filepath.Join(root, "a.hcl"))) == (look{}) {
		t.Skip("nothing is remembered on this system")
	}
	wantKnown("first run", run(), map[string]bool{"estate.hcl": false, "a.hcl": false})
	// Both were created just now, whatever their times say: not settled.
	wantKnown("at once", run(), map[string]bool{"estate.hcl": false, "a.hcl": false})
	time.Sleep(settled + 100*time.Millisecond)
	run()
	wantKnown("settled", run(), map[string]bool{"estate.hcl": true, "a.hcl": true})

	// Same size, time set back: the time of the change itself tells.
	write("a.hcl", "owt", old)
	wantKnown("edited, time set back", run(), map[string]bool{"estate.hcl": true, "a.hcl": false})
	// Another file under the old name.
	write("b.hcl", "new", old)
	if err := os.Rename(filepath.Join(root, "b.hcl"), filepath.Join(root, "estate.hcl")); err != nil {
		t.Fatal(err)
	}
	wantKnown("replaced", run(), map[string]bool{"estate.hcl": false})
	// A damaged memo is none.
	name := memoFile(store, root)
	if err := os.WriteFile(name, []byte(memoMagic+"rubbish and more of it"), 0o666); err != nil {
		t.Fatal(err)
	}
	wantKnown("damaged", run(), map[string]bool{"estate.hcl": false, "a.hcl": false})
}

func mustStat(t *testing.T, name string) os.FileInfo {
	t.Helper()
	info, err := os.Lstat(name)
	if err != nil {
		t.Fatal(err)
	}
	return info
}
