package load_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/render/load"
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
		t.Fatalf("%v (run: go test ./render/load -update)", err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s\nrun: go test ./render/load -update", name, diff)
	}
}

func read(t *testing.T, files map[string]string) *estate.Estate {
	t.Helper()
	e, mistakes, err := lang.Load(context.Background(), source.Memory("test", files), lang.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range mistakes {
		t.Errorf("%s: %s", m.File, m.Summary)
	}
	return e
}

func strip(t *testing.T) []load.Sheet { return sheetsOf(t, "testdata/strip.hcl") }

// sheetsOf gives the sheets of the first rack and the first room of a file.
func sheetsOf(t *testing.T, name string) []load.Sheet {
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	e := read(t, map[string]string{"estate.hcl": string(text)})
	supply := e.Supply()
	return []load.Sheet{load.Rack(e, supply, e.Racks[0]), load.Room(e, supply, e.Rooms[0])}
}

func TestGoldens(t *testing.T) {
	sheets := strip(t)
	golden(t, "strip.txt", []byte(style.Page(load.Text(sheets, load.Options{}), nil)))
	var md, table, doc bytes.Buffer
	for err := range map[error]bool{load.Markdown(&md, sheets): true, load.CSV(&table, sheets): true, load.JSON(&doc, sheets): true} {
		if err != nil {
			t.Fatal(err)
		}
	}
	golden(t, "strip.md", md.Bytes())
	golden(t, "strip.csv", table.Bytes())
	golden(t, "strip.json", doc.Bytes())
	golden(t, "backup.txt", []byte(style.Page(load.Text(sheetsOf(t, "testdata/backup.hcl"), load.Options{}), nil)))
}

// Volt-amperes beside watts, leakage, and UPS at normal load and at that of a
// failure, worked by hand from the file: three of 820 W at 0.92 with two cords, one
// of 400 W at 0.7 and one of 120 VA behind a UPS of their own.
func TestBackup(t *testing.T) {
	sheets := sheetsOf(t, "testdata/backup.hcl")
	tests := []struct {
		section, name string
		want, within  float64
		text          string
		beyond        bool
	}{
		{"power", "feed.a, active power", 1.5*820 + 400, 0.001, "at least 1630 W", false},
		{"power", "feed.a, apparent power", math.Hypot(1630, 1230*math.Tan(math.Acos(0.92))+400*math.Tan(math.Acos(0.7))) + 120, 0.001, "1998 VA", false},
		{"power", "feed.b, apparent power", 1230 / 0.92, 0.001, "1337 VA", false},
		{"earth leakage", "feed.a, protective conductor", 3*1.6 + 0.9 + 0.5 + 1, 0.001, "7.2 mA", false},
		{"earth leakage", "feed.b, protective conductor", 3 * 1.6, 0.001, "4.8 mA", false},
		{"earth leakage", "breaker.q1, on its residual current device", 7.2, 0.001, "7.2 mA", false},
		{"sources and their batteries", "source.ups-a, active, feed.b lost", 3*820 + 400, 0.001, "at least 2860 W", true},
		{"sources and their batteries", "source.ups-a, apparent, feed.b lost", math.Hypot(2860, 2460*math.Tan(math.Acos(0.92))+400*math.Tan(math.Acos(0.7))) + 120, 0.001, "3329 VA", true},
		{"sources and their batteries", "source.ups-a, runtime, nothing lost", 1 / (950./1350/17 + 400./1350/6), 0.001, "11 min", true},
		{"sources and their batteries", "source.ups-a, runtime, feed.b lost", 6, 0.001, "under 6 min", true},
		{"sources and their batteries", "rack.l1.lan-ups, active, nothing lost", 400, 0.001, "at least 400 W", false},
		{"sources and their batteries", "rack.l1.lan-ups, runtime, nothing lost", 7, 0.001, "under 7 min", true},
	}
	for _, sheet := range sheets {
		for _, tt := range tests {
			f := figure(t, sheet, tt.section, tt.name)
			if f.Number == nil || math.Abs(*f.Number-tt.want) > tt.within || f.Value != tt.text || f.Beyond() != tt.beyond {
				t.Errorf("%s, %s = %v, %q, beyond %v; want %g, %q, %v", sheet.Kind, tt.name, f.Number, f.Value, f.Beyond(), tt.want, tt.text, tt.beyond)
			}
		}
		if f := figure(t, sheet, "power", "feed.a, active power"); f.Unknown != "the power factor of equipment.modem is missing" {
			t.Errorf("watts that are not known are told as %q", f.Unknown)
		}
	}
}

// A sum that lacks a figure is a lower bound, and so is what follows from it;
// with nothing in it there is no figure at all.
func TestSumsThatLackFigures(t *testing.T) {
	const text = `
estate "t" {}
site "s" { altitude = "0 m" }
room "h" {
  site       = site.s
  supply_air = "20 C"
}
row "r" { room = room.h }
frame "cab" {
  system = "19in"
  units  = 42
  mass   = "100 kg"
  width  = "600 mm"
  depth  = "1000 mm"
}
equipment "store" {
  height = "2U"
  mass   = "20 kg"
  draw   = "1000 W"
}
equipment "other" {
  height = "2U"
  mass   = unknown
  draw   = unknown
}
rack "a" {
  frame = frame.cab
  row   = row.r
  mount "store" {
    at        = 1
    equipment = equipment.store
  }
  mount "other" {
    at        = 3
    equipment = equipment.other
  }
}
rack "b" {
  frame = frame.cab
  row   = row.r
  mount "other" {
    at        = 3
    equipment = equipment.other
  }
}
`
	e := read(t, map[string]string{"estate.hcl": text})
	supply := e.Supply()
	a, b := load.Rack(e, supply, e.Racks[0]), load.Rack(e, supply, e.Racks[1])
	for _, tt := range []struct{ section, name, a, b string }{
		{"heat and air", "heat", "at least 1000 W", ""},
		{"heat and air", "heat in BTU/h", "at least 3412 BTU/h", ""},
		{"heat and air", "air at a rise of 12 K", "at least 248 m3/h", ""}, // 297.2 m3/h a kilowatt at 10 K
		{"mass", "mounted", "at least 20 kg", ""},
		{"mass", "with cables", "at least 21 kg", ""},
		{"mass", "with the frame", "at least 121 kg", "at least 100 kg"},
		{"floor", "worst of four feet", "at least 371 N", "at least 306 N"}, // 121 kg × 9.80665 / 4 × 1.25
	} {
		for want, sheet := range map[string]load.Sheet{tt.a: a, tt.b: b} {
			f := figure(t, sheet, tt.section, tt.name)
			if f.Value != want || f.Unknown == "" || (f.Number == nil) != (want == "") {
				t.Errorf("rack %s, %s = %q (%v, not known: %q), want %q", sheet.Name, tt.name, f.Value, f.Number, f.Unknown, want)
			}
		}
	}
}

// figure finds a figure by section and name.
func figure(t *testing.T, s load.Sheet, section, name string) load.Figure {
	t.Helper()
	for _, c := range s.Sections {
		for _, f := range c.Figures {
			if c.Name == section && f.Name == name {
				return f
			}
		}
	}
	t.Fatalf("no figure %q in section %q", name, section)
	return load.Figure{}
}

// The figures of the strip are printed in a consultant's article; the rest is
// worked by hand from the files.
func TestFigures(t *testing.T) {
	rack := strip(t)[0]
	tests := []struct {
		section, name string
		want, within  float64
		beyond        bool
	}{
		{"power", "feed.t, nothing lost", 17.15, 0.01, false}, // balanced it would be well inside
		{"power", "feed.t, line 1", 14.42, 0.5, false},
		{"power", "feed.t, line 2", 25.73, 0.05, true},
		{"power", "r1.strip, bank 1", 3000. / 208, 0.005, false},
		{"heat and air", "heat", 3*800 + 6*530, 0.001, false},
		{"mass", "mounted", 3*30 + 6*16 + 6 + 2, 0.001, false},
		{"balance", "kilo-1 pulled out is held", 0, -1, false},
		{"earthquake", "zone that the frame is rated for", 2, 0, true},
		// At grade the minimum of ASCE 7-16 governs: 0.45 of (110 + 194) kg.
		{"earthquake", "horizontal screening force", 0.45 * (110 + 194*1.05) * 9.80665, 0.1, false},
	}
	for _, tt := range tests {
		f := figure(t, rack, tt.section, tt.name)
		if tt.within < 0 {
			if f.Number == nil && f.Value == "" {
				t.Errorf("%s is not reckoned: %s", tt.name, f.Unknown)
			}
			continue
		}
		if f.Number == nil || math.Abs(*f.Number-tt.want) > tt.within {
			t.Errorf("%s = %v (%s), want %g", tt.name, f.Number, f.Unknown, tt.want)
		}
		if f.Beyond() != tt.beyond {
			t.Errorf("%s: beyond is %v", tt.name, f.Beyond())
		}
	}
}

// A sheet of little says what is missing, and gives no structural figure.
func TestUnknown(t *testing.T) {
	e := read(t, map[string]string{"estate.hcl": `
estate "bare" {}
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "box" {
  height = "2U"
  inlets = { type = "c14", count = 1, needs = 1 }
}
feed "a" {}
rack "r" {
  frame = frame.cab
  mount "box-1" {
    at        = 1
    equipment = equipment.box
    feeds     = [feed.a]
  }
}
`})
	s := load.Rack(e, e.Supply(), e.Rack("r"))
	for _, want := range []struct{ section, name, why string }{
		{"power", "feed.a, nothing lost", "the voltage of feed.a is missing"},
		{"heat and air", "heat", "the typical draw of equipment.box is missing"},
		{"mass", "mounted", "the mass of equipment.box is missing"},
		{"balance", "centre of mass", "the mass of frame.cab is missing"},
		{"floor", "pressure", "the mass of frame.cab is missing"},
	} {
		if f := figure(t, s, want.section, want.name); f.Unknown != want.why {
			t.Errorf("%s: %q, want %q", want.name, f.Unknown, want.why)
		}
	}
}

// Every form says who decides, fits its page, and never gives a verdict.
func TestForms(t *testing.T) {
	sheets := append(strip(t), sheetsOf(t, "testdata/backup.hcl")...)
	text := style.Page(load.Text(sheets, load.Options{ASCII: true}), nil)
	for i, line := range strings.Split(text, "\n") {
		if style.Width(line) > 80 {
			t.Errorf("line %d has %d cells: %s", i+1, style.Width(line), line)
		}
		for _, r := range line {
			if r > 126 {
				t.Fatalf("line %d has %q in a page of ASCII", i+1, r)
			}
		}
	}
	var md, table, doc bytes.Buffer
	if err := load.Markdown(&md, sheets); err != nil {
		t.Fatal(err)
	}
	if err := load.CSV(&table, sheets); err != nil {
		t.Fatal(err)
	}
	if err := load.JSON(&doc, sheets); err != nil {
		t.Fatal(err)
	}
	for name, form := range map[string]string{"text": text, "markdown": md.String(), "csv": table.String(), "json": doc.String()} {
		if !strings.Contains(strings.Join(strings.Fields(form), " "), "certifies nothing") {
			t.Errorf("%s has no caution", name)
		}
		for _, word := range []string{" safe ", "compliant", " OK"} {
			if strings.Contains(form, word) {
				t.Errorf("%s says %q", name, word)
			}
		}
	}
	rows, err := csv.NewReader(&table).ReadAll()
	if err != nil || len(rows) < 40 {
		t.Errorf("a reader of CSV finds %d rows: %v", len(rows), err)
	}
	var back load.Document
	if err := json.Unmarshal(doc.Bytes(), &back); err != nil || back.Format != load.Format || len(back.Sheets) != 4 {
		t.Errorf("the JSON reads back as %+v: %v", back.Format, err)
	}
}

// Each other feed lost is shown, and a source where it is worse than all of them.
func TestLostStates(t *testing.T) {
	e := read(t, map[string]string{"estate.hcl": `
estate "lost" {}
frame "cab" {
  system = "19in"
  units  = 42
}
feed "a" {
  source  = "ups"
  voltage = "230 V"
  rated   = "16 A"
}
feed "b" {
  source  = "ups"
  voltage = "230 V"
  rated   = "16 A"
}
feed "c" {
  source  = "mains"
  voltage = "230 V"
  rated   = "16 A"
}
feed "elsewhere" { voltage = "230 V" }
equipment "chassis" {
  height = "6U"
  draw   = "4500 W"
  inlets = { type = "c20", count = 3, needs = 1 }
}
rack "r" {
  frame = frame.cab
  mount "chassis-1" {
    at        = 1
    equipment = equipment.chassis
    feeds     = [feed.a, feed.b, feed.c]
  }
}
`})
	s := load.Rack(e, e.Supply(), e.Rack("r"))
	for name, want := range map[string]float64{
		"feed.c, nothing lost":                        1500. / 230,
		"feed.c, feed.a lost":                         2250. / 230,
		"feed.c, feed.b lost":                         2250. / 230,
		"feed.c, source ups lost (feed.a and feed.b)": 4500. / 230,
		"feed.a, feed.c lost":                         2250. / 230,
	} {
		f := figure(t, s, "power", name)
		if f.Number == nil || math.Abs(*f.Number-want) > 1e-4 {
			t.Errorf("%s = %v, want %.3f A", name, f.Value, want)
		}
		if beyond := want > 16; f.Beyond() != beyond {
			t.Errorf("%s: beyond is %v", name, f.Beyond())
		}
	}
	for _, f := range s.Sections[0].Figures {
		if strings.Contains(f.Name, "elsewhere") {
			t.Errorf("a feed that shares nothing is shown: %s", f.Name)
		}
	}
}

// 1840 W at 230 V are 8 A at unity power factor and 10 A at 0.8.
func TestPowerFactor(t *testing.T) {
	for _, tt := range []struct {
		factor string
		want   string
		from   string
	}{
		{"", "8 A", "1840 W maximum over all racks / 230 V"},
		{"power_factor = 0.8", "10 A", "2300 VA by power factor (1840 W maximum over all racks) / 230 V"},
	} {
		e := read(t, map[string]string{"estate.hcl": `
estate "e" { language = 1 }
frame "cab" {
  system = "19in"
  units  = 42
}
feed "a" {
  voltage = "230 V"
  rated   = "16 A"
}
equipment "amp" {
  height = "2U"
  draw   = "1840 W"
  inlets = { type = "c20", count = 1, needs = 1 }
  ` + tt.factor + `
}
rack "r1" {
  frame = frame.cab
  feeds = [feed.a]
  mount "amp-1" {
    at        = 1
    equipment = equipment.amp
    feeds     = [feed.a]
  }
}
`})
		got := figure(t, load.Rack(e, e.Supply(), e.Rack("r1")), "power", "feed.a, nothing lost")
		if got.Value != tt.want || !strings.HasPrefix(got.From, tt.from) {
			t.Errorf("%q: %s from %q, want %s from %q", tt.factor, got.Value, got.From, tt.want, tt.from)
		}
	}
}
