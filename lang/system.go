package lang

import "cagenut/lang/system"

// systemNames lists the panel systems as the language writes them.
var systemNames = system.Names()

// findSystem gives the panel system of that name.
func findSystem(name string) *system.System {
	s, _ := system.ByName(name)
	return s
}
