package rules

import (
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// HoleKind reports ears or rails that do not suit the holes of the posts.
//
// A frame with square holes takes screws of any listed thread through cage
// nuts, and one with round holes through clip nuts, as far as ears go; rails
// with lugs or pins suit what they list and nothing else. Ears that list
// nothing are slotted for any screw; rails that list nothing cannot be judged.
var HoleKind = &lint.Rule{
	ID:      "fit/hole-kind",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "the ears or rails do not suit the holes of the posts",
	Why: `Rails with lugs for square holes do not lock into tapped ones, and an M5
screw forced into a 10-32 thread holds until it is touched. Ask for the other
kit before the night, not in it.`,
	Source: "makers' sheets; ANSI B1.1 and ISO 261 for threads",
	Bad:    exampleTwoPost + fmt.Sprintf(holeKindThings, `"square", "round"`),
	Good:   exampleTwoPost + fmt.Sprintf(holeKindThings, `"square", "round", "12-24"`),
	Rack:   holeKind,
}

const holeKindThings = `equipment "router" {
  system   = "19in"
  height   = "2U"
  mounting = "centre"
  holes    = [%s]
}

rack "relay-1" {
  frame = frame.relay-45

  mount "router-1" {
    at        = 20
    equipment = equipment.router
  }
}
`

func holeKind(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	if f == nil || f.System != nil && len(f.System.Offsets) == 0 {
		return // things rest on supports, not in holes
	}
	for m, q := range inPlace(r) {
		part := q // what meets the posts
		if m.Adapter != nil {
			part = m.Adapter
		}
		if part.Mounting == estate.Shelf {
			continue
		}
		railed := part.Mounting == estate.FixedRails || part.Mounting == estate.Slides
		switch {
		case len(part.Holes) == 0 && !railed:
			continue
		case len(part.Holes) == 0:
			p.MountUnchecked(m, "%s", lacks("list of holes", ofEquipment(part), estate.IsMissing))
			continue
		case f.Holes == estate.NoHoles:
			p.MountUnchecked(m, "%s", lacks("kind of hole", ofFrame(f), estate.IsMissing))
			continue
		}
		if slices.Contains(part.Holes, f.Holes) || !railed && throughNut(f.Holes, part.Holes) {
			continue
		}
		what := "the ears of " + m.Name
		switch {
		case m.Adapter != nil:
			what = m.Adapter.Name + ", which holds " + m.Name + ","
		case railed:
			what = "the rails of " + m.Name
		}
		verb := "suit"
		if m.Adapter != nil {
			verb = "suits"
		}
		finding := lint.AtMount(m, "equipment")
		finding.Message = fmt.Sprintf("%s %s %s holes; %s has %s ones", what, verb, kinds(part.Holes), f.Name, f.Holes)
		finding.Related = append(attrAt(&part.Source, "holes", "the holes that %s suits", part.Name),
			attrAt(&f.Source, "holes", "the holes of %s", f.Name)...)
		p.Report(finding)
	}
}

// throughNut reports whether a nut in an untapped hole gives ears a thread that
// they are made for.
func throughNut(frame estate.Holes, listed []estate.Holes) bool {
	if frame != estate.SquareHoles && frame != estate.RoundHoles {
		return false
	}
	return slices.ContainsFunc(listed, func(h estate.Holes) bool {
		return h != estate.SquareHoles && h != estate.RoundHoles
	})
}

func kinds(holes []estate.Holes) string {
	names := make([]string, len(holes))
	for i, h := range holes {
		names[i] = h.String()
	}
	return list(names)
}
