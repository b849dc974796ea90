package rules

import (
	"fmt"
	"iter"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// inPlace gives the mounts of a rack that rules on fit can judge: those whose
// frame and equipment are known. A name that leads nowhere is another rule's
// business.
func inPlace(r *estate.Rack) iter.Seq2[*estate.Mount, *estate.Equipment] {
	return func(yield func(*estate.Mount, *estate.Equipment) bool) {
		if r.Frame == nil {
			return
		}
		for _, m := range r.Mounts {
			if m.Equipment != nil && m.ZeroU == nil && !yield(m, m.Equipment) {
				return
			}
		}
	}
}

// lacks says why a figure cannot be used: "the depth of equipment.store is
// unknown".
func lacks(what, thing string, s estate.State) string {
	return fmt.Sprintf("the %s of %s is %s", what, thing, s)
}

func ofEquipment(q *estate.Equipment) string { return "equipment." + q.Name }
func ofFrame(f *estate.Frame) string         { return "frame." + f.Name }

// told prints a length and, where it is said, how it was come by:
// "730 mm by data-sheet".
func told(p *lint.Pass, f estate.Figure[quantity.Length]) string {
	return p.Length(f.Value) + basis(f)
}

// basis tells how a figure was come by, after a space, or nothing.
func basis[T any](f estate.Figure[T]) string {
	switch {
	case f.Basis == estate.Unstated:
		return ""
	case f.Basis == estate.Estimated || f.Basis == estate.Measured:
		return " " + f.Basis.String()
	}
	return " by " + f.Basis.String()
}

// figureAt is a related place at a figure of a thing, or none where the figure
// is not written.
func figureAt[T any](src *estate.Source, f estate.Figure[T], format string, args ...any) []lint.Related {
	if f.At == (estate.Span{}) {
		return nil
	}
	return []lint.Related{{At: estate.Range{File: src.File, Span: f.At}, Message: fmt.Sprintf(format, args...)}}
}

// extents reports the mounts of a rack whose units cannot be known as not
// checked, and gives whether all were known.
func extents(p *lint.Pass, r *estate.Rack) bool {
	all := true
	for m, q := range inPlace(r) {
		if _, ok := m.Extent(); ok {
			continue
		}
		all = false
		if q.Height.State != estate.IsGiven {
			p.MountUnchecked(m, "%s", lacks("height", ofEquipment(q), q.Height.State))
		} else {
			p.MountUnchecked(m, "its place in the rack is not known")
		}
	}
	return all
}

// bare prints a length without its unit, for sums whose total carries it.
func bare(p *lint.Pass, l quantity.Length) string {
	s, _, _ := strings.Cut(p.Length(l), " ")
	return s
}
