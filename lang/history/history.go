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
	"errors"
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
	// Outline tells, without reading a tree, where its racks are declared, and
	// which files declare nothing else. It may know less than all; nil knows
	// nothing, and the tree is loaded whole.
	Outline func(context.Context, source.Tree) (racks map[string]string, only map[string]bool, err error)
	// Full follows every parent of a merge. Otherwise the history is that of
	// the branch itself: a merge brings at once all that its branch did.
	Full bool
}

// A Target is what is followed: a rack as a whole, or a mount in it, or what
// is on one of its units.
type Target struct {
	Rack  string
	Mount string            // label, or "" for all mounts
	Unit  estate.UnitNumber // 0 for all units
}

// An Event is what one commit did with the target.
type Event struct {
	*source.Commit
	Change *change.Change // only what concerns the target
	Old    *estate.Rack   // the rack before the commit; nil where it brought the rack
	New    *estate.Rack   // and after it; nil where it took the rack away
	Broken []string       // files that could not be read at the commit, so that something may be missing
}

// UnknownError says that the commit has no such rack or mount.
type UnknownError struct {
	Target Target
	Known  []string // the names there are in its place
}

func (e *UnknownError) Error() string {
	if e.Target.Mount != "" {
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
	last, only, err := f.latest(ctx, tree, target.Rack)
	if err != nil {
		return nil, err
	}
	rack := last.Rack(target.Rack)
	if rack == nil {
		unknown := &UnknownError{Target: target}
		for _, r := range last.Racks {
			unknown.Known = append(unknown.Known, r.Name)
		}
		return nil, unknown
	}
	paths := filesOf(rack)
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
	w := &walk{Follower: f, racks: only, target: target, paths: paths}
	return w.run(ctx, from)
}

// latest loads what the rack's history begins with: all of the tree, or, where
// the outline knows the rack, its file and those that declare other things. It
// gives the files that declare racks alone as well.
func (f *Follower) latest(ctx context.Context, tree source.Tree, rack string) (*estate.Estate, map[string]bool, error) {
	if f.Outline != nil {
		racks, only, err := f.Outline(ctx, tree)
		if err != nil {
			return nil, nil, err
		}
		if file, ok := racks[rack]; ok {
			e, err := f.Load(ctx, source.Subset(tree, func(path string) bool { return path == file || !only[path] }))
			return e, only, err
		}
	}
	e, err := f.Load(ctx, tree)
	if err != nil {
		return nil, nil, err
	}
	return e, rackFiles(e), nil
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
	racks  map[string]bool // files that hold nothing but racks
	target Target
	paths  []string
	events []Event
}

func (w *walk) run(ctx context.Context, from source.Hash) ([]Event, error) {
	if w.Full {
		return w.runFull(ctx, from)
	}
	for {
		versions, err := w.Place.History(ctx, source.Walk{From: from, Paths: w.paths, FirstParent: true, Limit: 1})
		if err != nil || len(versions) == 0 {
			return w.events, err
		}
		c := versions[0].Commit
		more, err := w.visit(ctx, c)
		if err != nil || !more || len(c.Parents) == 0 {
			return w.events, err
		}
		from = c.Parents[0]
	}
}

// runFull visits the versions on all branches. Where what is followed comes
// from a file that was not looked at, the walk begins anew with that file as
// well, and passes over what it has seen.
func (w *walk) runFull(ctx context.Context, from source.Hash) ([]Event, error) {
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
			more, err := w.visit(ctx, v.Commit)
			if err != nil || !more {
				return w.events, err
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
	return w.events, nil
}

// visit sees what a commit did with the target, and follows it to where it was
// before. It reports false where there is nothing before.
func (w *walk) visit(ctx context.Context, c *source.Commit) (more bool, err error) {
	before, after, err := w.estates(ctx, c)
	if err != nil {
		return false, err
	}
	all := change.Between(before, after)
	e := Event{Commit: c, Change: &change.Change{Old: before, New: after}, Broken: after.Broken, New: after.Rack(w.target.Rack)}
	was := w.target
	for _, rc := range all.Racks {
		if rc.New == nil && rc.Old.Name == w.target.Rack || rc.New != nil && rc.New.Name == w.target.Rack {
			e.Old, e.New = rc.Old, rc.New
			if w.target.Mount == "" && w.target.Unit == 0 {
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
		return false, nil
	}
	w.paths = filesOf(rack)
	return true, nil
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
	case w.target.Unit == 0:
		return true
	}
	return here(mc.Old) && mountOn(mc.Old, w.target.Unit) || here(mc.New) && mountOn(mc.New, w.target.Unit)
}

// covers reports whether a run of units holds the target's unit.
func (w *walk) covers(r *estate.Rack, units estate.UnitRange) bool {
	if w.target.Unit == 0 {
		return true
	}
	if r.Frame == nil {
		return units.From <= w.target.Unit && w.target.Unit <= units.To
	}
	return r.Frame.Extent(units).Meets(r.Frame.UnitExtent(w.target.Unit))
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

// estates gives the estate before and after a commit, as far as it matters:
// what is declared beside racks, and the racks whose files changed.
func (w *walk) estates(ctx context.Context, c *source.Commit) (before, after *estate.Estate, err error) {
	now, err := w.Place.Commit(ctx, c.Hash, "")
	if err != nil {
		return nil, nil, err
	}
	var was source.Tree = source.Memory("nothing", nil)
	if len(c.Parents) > 0 {
		parent, err := w.Place.Commit(ctx, c.Parents[0], "")
		if err != nil && !errors.Is(err, source.ErrNoFolder) {
			return nil, nil, err
		}
		if err == nil {
			was = parent
		}
	}
	deltas, err := source.Differ(ctx, was, now)
	if err != nil {
		return nil, nil, err
	}
	differs := map[string]bool{}
	for _, d := range deltas {
		// In a first commit nothing came from anywhere, so that other racks
		// play no part.
		differs[d.Path] = len(c.Parents) > 0
	}
	wanted := func(path string) bool { return differs[path] || !w.racks[path] || slices.Contains(w.paths, path) }
	if before, err = w.Load(ctx, source.Subset(was, wanted)); err != nil {
		return nil, nil, err
	}
	after, err = w.Load(ctx, source.Subset(now, wanted))
	return before, after, err
}
