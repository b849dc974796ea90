package main

import (
	"runtime/debug"
	"strings"

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

// version gives the version that the program was built as.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "devel"
	}
	return info.Main.Version
}
