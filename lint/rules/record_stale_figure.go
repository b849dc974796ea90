package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// StaleFigure reports a mount that fits by a thin margin of which one of the
// two figures is a guess, or was taken long ago.
//
// It looks at depth behind the posts, room before them, and width. A margin
// that is too small is another rule's finding, a wide one needs no measuring.
// A figure that states no basis is taken at its word.
var StaleFigure = &lint.Rule{
	ID:      "record/stale-figure",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a thin margin rests on a guess or on an old figure",
	Why: `A brochure's depth is the body, a drawing's posts were moved since. Where
less than an inch decides, somebody should take a tape to it before the night.`,
	Source: "common practice",
	Limits: []lint.Limit{
		{Name: "margin", Default: 25 * quantity.Millimetre, Doc: "a margin below this must rest on measured figures; common practice"},
		{Name: "age", Default: 730, Doc: "days after which a dated figure is old; common practice"},
	},
	Bad:  exampleCabinet + fmt.Sprintf(staleThings, "estimated"),
	Good: exampleCabinet + fmt.Sprintf(staleThings, "measured"),
	Rack: staleFigure,
}

const staleThings = `equipment "dense-shelf" {
  system = "19in"
  height = "4U"
  depth  = { is = "830 mm", basis = "%s", on = "2026-09-14" }
  cords  = "80 mm"
}

rack "hq-a" {
  frame = frame.cab-42

  mount "store-1" {
    at        = 3
    equipment = equipment.dense-shelf
  }
}
`

func staleFigure(p *lint.Pass, r *estate.Rack) {
	for m, q := range inPlace(r) {
		f := r.Frame
		if room := roomFor(f, m); !room.endless && room.missing == "" && q.Depth.Known() {
			if d, missing := m.Depths(); missing == "" {
				need := d.Whole.To
				if m.Posts() == estate.RearFace {
					need = f.PostSpan.Value - d.Whole.From
				}
				thin(p, m, room.length-need, room.from, func() []dated {
					return append([]dated{
						{q.Depth, "the depth of " + ofEquipment(q), &q.Source},
						{q.Cords, "the room for cords of " + ofEquipment(q), &q.Source},
					}, ofRoom(room, f)...)
				})
			}
		}
		door, what := f.FrontRoom, "front room"
		if m.Posts() == estate.RearFace {
			door, what = f.RearRoom, "rear room"
		}
		if q.Front.Known() && door.Known() && q.Mounting != estate.Centre {
			need := q.Front.Value
			if a := m.Adapter; a != nil {
				need += a.Forward.Or(0)
			}
			thin(p, m, door.Value-need, "before its posts", func() []dated {
				on := []dated{
					{q.Front, "the room for handles and cords of " + ofEquipment(q), &q.Source},
					{door, "the " + what + " of " + ofFrame(f), &f.Source},
				}
				if a := m.Adapter; a != nil {
					on = append(on, dated{a.Forward, "how far " + ofEquipment(a) + " holds panels before the posts", &a.Source})
				}
				return on
			})
		}
		if q.Body.Known() && f.Opening.Known() && m.Slot.Whole() {
			thin(p, m, f.Opening.Value-q.Body.Value, "between the posts", func() []dated {
				return []dated{
					{q.Body, "the body width of " + ofEquipment(q), &q.Source},
					{f.Opening, "the opening of " + ofFrame(f), &f.Source},
				}
			})
		}
	}
}

// A dated figure is one that a margin rests on.
type dated struct {
	estate.Figure[quantity.Length]
	what string
	src  *estate.Source
}

func ofRoom(room depthRoom, f *estate.Frame) []dated {
	var out []dated
	for i, figure := range room.sum {
		out = append(out, dated{figure, "the " + room.names[i] + " of " + ofFrame(f), &f.Source})
	}
	return out
}

// thin reports a margin that is small and rests on a figure that is no good
// ground for it: once, for the worst of them. Most margins are wide, so the
// figures are asked for only then.
func thin(p *lint.Pass, m *estate.Mount, margin quantity.Length, where string, figures func() []dated) {
	if margin < 0 || margin >= lint.LimitFor[quantity.Length](p, "margin", m) {
		return
	}
	on := figures()
	for _, d := range on {
		if d.Known() && d.Basis == estate.Estimated {
			f := lint.AtMount(m, "equipment")
			f.Others = []string{d.what}
			f.Message = fmt.Sprintf("%s has %s to spare %s, and %s (%s) is estimated; measure it", m.Name, p.Length(margin), where, d.what, p.Length(d.Value))
			f.Related = figureAt(d.src, d.Figure, "estimated here")
			p.Report(f)
			return
		}
	}
	age := lint.LimitFor[int](p, "age", m)
	for _, d := range on {
		if days := int(p.Today - d.On); d.Known() && d.On != 0 && days > age {
			f := lint.AtMount(m, "equipment")
			f.Level = lint.Note
			f.Others = []string{d.what}
			f.Message = fmt.Sprintf("%s has %s to spare %s, and %s (%s) is of %s; measure it again", m.Name, p.Length(margin), where, d.what, p.Length(d.Value), d.On)
			f.Related = figureAt(d.src, d.Figure, "taken on %s", d.On)
			p.Report(f)
			return
		}
	}
}
