package html

import (
	"html/template"
	"io"

	"cagenut/lang/estate"
	"cagenut/render/elevation"
	"cagenut/render/style"
	"cagenut/render/svg"
)

// A sheet hangs in one door of a rack: the elevation as seen there, what hangs
// on those posts, and a title block with a place to sign (ISO 7200 has such a
// block on technical drawings).
type sheet struct {
	Rack, Where, Frame, View, Counting string
	SVG                                template.HTML
	Table                              *Table
	Number                             int
}

// Sheets prints door sheets of A4, one for the front door of each rack, and
// one for the rear door where something is to be seen there.
func (e *Elevations) Sheets(w io.Writer) error {
	data := struct {
		Title, Read, Caution string
		Sheets               []sheet
	}{Title: e.Title, Read: e.Read, Caution: caution()}
	for _, r := range e.Racks {
		for _, view := range e.views(r) {
			face := estate.FrontFace
			switch view {
			case elevation.Rear:
				face = estate.RearFace
			case elevation.Side:
				face = estate.NoFace
			}
			s := sheet{
				Rack: style.Name(r.Name), Where: elevation.Where(r), View: viewName(view),
				Frame: "not declared", Table: e.table(r, face), Number: len(data.Sheets) + 1,
			}
			if r.Frame != nil {
				s.Frame, s.Counting = style.Name(r.Frame.Name), counting(r.Frame)
			}
			if d, err := svg.Elevation(r, svg.Options{View: view, Inches: e.Inches, Bare: true, Slim: true}); err == nil {
				s.SVG = template.HTML(d.Embedded("s" + template.HTMLEscaper(s.Number)))
			} else {
				s.Counting = err.Error()
			}
			data.Sheets = append(data.Sheets, s)
		}
	}
	return templates(elevationText).ExecuteTemplate(w, "sheets", data)
}

func viewName(v elevation.View) string {
	switch v {
	case elevation.Rear:
		return "from behind"
	case elevation.Side:
		return "from the side"
	}
	return "from the front"
}
