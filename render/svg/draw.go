package svg

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/render/elevation"
	"cagenut/render/style"
)

// Options say what is drawn.
type Options struct {
	View   elevation.View
	Inches bool // lengths in inches

	// Marks are the signs of a change, by mount. The role of a mark chooses
	// pattern and colour.
	Marks map[*estate.Mount]elevation.Mark
	Bare  bool // no heading and no caution, for a page that has them
	Slim  bool // no mass, depth and feeds beside the rack, for a page that lists them
}

// Sizes of the drawing, in millimetres of the rack.
const (
	edge        = 30.0 // white around everything
	numbers     = 62.0 // a column of unit numbers
	labelSize   = 25.0
	asideSize   = 20.0
	titleSize   = 52.0
	lineHeight  = 34.0
	caseRoom    = 18.0  // between the panels and the outline of a frame of unknown width
	notesWidth  = 330.0 // mass, depth and feeds beside a rack
	tallestBase = 300.0 // what stands higher is not drawn down to the floor
)

// Elevation draws a rack. A rack whose frame has no known height cannot be
// drawn: the error says what is missing.
func Elevation(r *estate.Rack, o Options) (*Drawing, error) {
	if r.Frame == nil {
		return nil, fmt.Errorf("%s is not drawn: its frame is not declared", r.Ref())
	}
	if r.Frame.Modules() <= 0 {
		return nil, fmt.Errorf("%s is not drawn: the height of frame.%s is not known", r.Ref(), r.Frame.Name)
	}
	p := &picture{Drawing: &Drawing{}, rack: r, frame: r.Frame, o: o, face: estate.FrontFace}
	if o.View == elevation.Rear {
		p.face = estate.RearFace
	}
	p.Title = style.Name(r.Name) + " " + p.from()
	p.Desc = p.describe()
	p.heading()
	if o.View == elevation.Side {
		p.side()
	} else {
		p.front()
	}
	p.footing()
	p.width += edge
	p.height = p.y + edge
	return p.Drawing, nil
}

// A picture is one elevation being drawn.
type picture struct {
	*Drawing
	rack  *estate.Rack
	frame *estate.Frame
	face  estate.Face
	o     Options
	y     float64 // below what is drawn so far
	top   float64 // the y of the upper end of the usable height

	swatches []swatch // what occurs and must be explained
	hidden   []string // what cannot be seen from here
	noted    []estate.Extent
}

// A swatch is a line of the key.
type swatch struct {
	class class
	text  string
}

func (p *picture) key(c class, text string) {
	for _, s := range p.swatches {
		if s.class == c {
			return
		}
	}
	p.swatches = append(p.swatches, swatch{c, text})
}

func (p *picture) from() string {
	return map[elevation.View]string{
		elevation.NoView: "from the front", elevation.Front: "from the front",
		elevation.Rear: "from behind", elevation.Side: "from the side, front at the left",
	}[p.o.View]
}

// length prints a length for people.
func (p *picture) length(l quantity.Length) string {
	if p.o.Inches {
		return l.Inched()
	}
	return quantity.Number(l.Millimetres(), 1) + " mm"
}

// short prints a length without its unit, which a heading gives.
func (p *picture) short(l quantity.Length) string {
	if p.o.Inches {
		return quantity.Number(l.Inches(), 2)
	}
	return quantity.Number(l.Millimetres(), 0)
}

func (p *picture) unit() string {
	if p.o.Inches {
		return "in"
	}
	return "mm"
}

// counting says how units are counted.
func (p *picture) counting() string {
	f := p.frame
	word := "units"
	switch f.Counted {
	case estate.CountedDown:
		return fmt.Sprintf("%d %s counted downward, %d is the highest", f.Modules(), word, f.First)
	case estate.CountedUp:
		return fmt.Sprintf("%d %s counted upward, %d is the lowest", f.Modules(), word, f.First)
	}
	return fmt.Sprintf("%d %s; which way they are counted is not declared, drawn upward", f.Modules(), word)
}

func (p *picture) where() string {
	r := p.rack
	parts := []string{p.from()}
	if room := r.Room(); room != nil {
		parts = append(parts, "room "+style.Name(room.Name))
	}
	if r.Row != nil {
		s := "row " + style.Name(r.Row.Name)
		if r.Place != 0 {
			s += fmt.Sprintf(", place %d", r.Place)
		}
		parts = append(parts, s)
	}
	return strings.Join(append(parts, "frame "+style.Name(p.frame.Name)), "; ")
}

// describe says in sentences what the drawing shows, top first.
func (p *picture) describe() string {
	parts := []string{p.where(), p.counting()}
	placed := p.rack.Placed()
	for i := len(placed) - 1; i >= 0; i-- {
		parts = append(parts, p.titleOf(placed[i].Mount))
	}
	return strings.Join(parts, ". ") + "."
}

// titleOf says what a mount is and where.
func (p *picture) titleOf(m *estate.Mount) string {
	s := style.Name(m.Label()) + ": " + style.Name(m.Name)
	if m.Equipment != nil {
		s += " (" + style.Name(m.Equipment.Name) + ")"
	}
	if m.ZeroU == nil {
		s += ", " + m.Posts().String()
	}
	if k, ok := p.o.Marks[m]; ok && k.Sign != "" {
		s += ", " + meaning(k.Role)
	}
	return s
}

// meaning names what a mark of a change says.
func meaning(r style.Role) string {
	switch r {
	case style.In:
		return "comes in"
	case style.Out:
		return "goes out"
	case style.Moved:
		return "moved"
	case style.Altered:
		return "altered"
	}
	return "marked"
}

// classOf gives how a mount is painted.
func (p *picture) classOf(m *estate.Mount) class {
	switch p.o.Marks[m].Role {
	case style.In:
		return comes
	case style.Out:
		return goes
	case style.Moved:
		return moves
	case style.Altered:
		return alters
	}
	return body
}

func (p *picture) heading() {
	if p.o.Bare {
		p.y = edge
		return
	}
	p.text(title, edge, edge+titleSize/2, titleSize, atStart, style.Name(p.rack.Name))
	p.y = edge + titleSize + 26
	for _, s := range []string{p.where(), p.counting()} {
		p.text(label, edge, p.y, labelSize, atStart, s)
		p.width = max(p.width, edge+textWidth(s, labelSize))
		p.y += lineHeight
	}
	p.y += 20
}

// footing explains what occurs, lists what is not seen, gives a scale and
// cautions.
func (p *picture) footing() {
	p.y += 30
	say := func(c class, size float64, s string) {
		cells := max(int((p.width-edge)/(letterWidth*size)), 30)
		for _, line := range style.Wrap(s, cells) {
			p.text(c, edge, p.y, size, atStart, line)
			p.y += size * 1.35
		}
	}
	if len(p.hidden) > 0 {
		say(label, asideSize, "not seen from here: "+strings.Join(p.hidden, ", "))
	}
	for _, m := range p.rack.Mounts {
		if _, ok := m.Extent(); !ok {
			say(label, asideSize, "? not drawn, its place or height is not known: "+style.Name(m.Name))
		}
	}
	if len(p.swatches) > 0 {
		p.y += 8
		x := edge
		for _, s := range p.swatches {
			wide := 62 + textWidth(s.text, asideSize) + 26
			if x > edge && x+wide > p.width {
				x = edge
				p.y += 44
			}
			p.rect(s.class, x, p.y-14, 48, 28)
			p.text(label, x+60, p.y, asideSize, atStart, s.text)
			x += wide
		}
		p.y += 44
	}
	p.ruler()
	if !p.o.Bare {
		say(aside, asideSize, strings.Join(strings.Fields(elevation.Caution), " "))
	}
}

// ruler draws a length to measure by.
func (p *picture) ruler() {
	long, text := 500.0, "500 mm"
	if p.o.Inches {
		long, text = 20*25.4, "20 in"
	}
	p.y += 8
	p.line(measure, edge, p.y, edge+long, p.y)
	for _, x := range []float64{0, long / 2, long} {
		p.line(measure, edge+x, p.y-9, edge+x, p.y+9)
	}
	p.text(aside, edge+long+14, p.y, asideSize, atStart, fmt.Sprintf("%s; 1:%d where shown at its own size", text, Scale))
	p.width = max(p.width, edge+long+14+textWidth(text, asideSize)+380)
	p.y += 40
}

// at gives the y of a height above the lower edge of the lowest unit.
func (p *picture) at(h quantity.Length) float64 { return p.top + mm(p.frame.Usable().Top-h) }

// span gives the upper y and the height of an extent.
func (p *picture) span(e estate.Extent) (y, height float64) { return p.at(e.Top), mm(e.Height()) }
