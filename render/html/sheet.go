package html

import (
	"fmt"
	"html/template"
	"io"
	"iter"

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
		Count                int
		Sheets               iter.Seq[sheet]
	}{Title: e.Title, Read: e.Read, Caution: caution()}
	for _, r := range e.Racks {
		data.Count += len(e.views(r))
	}
	data.Sheets = func(yield func(sheet) bool) {
		number := 0
		for _, r := range e.Racks {
			for _, view := range e.views(r) {
				number++
				if !yield(e.sheet(r, view, number)) {
					return
				}
			}
		}
	}
	return templates(elevationText).ExecuteTemplate(w, "sheets", data)
}

// sheet makes the sheet of one rack as seen from one side.
func (e *Elevations) sheet(r *estate.Rack, view elevation.View, number int) sheet {
	face := estate.FrontFace
	switch view {
	case elevation.Rear:
		face = estate.RearFace
	case elevation.Side:
		face = estate.NoFace
	}
	s := sheet{
		Rack: style.Name(r.Name), Where: elevation.Where(r), View: viewName(view),
		Frame: "not declared", Table: e.table(r, face), Number: number,
	}
	if r.Frame != nil {
		s.Frame, s.Counting = style.Name(r.Frame.Name), counting(r.Frame)
	}
	d, err := svg.Elevation(r, svg.Options{View: view, Inches: e.Inches, Bare: true, Slim: true})
	if err != nil {
		s.Counting = err.Error()
		return s
	}
	s.SVG = template.HTML(d.Embedded(fmt.Sprintf("s%d", number)))
	return s
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
