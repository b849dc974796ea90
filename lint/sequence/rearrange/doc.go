// Package rearrange orders the moves by which things change places in limited
// space: one at a time, never two in one place, and with enough of each group
// up at every moment.
//
// Read [Problem] first, then [Solve]. search.go finds the fewest moves;
// settle.go puts what may be done in any order into the order that the
// [Item.Rank]s ask for.
//
// The package knows lengths and counts only: no racks, no minutes. A thing
// whose own new place blocks its old one, two that change places, and longer
// rotations are all loops in the graph "X must leave before Y can enter", and
// are broken by parking one of the things for a while.
package rearrange
