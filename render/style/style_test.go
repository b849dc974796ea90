package style

import (
	"regexp"
	"strings"
	"testing"
)

var escapes = regexp.MustCompile("\x1b\\[[0-9;]*m")

func TestPaintOnlyAddsColour(t *testing.T) {
	// Neither variable may have a say: the program has decided.
	for _, no := range []string{"", "1"} {
		t.Setenv("NO_COLOR", no)
		for _, text := range []string{"", "core-1", "two\nlines", "\n\nend\n", "wide 機 ü"} {
			for r := Plain; int(r) < roles; r++ {
				if got := (*Table)(nil).Paint(r, text); got != text {
					t.Errorf("no table: role %d: %q became %q", r, text, got)
				}
				if got := New(false).Paint(r, text); got != text {
					t.Errorf("colour off: role %d: %q became %q", r, text, got)
				}
				got := New(true).Paint(r, text)
				if bare := escapes.ReplaceAllString(got, ""); bare != text {
					t.Errorf("role %d: %q without colour is %q", r, text, bare)
				}
				if wants := r != Plain && strings.Trim(text, "\n") != ""; wants != strings.Contains(got, "\x1b[") {
					t.Errorf("NO_COLOR=%q: role %d: %q is painted: %v, want %v", no, r, text, !wants, wants)
				}
			}
		}
	}
}

// A pager or head cuts at line ends: no line may leave a colour open.
func TestPaintClosesEveryLine(t *testing.T) {
	for _, line := range strings.Split(New(true).Paint(Grave, "one\ntwo\n\nthree"), "\n") {
		open := false
		for _, code := range escapes.FindAllString(line, -1) {
			open = !strings.HasPrefix(code, "\x1b[0") && !strings.HasPrefix(code, "\x1b[2")
		}
		if open {
			t.Errorf("%q leaves a colour open", line)
		}
	}
}
