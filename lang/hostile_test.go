package lang

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestHostile reads files that were made to take the reader's stack, memory or
// time. None may, and each is told what is wrong with it.
func TestHostile(t *testing.T) {
	frame := func(value string) string {
		return "frame \"f\" {\n  system = \"19in\"\n  units = " + value + "\n}\n"
	}
	const deep = "nested deeper here than anything in an estate"
	tests := []struct{ name, text, want string }{
		{"number with a huge exponent", frame("1e99999999"), "units: takes a whole number, not 1e99999999"},
		{"number with a tiny exponent", frame("1e-99999999"), "units: takes a whole number, not 1e-99999999"},
		{"length with a huge exponent", frame("42\n  depth = 1e99999999"), "depth: 1e99999999 is not a length"},
		{"place with a huge exponent", "layout \"l\" {\n  mount \"m\" {\n    at = 1e99999999\n    equipment = equipment.q\n  }\n}", "at: 1e99999999 is no unit number"},
		{"number beyond all bounds", frame("1e9999999999"), "this number cannot be read"},
		{"arithmetic on huge numbers", frame("1e999999999 * 1e999999999"), "has a number of this size"},
		{"huge number in a text", frame("42\n  depth = \"${1e99999999} mm\""), "has a number of this size"},
		{"nested brackets", frame(strings.Repeat("(", 50_000) + "1"), deep},
		{"nested lists", frame(strings.Repeat("[", 50_000)), deep},
		{"row of !", frame(strings.Repeat("!", 50_000) + "true"), deep},
		{"row of -", frame(strings.Repeat("- ", 50_000) + "1"), deep},
		{"nested choices", frame(strings.Repeat("true ? 1 : ", 50_000) + "1"), deep},
		{"long sum", frame("1" + strings.Repeat("+1", 50_000)), deep},
		{"nested templates", frame("\"" + strings.Repeat("${\"", 30_000)), deep},
		{"templates in a heredoc", frame("<<E\n" + strings.Repeat("${", 20_000) + "\nE\n"), deep},
		{"directives", frame("\"" + strings.Repeat("%{if a}", 30_000) + "\""), deep},
		{"long name", frame("a" + strings.Repeat(".b", 50_000)), "takes a whole number, not the name a.b.b"},
		{"many labels", "frame " + strings.Repeat("\"x\" ", 50_000) + "{\n}", "takes one name"},
		{"many unknown blocks", strings.Repeat("nonsense {}\n", 20_000), "19800 more mistakes in this file are not shown"},
		{"many like attributes", "pace {\n" + strings.Repeat("nonsense = \"3 min\"\n", 20_000) + "}", "19799 more mistakes"},
		{"long label", "frame \"" + strings.Repeat("x ", 1<<16) + "\" {\n}", "cannot be referred to"},
		{"terminal escape in a text", "rack \"r\" {\n  frame = frame.f\n  owner = \"\\u001b[31m\"\n}", "the text holds the character U+001B"},
		{"reversing character in a text", "rack \"r\" {\n  frame = frame.f\n  owner = \"a\u202eb\"\n}", "the text holds the character U+202E"},
		{"terminal escape in a label", "rack \"r\x1b[2J\" {\n  frame = frame.f\n}", `cannot be referred to`},
		{"not UTF-8", "rack \"r\" {\n  frame = frame.f\n  owner = \"\xff\xfe\"\n}", "not in UTF-8"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := ""
			for _, d := range diagnose(t, tt.text) {
				got += d.Summary + "\n"
			}
			if !strings.Contains(got, tt.want) {
				t.Errorf("the messages are\n%s\nwant one with %q", clip(got), tt.want)
			}
			if i := strings.IndexFunc(strings.ReplaceAll(got, "\n", ""), hidden); i >= 0 {
				t.Errorf("the messages hold a character that acts on a terminal: %q", got)
			}
			if len(got) > 100_000 {
				t.Errorf("the messages take %d bytes", len(got))
			}
			diagnoseFile(t, "a.hcl.json", tt.text)
		})
	}
}

// A file in UTF-16 is one mistake, not one for each of its lines.
func TestUTF16IsOneMistake(t *testing.T) {
	for _, text := range []string{"\xff\xfef\x00 \x00{\x00\n\x00}\x00\n\x00", "\xfe\xff\x00f\x00 \x00{\x00\n\x00}\x00\n"} {
		diags := diagnose(t, text)
		if len(diags) == 0 || diags[0].Summary != "the file is in UTF-16; save it as UTF-8" {
			t.Errorf("%q gives %v", text, diags)
		}
		for _, d := range diags[min(1, len(diags)):] {
			if d.Range.File == diags[0].Range.File {
				t.Errorf("%q gives %v as well", text, d)
			}
		}
	}
}

// A file in Latin-1 is one mistake, with what else is wrong in it, and nothing
// that follows from the bytes themselves.
func TestLatin1IsOneMistake(t *testing.T) {
	const told = "the file is not in UTF-8; save it as UTF-8"
	tests := []struct {
		name, file, text string
		want             []string
	}{
		{"in a text", "a.hcl", "rack \"r\" {\n  frame = frame.f\n  owner = \"caf\xe9\"\n}\n", []string{told}},
		{"in several", "a.hcl", "rack \"r\" {\n  owner = \"\xe9\xe8\"\n  frame = frame.f\n  note = \"\xe9\"\n}\n", []string{told}},
		{"in a label", "a.hcl", "rack \"caf\xe9\" {\n  frame = frame.f\n}\n", []string{told}},
		{"in a name", "a.hcl", "rack \"r\" {\n  frame = frame.f\n  caf\xe9 = 1\n}\n", []string{told}},
		{"beside a mistake", "a.hcl", "rack \"r\" {\n  frame = frame.f\n  owner = \"caf\xe9\"\n  colour = \"red\"\n}\n",
			[]string{told, `rack has no attribute colour`}},
		{"in a comment", "a.hcl", "# caf\xe9\nrack \"r\" {\n  frame = frame.f\n}\n", nil},
		{"in the JSON form", "a.hcl.json", "{\"rack\": {\"r\": {\"frame\": \"frame.f\",\n\"owner\": \"caf\xe9\"}}}", []string{told}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, d := range diagnoseFile(t, tt.file, tt.text) {
				got = append(got, d.Summary)
			}
			if !slices.EqualFunc(got, tt.want, strings.HasPrefix) {
				t.Errorf("the mistakes are %q, want %q", got, tt.want)
			}
		})
	}
}

// A few lines must not become all the mounts that memory holds.
func TestCopiesAreBounded(t *testing.T) {
	var b strings.Builder
	b.WriteString("frame \"f\" {\n  system = \"19in\"\n  units = 42\n}\nequipment \"q\" {}\nlayout \"l\" {\n")
	for i := range 300 {
		fmt.Fprintf(&b, "  stack \"s-%d\" {\n    from = 1\n    count = 200\n    equipment = equipment.q\n  }\n", i)
	}
	b.WriteString("}\n")
	for i := range 100 {
		fmt.Fprintf(&b, "rack \"r-%d\" {\n  frame = frame.f\n  layout = layout.l\n}\n", i)
	}
	diags := diagnose(t, b.String())
	if len(diags) != 1 || diags[0].Summary != "with this rack, stacks and layouts make more than 2000000 mounts; none are made" {
		t.Errorf("six million mounts from a short file give %v", diags)
	}
}

// A layout and a rack with very many mounts are laid out in time.
func TestLargeLayout(t *testing.T) {
	var layout, rack strings.Builder
	for i := range 20_000 {
		fmt.Fprintf(&layout, "  mount \"m-%d\" {\n    at = %d\n    equipment = equipment.q\n  }\n", i, i%9000+1)
		fmt.Fprintf(&rack, "  mount \"m-%d\" {\n    serial = \"%d\"\n  }\n", i, i)
	}
	e := load(t, map[string]string{"a.hcl": "frame \"f\" {\n  system = \"19in\"\n  units = 42\n}\nequipment \"q\" {}\nlayout \"l\" {\n" + layout.String() + "}\nrack \"r\" {\n  frame = frame.f\n  layout = layout.l\n" + rack.String() + "}\n"})
	r := e.Rack("r")
	if len(r.Mounts) != 20_000 || r.Mounts[19_999].Serial != "19999" || r.Mounts[19_999].At == 0 {
		t.Errorf("the rack has %d mounts, the last %+v", len(r.Mounts), r.Mounts[len(r.Mounts)-1])
	}
}

func TestDashesAndBracketsInTextAreNotNesting(t *testing.T) {
	dashes := strings.Repeat("-", 500)
	load(t, map[string]string{"a.hcl": "# " + dashes + "\n# " + strings.Repeat("(", 300) + "\n// " + strings.Repeat("?", 300) + "\nrow \"w\" {\n}\n"})
}
