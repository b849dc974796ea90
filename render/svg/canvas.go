package svg

import (
	"cagenut/lang/quantity"
	"cagenut/render/style"
)

// A Drawing is a picture in millimetres, the origin at the upper left.
type Drawing struct {
	Title string // what is drawn, in a few words
	Desc  string // the same in sentences, for who cannot see it

	width, height float64
	shapes        []shape
}

// Size gives the width and height in millimetres of what is drawn.
func (d *Drawing) Size() (width, height float64) { return d.width, d.height }

// kind is a kind of shape.
type kind uint8

const (
	noKind kind = iota
	rect        // x, y, w, h
	line        // from x, y to w, h
	circle      // centre x, y and radius w
	words       // a text at x, y
	begin       // of a group with a title
	end         // of it
)

// A shape is one thing drawn. Later shapes cover earlier ones.
type shape struct {
	kind       kind
	class      class
	x, y, w, h float64
	text       string
	size       float64 // height of the letters' square
	anchor     anchor
	upright    bool // turned a quarter, reading upward
}

// anchor is which point of a text stands at its place.
type anchor uint8

const (
	atStart anchor = iota
	atMiddle
	atEnd
)

func (d *Drawing) rect(c class, x, y, w, h float64) {
	d.shapes = append(d.shapes, shape{kind: rect, class: c, x: x, y: y, w: w, h: h})
}

func (d *Drawing) line(c class, x1, y1, x2, y2 float64) {
	d.shapes = append(d.shapes, shape{kind: line, class: c, x: x1, y: y1, w: x2, h: y2})
}

func (d *Drawing) circle(c class, x, y, r float64) {
	d.shapes = append(d.shapes, shape{kind: circle, class: c, x: x, y: y, w: r})
}

// text writes s with the middle of its letters at y.
func (d *Drawing) text(c class, x, y, size float64, a anchor, s string) {
	if s != "" {
		d.shapes = append(d.shapes, shape{kind: words, class: c, x: x, y: y, text: s, size: size, anchor: a})
	}
}

// upright writes s reading upward, centred at x, y.
func (d *Drawing) upright(c class, x, y, size float64, s string) {
	d.shapes = append(d.shapes, shape{kind: words, class: c, x: x, y: y, text: s, size: size, anchor: atMiddle, upright: true})
}

// group draws shapes that belong together under a title.
func (d *Drawing) group(title string, draw func()) {
	d.shapes = append(d.shapes, shape{kind: begin, text: title})
	draw()
	d.shapes = append(d.shapes, shape{kind: end})
}

// letterWidth is how wide a terminal cell of text is taken to be, as a share of
// its size. Letters of common fonts are narrower on average.
const letterWidth = 0.58

// fit shortens s to what surely fits into a width.
func fit(s string, size, width float64) string {
	cells := int(width / (letterWidth * size))
	if cells < 2 {
		return ""
	}
	return style.Cut(s, cells, false)
}

// ground paints what a text at x stands on, so that it reads over a pattern.
func (d *Drawing) ground(x, y, size float64, a anchor, s string) {
	w := 0.86 * textWidth(s, size)
	if a == atEnd {
		x -= w
	}
	d.rect(paper, x-6, y-size*0.62, w+12, size*1.24)
}

// textWidth gives the width that s is taken to need.
func textWidth(s string, size float64) float64 { return float64(style.Width(s)) * letterWidth * size }

// mm gives a length as a coordinate.
func mm(l quantity.Length) float64 { return l.Millimetres() }

// number prints a coordinate without needless digits.
func number(f float64) string { return quantity.Number(f, 3) }
