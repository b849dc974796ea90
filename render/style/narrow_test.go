package style

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestNarrow(t *testing.T) {
	tests := []struct {
		name, in string
		width    int
		want     []string
	}{
		{"fits", "  rack    units", 20, []string{"  rack    units"}},
		{"no terminal", strings.Repeat("wide ", 40), 0, []string{strings.Repeat("wide ", 40)}},
		{"columns close up", "rack        units  taken  held", 26, []string{"rack  units  taken  held"}},
		{"breaks, set in", "  feed.a, nothing lost     4.5 A  of 12.8 A", 24, []string{"  feed.a, nothing lost", "    4.5 A  of 12.8 A"}},
		{"a word too wide", "see https://git.example/a/very/long/path now", 12, []string{"see", "  https://git.example/a/very/long/path", "  now"}},
		{"colour takes no width", "\x1b[1mrack\x1b[0m one", 8, []string{"\x1b[1mrack\x1b[0m one"}},
		{"wide characters", "受付 受付 受付", 9, []string{"受付 受付", "  受付"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := Narrow(tt.in, tt.width); !slices.Equal(got, tt.want) {
				t.Errorf("Narrow(%q, %d) = %q, want %q", tt.in, tt.width, got, tt.want)
			}
		})
	}
}

// Words are never lost, changed or turned round.
func TestNarrowKeepsEveryWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := rapid.StringMatching(`[ a-zé受,.]{0,80}`).Draw(t, "line")
		width := rapid.IntRange(1, 60).Draw(t, "width")
		got := Narrow(line, width)
		if want, have := strings.Fields(line), strings.Fields(strings.Join(got, " ")); !slices.Equal(want, have) {
			t.Fatalf("Narrow(%q, %d) = %q", line, width, got)
		}
		for _, l := range got {
			if Width(l) > width && len(strings.Fields(l)) > 1 {
				t.Fatalf("Narrow(%q, %d) has %q", line, width, l)
			}
		}
	})
}
