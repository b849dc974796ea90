package estate_test

import (
	"cmp"
	"testing"

	"cagenut/lang/estate"
)

// Leading zeros count last; what ends first comes first.
func TestCompareNames(t *testing.T) {
	sorted := []string{"", "rack-1", "rack-02", "rack-2", "rack-10", "rack-10a", "rack-a"}
	for i, a := range sorted {
		for j, b := range sorted {
			if got, want := cmp.Compare(estate.CompareNames(a, b), 0), cmp.Compare(i, j); got != want {
				t.Errorf("estate.CompareNames(%q, %q) = %d, want %d", a, b, got, want)
			}
		}
	}
}
