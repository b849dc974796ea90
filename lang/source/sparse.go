package source

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// left gives the files of the estate that a sparse checkout leaves out of the
// working tree, as they are staged: git counts them as unchanged, and so does
// whoever compares, where a folder without them would seem to have lost them. Of
// those that a partial clone has not fetched one note is given.
func (p *Place) left(ctx context.Context) (files []File, lost []Note, err error) {
	if !isTrue(p.Repo.setting("core", "", "sparsecheckout")) {
		return nil, nil, nil
	}
	entries, err := p.Repo.indexEntries(ctx)
	if err != nil {
		return nil, nil, err
	}
	missing := 0
	for _, e := range entries {
		path, ok := p.inside(e.path)
		if !ok || !e.skip || e.stage != 0 {
			continue
		}
		if file, _ := judge(path, &entry{mode: e.mode, name: []byte(path[strings.LastIndexByte(path, '/')+1:])}); !file {
			continue
		}
		if _, err := os.Lstat(filepath.Join(p.Root, filepath.FromSlash(path))); err == nil {
			continue // somebody has put it there
		}
		if p.Repo.Partial() {
			if _, err := p.Repo.typed(ctx, e.hash, blobKind); err != nil {
				if missing++; missing == 1 {
					lost = []Note{{Path: path}}
				}
				continue
			}
		}
		files = append(files, File{Path: path, Hash: e.hash, Size: -1})
	}
	if missing > 0 {
		lost[0].Why = "is not checked out, and this partial clone has not fetched it"
		if missing > 1 {
			lost[0].Why = fmt.Sprintf("and %d more are not checked out, and this partial clone has not fetched them", missing-1)
		}
	}
	sortFiles(files)
	return files, lost, nil
}

// inside gives a path of the repository as one of the estate.
func (p *Place) inside(path string) (string, bool) {
	if p.Prefix == "" {
		return path, true
	}
	return strings.CutPrefix(path, p.Prefix+"/")
}

// Left gives the paths of the files of a folder that a sparse checkout leaves
// out of the working tree, and that are read as they are staged.
func Left(t Tree) []string {
	var paths []string
	if f, ok := t.(*folder); ok {
		for _, l := range f.left {
			paths = append(paths, l.Path)
		}
	}
	return paths
}
