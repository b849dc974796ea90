package main

import (
	"cmp"
	"runtime/debug"
	"strings"
	"unicode"

	"github.com/agext/levenshtein"
)

// nearest gives the known word that is likely meant, or "".
func nearest(word string, known []string) string {
	best, least := "", len(word)/3+2
	for _, k := range known {
		if d := levenshtein.Distance(strings.ToLower(word), strings.ToLower(k), nil); d < least {
			best, least = k, d
		}
	}
	return best
}

// trimRef takes the kind off a reference, so that rack.hq-a and hq-a are the
// same to the user.
func trimRef(name, kind string) string { return strings.TrimPrefix(name, kind) }

// natural compares names with their numbers by value: hq-2 before hq-10.
func natural(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		nx, restX := digits(x)
		ny, restY := digits(y)
		if nx != "" && ny != "" {
			nx, ny = strings.TrimLeft(nx, "0"), strings.TrimLeft(ny, "0")
			if c := cmp.Or(cmp.Compare(len(nx), len(ny)), cmp.Compare(nx, ny)); c != 0 {
				return c
			}
			x, y = restX, restY
			continue
		}
		if x[0] != y[0] {
			return cmp.Compare(x[0], y[0])
		}
		x, y = x[1:], y[1:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(a, b))
}

func digits(s string) (number, rest string) {
	end := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsDigit(r) || r > unicode.MaxASCII })
	if end < 0 {
		end = len(s)
	}
	return s[:end], s[end:]
}

// version gives the version that the program was built as.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "devel"
	}
	return info.Main.Version
}
