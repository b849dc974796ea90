package load

import (
	"slices"

	"cagenut/render/style"
)

// Options say how a sheet is printed.
type Options struct {
	ASCII bool
	Width int // of the page; 0 for 80 columns
}

// Text prints sheets for a terminal or a page of text.
func Text(sheets []Sheet, o Options) []style.Line {
	if o.Width <= 0 {
		o.Width = 80
	}
	if o.ASCII {
		sheets = ASCII(sheets)
	}
	var out []style.Line
	add := func(role style.Role, s string) {
		for _, l := range style.Wrap(s, o.Width) {
			out = append(out, style.Line{{Role: role, Text: l}})
		}
	}
	for i, s := range sheets {
		if i > 0 {
			out = append(out, nil)
		}
		add(style.Heading, s.Kind+" "+s.Name+": what it draws, gives off, weighs and presses with")
		for _, c := range s.Sections {
			out = append(out, nil)
			add(style.Heading, c.Name)
			for j := range c.Figures {
				out = append(out, o.figure(&c.Figures[j])...)
			}
			for _, l := range style.Wrap(c.Caution, o.Width-2) {
				out = append(out, style.Line{{Role: style.Plain, Text: "  "}, {Role: style.Caution, Text: l}})
			}
		}
	}
	out = append(out, nil)
	add(style.Plain, cautionSheet)
	return out
}

// figure prints name, value and limit on one line, and what they rest on below.
// A name that leaves no room for the value has a line of its own.
func (o Options) figure(f *Figure) []style.Line {
	const nameWidth, valueWidth = 38, 14
	role, value := style.Strong, f.Value
	switch {
	case f.Value == "":
		role, value = style.Unsure, "not known"
	case f.Beyond():
		role = style.Grave
	}
	limit := ""
	if f.Limit != "" {
		word := "of"
		if f.AtLeast {
			word = "least"
		}
		limit = "  " + word + " " + f.Limit
		if f.Beyond() {
			limit += "  ! beyond"
		}
	}
	const end = 2 + nameWidth + 1 + valueWidth // where values end
	var out []style.Line
	line := style.Line{{Role: style.Plain, Text: "  " + f.Name}}
	if line.Width()+2+style.Width(value) > end || end+style.Width(limit) > o.Width {
		for _, l := range style.Wrap(f.Name, o.Width-2) {
			out = append(out, style.Line{{Role: style.Plain, Text: "  " + l}})
		}
		line = nil
	}
	line.Pad(max(end-style.Width(value), 2))
	line.Add(role, value)
	if limit != "" {
		line.Add(style.Plain, limit)
	}
	out = append(out, line)
	below := func(role style.Role, s string) {
		for _, l := range style.Wrap(s, o.Width-6) {
			out = append(out, style.Line{{Role: style.Plain, Text: "      "}, {Role: role, Text: l}})
		}
	}
	if f.From != "" {
		below(style.Aside, f.From)
	}
	if f.Unknown != "" {
		below(style.Unsure, "not known: "+f.Unknown)
	}
	return out
}

// ASCII gives sheets whose formulas and cautions hold no character beyond
// ASCII.
func ASCII(sheets []Sheet) []Sheet {
	out := slices.Clone(sheets)
	for i := range out {
		out[i].Sections = slices.Clone(out[i].Sections)
		for j := range out[i].Sections {
			c := &out[i].Sections[j]
			c.Caution, c.Figures = style.ASCII(c.Caution), slices.Clone(c.Figures)
			for k := range c.Figures {
				f := &c.Figures[k]
				for _, s := range []*string{&f.Name, &f.Value, &f.Limit, &f.From, &f.Unknown} {
					*s = style.ASCII(*s)
				}
			}
		}
	}
	return out
}
