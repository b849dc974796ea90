package rules

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// TooDeep reports a mount that needs more depth than its frame has from the
// posts it hangs on to the far door, cords included; for a mount on the rear
// posts the far door is the front one.
//
// Cords that are not declared count as nothing; the mount is then reported if
// it does not fit without them, quiet if it would fit with the usual ones too,
// and not checked in between. An open frame, which declares no room behind its
// posts, has no door to meet.
var TooDeep = &lint.Rule{
	ID:      "fit/too-deep",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "deeper than the frame, plugs and cords included",
	Why: `Depth on a brochure is the body alone. Handles, plugs and the bend of a
cord add 60 to 150 mm, and the door then does not close. Most things that do
not fit are too deep, not too high.`,
	Source: "common practice; makers' site sheets",
	Limits: []lint.Limit{usualCords},
	Bad:    exampleCabinet + fmt.Sprintf(tooDeepThings, 890),
	Good:   exampleCabinet + fmt.Sprintf(tooDeepThings, 840),
	Rack:   tooDeep,
}

const tooDeepThings = `equipment "dense-shelf" {
  system = "19in"
  height = "4U"
  depth  = "%d mm"
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

func tooDeep(p *lint.Pass, r *estate.Rack) {
	for m, q := range inPlace(r) {
		if fitsPlainly(r.Frame, m, q) {
			continue
		}
		if !q.Depth.Known() {
			p.MountUnchecked(m, "%s", lacks("depth", ofEquipment(q), q.Depth.State))
			continue
		}
		room := roomFor(r.Frame, m)
		if room.endless {
			continue
		}
		d, missing := m.Depths()
		if missing != "" {
			p.MountUnchecked(m, "%s", missing)
			continue
		}
		need := d.Whole.To
		if m.Posts() == estate.RearFace {
			need = r.Frame.PostSpan.Value - d.Whole.From
		}
		most := need // with the usual cords where they are not declared
		if !q.Cords.Known() {
			most += lint.LimitFor[quantity.Length](p, "usual_cords", m)
		}
		switch {
		case need > room.length && room.missing == "" && m.Adapter != nil && q.Mounting != estate.Centre && !m.Adapter.Forward.Known():
			p.MountUnchecked(m, "%s", lacks("offset", ofEquipment(m.Adapter), m.Adapter.Forward.State))
		case need > room.length && room.missing == "":
			f := lint.AtMount(m, "equipment")
			f.Message = fmt.Sprintf("%s needs %s %s (%s); %s has %s (%s), %s too little",
				m.Name, p.Length(need), room.from, parts(p, m), r.Frame.Name, p.Length(room.length), room.parts(p), p.Length(need-room.length))
			f.Related = append(figureAt(&q.Source, q.Depth, "the depth of %s", q.Name),
				figureAt(&r.Frame.Source, r.Frame.PostSpan, "the posts of %s", r.Frame.Name)...)
			p.Report(f)
		case most <= room.length:
			// It fits, whatever is missing.
		case room.missing != "":
			p.MountUnchecked(m, "%s", room.missing)
		default:
			p.MountUnchecked(m, "%s, and %s has %s to spare", lacks("room for cords", ofEquipment(q), q.Cords.State), m.Name, p.Length(room.length-need))
		}
	}
}

// fitsPlainly reports that a mount on the front posts fits by declared figures
// alone, which is so for nearly all of them. It allocates nothing.
func fitsPlainly(f *estate.Frame, m *estate.Mount, q *estate.Equipment) bool {
	return m.Posts() == estate.FrontFace && m.Adapter == nil && q.Mounting != estate.Centre &&
		q.Depth.Known() && q.Cords.Known() && f.PostSpan.Known() && f.RearRoom.Known() &&
		q.Depth.Value+q.Cords.Value <= f.PostSpan.Value+f.RearRoom.Value
}

// A depthRoom is how much room a mount has behind its mounting face.
type depthRoom struct {
	length  quantity.Length // as far as it is known
	from    string          // from where it is measured
	sum     []estate.Figure[quantity.Length]
	names   []string
	missing string // why the length is not all
	endless bool   // there is no door
}

func (d *depthRoom) add(f estate.Figure[quantity.Length], name, thing string) {
	if !f.Known() {
		if d.missing == "" {
			d.missing = lacks(name, thing, f.State)
		}
		return
	}
	d.length += f.Value
	d.sum, d.names = append(d.sum, f), append(d.names, name)
}

// parts tells what the room is made of: "740 measured post span + 180 rear room".
func (d *depthRoom) parts(p *lint.Pass) string {
	var s []string
	for i, f := range d.sum {
		s = append(s, bare(p, f.Value)+basis(f)+" "+d.names[i])
	}
	return strings.Join(s, " + ")
}

// roomFor gives the room from a mount's posts to the door at the other end.
func roomFor(f *estate.Frame, m *estate.Mount) depthRoom {
	d := depthRoom{from: "behind the front posts"}
	door, name := f.RearRoom, "rear room"
	if m.Posts() == estate.RearFace {
		d.from = "before the rear posts"
		door, name = f.FrontRoom, "front room"
	}
	if door.State == estate.IsMissing && (f.Kind == estate.TwoPost || f.Kind == estate.FourPost) {
		return depthRoom{endless: true}
	}
	d.add(f.PostSpan, "post span", ofFrame(f))
	if d.missing == "" { // a door's room says nothing without the posts
		d.add(door, name, ofFrame(f))
	}
	return d
}
