package svg

import (
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/render/style"
)

// Depths that are drawn where a frame does not declare them.
const (
	assumedRoom = 100 * quantity.Millimetre
	assumedSpan = 700 * quantity.Millimetre
)

// postThick is how thick a post is drawn from the side.
const postThick = 12.0

// side draws a section: the front door at the left, depths to scale.
func (p *picture) side() {
	f := p.frame
	front, knownFront := or(f.FrontRoom, assumedRoom)
	span, knownSpan := or(f.PostSpan, assumedSpan)
	rear, knownRear := or(f.RearRoom, assumedRoom)
	x0 := edge + numbers
	frontPost := x0 + mm(front)
	rearPost := frontPost + mm(span)
	rearDoor := rearPost + mm(rear)

	p.dimension(x0, frontPost, front, knownFront)
	p.dimension(frontPost, rearPost, span, knownSpan)
	p.dimension(rearPost, rearDoor, rear, knownRear)
	p.y += 2 * lineHeight

	below, above := p.outline()
	under, beyond := p.over(below, above)
	p.top = p.y + beyond + above
	usable := f.Usable()
	y, h := p.span(usable)
	bottom := y + h
	p.rect(frame, x0, y-above, rearDoor-x0, h+above+below)
	p.rect(post, frontPost, y, postThick, h)
	if f.Kind != estate.TwoPost {
		p.rect(post, rearPost-postThick, y, postThick, h)
	}
	p.key(door, "door")
	p.line(door, x0, y-above, x0, bottom+below)
	p.line(door, rearDoor, y-above, rearDoor, bottom+below)
	p.unitNumbers(x0-12, rearDoor+12)
	p.countingArrow(edge, p.top, bottom)
	for _, o := range f.Obstructions {
		y, h := p.span(estate.Extent{Bottom: o.From, Top: o.To})
		p.obstruction(o, frontPost+mm(o.Near), y, mm(o.Far-o.Near), h)
	}
	placed := p.rack.Placed()
	for i, m := range placed {
		if m.Slot.Whole() || !slices.ContainsFunc(placed[:i], func(o estate.Placed) bool { return beside(o, m) }) {
			p.sidePiece(m, frontPost, placed)
		}
		p.beyondDoors(m, frontPost, x0, rearDoor, knownFront && knownSpan && knownRear)
	}
	for _, c := range p.rack.Conflicts() {
		p.hidden = append(p.hidden, style.Name(c.Earlier.Name)+" ("+c.Earlier.Label()+", where "+style.Name(c.Later.Name)+" is)")
	}
	for _, c := range p.rack.Facings() {
		p.meet(c, frontPost)
	}
	if p.standsOnFloor() {
		p.line(floor, x0-40, bottom+below, rearDoor+40, bottom+below)
	}
	p.width = max(p.width, rearDoor+numbers)
	p.y = bottom + below + under
}

// beside reports whether two mounts share the same units and posts side by
// side, so that a section shows them as one.
func beside(a, b estate.Placed) bool {
	return a.Extent == b.Extent && a.Posts() == b.Posts() && !a.Slot.Overlaps(b.Slot)
}

// beyondDoors marks what of a mount reaches beyond a closed door.
func (p *picture) beyondDoors(m estate.Placed, zero, front, rear float64, known bool) {
	d, why := m.Depths()
	if why != "" || !known || p.frame.Kind == estate.TwoPost {
		return
	}
	y, h := p.span(m.Extent)
	mark := func(from, to float64) {
		p.key(outside, "beyond a closed door")
		p.rect(outside, from, y+3, to-from, h-6)
		p.width = max(p.width, to+numbers)
	}
	if to := zero + mm(d.Whole.To); to > rear+mm(estate.Touch) {
		mark(rear, to)
	}
	if from := zero + mm(d.Whole.From); from < front-mm(estate.Touch) {
		mark(from, front)
	}
}

func or(l estate.Figure[quantity.Length], other quantity.Length) (quantity.Length, bool) {
	v, ok := l.Get()
	if !ok {
		return other, false
	}
	return v, true
}

// dimension draws a dimension line with its length, or "?" where that is not
// declared and only assumed for the picture.
func (p *picture) dimension(from, to float64, l quantity.Length, known bool) {
	y := p.y + lineHeight
	p.line(measure, from, y, to, y)
	for _, x := range []float64{from, to} {
		p.line(measure, x, y-8, x, y+8)
	}
	s := "?"
	if known {
		s = p.length(l)
	}
	size := asideSize
	if textWidth(s, size) > to-from-6 {
		s = p.short(l)
	}
	p.text(label, (from+to)/2, y-18, size, atMiddle, s)
}

// sidePiece draws how deep one mount reaches, with the names of those beside
// it.
func (p *picture) sidePiece(m estate.Placed, zero float64, placed []estate.Placed) {
	y, h := p.span(m.Extent)
	d, why := m.Depths()
	if why != "" {
		p.hidden = append(p.hidden, style.Name(m.Name)+": "+why)
		return
	}
	c := p.classOf(m.Mount)
	p.group(p.titleOf(m.Mount), func() {
		if d.Whole.From < d.Body.From {
			p.key(cords, "cords, handles, connectors")
			p.rect(cords, zero+mm(d.Whole.From), y+5, mm(d.Body.From-d.Whole.From), h-10)
		}
		if d.Whole.To > d.Body.To {
			p.key(cords, "cords, handles, connectors")
			p.rect(cords, zero+mm(d.Body.To), y+5, mm(d.Whole.To-d.Body.To), h-10)
		}
		x, w := zero+mm(d.Body.From), mm(d.Body.To-d.Body.From)
		p.rect(c, x, y+0.5, w, h-1)
		left := x + 18
		if k, ok := p.o.Marks[m.Mount]; ok && k.Sign != "" {
			side := min(34, h-8)
			p.rect(badge, x+10, y+h/2-side/2, side, side)
			p.text(sign, x+10+side/2, y+h/2, side*0.8, atMiddle, k.Sign)
			left = x + 10 + side + 14
			p.key(c, meaning(k.Role))
		}
		names := []string{style.Name(m.Name)}
		for _, o := range placed {
			if beside(o, m) {
				names = append(names, style.Name(o.Name))
			}
		}
		s := strings.Join(names, ", ") + "  " + p.short(d.Body.To-d.Body.From)
		if cordRoom := m.Equipment.Cords.Or(0); cordRoom > 0 {
			s += " + " + p.short(cordRoom)
		}
		size := min(labelSize, h*0.72)
		room := x + w - 12 - left
		if fitted := fit(s, size, room); fitted == s {
			if c != body {
				p.ground(left, y+h/2, size, atStart, s)
			}
			p.text(label, left, y+h/2, size, atStart, s)
		} else { // too shallow for its name: beside it, on its own ground
			at, a := max(x+w, zero+mm(d.Whole.To))+12, atStart
			if m.Posts() == estate.RearFace && !slices.ContainsFunc(placed, func(o estate.Placed) bool {
				return o.Posts() == estate.FrontFace && o.Meets(m.Extent)
			}) {
				at, a = min(x, zero+mm(d.Whole.From))-12, atEnd
			}
			p.ground(at, y+h/2, size, a, s)
			p.text(label, at, y+h/2, size, a, s)
		}
	})
}

// meet marks where front and rear gear need the same depth.
func (p *picture) meet(c estate.Facing, zero float64) {
	a, why := c.Front.Depths()
	b, why2 := c.Rear.Depths()
	if why != "" || why2 != "" || !a.Whole.Meets(b.Whole) {
		return
	}
	from, to := max(a.Whole.From, b.Whole.From), min(a.Whole.To, b.Whole.To)
	y, h := p.span(c.Shared)
	p.key(clash, "front and rear gear meet")
	p.rect(clash, zero+mm(from), y+4, mm(to-from), h-8)
}
