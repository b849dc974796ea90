package source

import (
	"bytes"
	"context"
	"fmt"
	"strings"
)

// Modes of the entries of a tree.
const (
	modeDir     = 0o040000
	modeLink    = 0o120000
	modeModule  = 0o160000
	modeKind    = 0o170000
	modeRegular = 0o100000
)

// An entry is one line of a raw tree. Its slices share the tree's bytes.
type entry struct {
	mode uint32
	name []byte
	hash []byte
}

func (e *entry) isDir() bool     { return e.mode&modeKind == modeDir }
func (e *entry) isRegular() bool { return e.mode&modeKind == modeRegular }

// next cuts the first entry off a raw tree. At the end, ok is false; rest is
// then empty, or else the tree is damaged.
func next(data []byte, bits hashKind) (e entry, rest []byte, ok bool) {
	i := 0
	for ; i < len(data) && data[i] != ' '; i++ {
		e.mode = e.mode<<3 | uint32(data[i]-'0')
	}
	if i >= len(data) {
		return entry{}, data, false
	}
	data = data[i+1:]
	n := bytes.IndexByte(data, 0)
	if n < 0 || len(data) < n+1+int(bits) {
		return entry{}, data, false
	}
	e.name, e.hash = data[:n], data[n+1:n+1+int(bits)]
	return e, data[n+1+int(bits):], true
}

// hostile reports whether the name of an entry could reach outside the tree.
// Such trees can be made, though not with git add.
func hostile(name []byte) bool {
	return len(name) == 0 || bytes.IndexByte(name, '/') >= 0 ||
		string(name) == "." || string(name) == ".." || strings.EqualFold(string(name), ".git")
}

// lookup gives the entry at a slash path below a tree; its hash is "" where
// there is none.
func (r *Repository) lookup(ctx context.Context, tree Hash, path string) (Hash, uint32, error) {
	if path == "" {
		return tree, modeDir, nil
	}
	for {
		name, rest, more := strings.Cut(path, "/")
		data, err := r.tree(ctx, tree)
		if err != nil {
			return "", 0, err
		}
		e, ok := find(data, name, r.bits)
		if !ok {
			return "", 0, nil
		}
		if !more {
			return Hash(e.hash), e.mode, nil
		}
		if !e.isDir() {
			return "", 0, nil
		}
		tree, path = Hash(e.hash), rest
	}
}

// find gives the entry of a name in a raw tree. It looks for the name's bytes
// before it reads entries one by one: folders hold thousands of racks.
func find(data []byte, name string, bits hashKind) (entry, bool) {
	if !bytes.Contains(data, []byte(name)) {
		return entry{}, false
	}
	for len(data) > 0 {
		e, rest, ok := next(data, bits)
		if !ok {
			return entry{}, false
		}
		if string(e.name) == name {
			return e, true
		}
		data = rest
	}
	return entry{}, false
}

// walk calls visit for each entry below a tree, folders before what they hold.
// Visit says whether to enter a folder.
func (r *Repository) walk(ctx context.Context, tree Hash, dir string, visit func(path string, e *entry) bool) error {
	data, err := r.tree(ctx, tree)
	if err != nil {
		return err
	}
	for len(data) > 0 {
		e, rest, ok := next(data, r.bits)
		if !ok {
			return fmt.Errorf("tree %s is damaged; see what is damaged with: git fsck", tree.Short())
		}
		data = rest
		path := string(e.name)
		if dir != "" {
			path = dir + "/" + path
		}
		if visit(path, &e) && e.isDir() {
			if err := r.walk(ctx, Hash(e.hash), path, visit); err != nil {
				return err
			}
		}
	}
	return nil
}
