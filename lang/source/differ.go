package source

import (
	"bytes"
	"context"
	"runtime"
	"sort"

	"golang.org/x/sync/errgroup"
)

// A Delta is one path at which two trees differ.
type Delta struct {
	Path     string
	Old, New *File // nil where the tree has no such file
}

// Differ gives the paths at which two trees differ, sorted. Trees of commits
// are compared by hash, folder by folder, and equal folders are not read. A
// folder's files are compared by their content; a file that was checked out
// with CRLF where the repository has LF does not differ.
func Differ(ctx context.Context, a, b Tree) ([]Delta, error) {
	x, okA := a.(*commitTree)
	y, okB := b.(*commitTree)
	if okA && okB && x.repo == y.repo {
		var d []Delta
		err := differTrees(ctx, x.repo, x.root, y.root, "", &d)
		sort.Slice(d, func(i, j int) bool { return d[i].Path < d[j].Path })
		return d, err
	}
	old, err := a.Files(ctx)
	if err != nil {
		return nil, err
	}
	neu, err := b.Files(ctx)
	if err != nil {
		return nil, err
	}
	return differFiles(ctx, a, b, old, neu)
}

// differTrees walks two raw trees side by side. Git sorts the name of a folder
// as if a slash stood behind it, so a file and a folder of one name are not
// neighbours; each is then seen alone, which is right: one goes, one comes.
func differTrees(ctx context.Context, r *Repository, a, b Hash, dir string, out *[]Delta) error {
	if a == b {
		return nil
	}
	var x, y []byte
	var err error
	if a != "" {
		if x, err = r.tree(ctx, a); err != nil {
			return err
		}
	}
	if b != "" {
		if y, err = r.tree(ctx, b); err != nil {
			return err
		}
	}
	// Skip what both begin with: commonly one entry of thousands differs.
	n := common(x, y)
	skip := boundary(x[:n], r.bits)
	x, y = x[skip:], y[skip:]
	for len(x) > 0 || len(y) > 0 {
		e, restX, okX := next(x, r.bits)
		f, restY, okY := next(y, r.bits)
		if !okX && len(x) > 0 || !okY && len(y) > 0 {
			return damagedTree(a, b, okX)
		}
		order := 0
		switch {
		case !okX:
			order = 1
		case !okY:
			order = -1
		default:
			order = compareEntries(&e, &f)
		}
		if order <= 0 {
			x = restX
		}
		if order >= 0 {
			y = restY
		}
		switch {
		case order < 0:
			err = deltaEntry(ctx, r, &e, nil, dir, out)
		case order > 0:
			err = deltaEntry(ctx, r, nil, &f, dir, out)
		case e.mode == f.mode && bytes.Equal(e.hash, f.hash):
			if bytes.Equal(x, y) {
				return nil // as is the rest
			}
		default:
			err = deltaEntry(ctx, r, &e, &f, dir, out)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// common gives how many bytes two slices begin with alike.
func common(x, y []byte) int {
	n := min(len(x), len(y))
	const step = 512
	i := 0
	for i+step <= n && bytes.Equal(x[i:i+step], y[i:i+step]) {
		i += step
	}
	for i < n && x[i] == y[i] {
		i++
	}
	return i
}

// boundary gives the end of the last whole entry of a run of them.
func boundary(data []byte, bits hashKind) int {
	end := 0
	for {
		_, rest, ok := next(data[end:], bits)
		if !ok {
			return end
		}
		end = len(data) - len(rest)
	}
}

func damagedTree(a, b Hash, second bool) error {
	if second {
		a = b
	}
	return damaged(a, "it is a tree that breaks off")
}

// compareEntries orders entries as git sorts them.
func compareEntries(e, f *entry) int {
	n := min(len(e.name), len(f.name))
	if c := bytes.Compare(e.name[:n], f.name[:n]); c != 0 {
		return c
	}
	return int(at(e, n)) - int(at(f, n))
}

func at(e *entry, i int) byte {
	switch {
	case i < len(e.name):
		return e.name[i]
	case e.isDir():
		return '/'
	}
	return 0
}

// deltaEntry adds what differs between two entries of one name.
func deltaEntry(ctx context.Context, r *Repository, e, f *entry, dir string, out *[]Delta) error {
	var name []byte
	if e != nil {
		name = e.name
	} else {
		name = f.name
	}
	if hostile(name) {
		return nil
	}
	path := string(name)
	if dir != "" {
		path = dir + "/" + path
	}
	sub := func(e *entry) Hash {
		if e != nil && e.isDir() {
			return Hash(e.hash)
		}
		return ""
	}
	file := func(e *entry) *File {
		if e == nil {
			return nil
		}
		if is, _ := judge(path, e); !is {
			return nil
		}
		return &File{Path: path, Hash: Hash(e.hash), Size: -1}
	}
	if a, b := sub(e), sub(f); a != "" || b != "" {
		if err := differTrees(ctx, r, a, b, path, out); err != nil {
			return err
		}
	}
	old, neu := file(e), file(f)
	if old == nil && neu == nil || old != nil && neu != nil && old.Hash == neu.Hash {
		return nil // the mode alone plays no part
	}
	*out = append(*out, Delta{Path: path, Old: old, New: neu})
	return nil
}

// differFiles compares two lists of files, reading those whose hash is not
// known.
func differFiles(ctx context.Context, a, b Tree, old, neu []File) ([]Delta, error) {
	var deltas []Delta
	var both [][2]File
	i, j := 0, 0
	for i < len(old) || j < len(neu) {
		switch {
		case j == len(neu) || i < len(old) && old[i].Path < neu[j].Path:
			deltas = append(deltas, Delta{Path: old[i].Path, Old: &old[i]})
			i++
		case i == len(old) || old[i].Path > neu[j].Path:
			deltas = append(deltas, Delta{Path: neu[j].Path, New: &neu[j]})
			j++
		default:
			if old[i].Hash == "" || old[i].Hash != neu[j].Hash {
				both = append(both, [2]File{old[i], neu[j]})
			}
			i++
			j++
		}
	}
	differ := make([]bool, len(both))
	g, ctx := errgroup.WithContext(ctx)
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		g.Go(func() error {
			for k := w; k < len(both); k += workers {
				same, err := sameFile(ctx, a, b, &both[k][0], &both[k][1])
				if err != nil {
					return err
				}
				differ[k] = !same
			}
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return nil, err
	}
	for k := range both {
		if differ[k] {
			deltas = append(deltas, Delta{Path: both[k][0].Path, Old: &both[k][0], New: &both[k][1]})
		}
	}
	sort.Slice(deltas, func(i, j int) bool { return deltas[i].Path < deltas[j].Path })
	return deltas, nil
}

// sameFile compares the content of two files, and fills in hashes that are not
// known yet. A file on the disk is read even where its hash is known to
// differ, since the ends of its lines may be all that does.
func sameFile(ctx context.Context, a, b Tree, f, g *File) (bool, error) {
	if f.Hash != "" && f.Hash == g.Hash {
		return true, nil
	}
	same := false
	fill := func(t Tree, f *File, like Hash) error {
		_, onDisk := t.(*folder)
		if f.Hash != "" && !onDisk {
			return nil
		}
		data, h, err := ReadHashed(ctx, t, *f)
		if err != nil {
			return err
		}
		if len(h) != len(like) {
			h = HashOf(data, like)
		}
		f.Hash, f.Size = h, int64(len(data))
		if like != "" && h != like && bytes.Contains(data, crlf) {
			same = HashOf(bytes.ReplaceAll(data, crlf, lf), like) == like
		}
		return nil
	}
	if err := fill(a, f, g.Hash); err != nil {
		return false, err
	}
	if err := fill(b, g, f.Hash); err != nil {
		return false, err
	}
	return same || f.Hash == g.Hash, nil
}

var crlf, lf = []byte("\r\n"), []byte("\n")
