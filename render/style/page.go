package style

import (
	"strings"
)

// A Line is a line of painted pieces.
type Line []Piece

// A Piece is a text with its meaning.
type Piece struct {
	Role Role
	Text string
}

// Add appends a piece.
func (l *Line) Add(r Role, s string) { *l = append(*l, Piece{r, s}) }

// Width gives how many cells the line takes.
func (l Line) Width() int {
	n := 0
	for _, p := range l {
		n += Width(p.Text)
	}
	return n
}

// Pad fills the line with spaces up to width cells.
func (l *Line) Pad(width int) {
	if n := width - l.Width(); n > 0 {
		l.Add(Plain, strings.Repeat(" ", n))
	}
}

// Render gives the line as painted by t, without spaces at its end.
func (l Line) Render(t *Table) string {
	end := len(l)
	for end > 0 && strings.TrimRight(l[end-1].Text, " ") == "" {
		end--
	}
	var b strings.Builder
	for i, p := range l[:end] {
		s := p.Text
		if i == end-1 {
			s = strings.TrimRight(s, " ")
		}
		b.WriteString(t.Paint(p.Role, s))
	}
	return b.String()
}

// Page gives lines as one text, each ended by a newline.
func Page(lines []Line, t *Table) string {
	var b strings.Builder
	for _, l := range lines {
		b.WriteString(l.Render(t))
		b.WriteByte('\n')
	}
	return b.String()
}
