package history

import (
	"bytes"
	"context"

	"cagenut/lang/change"
	"cagenut/lang/source"
)

// earlier finds the commit that took away an earlier rack of the target's
// name, going back from the commit that brought the one followed so far, and
// makes it the one that is followed. It gives nil where there was none, and
// where an earlier rack gave its name up and lives on under another.
//
// A file is parsed only where its text before a change has the name in it.
func (w *walk) earlier(ctx context.Context, added *source.Commit) (*source.Commit, error) {
	r := w.Place.Repo
	c, err := r.Commit(ctx, added.Parents[0])
	for ; err == nil && len(c.Parents) > 0; c, err = r.Commit(ctx, c.Parents[0]) {
		mentioned, err := w.mentions(ctx, c)
		if err != nil {
			return nil, err
		}
		if len(mentioned) == 0 {
			continue
		}
		w.paths = mentioned
		before, after, err := w.estates(ctx, c, true)
		if err != nil {
			return nil, err
		}
		rack := before.Rack(w.target.Rack)
		if rack == nil || after.Rack(w.target.Rack) != nil {
			continue
		}
		for _, rc := range change.Between(before, after).Racks {
			if rc.Old == rack && rc.New != nil {
				return nil, nil
			}
		}
		w.paths = filesOf(rack)
		return c, nil
	}
	return nil, err
}

// mentions gives the files that a commit changed or took away and that had the
// target's name in them before.
func (w *walk) mentions(ctx context.Context, c *source.Commit) ([]string, error) {
	now, err := w.treeOf(ctx, c.Hash)
	if err != nil {
		return nil, err
	}
	was, err := w.treeOf(ctx, c.Parents[0])
	if err != nil {
		return nil, err
	}
	deltas, err := source.Differ(ctx, was, now)
	if err != nil {
		return nil, err
	}
	var paths []string
	for _, d := range deltas {
		if d.Old == nil {
			continue
		}
		text, err := was.Read(ctx, *d.Old)
		if err != nil {
			return nil, err
		}
		if bytes.Contains(text, []byte(w.target.Rack)) {
			paths = append(paths, d.Path)
		}
	}
	return paths, nil
}
