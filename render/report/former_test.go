package report

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestFormerJSON reads a document of each format that was ever released, as it
// was printed then. These files are never rewritten: a field that is missing
// from [Document] has been taken away from those who read it, and asks for a
// new [Format].
func TestFormerJSON(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "format-*.json"))
	if err != nil || len(files) != Format {
		t.Fatalf("%d documents for %d formats: %v", len(files), Format, err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var d Document
		in := json.NewDecoder(bytes.NewReader(text))
		in.DisallowUnknownFields()
		if err := in.Decode(&d); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		again, err := json.Marshal(d)
		if err != nil {
			t.Fatal(err)
		}
		var was, is any
		if err := json.Unmarshal(text, &was); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(again, &is); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(was, is); diff != "" {
			t.Errorf("%s is read otherwise (-then +now):\n%s", name, diff)
		}
	}
}
