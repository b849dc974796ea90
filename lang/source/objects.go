package source

import (
	"context"
	"errors"
	"fmt"
	"runtime"
)

// A kind is the kind of an object.
type kind uint8

const (
	noKind kind = iota
	commitKind
	treeKind
	blobKind
	tagKind
)

var kinds = [...]string{"object", "commit", "tree", "file", "tag"}

func (k kind) String() string { return kinds[k] }

// errMissing says that a reader of objects does not have one.
var errMissing = errors.New("object is missing")

// objects reads objects. One goroutine uses it at a time.
type objects interface {
	// object gives an object whole, or an error that wraps errMissing.
	object(h Hash) (kind, []byte, error)
	// prefix lists the objects whose hexadecimal name begins so.
	prefix(hex string) ([]Hash, error)
	close()
}

// acquire gives a reader that nobody else uses.
func (r *Repository) acquire() (objects, error) {
	r.mu.Lock()
	if n := len(r.idle); n > 0 {
		o := r.idle[n-1]
		r.idle = r.idle[:n-1]
		r.mu.Unlock()
		return o, nil
	}
	installed := r.why != ""
	r.mu.Unlock()
	if installed {
		return r.openInstalled()
	}
	if p, ok := r.openPacks(); ok {
		return p, nil
	}
	return r.openLibrary(), nil
}

func (r *Repository) release(o objects) {
	r.mu.Lock()
	_, installed := o.(*installed)
	keep := installed == (r.why != "") && len(r.idle) < runtime.GOMAXPROCS(0)
	if keep {
		r.idle = append(r.idle, o)
	}
	r.mu.Unlock()
	if !keep {
		o.close()
	}
}

// object reads one object. A reader keeps the list of packs as it was when
// opened, so that what a repacking process moved meanwhile is found only by a
// new one; what that one does not find either is asked of the installed git,
// which reads formats the library does not know.
func (r *Repository) object(ctx context.Context, h Hash) (kind, []byte, error) {
	if err := ctx.Err(); err != nil {
		return noKind, nil, err
	}
	if to, ok := r.replace[h]; ok {
		h = to
	}
	o, err := r.acquire()
	if err != nil {
		return noKind, nil, err
	}
	k, data, err := o.object(h)
	if err == nil {
		r.release(o)
		return k, data, nil
	}
	o.close()
	r.Close() // the other handles are as old
	if o, err = r.acquire(); err != nil {
		return noKind, nil, err
	}
	if k, data, err = o.object(h); err == nil {
		r.release(o)
		return k, data, nil
	}
	o.close()
	if _, ok := o.(*installed); !ok && findGit() != "" {
		if git, gitErr := r.openInstalled(); gitErr == nil {
			if k, data, gitErr = git.object(h); gitErr == nil {
				r.mu.Lock()
				r.why = "the built-in reader does not find its objects"
				r.mu.Unlock()
				r.release(git)
				return k, data, nil
			}
			git.close()
		}
	}
	return noKind, nil, r.missing(h, err)
}

// missing says why an object cannot be had, and what to do.
func (r *Repository) missing(h Hash, err error) error {
	switch {
	case !errors.Is(err, errMissing):
		return fmt.Errorf("object %s cannot be read (%v); see what is damaged with: git fsck", h.Short(), err)
	case r.Partial():
		return &MissingError{h, fmt.Sprintf("this clone is partial and has not fetched object %s yet; fetch what is lacking with: git fetch --refetch --no-filter %s", h.Short(), r.remote())}
	case r.Shallow():
		return &MissingError{h, fmt.Sprintf("this clone is shallow and lacks object %s; fetch it with: git fetch --depth=1 %s %s", h.Short(), r.remote(), h)}
	}
	return &MissingError{h, fmt.Sprintf("object %s is missing from the repository; see what is damaged with: git fsck", h.Short())}
}

// A MissingError says that an object is not in the repository, and how to get
// it.
type MissingError struct {
	Hash Hash
	text string
}

func (e *MissingError) Error() string { return e.text }

// remote names the remote to fetch from.
func (r *Repository) remote() string {
	subs := r.config.Section("remote").Subsections
	for _, s := range subs {
		if s.Name == "origin" {
			return "origin"
		}
	}
	if len(subs) > 0 {
		return subs[0].Name
	}
	return "origin"
}

// typed reads an object that must be of one kind.
func (r *Repository) typed(ctx context.Context, h Hash, want kind) ([]byte, error) {
	k, data, err := r.object(ctx, h)
	if err != nil {
		return nil, err
	}
	if k != want {
		return nil, fmt.Errorf("object %s is a %s where a %s should be; see what is damaged with: git fsck", h.Short(), k, want)
	}
	return data, nil
}

// tree reads a tree, raw. Trees are kept: history and differences meet the
// same ones again and again.
func (r *Repository) tree(ctx context.Context, h Hash) ([]byte, error) {
	r.mu.Lock()
	data, ok := r.trees[h]
	r.mu.Unlock()
	if ok {
		return data, nil
	}
	data, err := r.typed(ctx, h, treeKind)
	if err != nil {
		return nil, err
	}
	r.mu.Lock()
	if r.budget+len(data) > treeBudget {
		clear(r.trees)
		r.budget = 0
	}
	if _, ok := r.trees[h]; !ok {
		r.trees[h] = data
		r.budget += len(data)
	}
	r.mu.Unlock()
	return data, nil
}
