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

// An extent is the depth that the pieces on one face take in a row, from the
// front face of the front posts.
type extent struct {
	body, whole estate.Run
	pieces      []piece
	unknown     bool // a depth is not known
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
		line.Add(style.Aside, style.Right(label, number, d.ascii)+" ")
		drawn, remark := d.sideRow(i, s)
		line = append(line, drawn...)
		line.Add(style.Aside, " "+style.Left(label, number, d.ascii))
		if notes > 0 && remark != "" {
			line.Add(style.Plain, " "+style.Cut(remark, notes-1, d.ascii))
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
	line.Add(style.Aside, strings.Join(marks, ""))
	if notes > 0 {
		line.Add(style.Aside, " "+style.Fill(" ", number)+" "+d.lengthUnit()+" needed, had")
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
			cell[s.cell(at)], role[s.cell(at)] = d.signs.door, style.Aside
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
	if front != nil && rear != nil && front.whole.To > rear.whole.From && d.share(front, rear) {
		for k := s.cell(s.frontPost + rear.whole.From); k <= s.cell(s.frontPost+front.whole.To); k++ {
			cell[k], role[k] = d.signs.clash, style.Grave
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
	known := 0
	for _, p := range pieces {
		depths, missing := p.mount.Depths()
		if missing != "" {
			e.unknown = true
			continue
		}
		if known++; known == 1 {
			e.body, e.whole = depths.Body, depths.Whole
		} else {
			e.body = estate.Run{From: min(e.body.From, depths.Body.From), To: max(e.body.To, depths.Body.To)}
			e.whole = estate.Run{From: min(e.whole.From, depths.Whole.From), To: max(e.whole.To, depths.Whole.To)}
		}
	}
	if known == 0 && face == estate.RearFace {
		at := s.rearPost - s.frontPost
		e.body, e.whole = estate.Run{From: at, To: at}, estate.Run{From: at, To: at}
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
	paint := func(from, to quantity.Length, sign string) {
		for k := s.cell(s.frontPost + from); from < to && k <= s.cell(s.frontPost+to); k++ {
			cell[k], role[k] = sign, style.Aside
		}
	}
	before, behind := d.signs.before, d.signs.cords
	if rear {
		before, behind = behind, before
	}
	paint(e.whole.From, e.body.From, before)
	paint(e.body.To, e.whole.To, behind)
	a, b := s.cell(s.frontPost+e.body.From), s.cell(s.frontPost+e.body.To)
	if e.unknown && b-a < 8 {
		if rear {
			a = max(b-8, 0)
		} else {
			b = min(a+8, len(cell)-1)
		}
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
	need, have := e.whole.To, s.rearDoor-s.frontPost
	if rear {
		need, have = s.rearPost-s.frontPost-e.whole.From, s.rearPost
	}
	had := d.number(have)
	if !s.known[1] || !rear && !s.known[2] || rear && !s.known[0] {
		had = d.signs.unknown
	}
	return fmt.Sprintf("%s of %s", d.number(need), had)
}
