package report

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"cagenut/testdata/frozen"
)

func TestJSON(t *testing.T) {
	based := sample(t)
	based.Base = &Base{Name: "main", Cured: 2, Old: 7}
	for name, page := range map[string]*Page{"lint_1.json": based, "lint_1_clean.json": clean()} {
		var got bytes.Buffer
		if err := JSON(&got, page); err != nil {
			t.Fatal(err)
		}
		golden(t, name, got.Bytes())
	}
}

// Lines and columns are those of an editor, and offsets those of the file.
func TestJSONPlacesPointAtTheText(t *testing.T) {
	var out bytes.Buffer
	if err := JSON(&out, sample(t)); err != nil {
		t.Fatal(err)
	}
	var d Document
	if err := json.Unmarshal(out.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	if d.Format != 1 || d.Of != "lint" || len(d.Findings) != 6 || len(d.Unchecked) != 8 {
		t.Fatalf("format %d of %q with %d findings, %d not checked", d.Format, d.Of, len(d.Findings), len(d.Unchecked))
	}
	keys := map[string]bool{}
	for _, f := range d.Findings {
		if keys[f.Key] {
			t.Errorf("key %s stands twice", f.Key)
		}
		keys[f.Key] = true
	}
	owner := d.Findings[3]
	if owner.Rule != "record/no-owner" {
		t.Fatalf("the fourth finding is %s", owner.Rule)
	}
	// The line holds characters of two and three bytes.
	start := strings.Index(files["hq/hq-a.hcl"], "Fährbüro 券売")
	want := DocumentPlace{File: "racks/hq/hq-a.hcl", Line: 9, Column: 18, EndLine: 9, EndColumn: 29, Start: start, End: start + 17}
	if *owner.At != want {
		t.Errorf("place of the owner is %+v, want %+v", *owner.At, want)
	}
}

// Yesterday's reader reads what is printed today, and today's reader reads what
// was printed yesterday.
func TestJSONKeepsItsFormat(t *testing.T) {
	based := sample(t)
	based.Base = &Base{Name: "main", Cured: 2, Old: 7}
	var out bytes.Buffer
	if err := JSON(&out, based); err != nil {
		t.Fatal(err)
	}
	file := "testdata/frozen/lint_1.json"
	frozen.Check(t, file, out.Bytes())

	yesterday, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var d Document
	if err := json.Unmarshal(yesterday, &d); err != nil {
		t.Fatal(err)
	}
	if d.Format != Format {
		t.Fatalf("the file is of format %d; keep it, and add one of format %d", d.Format, Format)
	}
	if d.Counts.Errors != 3 || d.Counts.Waived != 1 || d.Base == nil || d.Base.Cured != 2 || len(d.Findings) != 6 || d.Findings[0].At == nil {
		t.Errorf("read back as %+v", d)
	}
}
