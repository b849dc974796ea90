package parts_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"cagenut/lang/parts"
	renderparts "cagenut/render/parts"
	"cagenut/render/style"

	"github.com/google/go-cmp/cmp"
)

func sample() (before, after *parts.List) {
	before = &parts.List{
		Parts: []parts.Part{
			{Kind: parts.Screw, Name: "M6 x 1 screw", Count: 4, For: []string{"rack.a.one"}},
			{Kind: parts.Blank, Name: "blank of 2U", Count: 1, For: []string{"rack.a blank U2-3"}},
		},
		Assumed: []string{"one cup washer under each screw"},
	}
	after = &parts.List{
		Parts: []parts.Part{
			{Kind: parts.Screw, Name: "M6 x 1 screw", Count: 6, For: []string{"rack.a.one", "rack.a.two"}},
			{Kind: parts.RailKit, Name: "=rail, \"kit\"", Count: 1, For: []string{"rack.a.two"}},
		},
		Missing: []string{"rack.b: its frame is not known"},
	}
	return before, after
}

// CSV is read back by a reader that knows RFC 4180; a name that a spreadsheet
// would compute is made harmless.
func TestCSV(t *testing.T) {
	_, after := sample()
	var b bytes.Buffer
	if err := renderparts.Listed(after, []string{"a"}).CSV(&b); err != nil {
		t.Fatal(err)
	}
	if !strings.HasSuffix(b.String(), "\r\n") {
		t.Errorf("lines do not end as RFC 4180 says: %q", b.String())
	}
	got, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{
		{"kind", "name", "count", "before", "to_get", "set_free", "for"},
		{"screw", "M6 x 1 screw", "6", "0", "0", "0", "rack.a.one rack.a.two"},
		{"rail kit", "'=rail, \"kit\"", "1", "0", "0", "0", "rack.a.two"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("CSV (-want +got):\n%s", diff)
	}
}

func TestJSONOfAChange(t *testing.T) {
	before, after := sample()
	var b bytes.Buffer
	if err := renderparts.Changed(before, after, nil).JSON(&b); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "null") {
		t.Errorf("a list is null:\n%s", b.String())
	}
	var d renderparts.Document
	if err := json.Unmarshal(b.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	want := renderparts.Document{
		Format: 1, Of: "parts", Racks: []string{}, Assumed: []string{}, Missing: []string{"rack.b: its frame is not known"}, Moments: []string{},
		Parts: []renderparts.DocumentPart{
			{Kind: "screw", Name: "M6 x 1 screw", Count: 6, Before: 4, ToGet: 2, For: []string{"rack.a.two"}},
			{Kind: "rail kit", Name: "=rail, \"kit\"", Count: 1, ToGet: 1, For: []string{"rack.a.two"}},
			{Kind: "blank", Name: "blank of 2U", Before: 1, SetFree: 1, For: []string{"rack.a blank U2-3"}},
		},
	}
	if diff := cmp.Diff(want, d); diff != "" {
		t.Errorf("JSON (-want +got):\n%s", diff)
	}
}

func TestText(t *testing.T) {
	before, after := sample()
	want := `Parts for a change

+    2  M6 x 1 screw                            to get, for a.two
+    1  =rail, "kit"                            to get, for a.two
-    1  blank of 2U                             set free, from a blank U2-3

Not counted
- rack.b: its frame is not known

Counted from what is declared, without spares. The sheet of each kit decides on
screws, lengths and moments.
`
	got := style.Page(renderparts.Change(before, after, "a change", renderparts.Options{}), nil)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("Change (-want +got):\n%s", diff)
	}
	for _, width := range []int{30, 60, 80} {
		for _, l := range renderparts.Text(after, "a", renderparts.Options{Width: width}) {
			if l.Width() > max(width, 46) {
				t.Errorf("width %d: %d cells: %s", width, l.Width(), l.Render(nil))
			}
		}
	}
}
