package style

import (
	"strings"

	"cagenut/lang/text"
)

// Width gives how many terminal cells s takes. It must hold no colour codes.
func Width(s string) int { return text.Width(s) }

// Cut shortens s to at most width cells, ending in the mark for what is left
// out where something is: "…", or "~" where ascii is set.
func Cut(s string, width int, ascii bool) string {
	if width <= 0 {
		return ""
	}
	mark := "…"
	if ascii {
		mark = "~"
	}
	return text.Cut(s, width, mark)
}

// Left gives s in exactly width cells, cut or filled on the right.
func Left(s string, width int, ascii bool) string {
	s = Cut(s, width, ascii)
	return s + strings.Repeat(" ", max(width-Width(s), 0))
}

// Right gives s in exactly width cells, cut or filled on the left.
func Right(s string, width int, ascii bool) string {
	s = Cut(s, width, ascii)
	return strings.Repeat(" ", max(width-Width(s), 0)) + s
}

// Fill repeats a sign that is one cell wide.
func Fill(sign string, width int) string { return strings.Repeat(sign, max(width, 0)) }

// Wrap breaks s at spaces into lines of at most width cells; a word longer
// than that stands on a line of its own.
func Wrap(s string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		switch {
		case line == "":
			line = word
		case Width(line)+1+Width(word) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// Name gives a name or another text of the user's as it can be shown: without
// control characters.
func Name(s string) string { return text.Printable(s) }
