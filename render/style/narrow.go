package style

import (
	"regexp"
	"strings"
	"sync"
)

// colourCodes are what [Table.Paint] puts around text.
var colourCodes = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile("\x1b\\[[0-9;]*m") })

// Narrow breaks a printed line that is wider than a terminal between its words,
// with what follows set in a little. Columns close up: a run of spaces becomes
// two. A line that fits is left as it is, and so is a word that is too wide.
// Colour codes take no width.
func Narrow(line string, width int) []string {
	if width <= 0 || Width(colourCodes().ReplaceAllString(line, "")) <= width {
		return []string{line}
	}
	bare := colourCodes().ReplaceAllString(line, "")
	lead := strings.Repeat(" ", min(len(bare)-len(strings.TrimLeft(bare, " ")), width/3))
	indent := lead + "  "
	var lines []string
	now, cells, gap := lead, len(lead), 0
	empty := true
	for _, word := range strings.Split(line, " ") {
		if word == "" {
			gap++
			continue
		}
		w := Width(colourCodes().ReplaceAllString(word, ""))
		between := min(gap+1, 2)
		if empty {
			between = 0
		}
		if !empty && cells+between+w > width {
			lines = append(lines, now)
			now, cells, between = indent, len(indent), 0
		}
		now += strings.Repeat(" ", between) + word
		cells += between + w
		gap, empty = 0, false
	}
	return append(lines, now)
}

// Message breaks a message that is wider than a terminal between its words. A
// command at its end, as in "fetch it with: git fetch origin main", stands on a
// line of its own and is never broken, so that it can be copied whole. A width
// of 0 breaks nothing.
func Message(line string, width int) []string {
	if width <= 0 || Width(line) <= width {
		return []string{line}
	}
	said, command := line, ""
	for _, program := range []string{": git ", ": cagenut "} {
		if i := strings.LastIndex(line, program); i >= 0 {
			said, command = line[:i+1], line[i+2:]
		}
	}
	lines := Narrow(said, width)
	if command != "" {
		lines = append(lines, "  "+command)
	}
	return lines
}
