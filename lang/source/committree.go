package source

import (
	"context"
	"fmt"
	"sort"
	"strings"
	"sync"
)

// ErrNoFolder is wrapped where a commit does not have the folder of the estate.
var ErrNoFolder error = silent{}

// silent says nothing: the error around it says it all.
type silent struct{}

func (silent) Error() string { return "" }

// Commit gives the estate as it is in a commit. The name is what the user
// called it; "" stands for the short hash.
func (p *Place) Commit(ctx context.Context, h Hash, name string) (Tree, error) {
	if err := p.needRepo(); err != nil {
		return nil, err
	}
	c, err := p.Repo.Commit(ctx, h)
	if err != nil {
		return nil, err
	}
	if name == "" {
		name = h.Short()
	}
	root, mode, err := p.Repo.lookup(ctx, c.Tree, p.Prefix)
	if err != nil {
		return nil, err
	}
	if root != "" && mode&modeKind != modeDir {
		root = ""
	}
	if root == "" {
		return nil, fmt.Errorf("commit %s has no folder %s, where the estate lies now%w", called(h, name), Quote(p.Prefix), ErrNoFolder)
	}
	t := &commitTree{repo: p.Repo, commit: c, root: root, name: name}
	return t, nil
}

// called gives a commit's name as the user wrote it with its hash behind it.
func called(h Hash, name string) string {
	if name == "" || strings.HasPrefix(h.String(), name) {
		return h.Short()
	}
	return fmt.Sprintf("%s (%s)", name, h.Short())
}

// CommitOf gives the commit that a tree was read from, or nil.
func CommitOf(t Tree) *Commit {
	if t, ok := t.(*commitTree); ok {
		return t.commit
	}
	return nil
}

type commitTree struct {
	repo   *Repository
	commit *Commit
	root   Hash // the tree of the estate's root
	name   string

	mu    sync.Mutex
	files []File
	notes []Note
}

func (t *commitTree) Name() string { return t.name }

func (t *commitTree) skipped() []Note {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.notes
}

func (t *commitTree) Files(ctx context.Context) ([]File, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.files != nil {
		return t.files, nil
	}
	files := []File{}
	var notes []Note
	err := t.repo.walk(ctx, t.root, "", func(path string, e *entry) bool {
		file, note := judge(path, e)
		if note != "" {
			notes = append(notes, Note{path, note})
		}
		if file {
			files = append(files, File{Path: path, Hash: Hash(e.hash), Size: -1})
		}
		return e.isDir() && note == ""
	})
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", called(t.commit.Hash, t.name), err)
	}
	sortFiles(files)
	sort.Slice(notes, func(i, j int) bool { return notes[i].Path < notes[j].Path })
	t.files, t.notes = files, notes
	return files, nil
}

// judge says whether an entry is a file of the estate, or why it is not though
// it looks like one.
func judge(path string, e *entry) (file bool, note string) {
	switch {
	case hostile(e.name):
		return false, "has a name that no file may have"
	case e.isDir():
		return false, ""
	case e.mode&modeKind == modeModule:
		return false, "is a repository of its own"
	case !IsEstateFile(path):
		return false, ""
	case e.mode&modeKind == modeLink:
		return false, "is a symbolic link"
	}
	return true, ""
}

func (t *commitTree) Read(ctx context.Context, f File) ([]byte, error) {
	data, err := t.repo.typed(ctx, f.Hash, blobKind)
	if err != nil {
		return nil, fmt.Errorf("reading %s in %s: %w", Quote(f.Path), called(t.commit.Hash, t.name), err)
	}
	return data, nil
}
