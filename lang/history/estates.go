package history

import (
	"context"
	"errors"
	"slices"
	"strings"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
)

// nothing is the tree of a commit in which the estate's folder is not there.
var nothing = source.Memory("nothing", nil)

// treeOf gives the estate's files in a commit.
func (w *walk) treeOf(ctx context.Context, c source.Hash) (source.Tree, error) {
	tree, err := w.Place.Commit(ctx, c, "")
	if errors.Is(err, source.ErrNoFolder) {
		return nothing, nil
	}
	return tree, err
}

// estates gives the estate before and after a commit, as far as it matters:
// what is declared beside racks, what lies at the paths that are followed, and,
// where wide is set, all racks whose files changed.
func (w *walk) estates(ctx context.Context, c *source.Commit, wide bool) (before, after *estate.Estate, err error) {
	now, err := w.Place.Commit(ctx, c.Hash, "")
	if err != nil {
		return nil, nil, err
	}
	was := nothing
	if len(c.Parents) > 0 {
		if was, err = w.treeOf(ctx, c.Parents[0]); err != nil {
			return nil, nil, err
		}
	}
	paths := slices.Clone(w.paths)
	// In a first commit nothing came from anywhere, so that other racks play no
	// part.
	if wide && len(c.Parents) > 0 {
		deltas, err := source.Differ(ctx, was, now)
		if err != nil {
			return nil, nil, err
		}
		for _, d := range deltas {
			paths = append(paths, d.Path)
		}
	}
	if before, err = w.part(ctx, was, paths); err != nil {
		return nil, nil, err
	}
	after, err = w.part(ctx, now, paths)
	return before, after, err
}

// settled reports whether a change that was told from the followed files alone
// is the same as one that was told from all files of the commit: where the rack
// is on both sides under its name, and its mounts and reserves are the same
// hardware under the same labels, nothing can have come from another rack or
// gone there.
func (w *walk) settled(c *change.Change) bool {
	if c.Old.Rack(w.target.Rack) == nil || c.New.Rack(w.target.Rack) == nil {
		return false
	}
	for i := range c.Mounts {
		m := &c.Mounts[i]
		if m.Match != change.ByLabel || m.Replaced() {
			return false
		}
	}
	return !slices.ContainsFunc(c.Reserves, func(r change.ReserveChange) bool {
		return r.Old == nil || r.New == nil || r.Old.Name != r.New.Name
	})
}

// part loads of a tree what is declared beside racks, and the files at some
// paths.
func (w *walk) part(ctx context.Context, tree source.Tree, paths []string) (*estate.Estate, error) {
	o, err := w.outline(ctx, tree)
	if err != nil {
		return nil, err
	}
	if o != nil {
		return w.load(ctx, o.Part(paths...))
	}
	wanted := map[string]bool{}
	for _, path := range paths {
		wanted[path] = true
	}
	return w.load(ctx, source.Subset(tree, func(path string) bool { return wanted[path] || !w.racks[path] }))
}

// A loaded is an estate and what it was loaded from.
type loaded struct {
	from   string // paths and hashes
	estate *estate.Estate
}

// load loads a tree, or gives the estate that the same files gave before: what
// a commit left is commonly what the one after it found.
func (w *walk) load(ctx context.Context, tree source.Tree) (*estate.Estate, error) {
	files, err := tree.Files(ctx)
	if err != nil {
		return nil, err
	}
	var b strings.Builder
	for _, f := range files {
		b.WriteString(f.Path)
		b.WriteByte(0)
		b.WriteString(string(f.Hash))
	}
	for _, l := range w.loaded {
		if l.from == b.String() {
			return l.estate, nil
		}
	}
	e, err := w.Load(ctx, tree)
	if err != nil {
		return nil, err
	}
	const most = 3
	if len(w.loaded) == most {
		w.loaded = w.loaded[1:]
	}
	w.loaded = append(w.loaded, loaded{b.String(), e})
	return e, nil
}
