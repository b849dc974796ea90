package parts

import (
	"fmt"
	"strings"

	"cagenut/lang/parts"
	"cagenut/render/style"
)

// Options say how lists are printed as text.
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

// caution is what every list must say.
const caution = `Counted from what is declared, without spares. The sheet of each kit decides on
screws, lengths and moments.`

// Text prints a list for people.
func Text(l *parts.List, title string, o Options) []style.Line {
	lines := []style.Line{{{Role: style.Heading, Text: "Parts of " + title}}, nil}
	if len(l.Parts) == 0 {
		lines = append(lines, style.Line{{Text: "no hardware"}})
	}
	for _, p := range l.Parts {
		lines = append(lines, row(o, number(p.Count), p.Name, needers(p.For))...)
	}
	return append(lines, remarks(l, o)...)
}

// Change prints what a change needs and sets free.
func Change(before, after *parts.List, title string, o Options) []style.Line {
	lines := []style.Line{{{Role: style.Heading, Text: "Parts for " + title}}, nil}
	differences := parts.Compare(before, after)
	if len(differences) == 0 {
		lines = append(lines, style.Line{{Text: "no hardware to get, and none set free"}})
	}
	for _, d := range differences {
		role, sign, n, what := style.In, "+", d.ToGet(), "to get"
		if n == 0 {
			role, sign, n, what = style.Out, "-", d.SetFree(), "set free"
		}
		if len(d.For) > 0 {
			of := needers(d.For)
			if d.ToGet() == 0 {
				of = "from" + strings.TrimPrefix(of, "for")
			}
			what += ", " + of
		}
		of := row(o, number(n), d.Name, what)
		of[0] = append(style.Line{{Role: role, Text: sign}}, of[0]...)
		for i := range of[1:] {
			of[i+1] = append(style.Line{{Text: " "}}, of[i+1]...)
		}
		lines = append(lines, of...)
	}
	return append(lines, remarks(after, o)...)
}

// needers tells what needs a part: by name where they are few, else how many
// of which racks.
func needers(refs []string) string {
	if len(refs) <= 4 {
		return "for " + strings.Join(short(refs), ", ")
	}
	var racks []string
	for _, r := range short(refs) {
		rack, _, _ := strings.Cut(r, " ")
		rack, _, _ = strings.Cut(rack, ".")
		if len(racks) == 0 || racks[len(racks)-1] != rack {
			racks = append(racks, rack)
		}
	}
	return fmt.Sprintf("for %d things in %s", len(refs), strings.Join(racks, ", "))
}

func number(n int) string { return fmt.Sprintf("%5d", n) }

// row prints one part, its name and beside it what needs it, wrapped.
func row(o Options, count, name, what string) []style.Line {
	const indent = 8
	column := 38
	room := o.width() - indent - column - 2
	if room < 20 {
		room, column = 20, max(o.width()-indent-22, 16)
	}
	var lines []style.Line
	for i, s := range style.Wrap(what, room) {
		var l style.Line
		if i == 0 {
			l.Add(style.Strong, count+"  ")
			l.Add(style.Plain, style.Left(name, column, o.ASCII))
		} else {
			l.Add(style.Plain, strings.Repeat(" ", indent-1+column))
		}
		l.Add(style.Aside, "  "+s)
		lines = append(lines, l)
	}
	return lines
}

// remarks prints what was assumed and what could not be counted.
func remarks(l *parts.List, o Options) []style.Line {
	var lines []style.Line
	section := func(title string, role style.Role, all []string) {
		if len(all) == 0 {
			return
		}
		lines = append(lines, nil, style.Line{{Role: style.Heading, Text: title}})
		for _, s := range all {
			for i, part := range style.Wrap(s, o.width()-2) {
				lead := "  "
				if i == 0 {
					lead = "- "
				}
				lines = append(lines, style.Line{{Role: role, Text: lead + part}})
			}
		}
	}
	section("Not counted", style.Unsure, l.Missing)
	section("Assumed (common practice)", style.Plain, l.Assumed)
	section("Usual moments (common practice, unverified)", style.Unsure, l.Moments)
	lines = append(lines, nil)
	for _, s := range style.Wrap(caution, o.width()) {
		lines = append(lines, style.Line{{Role: style.Aside, Text: s}})
	}
	return lines
}

// short gives references without their first word: hq-a.core-1.
func short(refs []string) []string {
	out := make([]string, len(refs))
	for i, r := range refs {
		out[i] = style.Name(strings.TrimPrefix(r, "rack."))
	}
	return out
}
