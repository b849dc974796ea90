package source

import (
	"container/heap"
	"context"
	"strings"
)

// A Walk says which commits [Place.History] visits.
type Walk struct {
	From        Hash
	Paths       []string // files or folders below the root, slash-separated; none for the whole estate
	FirstParent bool     // only what came onto the branch itself
	Until       Hash     // where to stop, this commit excluded; "" for the beginning
	Limit       int      // how many versions to give at most; 0 for all
}

// A Version is a commit in which something on the paths of a walk differs from
// all its parents. Where Boundary is set the shallow clone ends there, and the
// change may be older.
type Version struct{ *Commit }

// History gives the commits in which the paths of a walk changed, the youngest
// first. A merge is among them only where it differs from each of its parents.
// Trees are compared by the hashes of the entries along the paths; no file is
// read.
func (p *Place) History(ctx context.Context, w Walk) ([]Version, error) {
	if err := p.needRepo(); err != nil {
		return nil, err
	}
	r := p.Repo
	look := p.looker(w.Paths)
	stop := map[Hash]bool{}
	if w.Until != "" {
		err := r.youngest(ctx, []Hash{w.Until}, func(c *Commit) (bool, error) {
			stop[c.Hash] = true
			return !w.FirstParent, nil
		})
		if err != nil {
			return nil, err
		}
	}
	var versions []Version
	var q queue
	seen := map[Hash]bool{}
	push := func(c *Commit) {
		if !seen[c.Hash] && !stop[c.Hash] {
			seen[c.Hash] = true
			heap.Push(&q, c)
		}
	}
	from, err := r.Commit(ctx, w.From)
	if err != nil {
		return nil, err
	}
	push(from)
	for len(q) > 0 {
		c := heap.Pop(&q).(*Commit)
		parents := c.Parents
		if w.FirstParent && len(parents) > 1 {
			parents = parents[:1]
		}
		own, err := look(ctx, c.Tree)
		if err != nil {
			return nil, err
		}
		changed := len(parents) > 0 || strings.Trim(own, "\x00") != ""
		for _, h := range parents {
			parent, err := r.Commit(ctx, h)
			if err != nil {
				return nil, err
			}
			theirs, err := look(ctx, parent.Tree)
			if err != nil {
				return nil, err
			}
			if theirs == own {
				changed = false
			}
			push(parent)
		}
		if changed {
			versions = append(versions, Version{c})
			if w.Limit > 0 && len(versions) == w.Limit {
				break
			}
		}
	}
	return versions, nil
}

// looker gives a function that says, for the root tree of a commit, what lies
// at the paths: hashes in a row, equal where the content is. What one folder
// answered is kept by its hash, so that commits which leave it alone cost
// nothing.
func (p *Place) looker(paths []string) func(context.Context, Hash) (string, error) {
	r := p.Repo
	none := strings.Repeat("\x00", int(r.bits))
	if len(paths) == 0 {
		paths = []string{""}
	}
	full := make([]string, len(paths))
	for i, path := range paths {
		full[i] = strings.Trim(p.Prefix+"/"+path, "/")
	}
	type key struct {
		tree Hash
		path string
	}
	memo := map[key]Hash{}
	var one func(ctx context.Context, tree Hash, path string) (Hash, error)
	one = func(ctx context.Context, tree Hash, path string) (Hash, error) {
		if path == "" {
			return tree, nil
		}
		if h, ok := memo[key{tree, path}]; ok {
			return h, nil
		}
		name, rest, more := strings.Cut(path, "/")
		data, err := r.tree(ctx, tree)
		if err != nil {
			return "", err
		}
		var h Hash
		if e, ok := find(data, name, r.bits); ok {
			switch {
			case !more:
				h = Hash(e.hash)
			case e.isDir():
				if h, err = one(ctx, Hash(e.hash), rest); err != nil {
					return "", err
				}
			}
		}
		memo[key{tree, path}] = h
		return h, nil
	}
	return func(ctx context.Context, tree Hash) (string, error) {
		var b strings.Builder
		for _, path := range full {
			h, err := one(ctx, tree, path)
			if err != nil {
				return "", err
			}
			if h == "" {
				b.WriteString(none)
			} else {
				b.WriteString(string(h))
			}
		}
		return b.String(), nil
	}
}
