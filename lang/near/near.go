// Package near guesses which known name was meant by one that does not exist.
// Every message that guesses asks it, so that all guess alike.
package near

import (
	"strings"

	"github.com/agext/levenshtein"
)

// Name gives the known name that was most likely meant, or "": the one that
// fewest letters make of what was written, or the only one that begins with it.
// Of names that are equally near the first wins.
func Name(name string, known []string) string {
	best, least := "", 0
	for _, k := range known {
		if strings.EqualFold(k, name) {
			return k
		}
		// A third of the letters may be wrong; of a short name, one.
		limit := max(len(name)/3, 1)
		if len(k) > len(name)+limit || len(name) > len(k)+limit {
			continue
		}
		d := distance(name, k)
		if d <= limit && (best == "" || d < least) {
			best, least = k, d
		}
	}
	if best != "" || len(name) < 3 {
		return best
	}
	// The beginning of a single name, as of cab-42 where frame.cab is written.
	for _, k := range known {
		if len(k) > len(name) && strings.EqualFold(k[:len(name)], name) {
			if best != "" {
				return ""
			}
			best = k
		}
	}
	return best
}

// distance counts the letters to put in, take out or change, and the swaps of
// neighbours, which count as one.
func distance(a, b string) int {
	d := levenshtein.Distance(strings.ToLower(a), strings.ToLower(b), nil)
	if d == 2 && swapped(a, b) {
		return 1
	}
	return d
}

// swapped reports whether a and b differ by two neighbouring bytes only.
func swapped(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range len(a) - 1 {
		if a[i] != b[i] {
			return a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
		}
	}
	return false
}
