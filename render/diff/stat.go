package diff

import (
	"fmt"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/render/style"
)

// Stat prints one line for each rack that a change touches: how many mounts come
// in, go out, are moved and altered, and its mass and free units before and
// after.
func Stat(c *change.Change, o Options) []style.Line {
	p := newPage(c, o)
	if c.Empty() {
		return []style.Line{{{Text: "nothing differs"}}}
	}
	var rows []statRow
	name, tally := 0, [4]int{}
	for _, d := range c.Deltas() {
		r := statRow{name: style.Name(d.Rack().Name), delta: d, n: tallyOf(c, d)}
		name = max(name, style.Width(r.name))
		for i, n := range r.n {
			tally[i] = max(tally[i], len(fmt.Sprint(n)))
		}
		rows = append(rows, r)
	}
	name = min(name, p.Width/3)
	for _, r := range rows {
		line := style.Line{{Role: style.Heading, Text: style.Left(r.name, name, p.ASCII)}}
		for i, kind := range statKinds {
			text := fmt.Sprintf("%s%*d", marks[kind].Sign, tally[i], r.n[i])
			role := marks[kind].Role
			if r.n[i] == 0 {
				role = style.Aside
			}
			line.Add(style.Plain, "  ")
			line.Add(role, text)
		}
		for _, t := range Totals(r.delta, p.Inches) {
			if (t.What == "mass" || t.What == "free units") && t.Before != t.After {
				line.Add(style.Plain, "  "+t.What+" "+p.or(t.Before)+p.arrow()+p.or(t.After))
			}
		}
		p.add(p.cut(line))
	}
	p.summary()
	return p.lines
}

var statKinds = [4]change.Kind{change.Added, change.Removed, change.Moved, change.Altered}

type statRow struct {
	name  string
	delta change.Delta
	n     [4]int
}

// tallyOf counts what happens to the mounts of one rack. A mount that moves
// between racks counts in both.
func tallyOf(c *change.Change, d change.Delta) [4]int {
	var n [4]int
	for i := range c.Mounts {
		m := &c.Mounts[i]
		here := func(x *estate.Mount) bool { return x != nil && (x.Rack == d.Old || x.Rack == d.New) }
		if !here(m.Old) && !here(m.New) {
			continue
		}
		for k, kind := range statKinds {
			if m.Kind == kind {
				n[k]++
			}
		}
	}
	return n
}
