package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/text"
	"cagenut/lint"
	"cagenut/render/style"
)

// A Look says how text is laid out. The zero value is for a log: no colour,
// and nothing broken or cut, so that a search finds whole sentences.
type Look struct {
	Width   int // terminal cells in a line; 0 where lines may be any length
	ASCII   bool
	Colours *style.Table
}

// signs stand in the margin of a finding, by level.
var signs = [...]struct {
	sign string
	role style.Role
}{
	lint.NoLevel: {"  ", style.Plain},
	lint.Off:     {"  ", style.Plain},
	lint.Note:    {". ", style.Remark},
	lint.Warning: {"! ", style.Caution},
	lint.Error:   {"!!", style.Grave},
}

// Role gives the role in which a finding of that level is painted.
func Role(l lint.Level) style.Role { return signs[l].role }

// margin is how far everything but signs is set in.
const margin = "   "

// Text prints the page for people: a block for each finding, what else there
// is to know, and the summary as the last line. A block is the sentence, what
// it is about, and each place with a dimension line under the words that
// matter, as on a drawing.
func Text(w io.Writer, p *Page, look Look) error {
	out := &printer{Writer: bufio.NewWriter(w), page: p, look: look}
	for _, e := range p.entries(false) {
		out.block(&e)
	}
	for _, line := range p.remarks() {
		out.para("", line, style.Plain)
	}
	c := p.Counts()
	role := style.Heading
	if worst := c.Worst(); worst != lint.NoLevel {
		role = Role(worst)
	}
	out.para("", c.String(), role)
	return out.Flush()
}

// A printer writes text of one look.
type printer struct {
	*bufio.Writer
	page  *Page
	look  Look
	texts map[string]*text.Text
}

// block prints one finding and an empty line.
func (o *printer) block(e *entry) {
	sign := signs[e.Level]
	for i, line := range wrap(text.Printable(e.Message), o.look.Width-len(margin)) {
		lead := margin
		if i == 0 {
			lead = o.look.Colours.Paint(sign.role, sign.sign) + " "
		}
		fmt.Fprintf(o, "%s%s\n", lead, o.look.Colours.Paint(style.Strong, line))
	}
	about := fmt.Sprintf("%s, %s", e.Level, e.Rule)
	if e.Thing != "" {
		about += " on " + text.Printable(e.Thing)
	}
	o.para(margin, about, sign.role)
	if e.Detail != "" {
		o.para(margin, text.Printable(e.Detail), style.Plain)
	}
	o.place(e.At, sign.role, "")
	for _, r := range e.Related {
		o.place(r.At, style.Aside, r.Message)
	}
	for _, f := range e.Fixes {
		o.para(margin, "to mend it: "+text.Printable(f.Title), style.Plain)
	}
	fmt.Fprintln(o)
}

// place prints the line of a file with a dimension line under the marked part.
// Where it is stands beside the dimension line, and behind that what there is
// to say about it, or each on a line of its own where there is no room.
func (o *printer) place(at estate.Range, role style.Role, note string) {
	if at.IsZero() {
		if note != "" {
			o.para(margin, text.Printable(note), style.Plain)
		}
		return
	}
	const indent = margin + "  "
	room := 0
	if o.look.Width > 0 {
		room = max(o.look.Width-len(indent), 10)
	}
	x := flush(o.text(at.File).Excerpt(int(at.Start), int(at.End), room, o.look.ASCII))
	where := fmt.Sprintf("%s:%s", text.Printable(o.page.path(at.File)), x.Position)
	note = text.Printable(note)

	lead, cells := indent, len(indent) // what stands before the place
	if x.Text != "" {
		fmt.Fprintf(o, "%s%s\n", indent, x.Text)
		line := indent + strings.Repeat(" ", x.Mark) + o.look.Colours.Paint(role, o.dimension(x.Width))
		if beside := len(indent) + x.Mark + x.Width + 1; o.fits(beside + style.Width(where)) {
			lead, cells = line+" ", beside
		} else {
			fmt.Fprintln(o, line)
		}
	}
	place := o.look.Colours.Paint(style.Place, where)
	switch {
	case note == "":
		fmt.Fprintf(o, "%s%s\n", lead, place)
	case o.fits(cells + style.Width(where) + 2 + style.Width(note)):
		fmt.Fprintf(o, "%s%s  %s\n", lead, place, note)
	default:
		fmt.Fprintf(o, "%s%s\n", lead, place)
		o.para(indent, note, style.Plain)
	}
}

// fits reports whether a line of so many cells is not too wide.
func (o *printer) fits(cells int) bool { return o.look.Width == 0 || cells <= o.look.Width }

// flush moves an excerpt to the left edge.
func flush(x text.Excerpt) text.Excerpt {
	blank := len(x.Text) - len(strings.TrimLeft(x.Text, " "))
	blank = min(blank, x.Mark)
	x.Text, x.Mark = strings.TrimRight(x.Text[blank:], " "), x.Mark-blank
	return x
}

// dimension draws a dimension line of that many cells.
func (o *printer) dimension(cells int) string {
	left, mid, right, single := "├", "─", "┤", "┴"
	if o.look.ASCII {
		left, mid, right, single = "|", "-", "|", "|"
	}
	if cells < 2 {
		return single
	}
	return left + strings.Repeat(mid, cells-2) + right
}

func (o *printer) text(file string) *text.Text {
	t, ok := o.texts[file]
	if !ok {
		if o.texts == nil {
			o.texts = map[string]*text.Text{}
		}
		t = o.page.text(file)
		o.texts[file] = t
	}
	return t
}

// para prints text in lines of the look's width, each after the lead.
func (o *printer) para(lead, s string, role style.Role) {
	width := 0
	if o.look.Width > 0 {
		width = o.look.Width - style.Width(lead)
	}
	for _, line := range wrap(s, width) {
		fmt.Fprintf(o, "%s%s\n", lead, o.look.Colours.Paint(role, line))
	}
}

// wrap breaks s between words into lines of at most width cells. A width of 0 or
// less breaks nothing.
func wrap(s string, width int) []string {
	if width <= 0 {
		return []string{s}
	}
	return style.Wrap(s, width)
}
