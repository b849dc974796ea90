package lang

import "cagenut/lang/system"

// systemNames lists the panel systems as the language writes them.
func systemNames() []string {
	return []string{"19in", "23in", "23in-1inch", "25mm", "open-rack", "10in"}
}

// findSystem gives the panel system of that name.
func findSystem(name string) *system.System { return &system.System{Name: name} }
