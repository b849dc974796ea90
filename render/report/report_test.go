package report

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/text"
	"cagenut/lint"
	"cagenut/render/style"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares got with the named file, or writes it under -update.
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
		t.Fatalf("%v (run: go test ./render/report -update)", err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s\nrun: go test ./render/report -update", name, diff)
	}
}

// files are the texts that the sample points into.
var files = map[string]string{
	"hq/hq-a.hcl": `rack "hq-a" {
  frame = frame.cab-42
  feeds = [feed.a, feed.b]

  mount "server-3" {
    at        = 14
	equipment = equipment.server # a tab before it
    feeds     = [feed.a, feed.b]
    owner     = "Fährbüro 券売"
  }
  mount "console" {
    at        = 20
    equipment = equipment.console
  }
}
`,
	"equipment.hcl": `equipment "server" {
  height = "2U"
  rails  = { from = "610 mm", to = "720 mm" }
}
`,
	"quay/qt-w.hcl": "rack \"qt-w\" {\r\n  frame = frame.wall-9\r\n  mount \"ups\" { at = 1, equipment = equipment.ups }\r\n}\r\n",
}

// at finds the nth place of the words in a sample file.
func at(t testing.TB, file, words string, nth int) estate.Range {
	t.Helper()
	from := 0
	for range nth {
		i := strings.Index(files[file][from:], words)
		if i < 0 {
			t.Fatalf("%q is not %d times in %s", words, nth, file)
		}
		from += i + len(words)
	}
	return estate.Range{File: file, Span: estate.Span{Start: int32(from - len(words)), End: int32(from)}}
}

// sample is a page with something of everything.
func sample(t testing.TB) *Page {
	waiver := &estate.Waiver{Rule: "fit/too-deep", Until: estate.NewDate(2027, time.January, 31), Reason: "door off until the new frame arrives", By: "facilities"}
	result := &lint.Result{Racks: 4, Mounts: 41, Findings: []lint.Finding{
		{
			Rule: "power/feed-lost", Level: lint.Error, At: at(t, "hq/hq-a.hcl", "[feed.a, feed.b]", 1),
			Message: "with feed.b lost, feed.a carries 15.5 A; 12.8 A may last (16 A x 0.8)", Thing: "feed.a", Others: []string{"feed.b"}, Rack: "hq-a",
		},
		{
			Rule: "fit/rail-span", Level: lint.Error, At: at(t, "hq/hq-a.hcl", "equipment.server", 1),
			Message: "the rails of server reach 610 to 720 mm; the posts of cab-42 stand 740 mm apart", Thing: "rack.hq-a.server-3", Rack: "hq-a",
			Related: []lint.Related{{At: at(t, "equipment.hcl", `{ from = "610 mm", to = "720 mm" }`, 1), Message: "how far they reach is declared here"}},
			Fixes:   []lint.Fix{{Title: "Choose rails that reach 740 mm"}},
		},
		{
			Rule: "record/no-owner", Level: lint.Note, At: at(t, "hq/hq-a.hcl", "Fährbüro 券売", 1),
			Message: "Fährbüro 券売 is no owner that the estate knows", Thing: "rack.hq-a.server-3", Rack: "hq-a",
		},
		{
			Rule: "fit/too-deep", Level: lint.Error, At: at(t, "hq/hq-a.hcl", "equipment.server", 1),
			Message: "server-3 needs 790 mm behind the front posts (730 + 60 cords); cab-42 has 740 mm", Thing: "rack.hq-a.server-3", Rack: "hq-a", Waiver: waiver,
		},
		{
			Rule: "load/cantilever", Level: lint.Warning, At: at(t, "quay/qt-w.hcl", "ups", 1),
			Message: "ups weighs 34 kg and hangs on the front posts of a wall frame alone", Thing: "rack.qt-w.ups", Rack: "qt-w",
		},
	}}
	for _, name := range []string{"ups", "battery", "storage", "strip", "panel"} {
		result.Unchecked = append(result.Unchecked, lint.Unchecked{
			Rule: "load/tip-over", Thing: "rack.hq-a." + name, Rack: "hq-a", At: at(t, "hq/hq-a.hcl", "frame.cab-42", 1),
			Because: "the width of frame.cab-42 is missing",
		})
	}
	result.Unchecked = append(result.Unchecked,
		lint.Unchecked{Rule: "fit/too-deep", Thing: "rack.hq-a.console", Rack: "hq-a", At: at(t, "hq/hq-a.hcl", "equipment.console", 1), Because: "the depth of equipment.console is unknown"},
		lint.Unchecked{Rule: "space/collision", Thing: "rack.hq-a.console", Rack: "hq-a", At: at(t, "hq/hq-a.hcl", "equipment.console", 1), Because: "the depth of equipment.console is unknown"},
		lint.Unchecked{Rule: "load/floor", Because: "no room says what its floor may carry"},
	)
	return &Page{
		Result: result,
		Rules: []*lint.Rule{
			{ID: "fit/rail-span", Summary: "rails that do not reach from post to post", Why: "Rails that do not reach cannot be bolted at the rear.", Level: lint.Error, Source: "common practice"},
			{ID: "fit/too-deep", Summary: "equipment deeper than its frame", Why: "The door will not close.", Level: lint.Error, Source: "common practice"},
			{ID: "load/cantilever", Summary: "a heavy load on the front posts alone", Why: "It bends the posts.", Level: lint.Warning, Source: "common practice", Decides: "a structural engineer"},
			{ID: "power/feed-lost", Summary: "a feed overloaded when another is lost", Why: "It trips when it is needed.", Level: lint.Error, Source: "common practice"},
			{ID: "record/no-owner", Summary: "nobody answers for it", Why: "Nobody can be asked.", Level: lint.Note, Source: "common practice"},
		},
		Mistakes: []lang.Diagnostic{{
			Range: at(t, "quay/qt-w.hcl", `{ at = 1, equipment = equipment.ups }`, 1), Severity: lang.Error,
			Summary: `a block on one line takes one argument; write each on a line of its own`,
			Detail:  "mount \"ups\" has two",
		}},
		Broken: []string{"quay/qt-w.hcl"},
		Texts: func(file string) *text.Text {
			if s, ok := files[file]; ok {
				return text.New([]byte(s))
			}
			return nil
		},
		Path:    func(file string) string { return "racks/" + file },
		Version: "test",
	}
}

// clean is a page on which nothing was found.
func clean() *Page { return &Page{Result: &lint.Result{Racks: 1, Mounts: 2}} }

func TestText(t *testing.T) {
	based := sample(t)
	based.Base = &Base{Name: "main", Cured: 2, Old: 7}
	tests := []struct {
		golden string
		page   *Page
		look   Look
	}{
		{"text_log.txt", sample(t), Look{}},
		{"text_80.txt", sample(t), Look{Width: 80}},
		{"text_40.txt", sample(t), Look{Width: 40}},
		{"text_ascii.txt", sample(t), Look{Width: 72, ASCII: true}},
		{"text_base.txt", based, Look{Width: 80}},
		{"text_clean.txt", clean(), Look{Width: 80}},
	}
	for _, tt := range tests {
		t.Run(tt.golden, func(t *testing.T) {
			var got bytes.Buffer
			if err := Text(&got, tt.page, tt.look); err != nil {
				t.Fatal(err)
			}
			golden(t, tt.golden, got.Bytes())
			for _, line := range strings.Split(got.String(), "\n") {
				if w := style.Width(line); tt.look.Width > 0 && w > tt.look.Width {
					t.Errorf("%d cells in a line, want at most %d:\n%s", w, tt.look.Width, line)
				}
				if strings.TrimRight(line, " ") != line {
					t.Errorf("blanks at the end of %q", line)
				}
			}

			var coloured bytes.Buffer
			tt.look.Colours = style.New(true)
			if err := Text(&coloured, tt.page, tt.look); err != nil {
				t.Fatal(err)
			}
			if bare := regexp.MustCompile("\x1b\\[[0-9;]*m").ReplaceAllString(coloured.String(), ""); bare != got.String() {
				t.Errorf("colour changes the text:\n%s", cmp.Diff(got.String(), bare))
			}
		})
	}
}

func TestASCIIKeepsToASCII(t *testing.T) {
	page := sample(t)
	page.Result.Findings = page.Result.Findings[:2] // names of the estate stay as they are written
	page.Mistakes = nil
	var got bytes.Buffer
	if err := Text(&got, page, Look{Width: 60, ASCII: true}); err != nil {
		t.Fatal(err)
	}
	for _, r := range got.String() {
		if r > 126 {
			t.Fatalf("%q is not ASCII in:\n%s", r, got.String())
		}
	}
}

func TestUnchecked(t *testing.T) {
	var got bytes.Buffer
	if err := Unchecked(&got, sample(t), Look{Width: 80}); err != nil {
		t.Fatal(err)
	}
	golden(t, "unchecked_80.txt", got.Bytes())
}

// Four hundred reasons must not drown the reader, and none may be lost from
// the count.
func TestUncheckedManyReasons(t *testing.T) {
	page := clean()
	for i := range 400 {
		page.Result.Unchecked = append(page.Result.Unchecked, lint.Unchecked{
			Rule: "fit/too-deep", Thing: "rack.r.m", Because: "the depth of equipment.e" + string(rune('a'+i%26)) + string(rune('a'+i/26)) + " is unknown",
		})
	}
	var got bytes.Buffer
	if err := Unchecked(&got, page, Look{}); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(got.String(), "\n"); n > 120 {
		t.Errorf("%d lines for 400 reasons", n)
	}
	for _, want := range []string{"and 370 further reasons that keep 370 more from being checked: fit/too-deep 370;", "400 not checked, for 400 reasons\n"} {
		if !strings.Contains(got.String(), want) {
			t.Errorf("%q is missing from:\n%s", want, got.String()[max(0, got.Len()-300):])
		}
	}
}

func TestCounts(t *testing.T) {
	tests := []struct {
		counts Counts
		want   string
		worst  lint.Level
	}{
		{Counts{Errors: 3, Warnings: 2, Unchecked: 41, Racks: 42, Mounts: 611}, "3 errors, 2 warnings, 41 not checked in 42 racks, 611 mounts", lint.Error},
		{Counts{Errors: 1, Warnings: 1, Notes: 1, Unchecked: 1, Racks: 1, Mounts: 1}, "1 error, 1 warning, 1 note, 1 not checked in 1 rack, 1 mount", lint.Error},
		{Counts{Notes: 2, Racks: 2, Mounts: 3}, "0 errors, 0 warnings, 2 notes, 0 not checked in 2 racks, 3 mounts", lint.Note},
		{Counts{Warnings: 2, Racks: 2, Mounts: 3}, "0 errors, 2 warnings, 0 not checked in 2 racks, 3 mounts", lint.Warning},
		{Counts{Waived: 4, Unchecked: 41, Racks: 42, Mounts: 611}, "no finding among the checked rules, 41 not checked in 42 racks, 611 mounts", lint.NoLevel},
	}
	for _, tt := range tests {
		if got := tt.counts.String(); got != tt.want || tt.counts.Worst() != tt.worst {
			t.Errorf("%+v = %q, %v, want %q, %v", tt.counts, got, tt.counts.Worst(), tt.want, tt.worst)
		}
	}
}

// No word may promise what the tool cannot know.
func TestNeverPromises(t *testing.T) {
	for _, page := range []*Page{sample(t), clean()} {
		var got bytes.Buffer
		for _, err := range []error{Text(&got, page, Look{}), Unchecked(&got, page, Look{}), JSON(&got, page)} {
			if err != nil {
				t.Fatal(err)
			}
		}
		if bad := regexp.MustCompile(`(?i)\bsafe|complian|\bok\b|passed`).FindString(got.String()); bad != "" {
			t.Errorf("the report says %q", bad)
		}
	}
}
