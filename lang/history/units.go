package history

import (
	"slices"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
)

// A UnitState is one unit of a rack and the commit that last changed what is
// on it.
type UnitState struct {
	Unit   estate.UnitNumber
	Holds  []string       // what is on it now: labels of mounts, front first; "blank", "reserve NAME"
	Commit *source.Commit // nil where nothing ever was
	What   change.Kind    // what the commit did there
}

// ByUnit gives, for each unit of a rack in the order of counting, the commit
// that last changed it. Events are those of the rack as a whole, the youngest
// first.
func ByUnit(r *estate.Rack, events []Event) []UnitState {
	f := r.Frame
	if f == nil {
		return nil
	}
	var units []UnitState
	for n := f.First; n <= f.Last(); n++ {
		u := UnitState{Unit: estate.Units(n), Holds: holds(r, estate.Units(n))}
		for i := range events {
			if events[i].Gap != nil {
				break // another rack, which had the same name
			}
			if kind := events[i].touches(u.Unit); kind != change.NoKind {
				u.Commit, u.What = events[i].Commit, kind
				break
			}
		}
		units = append(units, u)
	}
	return units
}

// holds names what is on a unit.
func holds(r *estate.Rack, unit estate.UnitNumber) []string {
	var names []string
	for _, face := range []estate.Face{estate.FrontFace, estate.RearFace} {
		for _, m := range r.Mounts {
			if m.ZeroU == nil && m.Posts() == face && mountOn(m, unit) {
				names = append(names, m.Name)
			}
		}
	}
	at := r.Frame.UnitExtent(unit)
	for _, b := range r.Blanks {
		if r.Frame.Extent(b.Units).Meets(at) {
			names = append(names, "blank")
			break
		}
	}
	for _, x := range r.Reserves {
		if r.Frame.Extent(x.Units).Meets(at) {
			names = append(names, "reserve "+x.Name)
		}
	}
	return names
}

// touches says what an event did on a unit of its rack: what it brought there,
// or else that something went.
func (e *Event) touches(unit estate.UnitNumber) change.Kind {
	kind := change.NoKind
	see := func(k change.Kind, was, is bool) {
		switch {
		case is && (kind == change.NoKind || kind == change.Removed):
			kind = k
		case was && kind == change.NoKind:
			kind = change.Removed // perhaps only to another unit
		}
	}
	for i := range e.Change.Mounts {
		m := &e.Change.Mounts[i]
		see(m.Kind, e.mountOn(m.Old, unit), e.mountOn(m.New, unit))
	}
	for i := range e.Change.Reserves {
		x := &e.Change.Reserves[i]
		was := x.Old != nil && unitsOn(x.Old.Rack, x.Old.Units, unit)
		is := x.New != nil && unitsOn(x.New.Rack, x.New.Units, unit)
		if was && is && x.Kind == change.Moved && len(x.Alterations) == 1 {
			continue // only its ends differ, as with a blank
		}
		see(x.Kind, was, is)
	}
	for i := range e.Change.Blanks {
		b := &e.Change.Blanks[i]
		was := b.Old != nil && unitsOn(b.Old.Rack, b.Old.Units, unit)
		is := b.New != nil && unitsOn(b.New.Rack, b.New.Units, unit)
		if face := b.Blank().Face; blankOn(e.Old, unit, face) && blankOn(e.New, unit, face) {
			continue // one that ends elsewhere now, or became two: nothing was done here
		}
		see(b.Kind, was, is)
	}
	return kind
}

// blankOn reports whether a unit of a rack is closed by a blank on a face.
func blankOn(r *estate.Rack, unit estate.UnitNumber, face estate.Face) bool {
	return r != nil && slices.ContainsFunc(r.Blanks, func(b *estate.Blank) bool {
		return b.Face == face && unitsOn(r, b.Units, unit)
	})
}

func (e *Event) mountOn(m *estate.Mount, unit estate.UnitNumber) bool {
	return m != nil && (m.Rack == e.Old || m.Rack == e.New) && mountOn(m, unit)
}

// unitsOn reports whether a run of units of a rack holds a unit.
func unitsOn(r *estate.Rack, units estate.UnitRange, unit estate.UnitNumber) bool {
	return r != nil && r.Frame != nil && r.Frame.Extent(units).Meets(r.Frame.UnitExtent(unit))
}
