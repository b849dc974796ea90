package elevation

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/render/style"
)

// A section is the scale of a side view: depths in a frame, mapped to cells.
// The front door is at 0.
type section struct {
	frontPost, rearPost, rearDoor quantity.Length
	known                         [3]bool // front room, post span, rear room
	cells                         int     // from door to door
	margin                        int     // cells on either side, for what does not fit
}

// Depths that are drawn where a frame does not declare them.
const (
	assumedRoom = 100 * quantity.Millimetre
	assumedSpan = 700 * quantity.Millimetre
)

func newSection(f *estate.Frame, cells, margin int) section {
	front, a := f.FrontRoom.Get()
	span, b := f.PostSpan.Get()
	rear, c := f.RearRoom.Get()
	if !a {
		front = assumedRoom
	}
	if !b {
		span = assumedSpan
	}
	if !c {
		rear = assumedRoom
	}
	return section{front, front + span, front + span + rear, [3]bool{a, b, c}, cells, margin}
}

// cell gives the cell in which a depth falls, counted from the left edge of the
// drawing, and kept inside it.
func (s section) cell(l quantity.Length) int {
	n := s.margin + int(l*quantity.Length(s.cells-1)/max(s.rearDoor, 1))
	if l < 0 {
		n = s.margin - 1 + int(l*quantity.Length(s.cells-1)/max(s.rearDoor, 1))
	}
	return min(max(n, 0), s.cells+2*s.margin-1)
}

// An extent is the depth that one or more pieces take in a row.
type extent struct {
	from, body, to quantity.Length // before the mounting face, the body's end, the end of the cords; from the front door
	pieces         []piece
	unknown        bool // a depth is not known
}

// sideRows draws the section, with what each piece needs beside it.
func (d *drawing) sideRows() []style.Line {
	number := d.numberWidth()
	notes := 17
	const margin = 2
	cells := d.width - 2*number - 2 - 2*margin - notes
	if cells < 30 {
		cells, notes = d.width-2*number-2-2*margin, 0
	}
	s := newSection(d.rack.Frame, cells, margin)
	lines := []style.Line{d.ruler(s, number, notes)}
	for i, r := range d.rows {
		var line style.Line
		label := r.label
		if r.outside {
			label = "!"
		}
		line.Add(style.Faint, style.Right(label, number, d.ascii)+" ")
		drawn, remark := d.sideRow(i, s)
		line = append(line, drawn...)
		line.Add(style.Faint, " "+style.Left(label, number, d.ascii))
		if notes > 0 && remark != "" {
			line.Add(style.Text, " "+style.Cut(remark, notes-1, d.ascii))
		}
		lines = append(lines, line)
	}
	return lines
}

// ruler is the line above a section that gives its distances.
func (d *drawing) ruler(s section, number, notes int) style.Line {
	total := s.cells + 2*s.margin
	marks := make([]string, total)
	for i := range marks {
		marks[i] = " "
	}
	set := func(from, to quantity.Length, known bool) {
		a, b := s.cell(from)+1, s.cell(to)
		text := d.signs.unknown
		if known {
			text = d.number(to - from)
		}
		if at := a + (b-a-len(text))/2; at >= 0 {
			for k, c := range text {
				if at+k < total {
					marks[at+k] = string(c)
				}
			}
		}
	}
	set(0, s.frontPost, s.known[0])
	set(s.frontPost, s.rearPost, s.known[1])
	set(s.rearPost, s.rearDoor, s.known[2])
	var line style.Line
	line.Pad(number + 1)
	line.Add(style.Faint, strings.Join(marks, ""))
	if notes > 0 {
		line.Add(style.Faint, " "+style.Fill(" ", number)+" "+d.lengthUnit()+" needed, had")
	}
	return line
}

// sideRow draws one row of the section, and says what its pieces need.
func (d *drawing) sideRow(i int, s section) (style.Line, string) {
	r := d.rows[i]
	total := s.cells + 2*s.margin
	cell := make([]string, total)
	role := make([]style.Role, total)
	for k := range cell {
		cell[k] = " "
	}
	if !r.outside {
		for _, at := range []quantity.Length{0, s.rearDoor} {
			cell[s.cell(at)], role[s.cell(at)] = d.signs.door, style.Faint
		}
		for _, at := range []quantity.Length{s.frontPost, s.rearPost} {
			cell[s.cell(at)] = d.signs.post
		}
	}
	front := d.extentOf(d.in(r, estate.FrontFace), s, estate.FrontFace)
	rear := d.extentOf(d.in(r, estate.RearFace), s, estate.RearFace)
	var remarks []string
	for _, e := range []*extent{front, rear} {
		if e == nil {
			continue
		}
		if text := d.paintExtent(cell, role, i, s, e, e == rear); text != "" {
			remarks = append(remarks, text)
		}
	}
	if front != nil && rear != nil && front.to > rear.to && d.share(front, rear) {
		for k := s.cell(rear.to); k <= s.cell(front.to); k++ {
			cell[k], role[k] = d.signs.clash, style.Error
		}
	}
	var line style.Line
	for k := 0; k < total; {
		j := k
		for j < total && role[j] == role[k] {
			j++
		}
		line.Add(role[k], strings.Join(cell[k:j], ""))
		k = j
	}
	return line, strings.Join(remarks, ", ")
}

// share reports whether any piece in front and any behind take the same width.
func (d *drawing) share(front, rear *extent) bool {
	for _, p := range front.pieces {
		for _, q := range rear.pieces {
			if p.mount.Slot.Overlaps(q.mount.Slot) {
				return true
			}
		}
	}
	return false
}

// extentOf gives the depth that pieces on one face take together.
func (d *drawing) extentOf(pieces []piece, s section, face estate.Face) *extent {
	if len(pieces) == 0 {
		return nil
	}
	e := &extent{pieces: pieces}
	plane, into := s.frontPost, quantity.Length(1)
	if face == estate.RearFace {
		plane, into = s.rearPost, -1
	}
	e.from, e.body, e.to = plane, plane, plane
	further := func(a, b quantity.Length, sign quantity.Length) quantity.Length {
		if (b-a)*sign > 0 {
			return b
		}
		return a
	}
	for _, p := range pieces {
		eq := p.mount.Equipment
		if eq == nil {
			e.unknown = true
			continue
		}
		depth, ok := eq.Depth.Get()
		if !ok {
			e.unknown = true
		}
		e.from = further(e.from, plane-into*eq.Front.Or(0), -into)
		e.body = further(e.body, plane+into*depth, into)
		e.to = further(e.to, plane+into*(depth+eq.Cords.Or(0)), into)
	}
	return e
}

// paintExtent paints what one face holds in a row, and says what the pieces
// that begin in it need and have.
func (d *drawing) paintExtent(cell []string, role []style.Role, i int, s section, e *extent, rear bool) string {
	top, bottom := d.firstRow(i, e.pieces[0]), i == len(d.rows)-1 || !d.rows[i+1].covers(e.pieces[0].lo, e.pieces[0].hi)
	ends := d.signs.middle
	switch {
	case top && bottom:
		ends = d.signs.single
	case top:
		ends = d.signs.top
	case bottom:
		ends = d.signs.bottom
	}
	plane := s.frontPost
	if rear {
		plane = s.rearPost
	}
	paint := func(from, to quantity.Length, sign string) {
		for k := s.cell(min(from, to)); k <= s.cell(max(from, to)); k++ {
			cell[k], role[k] = sign, style.Faint
		}
	}
	if e.from != plane {
		paint(e.from, plane, d.signs.before)
	}
	if e.to != e.body {
		paint(e.body, e.to, d.signs.cords)
	}
	a, b := s.cell(min(plane, e.body)), s.cell(max(plane, e.body))
	if e.unknown && b-a < 8 {
		b = min(a+8, len(cell)-1)
	}
	var names []string
	for _, p := range e.pieces {
		if d.firstRow(i, p) {
			names = append(names, d.mark(p.mount)+style.Name(p.mount.Name))
		}
	}
	text := strings.Join(names, "+")
	if e.unknown {
		text += d.signs.unknown
	}
	look := d.role(e.pieces[0].mount)
	for k := a; k <= b; k++ {
		cell[k], role[k] = d.signs.body, look
	}
	cell[a], cell[b] = ends[0], ends[1]
	if b-a > 2 {
		// A wide character takes two cells: the second holds nothing.
		k := a + 1
		for _, c := range style.Cut(text, b-a-1, d.ascii) {
			w := style.Width(string(c))
			if w == 0 {
				cell[max(k-1, a)] += string(c)
				continue
			}
			cell[k] = string(c)
			for n := 1; n < w; n++ {
				cell[k+n] = ""
			}
			k += w
		}
	}
	if len(names) == 0 {
		return ""
	}
	if e.unknown {
		return d.signs.unknown
	}
	need, have := e.to-plane, s.rearDoor-s.frontPost
	if rear {
		need, have = plane-e.to, s.rearPost
	}
	had := d.number(have)
	if !s.known[1] || !rear && !s.known[2] || rear && !s.known[0] {
		had = d.signs.unknown
	}
	return fmt.Sprintf("%s of %s", d.number(need), had)
}
