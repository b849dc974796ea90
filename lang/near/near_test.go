package near

import "testing"

func TestName(t *testing.T) {
	known := []string{"hq-a", "hq-b", "qt-w", "storage-24", "storage-24-short", "main", "cabinet-42"}
	tests := []struct{ word, want string }{
		{"hq-a", "hq-a"},
		{"HQ-B", "hq-b"},
		{"hq-c", "hq-a"}, // as near to hq-b; the first wins
		{"hqa", "hq-a"},  // a letter is missing
		{"h-qa", "hq-a"}, // two are swapped
		{"STORAGE24", "storage-24"},
		{"sotrage-24-shrot", "storage-24-short"},
		{"mian", "main"},
		{"cabinet", "cabinet-42"}, // the only one that begins so
		{"storage", ""},           // two begin so
		{"proposal", ""},          // shares letters with none
		{"x", ""},
		{"", ""},
	}
	for _, tt := range tests {
		if got := Name(tt.word, known); got != tt.want {
			t.Errorf("Name(%q) = %q, want %q", tt.word, got, tt.want)
		}
	}
}
