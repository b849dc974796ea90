package examples

import (
	"io/fs"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The files to read are the ones that the history ends with.
func TestFerryHistoryEndsAtFerry(t *testing.T) {
	commits, err := FerryHistory()
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, c := range commits {
		if c.Branch != "main" {
			continue
		}
		for _, f := range c.Files {
			got[f.Name] = string(f.Data)
		}
	}
	want := map[string]string{}
	err = fs.WalkDir(Ferry(), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(Ferry(), path)
		want[path] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("main of the history differs from examples/ferry (-ferry +history):\n%s", diff)
	}
}

func TestFerryHistoryIsInOrder(t *testing.T) {
	commits, err := FerryHistory()
	if err != nil {
		t.Fatal(err)
	}
	tips := map[string]Commit{}
	for _, c := range commits {
		before, ok := tips[c.Branch]
		if !ok && c.From != "" {
			if before, ok = tips[c.From]; !ok {
				t.Errorf("%s starts at %s, which has no commit yet", c.Branch, c.From)
			}
		}
		if ok && !c.Time.After(before.Time) {
			t.Errorf("%q of %s is not later than %q", c.Message, c.Branch, before.Message)
		}
		tips[c.Branch] = c
	}
}
