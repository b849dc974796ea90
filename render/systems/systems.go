// Package systems prints panel systems: their geometry, with each figure's
// source and how far it can be relied on.
package systems

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/render/style"
)

// Options say how systems are printed as text.
type Options struct {
	ASCII bool
	Width int // cells; 0 for 80
}

func (o Options) width() int {
	if o.Width == 0 {
		return 80
	}
	return o.Width
}

// List prints all systems, a line each.
func List(o Options) []style.Line {
	var lines []style.Line
	for _, s := range system.All() {
		var l style.Line
		l.Add(style.Heading, style.Left(s.Name, 12, o.ASCII))
		l.Add(style.Plain, style.Cut(fmt.Sprintf("1 %s = %s  %s", s.Word, Metric(s.Pitch), s.Title), o.width()-12, o.ASCII))
		lines = append(lines, l)
	}
	return lines
}

// Text prints one system: its unit, a drawing of the holes of one, the heights
// of panels, and every figure with its source.
func Text(s *system.System, o Options) []style.Line {
	lines := []style.Line{
		{{Role: style.Heading, Text: s.Name}, {Text: "  " + s.Title}},
		nil,
		{{Text: fmt.Sprintf("1 %s = %s", s.Word, Both(s.Pitch))}},
	}
	lines = append(lines, drawing(s, o)...)
	lines = append(lines, panels(s)...)
	lines = append(lines, nil, style.Line{{Role: style.Heading, Text: "Figures and where they come from"}})
	for _, f := range s.Facts {
		lines = append(lines, fact(f, o)...)
	}
	if slices.ContainsFunc(s.Facts, func(f system.Fact) bool { return !f.Confidence.Decides() }) {
		lines = append(lines, nil)
		for _, part := range style.Wrap("A figure that is from memory or common practice may inform, but is never by itself an error.", o.width()) {
			lines = append(lines, style.Line{{Role: style.Aside, Text: part}})
		}
	}
	return lines
}

// drawing shows the holes of one unit, from its upper edge down, with the
// pitches between them.
func drawing(s *system.System, o Options) []style.Line {
	lines := []style.Line{nil, {{Role: style.Heading, Text: "Holes of one unit, above its lower edge"}}}
	if len(s.Offsets) == 0 {
		return append(lines, style.Line{{Role: style.Unsure, Text: "  no published figure places them"}})
	}
	hole, edge := "○", "─"
	if o.ASCII {
		hole, edge = "o", "-"
	}
	rule := func(at quantity.Length, what string) style.Line {
		return style.Line{{Role: style.Aside, Text: "  " + strings.Repeat(edge, 5)}, {Text: fmt.Sprintf("  %-22s", Both(at))}, {Role: style.Aside, Text: what}}
	}
	lines = append(lines, rule(s.Pitch, "upper edge"))
	for i := len(s.Offsets) - 1; i >= 0; i-- {
		next := s.Pitch + s.Offsets[0]
		if i < len(s.Offsets)-1 {
			next = s.Offsets[i+1]
		}
		lines = append(lines, style.Line{
			{Text: fmt.Sprintf("    %s    %-22s", hole, Both(s.Offsets[i]))},
			{Role: style.Aside, Text: fmt.Sprintf("hole %d, %s below the next", i+1, Metric(next-s.Offsets[i]))},
		})
	}
	return append(lines, rule(0, "lower edge"))
}

// panels prints heights of panels. In a system with a unit of its own it also
// tells how many of them hold a panel of the 19-inch system.
func panels(s *system.System) []style.Line {
	if s.Word == "U" {
		lines := []style.Line{nil, {{Role: style.Heading, Text: "Heights of panels"}}}
		lines = append(lines, style.Line{{Role: style.Aside, Text: fmt.Sprintf("  %6s  %14s  %14s  %12s", s.Word, "nominal", "panel", "inches")}})
		for _, n := range heights {
			lines = append(lines, style.Line{{Text: fmt.Sprintf("  %6d  %14s  %14s  %12s",
				n, Metric(quantity.Length(n)*s.Pitch), Metric(s.PanelHeight(n)), quantity.Number(s.PanelHeight(n).Inches(), 5)+" in")}})
		}
		return lines
	}
	lines := []style.Line{nil, {{Role: style.Heading, Text: "What panels counted in U need"}}}
	lines = append(lines, style.Line{{Role: style.Aside, Text: fmt.Sprintf("  %6s  %14s  %8s  %14s", "U", "panel", s.Word, "they are")}})
	u, _ := system.ByName("19in")
	for _, n := range heights {
		panel := u.PanelHeight(n)
		needs := s.Modules(panel)
		lines = append(lines, style.Line{{Text: fmt.Sprintf("  %6d  %14s  %8d  %14s", n, Metric(panel), needs, Metric(quantity.Length(needs)*s.Pitch))}})
	}
	return lines
}

// heights are the heights that tables show.
var heights = []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 42}

func fact(f system.Fact, o Options) []style.Line {
	text := f.Text
	if f.Value != 0 {
		text = Both(f.Value)
		if f.Text != "" {
			text += ": " + f.Text
		}
	}
	source := fmt.Sprintf("[%s: %s]", f.Confidence, f.Source)
	if f.Source == f.Confidence.String() {
		source = "[" + f.Source + "]"
	}
	role := style.Aside
	if !f.Confidence.Decides() {
		role = style.Unsure
	}
	var lines []style.Line
	const column = 24
	for i, part := range style.Wrap(text, o.width()-column-2) {
		name := ""
		if i == 0 {
			name = f.Name
		}
		lines = append(lines, style.Line{{Role: style.Strong, Text: "  " + style.Left(name, column, o.ASCII)}, {Text: part}})
	}
	for _, part := range style.Wrap(source, o.width()-column-2) {
		lines = append(lines, style.Line{{Text: strings.Repeat(" ", column+2)}, {Role: role, Text: part}})
	}
	return lines
}

// Metric prints a length in millimetres with every digit that it has, down to
// a ten-thousandth.
func Metric(l quantity.Length) string { return quantity.Number(l.Millimetres(), 5) + " mm" }

// Both prints a length in millimetres and in inches, where those come out even.
func Both(l quantity.Length) string {
	if l%(quantity.Inch/64) != 0 {
		return Metric(l)
	}
	return fmt.Sprintf("%s, %s in", Metric(l), inches(l))
}

// inches writes whole 64ths of an inch as the trade does: "1 3/4".
func inches(l quantity.Length) string {
	n := int64(l / (quantity.Inch / 64))
	whole, num, den := n/64, n%64, int64(64)
	if num == 0 {
		return fmt.Sprint(whole)
	}
	for num%2 == 0 {
		num, den = num/2, den/2
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d", num, den)
	}
	return fmt.Sprintf("%d %d/%d", whole, num, den)
}
