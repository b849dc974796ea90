package text

import (
	"unicode/utf8"

	"github.com/mattn/go-runewidth"
)

// measure counts characters of ambiguous width as one cell, whatever the
// locale, so that the same text gives the same excerpt everywhere.
var measure = func() *runewidth.Condition {
	c := runewidth.NewCondition()
	c.EastAsianWidth = false
	c.StrictEmojiNeutral = true
	return c
}()

// Width gives how many cells of a terminal s takes. It must hold no colour
// codes.
func Width(s string) int {
	n := 0
	for i := 0; i < len(s); {
		if c := s[i]; ' ' <= c && c <= '~' {
			n++
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(s[i:])
		if !oneCell(r) {
			return measure.StringWidth(s)
		}
		n++
		i += size
	}
	return n
}

// Cut shortens s to at most width cells, ending in mark where something is left
// out.
func Cut(s string, width int, mark string) string {
	if Width(s) <= width {
		return s
	}
	return measure.Truncate(s, width, mark)
}

// oneCell reports whether a character takes one cell and joins no other. It
// knows the letters and lines that nearly all output is made of: for others the
// library builds a table of all characters, which takes longer than the output
// of most commands.
func oneCell(r rune) bool {
	switch {
	case r < 0xa1:
		return ' ' <= r && r <= '~'
	case r < 0x300:
		return r != 0xad // a hyphen that shows only at the end of a line
	}
	return 0x2190 <= r && r <= 0x2193 || 0x2010 <= r && r <= 0x2027 || 0x2500 <= r && r <= 0x259f || r == '≤' || r == '≥' || r == '−' || r == '√'
}
