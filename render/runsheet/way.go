package runsheet

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint/sequence"
)

// ways says, way by way, at which gates what is brought or taken away has how
// much to spare: a gate is measured again before anything stands in it.
func (s *sheet) ways() []string {
	var out []string
	for _, w := range s.p.Ways() {
		where := "into"
		if w.Out {
			where = "out of"
		}
		things := w.Things
		if len(things) > 4 {
			things = append(things[:3:3], fmt.Sprintf("%d more", len(things)-3))
		}
		mass := ""
		if w.Cargo.Mass > 0 {
			mass = ", " + w.Cargo.Mass.String()
			if w.Cargo.MassLacks != "" {
				mass += " at least"
			}
		}
		var gates []string
		for _, at := range w.Route.Passages(&w.Cargo) {
			gates = append(gates, s.gate(&w, &at))
		}
		out = append(out, fmt.Sprintf("Way %s room %s by %s measured again for %s%s: %s.", where, w.Room.Name, w.Route.Name, strings.Join(things, ", "), mass, strings.Join(gates, "; ")))
	}
	return out
}

// gate says what one gate leaves to spare, and what is to be known there.
func (s *sheet) gate(w *sequence.Way, at *estate.Passage) string {
	g := at.Gate
	var parts []string
	if len(at.Clear) > 0 {
		c := at.Least()
		parts = append(parts, fmt.Sprintf("%s %s for %s", c.Attr, s.length(c.Clear.Value), s.length(c.Takes.Value)))
	}
	if rated, ok := g.Rated.Get(); ok {
		parts = append(parts, fmt.Sprintf("bears %s for %s", rated, w.Cargo.Mass))
	}
	if v, ok := g.Gradient.Get(); ok {
		parts = append(parts, "slopes "+v.String())
	}
	if v, ok := g.Step.Get(); ok {
		parts = append(parts, "a step of "+s.length(v))
	}
	parts = append(parts, at.Lacks...)
	if g.Floor != "" {
		parts = append(parts, g.Floor)
	}
	if g.Opener != "" {
		parts = append(parts, "opened by "+g.Opener)
	}
	if g.Note != "" {
		parts = append(parts, g.Note)
	}
	return strings.TrimSuffix(g.Name+" ("+strings.Join(parts, ", ")+")", " ()")
}
