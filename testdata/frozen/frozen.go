// Package frozen holds tests to what earlier releases printed: a program that
// reads the JSON of one version of a format must be able to read what is
// printed under that version for ever.
package frozen

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"testing"
)

// Check compares JSON that is printed now with a file that was printed by the
// first release of the format and is never rewritten. Every field that the
// file has must still be there with a value of the same kind; fields may be
// added. A format that must lose a field gets a new version, and a new file
// beside the old one.
func Check(t testing.TB, file string, now []byte) {
	t.Helper()
	then, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	old, neu := paths(t, file, then), paths(t, "what is printed now", now)
	if len(old) < 5 {
		t.Errorf("%s has only %d fields", file, len(old))
	}
	for _, p := range old {
		if !slices.Contains(neu, p) {
			t.Errorf("%s has %s, which is not printed any more; raise the version of the format", file, p)
		}
	}
}

// paths lists every field of a document with the kind of its value:
// "findings[].at.line number".
func paths(t testing.TB, what string, doc []byte) []string {
	t.Helper()
	var value any
	if err := json.Unmarshal(doc, &value); err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	var all []string
	var walk func(at string, v any)
	walk = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, x := range v {
				walk(at+"."+k, x)
			}
		case []any:
			for _, x := range v {
				walk(at+"[]", x)
			}
		case nil:
		default:
			all = append(all, fmt.Sprintf("%s %T", at, v))
		}
	}
	walk("", value)
	slices.Sort(all)
	return slices.Compact(all)
}
