package lang

import (
	"strings"

	"cagenut/lang/near"
)

// Near gives the known name that was most likely meant by one that does not
// exist, or "": the same guess as in the messages of this package.
func Near(name string, known []string) string { return near.Name(name, known) }

// perhaps gives "; perhaps \"NAME\" is meant" for the nearest name, or "".
func perhaps(name string, known []string) string {
	if n := near.Name(name, known); n != "" {
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
