// Package text finds places in a text: the line and column of a byte, and an
// excerpt with the marked part, ready to print.
//
// The model of an estate holds places as byte spans, so that nothing is counted
// for the many things that are never printed. A printer makes one [Text] of
// each file that it shows something of, and asks it.
//
// The package prints nothing, and knows nothing of estates. What it returns
// holds no control characters, whatever the file holds.
package text

import (
	"bytes"
	"fmt"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Text is the text of a file with an index of its lines. It is only read once
// made, so goroutines may share it.
type Text struct {
	bytes []byte
	lines []int // the offset at which each line begins
}

// New indexes b, which must not change afterwards. Lines end with "\n"; a
// carriage return before it belongs to the end.
func New(b []byte) *Text {
	t := &Text{bytes: b, lines: make([]int, 1, 1+bytes.Count(b, []byte{'\n'}))}
	for i, c := range b {
		if c == '\n' {
			t.lines = append(t.lines, i+1)
		}
	}
	return t
}

// Len gives the number of lines. A text that ends with a newline has an empty
// line after it.
func (t *Text) Len() int { return len(t.lines) }

// A Position is a place as people and editors name it.
type Position struct {
	Line   int // from 1
	Column int // characters from 1; a tab is one character
}

// String prints the position as "12:7".
func (p Position) String() string { return fmt.Sprintf("%d:%d", p.Line, p.Column) }

// Position gives the place of a byte. An offset outside the text is taken as
// its nearest end.
func (t *Text) Position(offset int) Position {
	n, start, offset := t.find(offset)
	before := t.bytes[start:offset]
	if n == 0 {
		before = bytes.TrimPrefix(before, bom)
	}
	return Position{Line: n + 1, Column: utf8.RuneCount(before) + 1}
}

var bom = []byte("\ufeff")

// find gives the index of the line that holds the offset, where that line
// starts, and the offset brought inside the text.
func (t *Text) find(offset int) (n, start, inside int) {
	inside = min(max(offset, 0), len(t.bytes))
	n = sort.SearchInts(t.lines, inside+1) - 1
	return n, t.lines[n], inside
}

// Line gives the text of a line, counted from 1, without its end and without a
// byte order mark, or "" where there is no such line.
func (t *Text) Line(n int) string { return string(t.line(n - 1)) }

func (t *Text) line(n int) []byte {
	if n < 0 || n >= len(t.lines) {
		return nil
	}
	end := len(t.bytes)
	if n+1 < len(t.lines) {
		end = t.lines[n+1] - 1
	}
	line := bytes.TrimSuffix(t.bytes[t.lines[n]:end], []byte{'\r'})
	if n == 0 {
		line = bytes.TrimPrefix(line, bom)
	}
	return line
}

// An Excerpt is one line of a text, made printable, with a part marked.
type Excerpt struct {
	Position
	Text  string // tabs and control characters replaced
	Mark  int    // terminal cells before the marked part
	Width int    // terminal cells that it takes, at least 1
}

// Underline gives a line of marks to print under the excerpt: spaces, then the
// sign as often as the marked part is wide. The sign must be one cell wide.
func (e Excerpt) Underline(sign string) string {
	return strings.Repeat(" ", e.Mark) + strings.Repeat(sign, e.Width)
}

// Excerpt gives the line on which the span from start to end begins. Of a span
// of several lines only the part on the first is marked. A line wider than
// width cells is cut so that the mark shows, with "…" for what is left out (or
// "..." where ascii is set); a width of 0 cuts nothing.
func (t *Text) Excerpt(start, end, width int, ascii bool) Excerpt {
	n, lineStart, start := t.find(start)
	line := t.line(n)
	if n == 0 && bytes.HasPrefix(t.bytes, bom) {
		lineStart += len(bom)
	}
	from := min(max(start-lineStart, 0), len(line))
	to := min(max(end-lineStart, from), len(line))
	before := printable(line[:from], 0)
	mark := Width(before)
	marked := printable(line[from:to], mark)
	marks := max(Width(marked), 1)
	e := Excerpt{
		Position: t.Position(start),
		Text:     before + marked + printable(line[to:], mark+marks),
		Mark:     mark,
		Width:    marks,
	}
	if width > 0 {
		e.cut(width, ascii)
	}
	return e
}

// cut leaves at most width cells of the excerpt, around the start of the mark.
func (e *Excerpt) cut(width int, ascii bool) {
	total := Width(e.Text)
	if total <= width {
		return
	}
	dots := "…"
	if ascii {
		dots = "..."
	}
	room := max(width-2*len([]rune(dots)), 1)
	first := 0 // cells left out before
	if e.Mark+e.Width > room {
		first = max(min(e.Mark-room/3, total-room), 0)
	}
	head, shift := "", first
	if first > 0 {
		head, shift = dots, first-len([]rune(dots))
	}
	var kept strings.Builder
	cell := 0
	for _, r := range e.Text {
		w := measure.RuneWidth(r)
		switch {
		case cell < first && cell+w > first: // half of a wide character
			kept.WriteString(" ")
		case cell >= first && cell+w <= first+room:
			kept.WriteRune(r)
		}
		cell += w
	}
	tail := ""
	if first+room < total {
		tail = dots
	}
	e.Text = head + kept.String() + tail
	e.Mark -= shift
	e.Width = max(min(e.Width, first+room+shift-first-e.Mark), 1)
}

// tab is how many cells a tab reaches to a multiple of.
const tab = 4

// printable gives b as a terminal shows it from the given cell on: tabs as
// spaces, control characters and broken bytes as escapes.
func printable(b []byte, cell int) string {
	plain := true
	for _, c := range b {
		if c < ' ' || c > '~' {
			plain = false
			break
		}
	}
	if plain {
		return string(b)
	}
	var out strings.Builder
	for len(b) > 0 {
		r, size := utf8.DecodeRune(b)
		s := string(r)
		switch {
		case r == '\t':
			s = strings.Repeat(" ", tab-cell%tab)
		case r == utf8.RuneError && size <= 1:
			s = fmt.Sprintf(`\x%02x`, b[0])
		case !unicode.IsPrint(r):
			s = strings.Trim(fmt.Sprintf("%+q", r), "'")
		}
		out.WriteString(s)
		cell += Width(s)
		b = b[size:]
	}
	return out.String()
}

// Printable gives s without control characters or broken bytes, each shown as
// an escape, a tab too. Names of files and things pass through it before they
// are printed.
func Printable(s string) string { return printable([]byte(strings.ReplaceAll(s, "\t", `\t`)), 0) }
