package lang

import (
	"context"

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
// same in both. Without a store that knows the other files, and where something
// beside racks differs, which any rack may feel, both are loaded whole.
func LoadPair(ctx context.Context, old, neu source.Tree, opts Options) (before, after Loaded, err error) {
	if wanted, err := changedOnly(ctx, old, neu, opts); err != nil {
		return before, after, err
	} else if wanted != nil {
		old, neu = source.Subset(old, wanted), source.Subset(neu, wanted)
	}
	if before.Estate, before.Diagnostics, err = Load(ctx, old, opts); err != nil {
		return before, after, err
	}
	after.Estate, after.Diagnostics, err = Load(ctx, neu, opts)
	return before, after, err
}

// changedOnly gives a test for the files that matter for a difference, or nil
// where all do.
func changedOnly(ctx context.Context, old, neu source.Tree, opts Options) (func(path string) bool, error) {
	if opts.Store == nil {
		return nil, nil
	}
	deltas, err := source.Differ(ctx, old, neu)
	if err != nil {
		return nil, err
	}
	changed := map[string]bool{}
	feeds := map[string]bool{}
	r, w := newReader(), newPartWriter()
	for _, d := range deltas {
		changed[d.Path] = true
		for _, side := range []struct {
			tree source.Tree
			file *source.File
		}{{old, d.Old}, {neu, d.New}} {
			if side.file == nil {
				continue
			}
			data, _, err := pack(ctx, side.tree, *side.file, opts.Store, r, w)
			if err != nil {
				return nil, err
			}
			s := skimPart(data)
			if !s.onlyRacks {
				return nil, nil
			}
			for _, f := range s.feeds {
				feeds[f] = true
			}
		}
	}
	files, err := neu.Files(ctx)
	if err != nil {
		return nil, err
	}
	left := map[string]bool{}
	for _, f := range files {
		if changed[f.Path] {
			continue
		}
		s := skimPart(opts.Store.get(f.Hash))
		if !s.onlyRacks {
			continue
		}
		shares := false
		for _, name := range s.feeds {
			shares = shares || feeds[name]
		}
		if !shares {
			left[f.Path] = true
		}
	}
	return func(path string) bool { return !left[path] }, nil
}
