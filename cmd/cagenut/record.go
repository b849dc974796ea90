package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/mail"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/go-git/go-billy/v5/osfs"
	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/cache"
	"github.com/go-git/go-git/v5/plumbing/filemode"
	"github.com/go-git/go-git/v5/storage/filesystem"
)

// A recorder writes files, folders and commits into a repository. It uses what
// the library stores objects with and no more of it: the rest brings along all
// the ways of talking to other machines, which a tenth of each start went into.
type recorder struct{ storage *filesystem.Storage }

// recordIn gives a recorder for a git directory.
func recordIn(gitDir string) *recorder {
	return &recorder{filesystem.NewStorage(osfs.New(gitDir, osfs.WithBoundOS()), cache.NewObjectLRU(cache.MiByte))}
}

// A treeEntry is one line of a folder.
type treeEntry struct {
	name string
	mode filemode.FileMode
	hash plumbing.Hash
}

// sortKey is what git sorts by: the name of a folder as if a slash stood behind
// it.
func (e *treeEntry) sortKey() string {
	if e.mode == filemode.Dir {
		return e.name + "/"
	}
	return e.name
}

func (r *recorder) object(kind plumbing.ObjectType, data []byte) (plumbing.Hash, error) {
	o := r.storage.NewEncodedObject()
	o.SetType(kind)
	w, err := o.Writer()
	if err != nil {
		return plumbing.ZeroHash, err
	}
	_, err = w.Write(data)
	if err = errors.Join(err, w.Close()); err != nil {
		return plumbing.ZeroHash, err
	}
	return r.storage.SetEncodedObject(o)
}

// tree reads a folder.
func (r *recorder) tree(h plumbing.Hash) ([]treeEntry, error) {
	o, err := r.storage.EncodedObject(plumbing.TreeObject, h)
	if err != nil {
		return nil, err
	}
	in, err := o.Reader()
	if err != nil {
		return nil, err
	}
	defer in.Close()
	data, err := io.ReadAll(in)
	if err != nil {
		return nil, err
	}
	var entries []treeEntry
	for len(data) > 0 {
		head, rest, ok := bytes.Cut(data, []byte{0})
		mode, name, okHead := strings.Cut(string(head), " ")
		bits, err := strconv.ParseUint(mode, 8, 32)
		if !ok || !okHead || err != nil || len(rest) < len(h) {
			return nil, fmt.Errorf("the folder %s is damaged", h)
		}
		entries = append(entries, treeEntry{name, filemode.FileMode(bits), plumbing.Hash(rest[:len(h)])})
		data = rest[len(h):]
	}
	return entries, nil
}

func (r *recorder) writeTree(entries []treeEntry) (plumbing.Hash, error) {
	slices.SortFunc(entries, func(a, b treeEntry) int { return strings.Compare(a.sortKey(), b.sortKey()) })
	var b bytes.Buffer
	for _, e := range entries {
		fmt.Fprintf(&b, "%o %s\x00%s", uint32(e.mode), e.name, e.hash[:])
	}
	return r.object(plumbing.TreeObject, b.Bytes())
}

// edit writes a folder that differs from an old one in some files, named by
// their paths from the top: a text in place of what was there, or nil to take
// the file away. A hash of zeros stands for no folder.
func (r *recorder) edit(tree plumbing.Hash, dir string, edits map[string][]byte) (plumbing.Hash, error) {
	var entries []treeEntry
	if !tree.IsZero() {
		var err error
		if entries, err = r.tree(tree); err != nil {
			return plumbing.ZeroHash, err
		}
	}
	find := func(name string) *treeEntry {
		if i := slices.IndexFunc(entries, func(e treeEntry) bool { return e.name == name }); i >= 0 {
			return &entries[i]
		}
		return nil
	}
	put := func(name string, mode filemode.FileMode, hash plumbing.Hash) {
		switch e := find(name); {
		case hash.IsZero():
			entries = slices.DeleteFunc(entries, func(e treeEntry) bool { return e.name == name })
		case e != nil:
			e.mode, e.hash = mode, hash
		default:
			entries = append(entries, treeEntry{name, mode, hash})
		}
	}
	below := map[string]bool{}
	for path, text := range edits {
		name, ok := strings.CutPrefix(path, dir)
		if !ok {
			continue
		}
		if folder, _, deeper := strings.Cut(name, "/"); deeper {
			below[folder] = true
			continue
		}
		mode, hash := filemode.Regular, plumbing.ZeroHash
		if text != nil {
			var err error
			if hash, err = r.object(plumbing.BlobObject, text); err != nil {
				return plumbing.ZeroHash, err
			}
			if e := find(name); e != nil {
				mode = e.mode
			}
		}
		put(name, mode, hash)
	}
	for folder := range below {
		was := plumbing.ZeroHash
		if e := find(folder); e != nil && e.mode == filemode.Dir {
			was = e.hash
		}
		hash, err := r.edit(was, dir+folder+"/", edits)
		if err != nil {
			return plumbing.ZeroHash, err
		}
		put(folder, filemode.Dir, hash)
	}
	if len(entries) == 0 && dir != "" {
		return plumbing.ZeroHash, nil
	}
	return r.writeTree(entries)
}

// commit writes a commit by one person. A parent of zeros stands for none.
func (r *recorder) commit(tree, parent plumbing.Hash, who mail.Address, when time.Time, message string) (plumbing.Hash, error) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "tree %s\n", tree)
	if !parent.IsZero() {
		fmt.Fprintf(&b, "parent %s\n", parent)
	}
	for _, role := range []string{"author", "committer"} {
		fmt.Fprintf(&b, "%s %s <%s> %d %s\n", role, who.Name, who.Address, when.Unix(), when.Format("-0700"))
	}
	fmt.Fprintf(&b, "\n%s", message)
	return r.object(plumbing.CommitObject, b.Bytes())
}
