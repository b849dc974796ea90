// Package elevation draws a rack as text: what hangs on its posts as seen from
// the front or from behind, and a section from the side in which depth shows.
//
// [Draw] gives a whole elevation with its heading and key; [Pair] sets a rack
// before and after a change side by side, as far as they differ. grid.go divides
// the height of a frame into rows, face.go and side.go fill them, signs.go
// holds the characters.
//
// A drawing shows what is declared and judges nothing. It is the same for the
// same rack, and says in characters all that it says in colour.
package elevation
