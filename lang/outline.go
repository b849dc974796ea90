package lang

import (
	"context"

	"cagenut/lang/source"
)

// An Outline is what can be told of a tree without reading it, from what a
// store keeps of its files.
type Outline struct {
	Racks map[string]string // the file of each rack, by name, where it is known
	// Only names the files that declare racks and nothing else. A file that the
	// store does not know is not among them.
	Only map[string]bool
}

// OutlineOf gives the outline of a tree. Without a store it is empty.
func OutlineOf(ctx context.Context, tree source.Tree, store *Store) (Outline, error) {
	out := Outline{Racks: map[string]string{}, Only: map[string]bool{}}
	files, err := Files(ctx, tree)
	if err != nil {
		return out, err
	}
	for _, f := range files {
		s := skimPart(store.get(f.Hash))
		if !s.onlyRacks {
			continue
		}
		out.Only[f.Path] = true
		for _, name := range s.racks {
			if _, dup := out.Racks[name]; !dup {
				out.Racks[name] = f.Path
			}
		}
	}
	return out, nil
}
