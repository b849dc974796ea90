// Package history follows racks and mounts back through the commits of a
// repository: who put what where, and when.
//
// [Follow] gives the commits in which a rack, a mount or a unit changed, the
// youngest first, each with what it did. What is followed is followed through
// moves between racks, racks and labels with new names, and declarations that
// moved between files. [ByUnit] turns the history of a rack around: for each
// unit, the commit that last changed it. [Totals] adds up the estate commit by
// commit.
//
// Only files that changed are read, besides those that declare no racks: the
// catalogue is small, and the racks are not.
package history

import (
	"context"
	"fmt"
	"reflect"
	"slices"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
)

// A Follower follows things through the commits of a place.
type Follower struct {
	Place *source.Place
	// Load loads a tree; mistakes in its text leave gaps in the estate and are
	// no error.
	Load func(context.Context, source.Tree) (*estate.Estate, error)
	// Outline tells where the racks of a tree are declared without reading it.
	// Where it is nil, or gives nil, the tree is loaded whole.
	Outline func(context.Context, source.Tree) (Outline, error)
	// Full follows every parent of a merge. Otherwise the history is that of
	// the branch itself: a merge brings at once all that its branch did.
	Full bool
}

// An Outline is what can be told of a tree without reading it.
type Outline interface {
	// File gives the file that declares a rack, where it declares racks alone.
	File(rack string) (path string, ok bool)
	// Racks lists the racks that File knows.
	Racks() []string
	// Part gives of the tree the files that declare anything but racks, and
	// those that are wanted.
	Part(wanted ...string) source.Tree
}

// A Target is what is followed: a rack as a whole, or a mount in it, or what
// is on one of its units.
type Target struct {
	Rack  string
	Mount string             // label, or "" for all mounts
	Unit  *estate.UnitNumber // nil for all units
}

// An Event is what one commit did with the target.
type Event struct {
	*source.Commit
	Change *change.Change // only what concerns the target
	Old    *estate.Rack   // the rack before the commit; nil where it brought the rack
	New    *estate.Rack   // and after it; nil where it took the rack away
	Broken []string       // files that could not be read at the commit, so that something may be missing
	Gap    *Gap           // nil unless the rack is an earlier one of the same name
}

// A Gap is the time in which there was no rack of a name, between an earlier
// one and the next.
type Gap struct {
	Removed *source.Commit // took the earlier rack away
	Added   *source.Commit // brought the next one
}

// UnknownError says that the commit has no such rack, mount or unit.
type UnknownError struct {
	Target Target
	Known  []string      // the names there are in its place
	Frame  *estate.Frame // whose units there are, where a unit is not known
}

func (e *UnknownError) Error() string {
	switch {
	case e.Frame != nil:
		return fmt.Sprintf("rack %q has no unit %s; it counts %d to %d", e.Target.Rack, *e.Target.Unit, e.Frame.First, e.Frame.Last())
	case e.Target.Mount != "":
		return fmt.Sprintf("rack %q has no mount %q", e.Target.Rack, e.Target.Mount)
	}
	return fmt.Sprintf("there is no rack %q", e.Target.Rack)
}

// Follow gives what happened to the target up to a commit, the youngest first.
func (f *Follower) Follow(ctx context.Context, from source.Hash, target Target) ([]Event, error) {
	tree, err := f.Place.Commit(ctx, from, "")
	if err != nil {
		return nil, err
	}
	w := &walk{Follower: f, target: target}
	last, others, err := w.latest(ctx, tree)
	if err != nil {
		return nil, err
	}
	rack := last.Rack(target.Rack)
	if rack == nil {
		unknown := &UnknownError{Target: target, Known: others}
		for _, r := range last.Racks {
			unknown.Known = append(unknown.Known, r.Name)
		}
		slices.Sort(unknown.Known) // however they were found
		return nil, unknown
	}
	if target.Mount != "" {
		m := rack.Mount(target.Mount)
		if m == nil {
			unknown := &UnknownError{Target: target}
			for _, m := range rack.Mounts {
				unknown.Known = append(unknown.Known, m.Name)
			}
			return nil, unknown
		}
	}
	w.paths = filesOf(rack)
	events, err := w.run(ctx, from)
	if f := rack.Frame; err == nil && len(events) == 0 && target.Unit != nil && f != nil && f.Units > 0 &&
		(*target.Unit < estate.Units(f.First) || *target.Unit >= estate.Units(f.Last()+1)) {
		return nil, &UnknownError{Target: target, Frame: f} // nor did it ever have it
	}
	return events, err
}

// latest loads what the history of the target begins with: all of the tree, or,
// where there is an outline, the file of the rack and those that declare other
// things. It gives the names of the racks that were not loaded as well.
func (w *walk) latest(ctx context.Context, tree source.Tree) (e *estate.Estate, others []string, err error) {
	o, err := w.outline(ctx, tree)
	if err != nil {
		return nil, nil, err
	}
	if o == nil {
		if e, err = w.load(ctx, tree); err == nil {
			w.racks = rackFiles(e)
		}
		return e, nil, err
	}
	if file, ok := o.File(w.target.Rack); ok {
		e, err = w.load(ctx, o.Part(file))
		return e, nil, err
	}
	e, err = w.load(ctx, o.Part())
	return e, o.Racks(), err
}

func (f *Follower) outline(ctx context.Context, tree source.Tree) (Outline, error) {
	if f.Outline == nil {
		return nil, nil
	}
	return f.Outline(ctx, tree)
}

// filesOf gives the files that say what is in a rack.
func filesOf(r *estate.Rack) []string {
	paths := []string{r.Source.File}
	if r.Layout != nil && r.Layout.Source.File != r.Source.File {
		paths = append(paths, r.Layout.Source.File)
	}
	return paths
}

// rackFiles gives the files that declare racks and nothing else.
func rackFiles(e *estate.Estate) map[string]bool {
	only := map[string]bool{}
	for _, r := range e.Racks {
		only[r.Source.File] = true
	}
	others(reflect.ValueOf(e).Elem(), func(file string) { delete(only, file) })
	for _, root := range source.RootFiles {
		delete(only, root)
	}
	return only
}

// others visits the file of everything that is declared and is no rack.
func others(v reflect.Value, visit func(file string)) {
	for i := range v.NumField() {
		switch f := v.Field(i); {
		case f.Type() == reflect.TypeFor[[]*estate.Rack]():
		case f.Type() == reflect.TypeFor[estate.Rulings]():
			others(f, visit)
		case f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Pointer:
			for j := range f.Len() {
				if s := f.Index(j).Elem().FieldByName("Source"); s.IsValid() {
					visit(s.FieldByName("File").String())
				}
			}
		}
	}
}

// A walk is one target on its way back.
type walk struct {
	*Follower
	racks  map[string]bool // files that hold nothing but racks, where there is no outline
	target Target
	paths  []string
	gap    *Gap // what lies between the rack that is followed and the next one of its name
	events []Event

	loaded []loaded // the last few
}

// run follows the target, and then earlier racks of its name.
func (w *walk) run(ctx context.Context, from source.Hash) ([]Event, error) {
	for {
		first, err := w.life(ctx, from)
		if err != nil || first == nil {
			return w.events, err
		}
		gone, err := w.earlier(ctx, first)
		if err != nil || gone == nil {
			return w.events, err
		}
		w.gap = &Gap{Removed: gone, Added: first}
		from = gone.Hash
	}
}

// life follows the target until nothing of it was there before. It gives the
// commit that brought its rack, or nil where history ends otherwise.
func (w *walk) life(ctx context.Context, from source.Hash) (first *source.Commit, err error) {
	if w.Full {
		return w.lifeFull(ctx, from)
	}
	for {
		versions, err := w.Place.History(ctx, source.Walk{From: from, Paths: w.paths, FirstParent: true, Limit: 1})
		if err != nil || len(versions) == 0 {
			return nil, err
		}
		c := versions[0].Commit
		more, brought, err := w.visit(ctx, c)
		switch {
		case err != nil || len(c.Parents) == 0:
			return nil, err
		case brought:
			return c, nil
		case !more:
			return nil, nil
		}
		from = c.Parents[0]
	}
}

// lifeFull visits the versions on all branches. Where what is followed comes
// from a file that was not looked at, the walk begins anew with that file as
// well, and passes over what it has seen.
func (w *walk) lifeFull(ctx context.Context, from source.Hash) (first *source.Commit, err error) {
	seen := map[source.Hash]bool{}
	for again := true; again; {
		again = false
		versions, err := w.Place.History(ctx, source.Walk{From: from, Paths: w.paths})
		if err != nil {
			return nil, err
		}
		for i, v := range versions {
			if seen[v.Hash] {
				continue
			}
			had := w.paths
			more, brought, err := w.visit(ctx, v.Commit)
			switch {
			case err != nil:
				return nil, err
			case brought && len(v.Parents) > 0:
				return v.Commit, nil
			case !more:
				return nil, nil
			}
			if missing := slices.ContainsFunc(w.paths, func(p string) bool { return !slices.Contains(had, p) }); missing {
				for _, u := range versions[:i+1] {
					seen[u.Hash] = true
				}
				for _, p := range had {
					if !slices.Contains(w.paths, p) {
						w.paths = append(w.paths, p)
					}
				}
				again = true
				break
			}
			w.paths = had
		}
	}
	return nil, nil
}

// visit sees what a commit did with the target, and follows it to where it was
// before. It reports whether there is anything before, and if not, whether the
// commit brought the rack itself.
func (w *walk) visit(ctx context.Context, c *source.Commit) (more, brought bool, err error) {
	before, after, err := w.estates(ctx, c, false)
	if err != nil {
		return false, false, err
	}
	all := change.Between(before, after)
	if !w.settled(all) {
		if before, after, err = w.estates(ctx, c, true); err != nil {
			return false, false, err
		}
		all = change.Between(before, after)
	}
	e := Event{Commit: c, Change: &change.Change{Old: before, New: after}, Broken: after.Broken, New: after.Rack(w.target.Rack), Gap: w.gap}
	was := w.target
	for _, rc := range all.Racks {
		if rc.New == nil && rc.Old.Name == w.target.Rack || rc.New != nil && rc.New.Name == w.target.Rack {
			e.Old, e.New = rc.Old, rc.New
			if w.target.Mount == "" && w.target.Unit == nil {
				e.Change.Racks = append(e.Change.Racks, rc)
			}
			if rc.Old != nil {
				was.Rack = rc.Old.Name
			}
		}
	}
	if e.Old == nil && (e.New == nil || !added(all, e.New)) {
		e.Old = before.Rack(w.target.Rack)
	}
	arrived := false
	for _, mc := range all.Mounts {
		if !w.concerns(&mc, &e) {
			continue
		}
		e.Change.Mounts = append(e.Change.Mounts, mc)
		if w.target.Mount != "" && mc.Old != nil {
			was.Rack, was.Mount = mc.Old.Rack.Name, mc.Old.Name
		}
		arrived = arrived || mc.Old == nil
	}
	if w.target.Mount == "" {
		for _, bc := range all.Blanks {
			if r := bc.Blank().Rack; (r == e.Old || r == e.New) && w.covers(r, bc.Blank().Units) {
				e.Change.Blanks = append(e.Change.Blanks, bc)
			}
		}
		for _, xc := range all.Reserves {
			if r := xc.Reserve().Rack; (r == e.Old || r == e.New) && w.covers(r, xc.Reserve().Units) {
				e.Change.Reserves = append(e.Change.Reserves, xc)
			}
		}
	}
	if !e.Change.Empty() {
		w.events = append(w.events, e)
	}
	rack := before.Rack(was.Rack)
	w.target = was
	if rack == nil || w.target.Mount != "" && arrived {
		return false, rack == nil, nil
	}
	w.paths = filesOf(rack)
	return true, false, nil
}

func added(c *change.Change, r *estate.Rack) bool {
	return slices.ContainsFunc(c.Racks, func(rc change.RackChange) bool { return rc.Kind == change.Added && rc.New == r })
}

// concerns reports whether a change of a mount is one of the target's.
func (w *walk) concerns(mc *change.MountChange, e *Event) bool {
	here := func(m *estate.Mount) bool { return m != nil && (m.Rack == e.Old || m.Rack == e.New) }
	switch {
	case !here(mc.Old) && !here(mc.New):
		return false
	case w.target.Mount != "":
		if mc.New != nil {
			return here(mc.New) && mc.New.Name == w.target.Mount
		}
		return mc.Old.Name == w.target.Mount
	case w.target.Unit == nil:
		return true
	}
	return here(mc.Old) && mountOn(mc.Old, *w.target.Unit) || here(mc.New) && mountOn(mc.New, *w.target.Unit)
}

// covers reports whether a run of units holds the target's unit.
func (w *walk) covers(r *estate.Rack, units estate.UnitRange) bool {
	if w.target.Unit == nil {
		return true
	}
	if r.Frame == nil {
		return units.From <= *w.target.Unit && *w.target.Unit <= units.To
	}
	return r.Frame.Extent(units).Meets(r.Frame.UnitExtent(*w.target.Unit))
}

// mountOn reports whether a mount takes a unit of its rack.
func mountOn(m *estate.Mount, unit estate.UnitNumber) bool {
	if m.ZeroU != nil {
		return false // it hangs beside the units
	}
	if m.Rack == nil || m.Rack.Frame == nil {
		return m.At == unit
	}
	e, ok := m.Extent()
	return ok && e.Meets(m.Rack.Frame.UnitExtent(unit))
}
