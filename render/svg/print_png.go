package svg

import (
	"fmt"
	"io"
	"math"
	"strings"
	"sync"

	"git.sr.ht/~sbinet/gg"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
)

// PNG prints the drawing in pixels, so many for each millimetre of the rack, on
// white. Its letters are those of the Go fonts: Latin, Greek and Cyrillic; what
// they lack shows as "□", and an SVG has it all.
func (d *Drawing) PNG(w io.Writer, perMillimetre float64) error {
	width, height := int(math.Ceil(d.width*perMillimetre)), int(math.Ceil(d.height*perMillimetre))
	if width <= 0 || height <= 0 || width*height > 200_000_000 {
		return fmt.Errorf("a picture of %d by %d pixels is not drawn; choose another scale", width, height)
	}
	p := &pixels{Context: gg.NewContext(width, height), k: perMillimetre, faces: map[faceKey]font.Face{}}
	p.SetHexColor(looks[paper].fill)
	p.Clear()
	for _, s := range d.shapes {
		if err := p.draw(&s); err != nil {
			return err
		}
	}
	return p.EncodePNG(w)
}

type pixels struct {
	*gg.Context
	k     float64
	faces map[faceKey]font.Face
}

type faceKey struct {
	size float64
	bold bool
}

func (p *pixels) draw(s *shape) error {
	l := &looks[s.class]
	k := p.k
	switch s.kind {
	case rect:
		p.DrawRectangle(s.x*k, s.y*k, s.w*k, s.h*k)
		p.paint(l, func() { p.tiles(l.pattern, s) })
	case line:
		p.DrawLine(s.x*k, s.y*k, s.w*k, s.h*k)
		p.paint(l, nil)
	case circle:
		p.DrawCircle(s.x*k, s.y*k, s.w*k)
		p.paint(l, nil)
	case words:
		face, err := p.face(s.size, l.bold)
		if err != nil {
			return err
		}
		p.SetFontFace(face)
		p.SetHexColor(l.fill)
		p.Push()
		if s.upright {
			p.RotateAbout(-math.Pi/2, s.x*k, s.y*k)
		}
		p.DrawStringAnchored(drawable(s.text, l.bold), s.x*k, s.y*k, [...]float64{atStart: 0, atMiddle: 0.5, atEnd: 1}[s.anchor], 0.35)
		p.Pop()
	}
	return nil
}

// paint fills and strokes the current path.
func (p *pixels) paint(l *look, over func()) {
	if l.fill != "" {
		p.SetHexColor(l.fill)
		p.FillPreserve()
	}
	if l.pattern != noPattern && over != nil {
		p.Push()
		p.ClipPreserve()
		over()
		p.ResetClip()
		p.Pop()
	}
	if l.stroke != "" {
		p.SetHexColor(l.stroke)
		p.SetLineWidth(l.width * p.k)
		dash := make([]float64, len(l.dash))
		for i, d := range l.dash {
			dash[i] = d * p.k
		}
		p.SetDash(dash...)
		p.StrokePreserve()
		p.SetDash()
	}
	p.ClearPath()
}

// tiles draws a pattern inside the current clip, from the origin of the drawing
// so that neighbours join.
func (p *pixels) tiles(which pattern, s *shape) {
	tile := &patterns[which]
	p.SetHexColor(patternInk)
	p.SetLineWidth(tile.width * p.k)
	p.SetLineCapRound()
	p.ClearPath()
	for x := math.Floor(s.x/tile.size) * tile.size; x < s.x+s.w; x += tile.size {
		for y := math.Floor(s.y/tile.size) * tile.size; y < s.y+s.h; y += tile.size {
			for _, l := range tile.lines {
				if l[0] == l[2] && l[1] == l[3] {
					p.DrawCircle((x+l[0])*p.k, (y+l[1])*p.k, tile.width/2*p.k)
					p.Fill()
					continue
				}
				p.DrawLine((x+l[0])*p.k, (y+l[1])*p.k, (x+l[2])*p.k, (y+l[3])*p.k)
				p.Stroke()
			}
		}
	}
	p.SetLineCapButt()
	p.DrawRectangle(s.x*p.k, s.y*p.k, s.w*p.k, s.h*p.k) // the path again, to be stroked
}

// fonts are the Go fonts, parsed when the first picture is drawn.
var fonts = sync.OnceValues(func() ([2]*opentype.Font, error) {
	regular, err := opentype.Parse(goregular.TTF)
	if err != nil {
		return [2]*opentype.Font{}, fmt.Errorf("reading the Go font: %w", err)
	}
	bold, err := opentype.Parse(gobold.TTF)
	if err != nil {
		return [2]*opentype.Font{}, fmt.Errorf("reading the Go font: %w", err)
	}
	return [2]*opentype.Font{regular, bold}, nil
})

// drawable gives s with a box for each character that the font lacks.
func drawable(s string, bold bool) string {
	all, err := fonts()
	if err != nil {
		return s // drawing it gives the error
	}
	f := all[0]
	if bold {
		f = all[1]
	}
	var buf sfnt.Buffer
	return strings.Map(func(r rune) rune {
		if i, err := f.GlyphIndex(&buf, r); err != nil || i == 0 {
			return '□'
		}
		return r
	}, s)
}

func (p *pixels) face(size float64, bold bool) (font.Face, error) {
	key := faceKey{size, bold}
	if f, ok := p.faces[key]; ok {
		return f, nil
	}
	all, err := fonts()
	if err != nil {
		return nil, err
	}
	parsed := all[0]
	if bold {
		parsed = all[1]
	}
	f, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: size * p.k, DPI: 72})
	if err != nil {
		return nil, fmt.Errorf("reading the Go font: %w", err)
	}
	p.faces[key] = f
	return f, nil
}
