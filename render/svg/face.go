package svg

import (
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/render/style"
)

// A bay is where things are across a front or rear view, in millimetres from
// the left edge of the drawing.
type bay struct {
	left, right       float64 // edges of the panels
	inner, innerRight float64 // edges of the opening
	holesLeft         float64 // centre line of the holes
	holesRight        float64
	outer, outerRight float64 // outline of the frame
}

func (p *picture) bay() bay {
	panel, opening, centres := 482.6, 450.0, 465.14
	if s := p.frame.System; s != nil {
		panel = mm(s.Panel)
		opening = panel - 32
		if least, ok := s.LeastOpening(); ok {
			opening = mm(least.Least)
		}
		centres = (panel + opening) / 2
		if s.Centres > 0 {
			centres = mm(s.Centres)
		}
	}
	if o, ok := p.frame.Opening.Get(); ok {
		opening = min(mm(o), panel)
	}
	width := panel + 2*caseRoom
	if w, ok := p.frame.Width.Get(); ok && mm(w) > panel {
		width = mm(w)
	}
	beside := 0.0
	for _, m := range p.rack.Mounts {
		if m.ZeroU != nil {
			beside = stripWidth + 14
		}
	}
	width = max(width, panel+2*beside)
	b := bay{outer: edge + numbers}
	b.outerRight = b.outer + width
	middle := (b.outer + b.outerRight) / 2
	b.left, b.right = middle-panel/2, middle+panel/2
	b.inner, b.innerRight = middle-opening/2, middle+opening/2
	b.holesLeft, b.holesRight = middle-centres/2, middle+centres/2
	return b
}

// stripWidth is how wide a piece beside the posts is drawn.
const stripWidth = 44.0

// front draws the rack as seen from the front or from behind.
func (p *picture) front() {
	b := p.bay()
	if !p.o.Slim {
		p.text(aside, b.outerRight+numbers+60, p.y, asideSize, atEnd, "kg")
		p.text(aside, b.outerRight+numbers+180, p.y, asideSize, atEnd, p.unit()+" deep")
		p.text(aside, b.outerRight+numbers+204, p.y, asideSize, atStart, "feeds")
	}
	if !p.o.Slim {
		p.y += lineHeight
	}
	below, above := p.outline()
	under, beyond := p.over(below, above)
	p.top = p.y + beyond + above
	usable := p.frame.Usable()
	bottom := p.at(usable.Bottom)
	p.rect(frame, b.outer, p.top-above, b.outerRight-b.outer, mm(usable.Height())+above+below)
	p.posts(b)
	p.unitNumbers(b.outer-12, b.outerRight+12)
	p.countingArrow(edge, p.top, bottom)
	p.open(b)
	p.pieces(b)
	p.beside(b)
	if below > 0 && p.standsOnFloor() {
		p.line(floor, b.outer-40, bottom+below, b.outerRight+40, bottom+below)
	}
	p.width = max(p.width, b.outerRight+numbers)
	if !p.o.Slim {
		p.width = max(p.width, b.outerRight+numbers+notesWidth)
	}
	p.y = bottom + below + under
}

// outline gives how far the frame reaches below and above its usable height.
func (p *picture) outline() (below, above float64) {
	below, above = caseRoom, caseRoom
	base, ok := p.frame.Base.Get()
	if !ok || mm(base) > tallestBase {
		return below, above
	}
	below = mm(base)
	if height, ok := p.frame.Height.Get(); ok {
		if rest := height - base - p.frame.Usable().Height(); rest > 0 {
			above = mm(rest)
		}
	}
	return below, above
}

// over gives how far mounts stick out below and above the outline of the
// frame, so that room is left for them.
func (p *picture) over(below, above float64) (under, beyond float64) {
	usable := p.frame.Usable()
	for _, m := range p.rack.Placed() {
		under = max(under, mm(usable.Bottom-m.Bottom)-below)
		beyond = max(beyond, mm(m.Top-usable.Top)-above)
	}
	return under, beyond
}

func (p *picture) standsOnFloor() bool {
	base, ok := p.frame.Base.Get()
	return ok && mm(base) <= tallestBase
}

// posts draws the two posts with their holes.
func (p *picture) posts(b bay) {
	usable := p.frame.Usable()
	y, h := p.span(usable)
	p.rect(post, b.left, y, b.inner-b.left, h)
	p.rect(post, b.innerRight, y, b.right-b.innerRight, h)
	s := p.frame.System
	if s == nil {
		return
	}
	for _, at := range s.Holes(usable.Bottom, usable.Top) {
		for _, x := range []float64{b.holesLeft, b.holesRight} {
			if p.frame.Holes == estate.SquareHoles {
				const side = 9.5 // IEC 60297-3-100 has square holes of that size for cage nuts
				p.rect(hole, x-side/2, p.at(at)-side/2, side, side)
			} else {
				p.circle(hole, x, p.at(at), 3.5)
			}
		}
	}
}

// unitNumbers writes the numbers of the units on both sides.
func (p *picture) unitNumbers(left, right float64) {
	f := p.frame
	for n := f.First; n <= f.Last(); n++ {
		e := f.UnitExtent(estate.Units(n))
		y, h := p.span(e)
		s := estate.Units(n).String()
		size := min(asideSize, h*0.8)
		p.text(aside, left, y+h/2, size, atEnd, s)
		p.text(aside, right, y+h/2, size, atStart, s)
		p.line(measure, left+4, y+h, left+10, y+h)
		p.line(measure, right-10, y+h, right-4, y+h)
	}
}

// countingArrow points where the numbers rise.
func (p *picture) countingArrow(x, top, bottom float64) {
	p.line(measure, x, top, x, bottom)
	tip, back := top, 16.0
	switch p.frame.Counted {
	case estate.NotCounted:
		return
	case estate.CountedDown:
		tip, back = bottom, -16
	}
	p.line(measure, x, tip, x-8, tip+back)
	p.line(measure, x, tip, x+8, tip+back)
}

// open draws what holds units without a mount: unusable ones, reserves, blanks.
func (p *picture) open(b bay) {
	strip := func(c class, e estate.Extent, explain, text string) {
		y, h := p.span(e)
		p.key(c, explain)
		p.group(text, func() {
			p.rect(c, b.left, y+1, b.right-b.left, h-2)
			if size := min(asideSize, h*0.7); text != "" {
				s := fit(text, size, b.right-b.left-60)
				p.ground(b.left+30, y+h/2, size, atStart, s)
				p.text(label, b.left+30, y+h/2, size, atStart, s)
			}
		})
	}
	for _, o := range p.frame.Obstructions {
		y, h := p.span(estate.Extent{Bottom: o.From, Top: o.To})
		x, w := b.inner, b.innerRight-b.inner
		if o.Side != estate.NoSide {
			w = mm(o.Reach)
			if (o.Side == estate.RightSide) == (p.face == estate.FrontFace) {
				x = b.innerRight - w
			}
		}
		p.obstruction(o, x, y, w, h)
	}
	for _, u := range p.frame.Unusable {
		strip(shut, p.frame.Extent(u), "unusable", "unusable")
	}
	for _, r := range p.rack.Reserves {
		if e, ok := r.Extent(); ok && (r.Face == estate.NoFace || r.Face == p.face) {
			text := "held: " + style.Name(r.Name)
			if r.Until != 0 {
				text += ", until " + r.Until.String()
			}
			strip(held, e, "held", text)
		}
	}
	for _, k := range p.rack.Blanks {
		if e, ok := k.Extent(); ok && (k.Face == p.face || k.Face == estate.NoFace && p.face == estate.FrontFace) {
			strip(blank, e, "blank", "")
		}
	}
}

// obstruction draws what stands inside a frame.
func (p *picture) obstruction(o *estate.Obstruction, x, y, w, h float64) {
	p.key(obstacle, "stands inside the frame")
	p.group("stands inside the frame: "+style.Name(o.Name), func() {
		p.rect(obstacle, x, y, w, h)
		size := min(asideSize, max(h*0.7, 8))
		if s := fit(style.Name(o.Name), size, w-12); s != "" {
			p.ground(x+8, y+h/2, size, atStart, s)
			p.text(label, x+8, y+h/2, size, atStart, s)
		}
	})
}

// pieces draws the mounts between the posts: first those of the other face,
// dashed, where nothing stands before them.
func (p *picture) pieces(b bay) {
	placed := p.rack.Placed()
	var near, other []estate.Placed
	for _, m := range placed {
		if m.Posts() == p.face {
			near = append(near, m)
		} else {
			other = append(other, m)
		}
	}
	for _, m := range other {
		if p.covered(m, near) {
			p.hidden = append(p.hidden, style.Name(m.Name)+" ("+m.Label()+")")
			continue
		}
		p.key(far, "on the other face")
		p.piece(b, m, far)
		p.notes(b, m)
	}
	for _, m := range near {
		p.piece(b, m, p.classOf(m.Mount))
		p.notes(b, m)
	}
	for i, m := range near {
		for _, n := range near[i+1:] {
			if m.Meets(n.Extent) && m.Slot.Overlaps(n.Slot) {
				x, w := p.across(b, m.Mount)
				y, h := p.span(m.Shared(n.Extent))
				p.key(clash, "claimed twice")
				p.rect(clash, x+4, y+4, w-8, h-8)
				size := min(labelSize, h*0.6)
				s := fit(style.Name(m.Name)+", "+style.Name(n.Name), size, w-40)
				p.rect(paper, x+w/2-0.43*textWidth(s, size)-6, y+h/2-size*0.62, 0.86*textWidth(s, size)+12, size*1.24)
				p.text(title, x+w/2, y+h/2, size, atMiddle, s)
			}
		}
	}
	for _, m := range placed {
		if m.Within(p.frame.Usable()) {
			continue
		}
		x, w := p.across(b, m.Mount)
		y, h := p.span(m.Extent)
		p.key(outside, "outside the frame")
		p.rect(outside, x+3, y+3, w-6, h-6)
	}
}

// covered reports whether something hangs or is fitted before a mount of the
// other face.
func (p *picture) covered(m estate.Placed, near []estate.Placed) bool {
	for _, n := range near {
		if n.Meets(m.Extent) && n.Slot.Overlaps(m.Slot) {
			return true
		}
	}
	for _, k := range p.rack.Blanks {
		if e, ok := k.Extent(); ok && p.face == estate.FrontFace && e.Meets(m.Extent) {
			return true
		}
	}
	return false
}

// across gives the left edge and width of a mount: its share of the panel, or
// the panel of its own system where that differs from the frame's.
func (p *picture) across(b bay, m *estate.Mount) (x, w float64) {
	if m.Slot.Whole() {
		w = b.right - b.left
		if s := p.system(m); s != nil && s != p.frame.System && s.Panel > 0 {
			w = mm(s.Panel)
		}
		return (b.left + b.right - w) / 2, w
	}
	part := float64(m.Slot.Part)
	of := float64(m.Slot.Of)
	if p.face == estate.RearFace { // what is left from the front is right from behind
		part = of + 1 - part
	}
	w = (b.right - b.left) / of
	return b.left + w*(part-1), w
}

// piece draws one mount: the panel at its true height, its name and what it is.
func (p *picture) piece(b bay, m estate.Placed, c class) {
	x, w := p.across(b, m.Mount)
	y, h := p.span(m.Extent)
	gap := 0.5
	if s := p.system(m.Mount); s != nil && s.Allowance > 0 {
		gap = mm(s.Allowance) / 2
	}
	p.group(p.titleOf(m.Mount), func() {
		if x > b.left+2 && m.Slot.Whole() { // an adapter fills what its panel leaves of the posts
			p.key(adapter, "adapter")
			p.rect(adapter, b.left+1, y+gap, x-b.left-1, h-2*gap)
			p.rect(adapter, x+w, y+gap, b.right-x-w-1, h-2*gap)
		}
		p.rect(c, x+1, y+gap, w-2, h-2*gap)
		left, middle := x+18, y+h/2
		if k, ok := p.o.Marks[m.Mount]; ok && k.Sign != "" {
			side := min(34, h-8)
			p.rect(badge, x+10, middle-side/2, side, side)
			p.text(sign, x+10+side/2, middle, side*0.8, atMiddle, k.Sign)
			left = x + 10 + side + 14
			p.key(c, meaning(k.Role))
		}
		name, what := style.Name(m.Name), ""
		if q := m.Equipment; q != nil && q.Name != m.Name {
			what = style.Name(q.Name)
		}
		if c == far {
			what = "on the " + m.Posts().String()
		}
		size, small := min(labelSize, h*0.72), min(asideSize, h*0.6)
		room := x + w - 18 - left
		if c != body && c != far { // text over a pattern needs ground to stand on
			p.ground(left, middle, size, atStart, fit(name, size, room))
		}
		p.text(label, left, middle, size, atStart, fit(name, size, room))
		if rest := room - textWidth(name, size) - 20; what != "" && textWidth(what, small) <= rest {
			if c != body && c != far {
				p.ground(x+w-18, middle, small, atEnd, what)
			}
			p.text(aside, x+w-18, middle, small, atEnd, what)
		}
	})
}

func (p *picture) system(m *estate.Mount) *system.System {
	if m.Equipment != nil && m.Equipment.System != nil {
		return m.Equipment.System
	}
	return p.frame.System
}

// notes writes mass, depth and feeds of a mount beside the rack.
func (p *picture) notes(b bay, m estate.Placed) {
	if p.o.Slim || m.Equipment == nil || !m.Slot.Whole() || slices.ContainsFunc(p.noted, m.Meets) {
		return
	}
	p.noted = append(p.noted, m.Extent)
	y, h := p.span(m.Extent)
	y += h / 2
	x := b.outerRight + numbers
	mass := "?"
	if kg, ok := m.Equipment.Mass.Get(); ok {
		mass = quantity.Number(kg.Kilograms(), 1)
	}
	deep := "?"
	if l, why := m.Equipment.Needs(); why == "" {
		deep = p.short(l)
	}
	p.text(label, x+60, y, asideSize, atEnd, mass)
	p.text(label, x+180, y, asideSize, atEnd, deep)
	var feeds []string
	for _, f := range m.Feeds {
		feeds = append(feeds, style.Name(f.Name))
	}
	p.text(label, x+204, y, asideSize, atStart, fit(strings.Join(feeds, " "), asideSize, notesWidth-204))
}

// beside draws what hangs beside the posts.
func (p *picture) beside(b bay) {
	for _, m := range p.rack.Mounts {
		e, ok := m.Extent()
		if m.ZeroU == nil || !ok {
			continue
		}
		x := b.left - stripWidth - 6
		if (m.ZeroU.Side == estate.RightSide) == (p.face == estate.FrontFace) {
			x = b.right + 6
		}
		c := p.classOf(m)
		if c == body && m.ZeroU.Plane != estate.NoFace && m.ZeroU.Plane != p.face {
			c = far
			p.key(far, "on the other face")
		}
		y, h := p.span(e)
		p.group(p.titleOf(m), func() {
			p.rect(c, x, y, stripWidth, h)
			s := fit(style.Name(m.Name), labelSize, h-40)
			if c != body && c != far {
				p.rect(paper, x+stripWidth/2-labelSize*0.62, y+h/2-textWidth(s, labelSize)/2-6, labelSize*1.24, textWidth(s, labelSize)+12)
			}
			p.upright(label, x+stripWidth/2, y+h/2, labelSize, s)
			if k, ok := p.o.Marks[m]; ok && k.Sign != "" {
				p.key(c, meaning(k.Role))
				p.rect(badge, x+5, y+8, 34, 34)
				p.text(sign, x+stripWidth/2, y+25, 27, atMiddle, k.Sign)
			}
		})
		if c == body {
			p.key(body, "beside the posts")
		}
	}
}
