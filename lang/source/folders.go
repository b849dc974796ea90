package source

import (
	"context"
	"fmt"
	"slices"
)

// A Listing is what one folder of a commit holds, the folders below it left
// closed: files of the estate, and folders. Both are sorted as git sorts them.
type Listing struct {
	Files   []Listed
	Folders []Listed
}

// A Listed is one name in a folder and the object that it stands for.
type Listed struct {
	Name string
	Hash Hash
}

// RootHash gives the hash of the folder that a tree is the content of, where
// the tree was read from a commit, and else "". Folders of one hash hold the
// same, in whatever commit or place they are met.
func RootHash(t Tree) Hash {
	if t, ok := t.(*commitTree); ok {
		return t.root
	}
	return ""
}

// List gives what the folder of a hash holds, at RootHash of the tree or below.
func List(ctx context.Context, t Tree, folder Hash) (Listing, error) {
	c, ok := t.(*commitTree)
	if !ok {
		return Listing{}, fmt.Errorf("%s knows no folders by hash", t.Name())
	}
	var l Listing
	data, err := c.repo.tree(ctx, folder)
	if err != nil {
		return l, fmt.Errorf("reading %s: %w", called(c.commit.Hash, c.name), err)
	}
	for len(data) > 0 {
		e, rest, ok := next(data, c.repo.bits)
		if !ok {
			return l, damagedTree(folder, "", false)
		}
		data = rest
		file, note := judge(string(e.name), &e)
		switch {
		case file:
			l.Files = append(l.Files, Listed{string(e.name), Hash(e.hash)})
		case e.isDir() && note == "":
			l.Folders = append(l.Folders, Listed{string(e.name), Hash(e.hash)})
		}
	}
	return l, nil
}

// Selection gives some files of a tree, which the caller knows without having
// listed all. They are sorted here.
func Selection(t Tree, files []File) Tree {
	files = slices.Clone(files)
	sortFiles(files)
	return &selection{t, files}
}

type selection struct {
	Tree
	files []File
}

func (s *selection) Files(context.Context) ([]File, error) { return s.files, nil }

func (s *selection) readHashed(ctx context.Context, f File) ([]byte, Hash, error) {
	return ReadHashed(ctx, s.Tree, f)
}

func (s *selection) skipped() []Note { return Skipped(s.Tree) }
