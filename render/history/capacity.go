package history

import (
	"fmt"
	"io"
	"strconv"

	"cagenut/lang/estate"
	"cagenut/lang/history"
	"cagenut/lang/quantity"
	"cagenut/render/document"
	"cagenut/render/style"
)

// A Row is one line of a table of capacity: a rack, or a commit.
type Row struct {
	Name string
	history.Capacity
}

// How wide the bar of taken units is, where there is room.
const (
	barCells   = 20
	leastCells = 6
)

// Capacities prints a table of racks, and their sum below where there are
// several.
func Capacities(racks []*estate.Rack, o Options) []style.Line {
	var rows []Row
	for _, r := range racks {
		rows = append(rows, Row{r.Name, history.CapacityOf([]*estate.Rack{r})})
	}
	lines := table("rack", rows, o)
	if len(racks) > 1 {
		sum := table("rack", []Row{{fmt.Sprintf("%d racks", len(racks)), history.CapacityOf(racks)}}, padTo(o, rows))
		lines = append(lines, sum[1])
	}
	return append(lines, unknown(rows)...)
}

// Timeline prints a table of commits, the oldest first, with a bar for the
// share of units that is taken.
func Timeline(points []history.Point, o Options) []style.Line {
	var rows []Row
	for _, p := range points {
		rows = append(rows, Row{p.When.Format("2006-01-02") + "  " + p.Hash.Short(), p.Capacity})
	}
	return append(table("commit", rows, o), unknown(rows)...)
}

// padTo keeps the columns of a sum below those of the rows.
func padTo(o Options, rows []Row) Options {
	for _, r := range rows {
		o.name = max(o.name, style.Width(style.Name(r.Name)))
	}
	return o
}

func table(what string, rows []Row, o Options) []style.Line {
	full, open := "█", "░"
	if o.ASCII {
		full, open = "#", "."
	}
	name := max(style.Width(what), padTo(o, rows).name)
	name = min(max(name, 10), 26)
	gap, mass := "  ", 8
	if o.Width > 0 && name+47 > o.Width { // the columns of figures stand closer
		gap, mass = " ", 7
	}
	head := style.Left(what, name, o.ASCII)
	for i, title := range []string{"units", "taken", "held", "free", "kg", "W"} {
		head += gap + style.Right(title, []int{5, 5, 4, 5, mass + 1, 7}[i], o.ASCII)
	}
	lines := []style.Line{{{Role: style.Heading, Text: head}}}
	for _, r := range rows {
		line := style.Line{{Role: style.Plain, Text: style.Left(style.Name(r.Name), name, o.ASCII)}}
		line.Add(style.Plain, fmt.Sprintf("%s%5d%s%5d%s%4d%s%5d", gap, r.Units, gap, r.Taken, gap, r.Held, gap, r.Free))
		at := " "
		if r.Lacks > 0 {
			at = "≥"
			if o.ASCII {
				at = ">"
			}
		}
		line.Add(style.Plain, gap+at+style.Right(quantity.Number(r.Mass.Kilograms(), 1), mass, o.ASCII))
		line.Add(style.Plain, gap+at+style.Right(strconv.FormatFloat(r.Heat.Watts(), 'f', 0, 64), 6, o.ASCII))
		width := barCells
		if o.Width > 0 {
			width = min(barCells, o.Width-line.Width()-2)
		}
		if width >= leastCells {
			cells := 0
			if r.Units > 0 {
				cells = (r.Taken*width + r.Units/2) / r.Units
			}
			line.Add(style.Plain, "  ")
			line.Add(style.Altered, style.Fill(full, cells))
			line.Add(style.Aside, style.Fill(open, width-cells))
		}
		lines = append(lines, line)
	}
	return lines
}

// unknown says that sums leave something out.
func unknown(rows []Row) []style.Line {
	for _, r := range rows {
		if r.Lacks > 0 {
			return []style.Line{{{Role: style.Unsure, Text: "Figures that are not known are left out of the sums; lint --unchecked lists them."}}}
		}
	}
	return nil
}

type jsonCapacity struct {
	Rack   string      `json:"rack,omitempty"`
	Commit *jsonCommit `json:"commit,omitempty"`
	Racks  int         `json:"racks"`
	Mounts int         `json:"mounts"`
	Units  int         `json:"units"`
	Taken  int         `json:"units_taken"`
	Held   int         `json:"units_held"`
	Free   int         `json:"units_free"`
	Mass   float64     `json:"mass_kg"`
	Heat   float64     `json:"heat_w"`
	Lacks  int         `json:"unknown_figures"`
}

func capacityOf(c history.Capacity) jsonCapacity {
	return jsonCapacity{
		Racks: c.Racks, Mounts: c.Mounts, Units: c.Units, Taken: c.Taken, Held: c.Held, Free: c.Free,
		Mass: c.Mass.Kilograms(), Heat: c.Heat.Watts(), Lacks: c.Lacks,
	}
}

// CapacitiesJSON writes the capacity of racks for programs.
func CapacitiesJSON(w io.Writer, racks []*estate.Rack) error {
	rows := []jsonCapacity{}
	for _, r := range racks {
		c := capacityOf(history.CapacityOf([]*estate.Rack{r}))
		c.Rack = r.Name
		rows = append(rows, c)
	}
	return document.JSON(w, struct {
		Format int            `json:"format"`
		Of     string         `json:"of"`
		Racks  []jsonCapacity `json:"racks"`
		Sum    jsonCapacity   `json:"sum"`
	}{Format, "capacity", rows, capacityOf(history.CapacityOf(racks))})
}

// TimelineJSON writes the capacity commit by commit for programs.
func TimelineJSON(w io.Writer, points []history.Point) error {
	rows := []jsonCapacity{}
	for _, p := range points {
		c := capacityOf(p.Capacity)
		c.Commit = commitOf(p.Commit)
		rows = append(rows, c)
	}
	return document.JSON(w, struct {
		Format  int            `json:"format"`
		Of      string         `json:"of"`
		Commits []jsonCapacity `json:"commits"`
	}{Format, "capacity by commit", rows})
}
