package main

import (
	"runtime/debug"
	"strings"
)

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
