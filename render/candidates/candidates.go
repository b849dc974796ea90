// Package candidates prints where a piece of equipment could go, and why it
// could not go elsewhere.
package candidates

import (
	"fmt"
	"io"
	"strings"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint/candidate"
	"cagenut/render/document"
	"cagenut/render/style"
)

// Options say how to print.
type Options struct {
	Width int // terminal cells in a line; 0 for lines of any length
	ASCII bool
}

// Text prints the places, best first, and the refusals.
func Text(q *estate.Equipment, places []candidate.Place, refusals []candidate.Refusal, o Options) []style.Line {
	lines := []style.Line{{{Role: style.Heading, Text: style.Name(q.Name)}, {Text: "  " + traits(q)}}}
	if len(places) > 0 {
		lines = append(lines, nil, style.Line{{Role: style.Heading, Text: "could go"}})
	}
	width := 0
	for i := range places {
		width = max(width, style.Width(style.Name(places[i].Rack.Name)))
	}
	for i := range refusals {
		width = max(width, style.Width(style.Name(refusals[i].Rack.Name)))
	}
	p := page{Options: o, indent: width + 4}
	for i := range places {
		lines = append(lines, p.place(&places[i])...)
	}
	if len(refusals) > 0 {
		lines = append(lines, nil, style.Line{{Role: style.Heading, Text: "could not"}})
	}
	for _, r := range refusals {
		reason := r.Reason
		if r.Rule != "" {
			reason += " (" + r.Rule + ")"
		}
		lines = append(lines, p.item(r.Rack.Name, style.Plain, reason)...)
	}
	lines = append(lines, nil)
	for _, s := range style.Wrap("Planning aid: judged on what is declared, and certifies nothing. What could go is for the people who decide; verify at the rack.", o.Width) {
		lines = append(lines, style.Line{{Role: style.Aside, Text: s}})
	}
	return lines
}

type page struct {
	Options
	indent int
}

// place prints one place: where, and below it what it costs.
func (p page) place(at *candidate.Place) []style.Line {
	where := at.Mount.Label()
	if at.Rack.Frame.Counted == estate.CountedDown {
		where += p.arrow(" ↓", " (counted downward)")
	} else {
		where += p.arrow(" ↑", " (counted upward)")
	}
	if at.Mount.Face == estate.RearFace {
		where += " at the rear"
	}
	if len(at.Mount.Feeds) > 0 {
		where += ", on " + feeds(at.Mount.Feeds)
	}
	switch at.More {
	case 0:
	case 1:
		where += "; 1 other place would do"
	default:
		where += fmt.Sprintf("; %d other places would do", at.More)
	}
	lines := p.item(at.Rack.Name, style.Strong, where)
	for _, s := range costs(at) {
		lines = append(lines, p.item("", style.Plain, s)...)
	}
	for _, f := range at.Findings {
		lines = append(lines, p.item("", style.Caution, fmt.Sprintf("brings %s %s: %s", f.Level, f.Rule, f.Message))...)
	}
	if n := len(at.Unchecked); n > 0 {
		rules := make([]string, 0, n)
		for _, u := range at.Unchecked {
			rules = append(rules, u.Rule)
		}
		lines = append(lines, p.item("", style.Unsure, "not checked: "+strings.Join(rules, ", "))...)
	}
	return lines
}

func (p page) arrow(sign, words string) string {
	if p.ASCII {
		return words
	}
	return sign
}

// item prints a name in the margin and a text beside it, over several lines
// where it is long.
func (p page) item(name string, role style.Role, text string) []style.Line {
	room := 0
	if p.Width > 0 {
		room = max(p.Width-p.indent, 20)
	}
	var lines []style.Line
	for i, s := range style.Wrap(text, room) {
		line := style.Line{{Text: "  "}}
		if i == 0 {
			line.Add(role, style.Name(name))
		}
		line.Pad(p.indent)
		line.Add(style.Plain, s)
		lines = append(lines, line)
	}
	return lines
}

// costs tells what the place takes from the rack.
func costs(at *candidate.Place) []string {
	var out []string
	if len(at.Blanks) > 0 {
		var names []string
		for _, b := range at.Blanks {
			if e, ok := b.Extent(); ok {
				names = append(names, at.Rack.Frame.Label(e))
			}
		}
		out = append(out, "takes the blank at "+strings.Join(names, " and ")+" off, or part of it")
	}
	mass := fmt.Sprintf("mass %s to %s", at.Before.Mass.Known, at.After.Mass.Known)
	if rated, ok := at.Rack.Frame.Rated.Get(); ok {
		mass += fmt.Sprintf(" of %s", rated)
	}
	out = append(out, fmt.Sprintf("%s; heat %s to %s", mass, at.Before.Heat.Known, at.After.Heat.Known))
	for _, after := range at.After.Feeds {
		if s := feedCost(at, after); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// feedCost tells what a feed that the mount is on carries before and after, in
// the worst state.
func feedCost(at *candidate.Place, after change.FeedTotals) string {
	on := false
	for _, f := range at.Mount.Feeds {
		on = on || f == after.Feed
	}
	if !on {
		return ""
	}
	load, state := after.Normal, ""
	if after.Gone != nil {
		load, state = after.Lost, " with "+after.Gone.Name+" lost"
	}
	amps, why := after.Feed.Current(load.Apparent)
	if why != "" {
		return fmt.Sprintf("feed %s%s: not checked, because %s", after.Feed.Name, state, why)
	}
	was := ""
	for _, before := range at.Before.Feeds {
		if before.Feed != after.Feed {
			continue
		}
		old := before.Normal
		if before.Gone != nil {
			old = before.Lost
		}
		if i, why := before.Feed.Current(old.Apparent); why == "" {
			was = i.String() + " to "
		}
	}
	s := fmt.Sprintf("feed %s%s %s%s", after.Feed.Name, state, was, amps)
	if limit, ok := after.Limit.Get(); ok {
		s += fmt.Sprintf(" of %s", limit)
	}
	return s
}

func feeds(all []*estate.Feed) string {
	names := make([]string, len(all))
	for i, f := range all {
		names[i] = style.Name(f.Name)
	}
	return strings.Join(names, " and ")
}

// traits tells what decides about a place.
func traits(q *estate.Equipment) string {
	var out []string
	switch {
	case q.Height.State == estate.IsGiven && q.Height.Word == "U":
		out = append(out, q.Height.Count.String()+"U")
	case q.Height.State == estate.IsGiven && q.Height.Word != "":
		out = append(out, q.Height.Count.String()+" "+q.Height.Word)
	case q.Height.State == estate.IsGiven:
		out = append(out, q.Height.Length.String())
	}
	if need, why := q.Needs(); why == "" {
		out = append(out, quantity.Number(need.Millimetres(), 1)+" mm deep with cords")
	}
	if m, ok := q.Mass.Get(); ok {
		out = append(out, m.String())
	}
	if p, ok := q.Draw.Maximum.Get(); ok && p > 0 {
		out = append(out, p.String()+" maximum")
	}
	if n, _ := q.InletCount(); n > 0 {
		inlets := "inlets"
		if n == 1 {
			inlets = "inlet"
		}
		out = append(out, fmt.Sprintf("%d %s", n, inlets))
	}
	return strings.Join(out, ", ")
}

// Format is the version of the JSON form. Fields are added under one version;
// a field that changes its meaning or goes raises it.
const Format = 1

// A Document is the JSON form.
type Document struct {
	Format    int           `json:"format"`
	Of        string        `json:"of"`
	Equipment string        `json:"equipment"`
	Could     []DocumentIn  `json:"could_go"`
	CouldNot  []DocumentNot `json:"could_not"`
}

// A DocumentIn is one place.
type DocumentIn struct {
	Rack       string   `json:"rack"`
	At         string   `json:"at"`    // number that "at" of the mount would have
	Units      string   `json:"units"` // "U10-11"
	Face       string   `json:"face"`
	Feeds      []string `json:"feeds"`
	Blanks     []string `json:"blanks_off"`
	Others     int      `json:"other_places"`
	Brings     []string `json:"brings"`
	NotChecked []string `json:"not_checked"`
}

// A DocumentNot is one rack that cannot take the equipment.
type DocumentNot struct {
	Rack   string `json:"rack"`
	Rule   string `json:"rule,omitempty"`
	Reason string `json:"reason"`
}

// JSON prints the places and refusals for machines.
func JSON(w io.Writer, q *estate.Equipment, places []candidate.Place, refusals []candidate.Refusal) error {
	d := Document{Format: Format, Of: "fit", Equipment: q.Name, Could: []DocumentIn{}, CouldNot: []DocumentNot{}}
	for i := range places {
		at := &places[i]
		in := DocumentIn{
			Rack: at.Rack.Name, At: at.Mount.At.String(), Units: at.Mount.Label(), Face: at.Mount.Face.String(), Others: at.More,
			Feeds: []string{}, Blanks: []string{}, Brings: []string{}, NotChecked: []string{},
		}
		for _, f := range at.Mount.Feeds {
			in.Feeds = append(in.Feeds, f.Name)
		}
		for _, b := range at.Blanks {
			if e, ok := b.Extent(); ok {
				in.Blanks = append(in.Blanks, at.Rack.Frame.Label(e))
			}
		}
		for _, f := range at.Findings {
			in.Brings = append(in.Brings, f.Rule+": "+f.Message)
		}
		for _, u := range at.Unchecked {
			in.NotChecked = append(in.NotChecked, u.Rule+": "+u.Because)
		}
		d.Could = append(d.Could, in)
	}
	for _, r := range refusals {
		d.CouldNot = append(d.CouldNot, DocumentNot{r.Rack.Name, r.Rule, r.Reason})
	}
	return document.JSON(w, d)
}
