package systems_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/render/style"
	"cagenut/render/systems"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func TestText(t *testing.T) {
	for _, s := range system.All() {
		t.Run(s.Name, func(t *testing.T) {
			got := style.Page(systems.Text(s, systems.Options{Width: 80}), nil)
			name := filepath.Join("testdata", s.Name+".txt")
			if *update {
				if err := os.WriteFile(name, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(name)
			if err != nil {
				t.Fatalf("%v (run: go test ./render/systems -update)", err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Errorf("%s differs (-want +got):\n%s\nrun: go test ./render/systems -update", name, diff)
			}
			for _, l := range systems.Text(s, systems.Options{Width: 80}) {
				if l.Width() > 80 {
					t.Errorf("%d cells wide: %s", l.Width(), l.Render(nil))
				}
			}
		})
	}
}

// In ASCII nothing but ASCII is printed.
func TestASCII(t *testing.T) {
	for _, s := range system.All() {
		for i, r := range style.Page(systems.Text(s, systems.Options{ASCII: true}), nil) {
			if r > 126 {
				t.Errorf("%s: %q at byte %d", s.Name, r, i)
			}
		}
	}
}

func TestBoth(t *testing.T) {
	for _, tt := range []struct {
		in   quantity.Length
		want string
	}{
		{quantity.RackUnit, "44.45 mm, 1 3/4 in"},
		{quantity.Inch / 32, "0.79375 mm, 1/32 in"},
		{7 * quantity.Inch, "177.8 mm, 7 in"},
		{0, "0 mm, 0 in"},
		{450 * quantity.Millimetre, "450 mm"},
		{quantity.Inch*18 + quantity.Inch*5/16, "465.1375 mm, 18 5/16 in"},
	} {
		if got := systems.Both(tt.in); got != tt.want {
			t.Errorf("Both(%d) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

// The JSON holds every system and every fact, in the order of the text.
func TestJSON(t *testing.T) {
	var b bytes.Buffer
	if err := systems.JSON(&b, system.All()); err != nil {
		t.Fatal(err)
	}
	var d systems.Document
	dec := json.NewDecoder(&b)
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		t.Fatal(err)
	}
	if d.Format != systems.Format || d.Of != "systems" || len(d.Systems) != len(system.All()) {
		t.Fatalf("format %d of %q with %d systems", d.Format, d.Of, len(d.Systems))
	}
	for i, s := range system.All() {
		got := d.Systems[i]
		if got.Name != s.Name || got.Pitch != int64(s.Pitch) || len(got.Facts) != len(s.Facts) || len(got.Holes) != len(s.Offsets) || len(got.Openings) != len(s.Openings) {
			t.Errorf("%s: %+v", s.Name, got)
		}
		for j, f := range s.Facts {
			if got.Facts[j].Decides != f.Confidence.Decides() || got.Facts[j].Source != f.Source {
				t.Errorf("%s: fact %s: %+v", s.Name, f.Name, got.Facts[j])
			}
		}
	}
}
