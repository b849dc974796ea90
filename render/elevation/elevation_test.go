package elevation

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/render/style"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares got with the named file, or writes it under -update.
func golden(t *testing.T, name, got string) {
	t.Helper()
	name = filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatalf("%v (run: go test ./render/elevation -update)", err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s\nrun: go test ./render/elevation -update", name, diff)
	}
}

func load(t *testing.T, tree source.Tree) *estate.Estate {
	t.Helper()
	e, diags, err := lang.Load(context.Background(), tree, lang.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		t.Errorf("%s:%d: %s", d.File, d.Start, d.Summary)
	}
	return e
}

func ferry(t *testing.T) *estate.Estate {
	return load(t, source.Folder(filepath.Join("..", "..", "examples", "ferry")))
}

func odd(t *testing.T) *estate.Estate {
	text, err := os.ReadFile(filepath.Join("testdata", "odd.hcl"))
	if err != nil {
		t.Fatal(err)
	}
	return load(t, source.Memory("odd", map[string]string{"estate.hcl": string(text)}))
}

func draw(r *estate.Rack, o Options, t *style.Table) string { return style.Page(Draw(r, o), t) }

func TestElevations(t *testing.T) {
	shore, strange := ferry(t), odd(t)
	tests := []struct {
		name   string
		estate *estate.Estate
		rack   string
		o      Options
	}{
		{"hq-a-front", shore, "hq-a", Options{View: Front}},
		{"hq-a-front-ascii", shore, "hq-a", Options{View: Front, ASCII: true}},
		{"hq-a-front-40", shore, "hq-a", Options{View: Front, Width: 40}},
		{"hq-a-rear", shore, "hq-a", Options{View: Rear}},
		{"hq-a-side", shore, "hq-a", Options{View: Side}},
		{"hq-b-front", shore, "hq-b", Options{View: Front}},
		{"s1-front", shore, "s1", Options{View: Front}}, // counted downward
		{"qt-w-side", shore, "qt-w", Options{View: Side, ASCII: true}},
		{"odd-front", strange, "odd", Options{View: Front}},
		{"odd-front-ascii", strange, "odd", Options{View: Front, ASCII: true}},
		{"odd-rear", strange, "odd", Options{View: Rear}},
		{"odd-side", strange, "odd", Options{View: Side}},
		{"odd-front-in", strange, "odd", Options{View: Front, Inches: true}},
		{"metric-front", strange, "metric", Options{View: Front}}, // given by length, counted downward
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := tt.estate.Rack(tt.rack)
			if r == nil {
				t.Fatalf("no rack %s", tt.rack)
			}
			golden(t, tt.name+".txt", draw(r, tt.o, nil))
		})
	}
}

// TestWithoutHeight draws a rack of whose frame the height is not declared, and
// one without a frame.
func TestWithoutHeight(t *testing.T) {
	e := &estate.Equipment{Name: "box"}
	formless := &estate.Rack{Name: "formless", Frame: &estate.Frame{Name: "cab"}}
	formless.Mounts = []*estate.Mount{{Name: "box-1", Rack: formless, Equipment: e, At: estate.Units(4)}, {Name: "box-2", Rack: formless}}
	frameless := &estate.Rack{Name: "frameless"}
	golden(t, "without-height.txt", draw(formless, Options{}, nil)+draw(frameless, Options{}, nil))
}

// What stands so far outside its frame that no row shows it is named below.
func TestFarOutside(t *testing.T) {
	frame := &estate.Frame{Name: "cab", Units: 6, First: 1}
	q := &estate.Equipment{Name: "box"}
	r := &estate.Rack{Name: "a", Frame: frame}
	r.Mounts = []*estate.Mount{{Name: "near", Rack: r, Equipment: q, At: estate.Units(7)}, {Name: "far", Rack: r, Equipment: q, At: estate.Units(60)}}
	for _, view := range []View{Front, Rear, Side} {
		text := draw(r, Options{View: view}, nil)
		if !strings.Contains(text, "! far (box): not drawn, it is at U60\n") || strings.Contains(text, "near (box): not drawn") {
			t.Errorf("view %d names what is far outside otherwise:\n%s", view, text)
		}
	}
}

var escapes = regexp.MustCompile("\x1b\\[[0-9;]*m")

// TestEveryElevationFits asks of every rack, view and width what a terminal
// needs: no line too wide, nothing but ASCII where ASCII is asked for, and the
// same text with and without colour.
func TestEveryElevationFits(t *testing.T) {
	for _, e := range []*estate.Estate{ferry(t), odd(t)} {
		for _, r := range e.Racks {
			for _, view := range []View{Front, Rear, Side} {
				for _, width := range []int{32, 40, 53, 64, 80, 120, 200} {
					for _, ascii := range []bool{false, true} {
						o := Options{View: view, Width: width, ASCII: ascii}
						plain := draw(r, o, nil)
						for _, line := range strings.Split(plain, "\n") {
							if w := style.Width(line); w > width {
								t.Errorf("%s view %d width %d: %d cells: %q", r.Name, view, width, w, line)
							}
							for _, c := range line {
								if ascii && c > '~' && !strings.ContainsRune(names(r), c) {
									t.Errorf("%s view %d: %q in an ASCII drawing: %q", r.Name, view, c, line)
								}
							}
						}
						if bare := escapes.ReplaceAllString(draw(r, o, style.New(true)), ""); bare != plain {
							t.Errorf("%s view %d width %d: colour changes the text:\n%s", r.Name, view, width, cmp.Diff(plain, bare))
						}
					}
				}
			}
		}
	}
}

// names gives all that people have named in a rack.
func names(r *estate.Rack) string {
	all := r.Name
	for _, m := range r.Mounts {
		all += m.Name
	}
	return all
}
