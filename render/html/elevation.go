package html

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"iter"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/render/elevation"
	"cagenut/render/style"
	"cagenut/render/svg"
)

//go:embed page.css
var css string

//go:embed elevation.tmpl
var elevationText string

// templates are parsed when a page is asked for: most runs of the program
// print none.
func templates(text string) *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{
		"style": Rules,
	}).Parse(text))
}

// Rules gives the rules of style that every page shares, those of its pictures
// included.
func Rules() template.CSS { return template.CSS(css + svg.Style()) }

// Elevations is what a page of elevations shows.
type Elevations struct {
	Title  string // "elevations of ferry"
	Read   string // what was read: "the folder", "main, commit 3fa2c1b0 of 2027-01-31"
	Racks  []*estate.Rack
	View   elevation.View // NoView: front, and rear where something hangs there
	Inches bool
	Marks  map[*estate.Mount]elevation.Mark
}

// Print prints the page. A rack that cannot be drawn is listed, and the page
// says why.
func (e *Elevations) Print(w io.Writer) error {
	type link struct{ ID, Name string }
	data := struct {
		Title, Read, Caution string
		Links                []link
		Racks                iter.Seq[rackPage] // made one by one: a page may hold thousands
	}{Title: e.Title, Read: e.Read, Caution: caution()}
	for i, r := range e.Racks {
		data.Links = append(data.Links, link{rackID(i), style.Name(r.Name)})
	}
	data.Racks = func(yield func(rackPage) bool) {
		for i, r := range e.Racks {
			if !yield(e.rack(rackID(i), r)) {
				return
			}
		}
	}
	return templates(elevationText).ExecuteTemplate(w, "elevations", data)
}

func rackID(i int) string { return fmt.Sprintf("r%d", i+1) }

type rackPage struct {
	ID, Name string
	Facts    []string
	Views    []viewOf
	Table    *Table
}

type viewOf struct {
	Caption string
	SVG     template.HTML
}

func caution() string { return strings.Join(strings.Fields(elevation.Caution), " ") }

func (e *Elevations) rack(id string, r *estate.Rack) rackPage {
	page := rackPage{ID: id, Name: style.Name(r.Name), Table: e.table(r, estate.NoFace)}
	facts := []string{elevation.Where(r)}
	if r.Frame != nil {
		facts = append(facts, "frame "+style.Name(r.Frame.Name), counting(r.Frame))
	}
	page.Facts = append(page.Facts, join(facts, "; "))
	for k, view := range e.views(r) {
		d, err := svg.Elevation(r, svg.Options{View: view, Inches: e.Inches, Marks: e.Marks, Bare: true, Slim: true})
		if err != nil {
			page.Facts = append(page.Facts, err.Error())
			break
		}
		page.Views = append(page.Views, viewOf{d.Title, template.HTML(d.Embedded(fmt.Sprintf("%s-%d", id, k+1)))})
	}
	return page
}

// views gives what a rack is shown from.
func (e *Elevations) views(r *estate.Rack) []elevation.View {
	if e.View != elevation.NoView {
		return []elevation.View{e.View}
	}
	if behind(r) {
		return []elevation.View{elevation.Front, elevation.Rear}
	}
	return []elevation.View{elevation.Front}
}

// behind reports whether a rack has anything to be seen from behind only.
func behind(r *estate.Rack) bool {
	return slices.ContainsFunc(r.Mounts, func(m *estate.Mount) bool {
		return m.Face == estate.RearFace || m.ZeroU != nil && m.ZeroU.Plane == estate.RearFace
	})
}

func counting(f *estate.Frame) string {
	switch f.Counted {
	case estate.CountedUp:
		return fmt.Sprintf("%d units counted upward ↑, %d is the lowest", f.Modules(), f.First)
	case estate.CountedDown:
		return fmt.Sprintf("%d units counted downward ↓, %d is the highest", f.Modules(), f.First)
	}
	return fmt.Sprintf("%d units; which way they are counted is not declared", f.Modules())
}

func join(parts []string, with string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), with)
}

// A Table is a table with a caption. Cells that hold figures stand at the right.
type Table struct {
	Caption string
	Head    []Cell
	Rows    [][]Cell
}

// A Cell is one cell of a table.
type Cell struct {
	Text   string
	Figure bool
}

// table lists what hangs in a rack, top first, and below it what hangs beside
// the posts and what has no known place.
func (e *Elevations) table(r *estate.Rack, face estate.Face) *Table {
	deep := "mm deep"
	if e.Inches {
		deep = "in deep"
	}
	t := &Table{Caption: "mounts of " + style.Name(r.Name) + ", highest first"}
	t.Head = []Cell{{Text: "units"}, {Text: "mount"}, {Text: "equipment"}, {Text: "kg", Figure: true}, {Text: deep, Figure: true}, {Text: "feeds"}}
	if face == estate.NoFace {
		t.Head = slices.Insert(t.Head, 3, Cell{Text: "face"})
		t.Head = append(t.Head, Cell{Text: "serial"}, Cell{Text: "owner"})
	}
	mounts := make([]*estate.Mount, 0, len(r.Mounts))
	placed := r.Placed()
	for i := len(placed) - 1; i >= 0; i-- {
		mounts = append(mounts, placed[i].Mount)
	}
	for _, m := range r.Mounts {
		if !slices.Contains(mounts, m) {
			mounts = append(mounts, m)
		}
	}
	for _, m := range mounts {
		on := m.Posts()
		if m.ZeroU != nil {
			on = m.ZeroU.Plane
		}
		if face != estate.NoFace && on != face {
			continue
		}
		row := []Cell{{Text: style.Name(m.Label())}, {Text: e.mark(m) + name(m)}, {Text: equipment(m)},
			{Text: mass(m), Figure: true}, {Text: e.depth(m), Figure: true}, {Text: feeds(m)}}
		if face == estate.NoFace {
			row = slices.Insert(row, 3, Cell{Text: on.String()})
			row = append(row, Cell{Text: style.Name(m.Serial)}, Cell{Text: style.Name(m.Owner)})
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (e *Elevations) mark(m *estate.Mount) string {
	if k := e.Marks[m]; k.Sign != "" {
		return k.Sign + " "
	}
	return ""
}

// name gives the label of a mount and what is written on it, where that
// differs.
func name(m *estate.Mount) string {
	s := style.Name(m.Name)
	if m.Marking != "" && m.Marking != m.Name {
		s += " (marked " + style.Name(m.Marking) + ")"
	}
	return s
}

func equipment(m *estate.Mount) string {
	if m.Equipment == nil {
		return "?"
	}
	return style.Name(m.Equipment.Name)
}

func mass(m *estate.Mount) string {
	if m.Equipment == nil {
		return "?"
	}
	kg, ok := m.Equipment.Mass.Get()
	if !ok {
		return "?"
	}
	return quantity.Number(kg.Kilograms(), 1)
}

func (e *Elevations) depth(m *estate.Mount) string {
	if m.Equipment == nil {
		return "?"
	}
	l, why := m.Equipment.Needs()
	switch {
	case why != "":
		return "?"
	case e.Inches:
		return quantity.Number(l.Inches(), 2)
	}
	return quantity.Number(l.Millimetres(), 0)
}

func feeds(m *estate.Mount) string {
	var names []string
	for _, f := range m.Feeds {
		names = append(names, style.Name(f.Name))
	}
	return strings.Join(names, " ")
}
