package merge

import (
	"context"
	"errors"
	"fmt"

	"cagenut/lang/source"
)

// A Conflict is a place in a file that both sides of a merge changed
// differently.
type Conflict struct {
	File string
	// Place is what was changed, "rack.hq-a.core-1: at"; "" where it is the
	// file as a whole, and Why says how.
	Place string
	Why   string
}

// Trees merges what ours and theirs made of base, file by file, and gives the
// texts in which the result differs from ours: nil for a file that is gone.
// Where people must decide, the result has what ours has.
func Trees(ctx context.Context, base, ours, theirs source.Tree) (map[string][]byte, []Conflict, error) {
	left, err := source.Differ(ctx, base, ours)
	if err != nil {
		return nil, nil, err
	}
	right, err := source.Differ(ctx, base, theirs)
	if err != nil {
		return nil, nil, err
	}
	changed := map[string]source.Delta{}
	for _, d := range left {
		changed[d.Path] = d
	}
	texts := map[string][]byte{}
	var conflicts []Conflict
	for _, their := range right {
		our, both := changed[their.Path]
		if !both {
			if their.New == nil {
				texts[their.Path] = nil
				continue
			}
			if texts[their.Path], err = theirs.Read(ctx, *their.New); err != nil {
				return nil, nil, err
			}
			continue
		}
		switch {
		case our.New == nil && their.New == nil:
			continue
		case our.New == nil || their.New == nil:
			conflicts = append(conflicts, Conflict{File: their.Path, Why: "one side took the file away and the other changed it"})
			continue
		}
		text, more, err := mergeFile(ctx, base, ours, theirs, our, their)
		if err != nil {
			return nil, nil, err
		}
		conflicts = append(conflicts, more...)
		if text != nil {
			texts[their.Path] = text
		}
	}
	return texts, conflicts, nil
}

// mergeFile merges a file that both sides changed or added.
func mergeFile(ctx context.Context, base, ours, theirs source.Tree, our, their source.Delta) ([]byte, []Conflict, error) {
	var was []byte
	var err error
	if our.Old != nil {
		if was, err = base.Read(ctx, *our.Old); err != nil {
			return nil, nil, err
		}
	}
	a, err := ours.Read(ctx, *our.New)
	if err != nil {
		return nil, nil, err
	}
	b, err := theirs.Read(ctx, *their.New)
	if err != nil {
		return nil, nil, err
	}
	r, err := Merge(was, a, b, Labels{KeepOurs: true})
	if errors.Is(err, ErrSyntax) {
		return nil, []Conflict{{File: their.Path, Why: fmt.Sprintf("both sides changed the file, and it cannot be merged by block (%v)", err)}}, nil
	}
	if err != nil {
		return nil, nil, err
	}
	var conflicts []Conflict
	for _, place := range r.Conflicts {
		conflicts = append(conflicts, Conflict{File: their.Path, Place: place})
	}
	return r.Text, conflicts, nil
}
