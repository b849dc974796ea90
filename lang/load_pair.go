package lang

import (
	"context"
	"strings"

	"golang.org/x/sync/errgroup"

	"cagenut/lang/estate"
	"cagenut/lang/source"
)

// A Loaded is an estate with what is wrong with its text.
type Loaded struct {
	Estate      *estate.Estate
	Diagnostics []Diagnostic
}

// LoadPair loads two trees as far as their difference needs it: the files that
// differ, all files that declare other things than racks, and the racks on the
// feeds of racks that differ, whose load they share. What is left out is the
// same in both. Without a store, and where something beside racks differs,
// which any rack may feel, both are loaded whole.
//
// Deltas are what [source.Differ] tells of the two.
func LoadPair(ctx context.Context, old, neu source.Tree, deltas []source.Delta, opts Options) (before, after Loaded, err error) {
	a, b, err := changedOnly(ctx, old, neu, deltas, opts)
	if err != nil {
		return before, after, err
	}
	load := func(tree source.Tree, into *Loaded) func() error {
		return func() (err error) {
			into.Estate, into.Diagnostics, err = Load(ctx, tree, opts)
			return err
		}
	}
	if a == nil {
		if err := load(old, &before)(); err != nil {
			return before, after, err
		}
		return before, after, load(neu, &after)()
	}
	// Both are small, and each takes one processor.
	opts.Workers = 1
	var g errgroup.Group
	g.Go(load(a, &before))
	g.Go(load(b, &after))
	return before, after, g.Wait()
}

// changedOnly gives of both trees the files that matter for a difference, or
// nil where all do.
func changedOnly(ctx context.Context, old, neu source.Tree, deltas []source.Delta, opts Options) (a, b source.Tree, err error) {
	if opts.Store == nil {
		return nil, nil, nil
	}
	changed := map[string]bool{}
	s := selecting{tied: map[string]bool{}, refs: map[string]bool{}, unwanted: changed}
	var before, after []source.File
	r, w := newReader(), newPartWriter()
	for _, d := range deltas {
		changed[d.Path] = true
		for _, side := range []struct {
			tree source.Tree
			file *source.File
			all  *[]source.File
		}{{old, d.Old, &before}, {neu, d.New, &after}} {
			if side.file == nil {
				continue
			}
			*side.all = append(*side.all, *side.file)
			data, _, err := pack(ctx, side.tree, *side.file, opts.Store, r, w)
			if err != nil {
				return nil, nil, err
			}
			k := skimPart(data)
			if !k.onlyRacks() {
				return nil, nil, nil
			}
			for _, ref := range k.racks {
				s.tied[ref] = true
			}
			for _, t := range k.ties {
				s.refs[t] = true
				if strings.HasPrefix(t, "feed.") || strings.HasPrefix(t, "rack.") {
					s.tied[t] = true
				}
			}
		}
	}
	o, err := OutlineOf(ctx, neu, opts)
	if err != nil {
		return nil, nil, err
	}
	same := o.files(s)
	return source.Selection(old, append(before, same...)), source.Selection(neu, append(after, same...)), nil
}
