package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// Collision reports a mount on the front posts and one on the rear posts that
// share heights and meet inside the rack, cords and a gap for hands and air
// included: once per pair, at the one declared later.
//
// What reaches behind the rear posts, bodies and the tails of rails, is held
// against what hangs there beside the posts, and tails against the rear door.
//
// Cords that are not declared count as nothing; the pair is then reported if
// it meets without them, quiet if it would not meet with the usual cords
// either, and not checked in between.
var Collision = &lint.Rule{
	ID:      "space/collision",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "gear on the front posts and gear on the rear posts meet inside the rack",
	Why: `Each looks right in its own elevation. Together they are longer than the
rack is deep, and the second one stops against the plugs of the first.`,
	Source: "common practice",
	Limits: []lint.Limit{
		{Name: "gap", Default: 30 * quantity.Millimetre, Doc: "room that must stay between the two; common practice"},
		usualCords,
	},
	Bad:  exampleCabinet + collisionThings + fmt.Sprintf(collisionRack, 20, 20),
	Good: exampleCabinet + collisionThings + fmt.Sprintf(collisionRack, 20, 23),
	Rack: collision,
}

// usualCords is the room that connectors and bends take where it is not
// declared.
var usualCords = lint.Limit{
	Name: "usual_cords", Default: 150 * quantity.Millimetre,
	Doc: "what connectors and bends take at most where it is not declared; common practice is 60 to 150 mm",
}

const (
	collisionThings = `equipment "storage-24" {
  system = "19in"
  height = "2U"
  depth  = "560 mm"
  cords  = "70 mm"
}

equipment "rear-switch" {
  system = "19in"
  height = "1U"
  depth  = "300 mm"
  cords  = "40 mm"
}

`
	collisionRack = `rack "hq-a" {
  frame = frame.cab-42

  mount "store-1" {
    at        = %d
    equipment = equipment.storage-24
  }
  mount "switch-1" {
    at        = %d
    face      = "rear"
    equipment = equipment.rear-switch
  }
}
`
)

func collision(p *lint.Pass, r *estate.Rack) {
	if r.Frame == nil {
		return
	}
	behindPosts(p, r)
	for _, c := range r.Facings() {
		front, rear := c.Front.Mount, c.Rear.Mount
		later, earlier := laterOf(r, front, rear)
		a, missing := front.Depths()
		if missing == "" {
			var b estate.Depths
			b, missing = rear.Depths()
			if missing == "" {
				meet(p, r, c, a, b, later, earlier)
				continue
			}
		}
		p.MountUnchecked(later, "%s", missing)
	}
}

func meet(p *lint.Pass, r *estate.Rack, c estate.Facing, a, b estate.Depths, later, earlier *estate.Mount) {
	front, rear := c.Front.Mount, c.Rear.Mount
	gap := lint.LimitFor[quantity.Length](p, "gap", r)
	usual := lint.LimitFor[quantity.Length](p, "usual_cords", r)
	room := b.Whole.From - a.Whole.To - gap
	if room < 0 {
		f := lint.AtMount(later, "at")
		span := r.Frame.PostSpan.Value
		f.Others = []string{earlier.Ref()}
		f.Message = fmt.Sprintf("%s reaches %s behind the front posts (%s) and %s %s before the rear ones (%s) at %s; with %s between them that is %s too much for the %s of %s",
			front.Name, p.Length(a.Whole.To), parts(p, front), rear.Name, p.Length(span-b.Whole.From), parts(p, rear),
			r.Frame.Label(c.Shared), p.Length(gap), p.Length(-room), told(p, r.Frame.PostSpan), r.Frame.Name)
		f.Related = append([]lint.Related{{At: earlier.Source.Attr("at"), Message: fmt.Sprintf("%s is placed here", earlier.Name)}},
			figureAt(&r.Frame.Source, r.Frame.PostSpan, "the posts of %s stand here", r.Frame.Name)...)
		p.Report(f)
		return
	}
	for _, m := range []*estate.Mount{front, rear} {
		if q := m.Equipment; !q.Cords.Known() {
			room -= usual
			if room < 0 {
				p.MountUnchecked(later, "%s, and %s has %s to spare before %s",
					lacks("room for cords", ofEquipment(q), q.Cords.State), m.Name, p.Length(room+usual), other(m, front, rear).Name)
				return
			}
		}
	}
}

// parts tells what a mount's reach is made of: "560 + 70 cords".
func parts(p *lint.Pass, m *estate.Mount) string {
	q := m.Equipment
	depth := q.Depth.Value
	half := ""
	if q.Mounting == estate.Centre {
		depth -= depth / 2
		half = "half of its depth, "
	}
	s := half + bare(p, depth) + basis(q.Depth)
	if a := m.Adapter; a != nil && q.Mounting != estate.Centre && a.Forward.Or(0) != 0 {
		s += " - " + bare(p, a.Forward.Value) + basis(a.Forward) + " of " + a.Name
	}
	if cords, ok := q.Cords.Get(); ok {
		return s + " + " + bare(p, cords) + " cords"
	}
	return s + ", cords not declared"
}

func other(m, a, b *estate.Mount) *estate.Mount {
	if m == a {
		return b
	}
	return a
}

// laterOf gives two mounts of a rack, the one declared later first.
func laterOf(r *estate.Rack, a, b *estate.Mount) (later, earlier *estate.Mount) {
	for _, m := range r.Mounts {
		if m == a {
			return b, a
		}
		if m == b {
			break
		}
	}
	return a, b
}
