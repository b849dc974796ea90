package report

import (
	"bytes"
	"testing"
)

func TestPrintChoosesByName(t *testing.T) {
	for _, form := range FormNames() {
		var out bytes.Buffer
		if err := Print(&out, form, sample(t), Look{}); err != nil || out.Len() == 0 {
			t.Errorf("Print %q: %d bytes, %v", form, out.Len(), err)
		}
	}
	want := `"yaml" is no format of lint; write one of text, json, sarif, junit, github, gitlab`
	if err := Print(&bytes.Buffer{}, "yaml", sample(t), Look{}); err == nil || err.Error() != want {
		t.Errorf("Print yaml: %v, want %s", err, want)
	}
}

// The same page gives the same bytes: nothing is printed in the order of a map.
func TestPrintIsSteady(t *testing.T) {
	for _, form := range FormNames() {
		var first bytes.Buffer
		if err := Print(&first, form, hostile(t), Look{}); err != nil {
			t.Fatal(err)
		}
		for range 20 {
			var again bytes.Buffer
			if err := Print(&again, form, hostile(t), Look{}); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(first.Bytes(), again.Bytes()) {
				t.Fatalf("%s differs from run to run", form)
			}
		}
	}
}
