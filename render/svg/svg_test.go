package svg

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"flag"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/render/elevation"
	"cagenut/render/style"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	name = filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(name, got, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatalf("%v (run: go test ./render/svg -update)", err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s\nrun: go test ./render/svg -update", name, diff)
	}
}

func ferry(t testing.TB) *estate.Estate {
	t.Helper()
	e, diags, err := lang.Load(context.Background(), source.Folder(filepath.Join("..", "..", "examples", "ferry")), lang.Options{})
	if err != nil || len(diags) > 0 {
		t.Fatal(err, diags)
	}
	return e
}

// marked is a drawing of every mark of a change.
func marked(r *estate.Rack) Options {
	return Options{View: elevation.Front, Marks: map[*estate.Mount]elevation.Mark{
		r.Mount("store-1"):  {Sign: "+", Role: style.In},
		r.Mount("ticket-2"): {Sign: "-", Role: style.Out},
		r.Mount("core-1"):   {Sign: ">", Role: style.Moved},
		r.Mount("strip-a"):  {Sign: "*", Role: style.Altered},
	}}
}

func draw(t testing.TB, r *estate.Rack, o Options) *Drawing {
	t.Helper()
	d, err := Elevation(r, o)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func printSVG(t testing.TB, d *Drawing) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := d.SVG(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestGoldens(t *testing.T) {
	e := ferry(t)
	golden(t, "qt-w-front.svg", printSVG(t, draw(t, e.Rack("qt-w"), Options{View: elevation.Front})))
	golden(t, "s1-side.svg", printSVG(t, draw(t, e.Rack("s1"), Options{View: elevation.Side})))
	golden(t, "odd-front.svg", printSVG(t, draw(t, odd(t).Rack("odd"), Options{View: elevation.Front})))
	golden(t, "odd-side.svg", printSVG(t, draw(t, odd(t).Rack("odd"), Options{View: elevation.Side, Inches: true})))
	golden(t, "hq-a-marked.svg", printSVG(t, draw(t, e.Rack("hq-a"), marked(e.Rack("hq-a")))))
}

// An element of a parsed SVG, with its attributes and text.
type element struct {
	name  string
	attrs map[string]string
	text  string
}

// parse reads an SVG with the XML reader of the standard library, strictly.
func parse(t testing.TB, svg []byte) (all []*element) {
	t.Helper()
	dec := xml.NewDecoder(bytes.NewReader(svg))
	var open []*element
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := &element{name: token.Name.Local, attrs: map[string]string{}}
			for _, a := range token.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			all, open = append(all, e), append(open, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				open[len(open)-1].text += string(token)
			}
		}
	}
}

func float(t testing.TB, s string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Panels are drawn at their true size: 482.6 mm wide, and 43.66 and 88.11 mm
// high for one and two units (panel heights of EIA-310-D as handbooks print
// them, n × 44.45 - 0.79 mm).
func TestPanelsAreToScale(t *testing.T) {
	r := ferry(t).Rack("hq-b")
	d := draw(t, r, Options{View: elevation.Front})
	heights := map[string]float64{}
	var group string
	for _, e := range parse(t, printSVG(t, d)) {
		switch {
		case e.name == "title":
			group = e.text
		case e.name == "rect" && e.attrs["class"] == "cn-body" && strings.HasPrefix(group, "U"):
			heights[group] = float(t, e.attrs["height"])
			// The outline is drawn a millimetre inside, where its stroke ends.
			if w := float(t, e.attrs["width"]) + 2; math.Abs(w-482.6) > 0.01 {
				t.Errorf("%s is %v mm wide, want 482.6", group, w)
			}
			group = ""
		}
	}
	if len(heights) < 3 {
		t.Fatalf("only %d panels: %v", len(heights), heights)
	}
	for group, h := range heights {
		units := 1.0
		if m := regexp.MustCompile(`^U(\d+)-(\d+):`).FindStringSubmatch(group); m != nil {
			units = float(t, m[2]) - float(t, m[1]) + 1
		}
		if want := units*44.45 - 0.79375; math.Abs(h-want) > 0.005 {
			t.Errorf("%s is %v mm high, want %v", group, h, want)
		}
	}
}

// The holes of a post are those of the universal pattern: 6.35, 22.225 and
// 38.1 mm above the lower edge of each unit (EIA-310-D).
func TestHolesAreToScale(t *testing.T) {
	d := draw(t, ferry(t).Rack("s1"), Options{View: elevation.Front}) // round holes
	seen := map[string]int{}
	for _, e := range parse(t, printSVG(t, d)) {
		if e.name == "circle" {
			seen[e.attrs["cx"]]++
		}
	}
	if len(seen) != 2 {
		t.Fatalf("holes stand at %v, want two columns", seen)
	}
	for x, n := range seen {
		if n != 3*24 {
			t.Errorf("%d holes at %s, want three in each of 24 units", n, x)
		}
	}
}

// odd is an estate of everything that is unusual.
func odd(t testing.TB) *estate.Estate {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "elevation", "testdata", "odd.hcl"))
	if err != nil {
		t.Fatal(err)
	}
	e, diags, err := lang.Load(context.Background(), source.Memory("odd", map[string]string{"estate.hcl": string(text)}), lang.Options{})
	if err != nil || len(diags) > 0 {
		t.Fatal(err, diags)
	}
	return e
}

// Every mount is named, whether it is drawn, hidden or not known.
func TestEveryWordCanBeSelected(t *testing.T) {
	for _, view := range []elevation.View{elevation.Front, elevation.Rear, elevation.Side} {
		for _, r := range slices.Concat(ferry(t).Racks, odd(t).Racks) {
			var words []string
			for _, e := range parse(t, printSVG(t, draw(t, r, Options{View: view}))) {
				if e.name == "text" {
					words = append(words, e.text)
				}
			}
			all := strings.Join(words, "\n")
			for _, m := range r.Mounts {
				if (m.ZeroU == nil || view != elevation.Side) && !strings.Contains(all, m.Name) {
					t.Errorf("%s, view %v: %s is not written", r.Name, view, m.Name)
				}
			}
		}
	}
}

// What a change does is told by sign and pattern as well: no two marks look
// alike in grey.
func TestMarksDifferWithoutColour(t *testing.T) {
	seen := map[[2]any]string{}
	for _, c := range []class{body, far, blank, held, shut, comes, goes, moves, alters} {
		l := looks[c]
		k := [2]any{l.pattern, len(l.dash) > 0}
		if c == held || c == blank { // these hold no mount, and so bear no sign
			continue
		}
		if other, ok := seen[k]; ok {
			t.Errorf("%s and %s differ by colour only", l.name, other)
		}
		seen[k] = l.name
	}
}

// Contrast as WCAG 2.2 computes it: text at least 4.5 to 1, outlines 3 to 1, on
// paper and on a dark screen.
func TestContrast(t *testing.T) {
	check := func(what, a, b string, want float64) {
		if a == "" || b == "" {
			return
		}
		la, lb := luminance(t, a), luminance(t, b)
		if got := (max(la, lb) + 0.05) / (min(la, lb) + 0.05); got < want {
			t.Errorf("%s: %s on %s is %.2f to 1, want %v", what, a, b, got, want)
		}
	}
	for _, text := range []class{label, aside, title} {
		for _, ground := range []class{paper, body, far, frame} {
			check(looks[text].name+" on "+looks[ground].name, looks[text].fill, looks[ground].fill, 4.5)
			check("dark "+looks[text].name+" on "+looks[ground].name, looks[text].darkFill, looks[ground].darkFill, 4.5)
		}
	}
	check("sign", looks[sign].fill, looks[badge].fill, 4.5)
	check("dark sign", looks[sign].darkFill, looks[badge].darkFill, 4.5)
	for _, c := range []class{body, clash, comes, goes, moves, alters} {
		check("outline of "+looks[c].name, looks[c].stroke, looks[frame].fill, 3)
		check("dark outline of "+looks[c].name, looks[c].darkStroke, looks[frame].darkFill, 3)
	}
}

func luminance(t *testing.T, hex string) float64 {
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	linear := func(c uint64) float64 {
		f := float64(c&0xff) / 255
		if f <= 0.04045 {
			return f / 12.92
		}
		return math.Pow((f+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(n>>16) + 0.7152*linear(n>>8) + 0.0722*linear(n)
}

func TestPNG(t *testing.T) {
	d := draw(t, ferry(t).Rack("qt-w"), Options{View: elevation.Front})
	var out bytes.Buffer
	if err := d.PNG(&out, 0.5); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&out)
	if err != nil {
		t.Fatal(err)
	}
	w, h := d.Size()
	if b := img.Bounds(); b.Dx() != int(math.Ceil(w/2)) || b.Dy() != int(math.Ceil(h/2)) {
		t.Errorf("picture of %v, want half of %v by %v", b, w, h)
	}
	// Each mount is where the SVG has it, in the colour of paper.
	checked := 0
	for _, s := range d.shapes {
		if s.kind == rect && s.class == body && s.w > 400 {
			got := color.NRGBAModel.Convert(img.At(int((s.x+8)/2), int((s.y+s.h/2)/2)))
			if want := (color.NRGBA{0xfd, 0xfa, 0xf1, 0xff}); got != want {
				t.Errorf("the panel at %v, %v is painted %v, want %v", s.x, s.y, got, want)
			}
			checked++
		}
	}
	if checked == 0 {
		t.Error("no panel was looked at")
	}
	if got := drawable("Ü 受 б", false); got != "Ü □ б" {
		t.Errorf("drawable = %q", got)
	}
	if err := d.PNG(io.Discard, 1e4); err == nil {
		t.Error("a picture of absurd size is drawn")
	}
}

func TestWhatCannotBeDrawnSaysWhy(t *testing.T) {
	tests := []struct {
		rack *estate.Rack
		want string
	}{
		{&estate.Rack{Name: "r"}, "rack.r is not drawn: its frame is not declared"},
		{&estate.Rack{Name: "r", Frame: &estate.Frame{Name: "f"}}, "rack.r is not drawn: the height of frame.f is not known"},
	}
	for _, tt := range tests {
		if _, err := Elevation(tt.rack, Options{}); err == nil || err.Error() != tt.want {
			t.Errorf("Elevation: %v, want %s", err, tt.want)
		}
	}
}

func TestSameRackSameBytes(t *testing.T) {
	e := ferry(t)
	r := e.Rack("hq-a")
	first := printSVG(t, draw(t, r, marked(r)))
	for range 10 {
		if !bytes.Equal(first, printSVG(t, draw(t, r, marked(r)))) {
			t.Fatal("two drawings of one rack differ")
		}
	}
}

// A 19-inch panel on 25 mm posts keeps its own width, and what holds it fills
// the rest of the 535 mm between the edges of the posts (ETS 300 119-3).
func TestAdaptersAreDrawnToScale(t *testing.T) {
	e, diags, err := lang.Load(context.Background(), source.Folder(filepath.Join("..", "..", "examples", "observatory")), lang.Options{})
	if err != nil || len(diags) > 0 {
		t.Fatal(err, diags)
	}
	var panel, holders []float64
	for _, el := range parse(t, printSVG(t, draw(t, e.Rack("c3"), Options{View: elevation.Front, Bare: true}))) {
		switch el.attrs["class"] {
		case "cn-body":
			panel = append(panel, float(t, el.attrs["width"])+2)
		case "cn-adapter":
			holders = append(holders, float(t, el.attrs["width"])+1)
		}
	}
	if len(panel) != 1 || math.Abs(panel[0]-482.6) > 0.01 {
		t.Fatalf("panels %v mm wide, want one of 482.6", panel)
	}
	// The last of the adapters is the sample in the key.
	if len(holders) != 3 || math.Abs(holders[0]-26.2) > 0.01 || math.Abs(holders[1]-26.2) > 0.01 {
		t.Errorf("adapters %v mm wide, want two of 26.2", holders)
	}
}

func TestObstructionsAreDrawnWhereTheyStand(t *testing.T) {
	e, diags, err := lang.Load(context.Background(), source.Memory("strut", map[string]string{"estate.hcl": `
estate "strut" {
  language = 1
}
frame "f" {
  system     = "19in"
  kind       = "cabinet"
  units      = 10
  post_span  = "600 mm"
  front_room = "100 mm"
  rear_room  = "100 mm"
  obstruction "fan-tray" {
    from = "100 mm"
    to   = "160 mm"
    near = "250 mm"
    far  = "400 mm"
  }
}
rack "r" {
  frame = frame.f
}
`}), lang.Options{})
	if err != nil || len(diags) > 0 {
		t.Fatal(err, diags)
	}
	var post, strut *element
	for _, el := range parse(t, printSVG(t, draw(t, e.Rack("r"), Options{View: elevation.Side}))) {
		switch {
		case el.attrs["class"] == "cn-post" && post == nil:
			post = el
		case el.attrs["class"] == "cn-obstacle" && strut == nil:
			strut = el
		}
	}
	if post == nil || strut == nil {
		t.Fatal("no post or no obstruction is drawn")
	}
	at := func(e *element, attr string) float64 { return float(t, e.attrs[attr]) }
	if depth, low := at(strut, "x")-at(post, "x"), at(post, "y")+at(post, "height")-at(strut, "y")-at(strut, "height"); math.Abs(depth-250) > 0.01 ||
		math.Abs(low-100) > 0.01 || at(strut, "width") != 150 || at(strut, "height") != 60 {
		t.Errorf("drawn %v mm behind the posts, %v mm up, %v by %v; want 250, 100, 150 by 60", depth, low, at(strut, "width"), at(strut, "height"))
	}
}
