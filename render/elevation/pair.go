package elevation

import (
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/render/style"
)

// around is how many rows are drawn beside those that differ.
const around = 2

// Pair draws a rack before and after a change, side by side, as far as they
// differ and with a little of what is around, or whole; Options.Marks holds the
// signs of both. It gives nothing where the two look the same from this view and
// are not wanted whole, or where they cannot be set side by side: one is nil or cannot be drawn, their frames
// differ in height or counting, or the terminal is too narrow.
func Pair(before, after *estate.Rack, o Options) []style.Line {
	if before == nil || after == nil || !comparable(before.Frame, after.Frame) {
		return nil
	}
	a, b := newGrid(before), newGrid(after)
	if a == nil || b == nil {
		return nil
	}
	// Both get a row wherever either needs one.
	both := *a
	both.rows = nil
	both.pieces = append(append([]piece{}, a.pieces...), b.pieces...)
	both.blanks = append(append([]blank{}, a.blanks...), b.blanks...)
	both.reserves = append(append([]reserve{}, a.reserves...), b.reserves...)
	both.divide()
	a.rows, b.rows = both.rows, both.rows

	was, is := newDrawing(a, o), newDrawing(b, o)
	number := was.numberWidth()
	inner := (was.width - 3*number - 8) / 2
	if inner < leastInner {
		return nil
	}
	inner = min(inner, 44)

	show := make([]bool, len(a.rows))
	any := o.Whole
	for i := range show {
		show[i] = show[i] || o.Whole
		if !differs(was, is, i) {
			continue
		}
		any = true
		for k := max(i-around, 0); k <= min(i+around, len(show)-1); k++ {
			show[k] = true
		}
	}
	if !any {
		return nil
	}

	var head style.Line
	head.Pad(number + 1)
	head.Add(style.Aside, style.Left(" before", inner+2, o.ASCII)+style.Fill(" ", number+2)+" after")
	lines := []style.Line{head}
	for i := 0; i < len(show); {
		if !show[i] {
			from := i
			for i < len(show) && !show[i] {
				i++
			}
			if from > 0 && i < len(show) {
				skipped := plural(i-from, "row", "rows")
				lines = append(lines, style.Line{{Role: style.Aside, Text: style.Fill(" ", number+2) + fmt.Sprintf("... %s as before", skipped)}})
			}
			continue
		}
		r := a.rows[i]
		label, post := r.label, was.signs.post
		if r.outside {
			label, post = "!", " "
		}
		var line style.Line
		line.Add(style.Aside, style.Right(label, number, o.ASCII)+" ")
		line.Add(style.Plain, post)
		line = append(line, was.drawFace(i, inner)...)
		line.Add(style.Plain, post)
		line.Add(style.Aside, " "+style.Right(label, number, o.ASCII)+" ")
		line.Add(style.Plain, post)
		line = append(line, is.drawFace(i, inner)...)
		line.Add(style.Plain, post)
		line.Add(style.Aside, " "+style.Left(label, number, o.ASCII))
		lines = append(lines, line)
		i++
	}
	return lines
}

// HangsBehind reports whether a rack, which may be nil, is worth a look from
// behind: something hangs on its rear posts.
func HangsBehind(r *estate.Rack) bool {
	return r != nil && slices.ContainsFunc(r.Mounts, func(m *estate.Mount) bool { return m.ZeroU == nil && m.Face == estate.RearFace })
}

// comparable reports whether two frames have the same units in the same places.
func comparable(a, b *estate.Frame) bool {
	return a != nil && b != nil && a.Modules() == b.Modules() && a.Counted == b.Counted && a.First == b.First &&
		a.Usable() == b.Usable() && pitch(a) == pitch(b)
}

// differs reports whether a row is another one after the change: it holds a
// marked piece, or its blanks or reserves differ.
func differs(was, is *drawing, i int) bool {
	r := was.rows[i]
	for _, d := range []*drawing{was, is} {
		for _, p := range d.in(r, estate.NoFace) {
			if d.marks[p.mount].Sign != "" {
				return true
			}
		}
	}
	if (was.blankIn(r, was.face) == nil) != (is.blankIn(r, is.face) == nil) {
		return true
	}
	x, y := was.reserveIn(r, was.face), is.reserveIn(r, is.face)
	if x == nil || y == nil {
		return x != y
	}
	return x.Name != y.Name || x.Until != y.Until
}
