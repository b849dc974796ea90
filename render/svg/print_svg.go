package svg

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
)

// Scale is how many millimetres of a rack one millimetre of an SVG shows where
// it is shown at its own size.
const Scale = 10

// SVG prints the drawing as a file of its own.
func (d *Drawing) SVG(w io.Writer) error {
	out := bufio.NewWriter(w)
	out.WriteString(xml.Header)
	d.write(out, "rack", true)
	return out.Flush()
}

// Embedded gives the drawing as an element of a page that has the rules of
// [Style]. The id must be unlike those of other drawings on the page.
func (d *Drawing) Embedded(id string) string {
	var b strings.Builder
	out := bufio.NewWriter(&b)
	d.write(out, id, false)
	out.Flush()
	return b.String()
}

func (d *Drawing) write(out *bufio.Writer, id string, alone bool) {
	fmt.Fprintf(out, `<svg xmlns="http://www.w3.org/2000/svg" class="cn" viewBox="0 0 %s %s" width="%smm" height="%smm" role="img" aria-labelledby="%s-title %s-desc">`+"\n",
		number(d.width), number(d.height), number(d.width/Scale), number(d.height/Scale), id, id)
	fmt.Fprintf(out, "<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", id, escape(d.Title), id, escape(d.Desc))
	if alone {
		fmt.Fprintf(out, "<style>\n%s</style>\n", Style())
	}
	out.WriteString("<defs>\n")
	used := map[pattern]bool{}
	for _, s := range d.shapes {
		used[looks[s.class].pattern] = true
	}
	for p, tile := range patterns {
		if !used[pattern(p)] || pattern(p) == noPattern {
			continue
		}
		fmt.Fprintf(out, `<pattern id="%s-%s" width="%s" height="%s" patternUnits="userSpaceOnUse">`, id, tile.name, number(tile.size), number(tile.size))
		for _, l := range tile.lines {
			fmt.Fprintf(out, `<path class="cn-tile" stroke-width="%s" d="M%s %sL%s %s"/>`, number(tile.width), number(l[0]), number(l[1]), number(l[2]), number(l[3]))
		}
		out.WriteString("</pattern>\n")
	}
	out.WriteString("</defs>\n")
	fmt.Fprintf(out, `<rect class="cn-paper" width="%s" height="%s"/>`+"\n", number(d.width), number(d.height))
	for _, s := range d.shapes {
		s.write(out, id)
	}
	out.WriteString("</svg>\n")
}

func (s *shape) write(out *bufio.Writer, id string) {
	l := &looks[s.class]
	switch s.kind {
	case rect:
		box := fmt.Sprintf(`x="%s" y="%s" width="%s" height="%s"`, number(s.x), number(s.y), number(s.w), number(s.h))
		fmt.Fprintf(out, `<rect class="cn-%s" %s/>`, l.name, box)
		if l.pattern != noPattern {
			fmt.Fprintf(out, `<rect fill="url(#%s-%s)" %s/>`, id, patterns[l.pattern].name, box)
		}
	case line:
		fmt.Fprintf(out, `<line class="cn-%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`, l.name, number(s.x), number(s.y), number(s.w), number(s.h))
	case circle:
		fmt.Fprintf(out, `<circle class="cn-%s" cx="%s" cy="%s" r="%s"/>`, l.name, number(s.x), number(s.y), number(s.w))
	case words:
		at := fmt.Sprintf(`x="%s" y="%s"`, number(s.x), number(s.y))
		if s.upright {
			at += fmt.Sprintf(` transform="rotate(-90 %s %s)"`, number(s.x), number(s.y))
		}
		if s.anchor != atStart {
			at += ` text-anchor="` + [...]string{atMiddle: "middle", atEnd: "end"}[s.anchor] + `"`
		}
		fmt.Fprintf(out, `<text class="cn-%s" %s dy=".35em" font-size="%s">%s</text>`, l.name, at, number(s.size), escape(s.text))
	case begin:
		fmt.Fprintf(out, "<g><title>%s</title>", escape(s.text))
	case end:
		out.WriteString("</g>")
	}
	out.WriteString("\n")
}

func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder takes everything
	return b.String()
}
