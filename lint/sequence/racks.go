package sequence

import (
	"fmt"
	"slices"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lint"
)

// rackJobs gives the jobs of a rack that stays and gets a new name, another
// place or another frame, and the attributes that they are about.
func rackJobs(c *change.Change, r *change.RackChange) (jobs []*Job, done []string) {
	job := func(kind JobKind, attrs ...string) {
		jobs = append(jobs, &Job{Kind: kind, Thing: r.New.Ref(), Name: r.New.Name, Rack: r.New.Name, rack: r.New, was: r.Old, Site: r.New.Site()})
		done = append(done, attrs...)
	}
	if len(r.Old.Mounts) == 0 || len(r.New.Mounts) == 0 {
		switch {
		case getsFrame(c, r) != "":
			job(NewFrame, "frame", "row", "place")
		case goesElsewhere(c, r) != "":
			job(MoveRack, "row", "place")
		}
	}
	if r.Renamed() {
		job(Relabel, "label")
	}
	return jobs, done
}

// goesElsewhere says where a rack goes: to another place or row. It is "" where
// a place is declared for the first time, and where a row has another name now.
func goesElsewhere(c *change.Change, r *change.RackChange) string {
	for _, a := range r.Alterations {
		switch {
		case a.Old == "" || a.New == "":
		case a.Attr == "place":
			return fmt.Sprintf("from place %s to place %s", a.Old, a.New)
		case a.Attr == "row" && !renamed(c.Old.Rows, c.New.Rows, r.Old.Row.Name, r.New.Row.Name, func(w *estate.Row) string { return w.Name }):
			return fmt.Sprintf("from %s to %s", a.Old, a.New)
		}
	}
	return ""
}

// getsFrame says which frame a rack gets in place of which; "" where it keeps
// its own, whatever that is called now.
func getsFrame(c *change.Change, r *change.RackChange) string {
	for _, a := range r.Alterations {
		if a.Attr == "frame" && a.Old != "" && a.New != "" &&
			!renamed(c.Old.Frames, c.New.Frames, r.Old.Frame.Name, r.New.Frame.Name, func(f *estate.Frame) string { return f.Name }) {
			return fmt.Sprintf("%s in place of %s", a.New, a.Old)
		}
	}
	return ""
}

// renamed reports whether a thing of one name is gone, and one of another has
// come: the name alone differs, as far as can be told.
func renamed[T any](old, now []*T, was, is string, name func(*T) string) bool {
	has := func(all []*T, n string) bool {
		return slices.ContainsFunc(all, func(t *T) bool { return name(t) == n })
	}
	return !has(old, is) && !has(now, was)
}

// refuseLoaded refuses to plan for racks that go elsewhere, or get another
// frame, with things in them before and after. A waiver says that the record
// alone is mended. It reports whether it has.
func (p *Plan) refuseLoaded(today estate.Date) bool {
	const rule = "plan/loaded-rack"
	for i := range p.Change.Racks {
		r := &p.Change.Racks[i]
		if r.Old == nil || r.New == nil || len(r.Old.Mounts) == 0 || len(r.New.Mounts) == 0 {
			continue
		}
		attr, what := "frame", getsFrame(p.Change, r)
		if what != "" {
			what = "gets " + what
		} else if what = goesElsewhere(p.Change, r); what != "" {
			attr, what = "place", "goes "+what
		}
		if what == "" {
			continue
		}
		var names []string
		for _, m := range r.Old.Mounts {
			names = append(names, m.Name)
		}
		f := lint.Finding{
			Rule: rule, Level: lint.Error, At: r.New.Source.Attr(attr), Thing: r.New.Ref(), Rack: r.New.Name,
			Message: fmt.Sprintf("%s %s with %s in it, and no order of work is planned for that: take them out in a change before, and bring them back in one after; where the rack is so already and the record alone is mended, plan with --as-found",
				r.New.Ref(), what, listOf(names)),
		}
		if p.waiverOn(rule, f.Thing, today) == nil {
			p.Refused = append(p.Refused, Refusal{
				Why: r.New.Ref() + " " + what + " with things in it", Proved: true,
				Mends: []string{"a change before that takes out " + listOf(names), "a change after that brings them back", "--as-found, where the rack is so already"},
			})
		}
		p.Findings = append(p.Findings, f)
	}
	return len(p.Refused) > 0
}

// relabelRack writes the step of a rack's new labels.
func (r *writer) relabelRack(j *Job) {
	r.labelled[j] = true
	r.begin(j)
	s := r.step(LabelThing, nil, "Put the new labels on rack %s, front and rear: it was called %s.", j.Name, j.was.Name)
	s.At = placeOfRack(j.rack)
	s.Expect = "labels, record and drawing agree; the old labels are gone"
	s.Undo, s.UndoMinutes = "put the old labels back", r.clock.of(LabelThing)
	r.end()
}

// moveRack writes the step by which an empty rack goes to another place, or is
// exchanged for another frame.
func (r *writer) moveRack(j *Job) {
	what := "Free rack " + j.Name + ", which is empty, bring it to its new place, level it and fix it."
	if j.Kind == NewFrame {
		what = "Free rack " + j.Name + ", which is empty, take it away, and stand frame." + j.rack.Frame.Name + " in its place, levelled and fixed."
	}
	s := r.step(ShiftRack, nil, "%s", what)
	s.At = placeOfRack(j.rack)
	s.Expect = "level, bonded, fixed as drawn; labels on; who answers for floor and anchors has signed"
	s.Undo, s.UndoMinutes = "put it back as it was", r.clock.of(ShiftRack)
	s.People = 3
	s.Cautions = append(s.Cautions, cautionRack, cautionEarth, cautionFixedWiring)
}
