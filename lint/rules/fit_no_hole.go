package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/lint"
)

// NoHole reports a mount whose ears find too few holes in the posts at its
// height, in nanometres, whatever fractions of units are written.
//
// Ears that are declared must find every hole. Where they are not declared, a
// panel of whole units has the holes of its system, of which two must be met
// (one for a panel lower than a unit); a panel of another height is judged only
// where it starts on a unit's edge, since one that starts on a half unit needs
// ears that are the mirror image. What an adapter holds is the adapter's
// business: its own ears are judged where they are declared.
//
// Holes whose place is only remembered give a note and no more.
var NoHole = &lint.Rule{
	ID:      "fit/no-hole",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "no hole in the posts where the ears need one",
	Why: `Holes come in threes, 5/8, 5/8 and 1/2 in apart, and a unit begins in the
middle of the narrow gap. One hole off, and everything above it is off too; the
mistake shows at the last unit, when all of it must come out again.`,
	Source: "EIA-310-D; EN 300 119",
	Limits: []lint.Limit{
		{Name: "tolerance", Default: 1 * quantity.Millimetre, Doc: "how far a hole may be from an ear's slot; common practice"},
	},
	Bad:  exampleCabinet + fmt.Sprintf(noHoleThings, "40.5"),
	Good: exampleCabinet + fmt.Sprintf(noHoleThings, "40"),
	Rack: noHole,
}

const noHoleThings = `equipment "switch" {
  system = "19in"
  height = "1U"
}

rack "hq-a" {
  frame = frame.cab-42

  mount "switch-1" {
    at        = %s
    equipment = equipment.switch
  }
}
`

func noHole(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	if f == nil || f.System == nil {
		return
	}
	if len(f.System.Offsets) == 0 {
		p.RackUnchecked(r, "no published figure places the holes of %s", f.System.Name)
		return
	}
	tolerance := lint.LimitFor[quantity.Length](p, "tolerance", r)
	for m, q := range inPlace(r) {
		if q.Mounting == estate.Shelf && m.Adapter == nil || m.Adapter == nil && (q.System == nil || !f.System.SamePanels(q.System)) {
			continue // stands on something, or hangs on nothing: other rules say so
		}
		extent, ok := m.Extent()
		if !ok {
			continue // space/overlap says why
		}
		if m.Adapter == nil && len(q.Ears) == 0 && q.System == f.System && f.WholeUnits(extent) {
			continue // its own system's holes, at a unit's edge: nearly every mount
		}
		need, screws, why := screwsOf(m, extent)
		if why == skip {
			continue
		}
		if why != "" {
			p.MountUnchecked(m, "%s", why)
			continue
		}
		met, worst := 0, quantity.Length(0)
		for _, at := range screws {
			hole, _ := f.NearestHole(at)
			if off := max(hole-at, at-hole); off <= tolerance {
				met++
			} else {
				worst = max(worst, off)
			}
		}
		if met >= need {
			continue
		}
		finding := lint.AtMount(m, "at")
		finding.Message = fmt.Sprintf("%s (%s) needs %s in the posts of %s and finds %d: the others are up to %s off%s",
			m.Name, m.Label(), quantity.Count(need, "hole"), f.Name, met, worst, mirrored(f, m, extent, tolerance))
		if c := f.System.Confidence(system.FactHoles); !c.Decides() {
			finding.Level = lint.Note
			finding.Message += fmt.Sprintf(" (the holes of %s are %s)", f.System.Name, c)
		}
		p.Report(finding)
	}
}

// skip says that a mount is not this rule's business.
const skip = "skip"

// screwsOf gives how many of which holes a mount needs, or why that is not
// known.
func screwsOf(m *estate.Mount, e estate.Extent) (need int, screws []quantity.Length, why string) {
	q := m.Equipment
	if a := m.Adapter; a != nil {
		if len(a.Ears) == 0 {
			return 0, nil, skip
		}
		for _, ear := range a.Ears {
			screws = append(screws, e.Bottom+ear)
		}
		return len(screws), screws, ""
	}
	screws, ok := m.Screws()
	switch {
	case ok && len(q.Ears) > 0:
		return len(screws), screws, ""
	case ok:
		return min(2, len(screws)), screws, ""
	case onEdge(m.Rack.Frame, e):
		return 0, nil, skip
	case len(q.System.Offsets) == 0:
		return 0, nil, skip
	}
	return 0, nil, fmt.Sprintf("the ears of %s are missing, and it does not start on a unit's edge", ofEquipment(q))
}

// onEdge reports whether an extent starts on a unit's edge: its lower end
// where units are counted up, its upper one where they are counted down.
func onEdge(f *estate.Frame, e estate.Extent) bool {
	return f.NumberAt(e)%estate.OneUnit == 0
}

// mirrored tells that ears turned upside down would meet the holes, if they
// would and may be.
func mirrored(f *estate.Frame, m *estate.Mount, e estate.Extent, tolerance quantity.Length) string {
	if len(m.Equipment.Ears) == 0 || m.Adapter != nil {
		return ""
	}
	for _, ear := range m.Equipment.Ears {
		at := e.Top - ear
		if m.Inverted {
			at = e.Bottom + ear
		}
		hole, ok := f.NearestHole(at)
		if off := max(hole-at, at-hole); !ok || off > tolerance {
			return ""
		}
	}
	return "; with its ears mirrored it would find all of them"
}
