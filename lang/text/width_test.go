package text

import "testing"

// What takes one cell by sight takes one by the library as well, alone and
// beside others.
func TestOneCellIsWhatTheLibraryMeasures(t *testing.T) {
	known := 0
	for r := rune(0); r < 0x3000; r++ {
		if !oneCell(r) {
			continue
		}
		known++
		if s := "a" + string(r) + "b"; measure.RuneWidth(r) != 1 || measure.StringWidth(s) != 3 || Width(s) != 3 {
			t.Errorf("%U is taken for one cell; the library measures %d, and %d between two letters", r, measure.RuneWidth(r), measure.StringWidth(s))
		}
	}
	if known < 500 {
		t.Errorf("only %d characters are known by sight", known)
	}
}

func TestWidth(t *testing.T) {
	tests := []struct {
		in   string
		want int
	}{
		{"", 0}, {"U38", 3}, {"│ sw-1 …", 8}, {"機架", 4}, {"e\u0301", 1}, {"├─機", 4}, {"a\tb", 2}, {"\xff", 1},
	}
	for _, tt := range tests {
		if got := Width(tt.in); got != tt.want || got != measure.StringWidth(tt.in) {
			t.Errorf("Width(%q) = %d, want %d as the library has it (%d)", tt.in, got, tt.want, measure.StringWidth(tt.in))
		}
	}
	if got := Cut("機架 with servers", 6, "…"); got != "機架 …" {
		t.Errorf("Cut gives %q", got)
	}
}
