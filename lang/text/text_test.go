package text

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestPosition(t *testing.T) {
	const file = "\ufeffrack \"é\" {\r\n\tat = 3\n}\n"
	tests := []struct {
		name   string
		offset int
		want   string
	}{
		{"before everything", -4, "1:1"},
		{"the byte order mark counts for nothing", 3, "1:1"},
		{"first letter after the mark", 4, "1:2"},
		{"after a two-byte letter", strings.Index(file, "\" {"), "1:8"},
		{"a tab is one character", strings.Index(file, "at"), "2:2"},
		{"a newline belongs to its line", strings.Index(file, "\n}"), "2:8"},
		{"the end", len(file), "4:1"},
		{"past the end", len(file) + 9, "4:1"},
	}
	text := New([]byte(file))
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := text.Position(tt.offset).String(); got != tt.want {
				t.Errorf("Position(%d) = %s, want %s", tt.offset, got, tt.want)
			}
		})
	}
}

func TestExcerpt(t *testing.T) {
	tests := []struct {
		name, file, mark string
		width            int
		ascii            bool
		want, under      string
	}{
		{name: "plain", file: "a = 3\n", mark: "3", want: "a = 3", under: "    ^"},
		{name: "second line, carriage return", file: "x\r\nb = 41\r\n", mark: "41", want: "b = 41", under: "    ^^"},
		{name: "tab", file: "\tat = 3", mark: "3", want: "    at = 3", under: "         ^"},
		{name: "tab inside", file: "a\t= 3", mark: "3", want: "a   = 3", under: "      ^"},
		{name: "wide letters", file: "# 架 x", mark: "x", want: "# 架 x", under: "     ^"},
		{name: "control character", file: "a\x1b[0m = 3", mark: "3", want: `a\x1b[0m = 3`, under: "           ^"},
		{name: "broken byte", file: "a\xff = 3", mark: "3", want: `a\xff = 3`, under: "        ^"},
		{name: "byte order mark", file: "\ufeffa = 3", mark: "a", want: "a = 3", under: "^"},
		{name: "cut behind", file: "a = 3 # a long remark", mark: "3", width: 12, want: "a = 3 # a …", under: "    ^"},
		{name: "cut before", file: "some long words before it = 3", mark: "3", width: 12, want: "…efore it = 3", under: ""},
		{name: "cut in ascii", file: "some long words before it = 3 and after", mark: "3", width: 16, ascii: true, want: "", under: ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			at := strings.Index(tt.file, tt.mark)
			e := New([]byte(tt.file)).Excerpt(at, at+len(tt.mark), tt.width, tt.ascii)
			if tt.width > 0 && measure.StringWidth(e.Text) > tt.width {
				t.Errorf("Excerpt is %q, wider than %d cells", e.Text, tt.width)
			}
			if got := measure.Truncate(measure.TruncateLeft(e.Text, e.Mark, ""), e.Width, ""); got != tt.mark {
				t.Errorf("Excerpt marks %q of %q, want %q", got, e.Text, tt.mark)
			}
			if tt.under != "" && (e.Text != tt.want || e.Underline("^") != tt.under) {
				t.Errorf("Excerpt gives\n%s\n%s\nwant\n%s\n%s", e.Text, e.Underline("^"), tt.want, tt.under)
			}
		})
	}
}

func TestExcerptNeverBreaks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		file := rapid.SliceOfN(rapid.SampledFrom([]byte("ab \t\r\n\x00\xe2\x80\xa8\xff")), 0, 40).Draw(t, "file")
		start := rapid.IntRange(-3, 45).Draw(t, "start")
		end := rapid.IntRange(-3, 45).Draw(t, "end")
		width := rapid.IntRange(0, 20).Draw(t, "width")
		e := New(file).Excerpt(start, end, width, rapid.Bool().Draw(t, "ascii"))
		if e.Line < 1 || e.Column < 1 || e.Mark < 0 || e.Width < 1 {
			t.Fatalf("Excerpt(%d, %d, %d) of %q = %+v", start, end, width, file, e)
		}
		if i := strings.IndexFunc(e.Text, func(r rune) bool { return r < ' ' }); i >= 0 {
			t.Fatalf("Excerpt(%d, %d, %d) of %q holds a control character: %q", start, end, width, file, e.Text)
		}
	})
}
