// Package system holds the panel systems.
package system

import "cagenut/lang/quantity"

// A System is a way of building racks: its pitch, holes and widths. (Delete this file when the real type arrives.)
type System struct {
	Name  string
	Pitch quantity.Length
}
