// Package diff prints a change: unit by unit, with what it does to mass, space,
// heat and feeds of each rack, and each touched rack before and after.
//
// The marks are + for what comes in, - for what goes out, > for what is moved
// and * for what is altered. text.go prints for people, json.go for programs.
// The package decides nothing: what is moved and what is replaced is told by
// lang/change.
package diff
