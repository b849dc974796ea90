// Package holes prints which holes of the posts each mount of a rack uses, in
// units as they are counted on the posts and in millimetres above the lower
// edge of the lowest unit.
package holes

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/render/style"
)

// Options say how the table is printed.
type Options struct {
	ASCII bool
	Width int // cells; 0 for 80
}

// near is how far a hole may be from where an ear needs it.
const near = quantity.Millimetre

// Text prints the holes of one rack, from the top down as one stands before
// it.
func Text(r *estate.Rack, o Options) []style.Line {
	if o.Width == 0 {
		o.Width = 80
	}
	f := r.Frame
	lines := []style.Line{{{Role: style.Heading, Text: style.Name(r.Name)}, {Text: "  holes in the posts"}}}
	if f == nil {
		return append(lines, style.Line{{Role: style.Unsure, Text: "its frame is not known"}})
	}
	head := "frame " + f.Name
	if f.System != nil {
		head += ", " + f.System.Name
	}
	if f.Holes != estate.NoHoles {
		head += ", " + f.Holes.String() + " holes"
	}
	head += ", counted " + f.Counted.String()
	if base, ok := f.Base.Get(); ok {
		head += fmt.Sprintf("; heights are above the lower edge of the lowest unit, which is %s above the floor", base)
	} else {
		head += "; heights are above the lower edge of the lowest unit"
	}
	head += "; the holes of a unit count from its lower edge"
	for _, s := range style.Wrap(head, o.Width) {
		lines = append(lines, style.Line{{Text: s}})
	}
	lines = append(lines, nil)
	if f.System == nil || len(f.System.Offsets) == 0 {
		return append(lines, style.Line{{Role: style.Unsure, Text: "no published figure places the holes of this panel system"}})
	}
	var l style.Line
	l.Add(style.Aside, fmt.Sprintf("%-20s %-16s %-14s %12s  %s", "mount", "units", "hole", "mm", ""))
	lines = append(lines, l)
	placed := r.Placed()
	assumed := false
	for i := len(placed) - 1; i >= 0; i-- {
		of, guess := mount(placed[i], o)
		assumed = assumed || guess
		lines = append(lines, of...)
	}
	for _, m := range r.Mounts {
		if _, ok := m.Extent(); !ok && m.ZeroU == nil {
			lines = append(lines, style.Line{{Text: style.Left(style.Name(m.Name), 20, o.ASCII) + " "}, {Role: style.Unsure, Text: "its units are not known"}})
		}
	}
	if assumed {
		lines = append(lines, nil)
		for _, s := range style.Wrap("Ears that are not declared are taken to use the lowest and the highest hole of their panel. Each line counts for the left post and the right one.", o.Width) {
			lines = append(lines, style.Line{{Role: style.Aside, Text: s}})
		}
	}
	if c := f.System.Confidence(system.FactHoles); !c.Decides() {
		lines = append(lines, nil)
		for _, s := range style.Wrap(fmt.Sprintf("Where the holes of %s are is %s: measure before drilling or ordering.", f.System.Name, c), o.Width) {
			lines = append(lines, style.Line{{Role: style.Unsure, Text: s}})
		}
	}
	return lines
}

// mount prints the holes of one mount, the highest first, and tells whether
// its ears were assumed.
func mount(m estate.Placed, o Options) ([]style.Line, bool) {
	f := m.Rack.Frame
	lead := func(first bool) style.Line {
		if !first {
			return style.Line{{Text: strings.Repeat(" ", 38)}}
		}
		units := f.Label(m.Extent)
		if m.Posts() == estate.RearFace {
			units += " rear"
		}
		return style.Line{{Role: style.Strong, Text: style.Left(style.Name(m.Name), 20, o.ASCII) + " "}, {Text: style.Left(units, 16, o.ASCII) + " "}}
	}
	says := func(format string, args ...any) []style.Line {
		l := lead(true)
		l.Add(style.Unsure, fmt.Sprintf(format, args...))
		return []style.Line{l}
	}
	q := m.Equipment
	switch {
	case m.Adapter != nil && len(m.Adapter.Ears) == 0:
		return says("by %s; its ears are not declared", m.Adapter.Name), false
	case q.Mounting == estate.Shelf && m.Adapter == nil:
		return says("stands on a shelf"), false
	}
	screws, ok := m.Screws()
	if m.Adapter != nil {
		screws, ok = nil, true
		for _, ear := range m.Adapter.Ears {
			screws = append(screws, m.Bottom+ear)
		}
	}
	if !ok {
		return says("its ears are not declared"), false
	}
	guess := m.Adapter == nil && len(q.Ears) == 0
	if guess && len(screws) > 2 {
		screws = []quantity.Length{screws[0], screws[len(screws)-1]}
	}
	var lines []style.Line
	for i := len(screws) - 1; i >= 0; i-- {
		l := lead(i == len(screws)-1)
		hole, ok := f.NearestHole(screws[i])
		off := max(hole-screws[i], screws[i]-hole)
		if !ok || off > near {
			l.Add(style.Grave, fmt.Sprintf("%-14s %12s  %s off", "none", millimetres(screws[i]), off))
		} else {
			l.Add(style.Plain, fmt.Sprintf("%-14s %12s", Name(f, hole), millimetres(hole)))
		}
		lines = append(lines, l)
	}
	return lines, guess
}

// Name names a hole as people count it on the posts: "U38 hole 1", holes of a
// unit from its lower edge up.
func Name(f *estate.Frame, hole quantity.Length) string {
	low := f.Usable().Top - quantity.Length(f.Modules())*f.System.Pitch
	if f.Counted != estate.CountedDown {
		low = 0
	}
	unit, place, ok := f.System.HoleName(hole - low)
	if !ok {
		return "no hole"
	}
	at := estate.Extent{Bottom: low + quantity.Length(unit)*f.System.Pitch, Top: low + quantity.Length(unit+1)*f.System.Pitch}
	if len(f.System.Offsets) == 1 {
		return f.Label(at)
	}
	return fmt.Sprintf("%s hole %d", f.Label(at), place)
}

// millimetres prints a height to a thousandth, which holds every hole of the
// inch systems but for their last digit.
func millimetres(l quantity.Length) string {
	return fmt.Sprintf("%.3f", l.Millimetres())
}
