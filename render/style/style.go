// Package style gives names to the ways in which text on a terminal stands
// out, and one table that turns a name into colour.
//
// A printer says what a piece of text is ([Grave], [Moved], [Aside]), never
// which colour it has. Whether there is colour at all is decided once for each
// stream, by the program, and handed down as a [*Table]; nothing here looks at
// the environment or at a terminal, and nothing is global.
//
// Colour only repeats what signs and words say already: the same text without
// it must lose no meaning.
package style

import (
	"strings"

	"github.com/fatih/color"
)

// Role says what a piece of text is.
type Role uint8

// The roles.
const (
	Plain Role = iota

	// How grave something is. The colours are those of the safety signs of
	// ISO 3864: red forbids, yellow cautions, blue tells what to do. Its green,
	// "safe", is never used.
	Grave   // an error
	Caution // a warning
	Remark  // a note
	Unsure  // not checked, unknown

	// What a change does with a thing.
	In
	Out
	Moved
	Altered

	// What carries the page.
	Heading // the name of what follows: a rack, a rule, a window
	Strong  // the figure or word to look at
	Place   // file, line and column
	Aside   // lines, unit numbers, what may be skipped

	roles int = iota
)

// A Table turns roles into colour. Nil is the table without colour. A table is
// only read once made, so goroutines may share it.
type Table struct{ colours [roles]*color.Color }

// New gives the table for a stream that is coloured, or is not.
func New(coloured bool) *Table {
	t := &Table{colours: [roles]*color.Color{
		Grave:   color.New(color.FgRed, color.Bold),
		Caution: color.New(color.FgYellow, color.Bold),
		Remark:  color.New(color.FgBlue, color.Bold),
		Unsure:  color.New(color.FgCyan),
		In:      color.New(color.FgCyan, color.Bold),
		Out:     color.New(color.FgMagenta),
		Moved:   color.New(color.FgBlue),
		Altered: color.New(color.FgYellow),
		Heading: color.New(color.Bold),
		Strong:  color.New(color.Bold),
		Place:   color.New(color.Underline),
		Aside:   color.New(color.Faint),
	}}
	for _, c := range t.colours {
		switch {
		case c == nil:
		case coloured:
			c.EnableColor()
		default:
			c.DisableColor()
		}
	}
	return t
}

// Paint gives s as the role looks. Each line is painted by itself, so that
// what cuts a text into lines never leaves a colour open; an empty line stays
// empty.
func (t *Table) Paint(r Role, s string) string {
	if t == nil || s == "" || t.colours[r] == nil {
		return s
	}
	if !strings.Contains(s, "\n") {
		return t.colours[r].Sprint(s)
	}
	lines := strings.Split(s, "\n")
	for i, line := range lines {
		if line != "" {
			lines[i] = t.colours[r].Sprint(line)
		}
	}
	return strings.Join(lines, "\n")
}
