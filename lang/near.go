package lang

import (
	"strings"

	"github.com/agext/levenshtein"
)

// Near gives the known name that was most likely meant by one that does not
// exist, or "": the same guess as in the messages of this package.
func Near(name string, known []string) string { return near(name, known) }

// near gives the known name that was most likely meant, or "". Of names that
// are equally near the first wins.
func near(name string, known []string) string {
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
	return best
}

// distance counts the letters to put in, take out or change, and the swaps of
// neighbours, which count as one.
func distance(a, b string) int {
	d := levenshtein.Distance(a, b, nil)
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

// perhaps gives "; perhaps \"NAME\" is meant" for the nearest name, or "".
func perhaps(name string, known []string) string {
	if n := near(name, known); n != "" {
		return "; perhaps " + n + " is meant"
	}
	return ""
}

// choice writes words as a choice: "up" or "down".
func choice(words []string) string {
	var b strings.Builder
	for i, w := range words {
		switch {
		case i == 0:
		case i == len(words)-1:
			b.WriteString(" or ")
		default:
			b.WriteString(", ")
		}
		b.WriteString(w)
	}
	return b.String()
}

// listed writes words as a list.
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// quoted writes words as a choice of strings, leaving out the empty word that
// stands for "not declared".
func quoted(words []string) string {
	var out []string
	for _, w := range words {
		if w != "" {
			out = append(out, `"`+w+`"`)
		}
	}
	return choice(out)
}
