package rules

import (
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// moveTo offers the nearest place of the rack where a mount that is placed
// wrongly would meet nothing: free at its face, neither held nor blanked. It
// offers none where the mount's place is not its own to change, as in a layout
// or a stack, or where it is no whole number of units high.
func moveTo(p *lint.Pass, r *estate.Rack, m *estate.Mount) []lint.Fix {
	f := r.Frame
	e, ok := m.Extent()
	if !ok || !m.Source.Has("at") || m.Raised.State != estate.IsMissing || f.System == nil || !f.WholeUnits(estate.Extent{Top: e.Height()}) {
		return nil
	}
	others := slices.DeleteFunc(slices.Clone(r.Mounts), func(o *estate.Mount) bool { return o == m })
	best, found := estate.Extent{}, false
	for _, run := range estate.FreeIn(f, others, m.Posts()) {
		for at := run.Bottom; at+e.Height() <= run.Top+estate.Touch; at += f.System.Pitch {
			place := estate.Extent{Bottom: at, Top: at + e.Height()}
			if closed(r, place, m.Posts()) || len(r.Reserved(place, m.Posts(), p.Today)) > 0 {
				continue
			}
			if !found || distance(place, e) < distance(best, e) {
				best, found = place, true
			}
		}
	}
	if !found {
		return nil
	}
	units := f.UnitsOf(best)
	text := units.From.String()
	if m.Through != 0 {
		text = fmt.Sprintf("%q", units.From.String()+"-"+units.To.String())
	}
	return []lint.Fix{{
		Title: fmt.Sprintf("Move %s to %s", m.Name, f.Label(best)),
		Edits: []lint.Edit{{At: m.Source.Attr("at"), New: text}},
	}}
}

func distance(a, b estate.Extent) quantity.Length { return max(a.Bottom-b.Bottom, b.Bottom-a.Bottom) }

// closed reports whether a blank closes any of the place.
func closed(r *estate.Rack, place estate.Extent, face estate.Face) bool {
	return slices.ContainsFunc(r.Blanks, func(b *estate.Blank) bool {
		e, ok := b.Extent()
		return ok && e.Meets(place) && (b.Face == estate.RearFace) == (face == estate.RearFace)
	})
}
