package source

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sort"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"
)

// Folder gives the files below a folder of the disk. No repository is needed.
//
// Symbolic links are not followed, and folders named .git and folders that hold
// a repository of their own are not entered. Hash and Size of its files are
// those of the file as it lies there; Hash is "" until somebody reads it.
func Folder(root string) Tree { return &folder{root: root} }

// RememberingFolder is [Folder] with a folder, which need not exist yet, where
// the hashes of files that look unchanged are kept from run to run. [Remember]
// writes them.
func RememberingFolder(root, store string) Tree {
	return &folder{root: root, memo: readMemo(memoFile(store, root))}
}

// Remember keeps what was learnt about the files of a tree, for the next run.
// An error means only that the next run is slower.
func Remember(t Tree) error {
	f, ok := t.(*folder)
	if !ok || f.memo == nil {
		return nil
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.memo.save()
}

type folder struct {
	root string
	repo *Repository // has what is in left
	left []File      // not on the disk: see Place.left
	lost []Note      // nor in the repository

	mu     sync.Mutex
	notes  []Note
	memo   *memo  // nil where nothing is remembered
	listed []File // as listed first, where there is a memo: a run sees the folder as it was then
}

func (t *folder) Name() string { return "folder" }

func (t *folder) skipped() []Note {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.notes
}

func (t *folder) Files(ctx context.Context) ([]File, error) {
	t.mu.Lock()
	listed := slices.Clone(t.listed)
	t.mu.Unlock()
	if listed != nil {
		return listed, nil
	}
	var files []File
	notes := slices.Clone(t.lost)
	var walk func(dir string) error
	walk = func(dir string) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		entries, err := os.ReadDir(filepath.Join(t.root, filepath.FromSlash(dir)))
		if err != nil {
			return fmt.Errorf("reading the folder %s: %w", Quote(dirName(dir)), reason(err))
		}
		if dir != "" {
			for _, e := range entries {
				if e.Name() == ".git" {
					notes = append(notes, Note{dir, "is a repository of its own"})
					return nil
				}
			}
		}
		for _, e := range entries {
			path := e.Name()
			if dir != "" {
				path = dir + "/" + path
			}
			switch {
			case e.IsDir():
				if e.Name() == ".git" {
					continue
				}
				if err := walk(path); err != nil {
					return err
				}
			case e.Type()&fs.ModeSymlink != 0 && !IsEstateFile(e.Name()):
				// Racks behind it would be missed without a word.
				if info, err := os.Stat(filepath.Join(t.root, filepath.FromSlash(path))); err == nil && info.IsDir() {
					notes = append(notes, Note{path, "is a symbolic link to a folder"})
				}
			case !IsEstateFile(e.Name()):
			case e.Type()&fs.ModeSymlink != 0:
				notes = append(notes, Note{path, "is a symbolic link"})
			case !e.Type().IsRegular():
				notes = append(notes, Note{path, "is not a regular file"})
			default:
				files = append(files, File{Path: path, Size: -1})
			}
		}
		return nil
	}
	if err := walk(""); err != nil {
		return nil, err
	}
	files = append(files, t.left...)
	sortFiles(files)
	sort.Slice(notes, func(i, j int) bool { return notes[i].Path < notes[j].Path })
	t.mu.Lock()
	defer t.mu.Unlock()
	t.notes = notes
	if t.memo != nil {
		looks, err := t.lookAtAll(ctx, files)
		if err != nil {
			return nil, err
		}
		t.memo.recall(files, looks)
		t.listed = slices.Clone(files)
	}
	return files, nil
}

// lookAtAll asks the file system about all files, on all processors: it takes
// most of the time that a run needs when nothing has changed.
func (t *folder) lookAtAll(ctx context.Context, files []File) ([]look, error) {
	looks := make([]look, len(files))
	g, ctx := errgroup.WithContext(ctx)
	workers := runtime.GOMAXPROCS(0)
	each := (len(files) + workers - 1) / workers
	for from := 0; from < len(files); from += each {
		g.Go(func() error {
			for i := from; i < min(from+each, len(files)); i++ {
				// What has gone meanwhile is told when it is read.
				if info, err := os.Lstat(filepath.Join(t.root, filepath.FromSlash(files[i].Path))); err == nil && info.Mode().IsRegular() {
					looks[i] = lookAt(info)
				}
			}
			return ctx.Err()
		})
	}
	return looks, g.Wait()
}

func (t *folder) readHashed(ctx context.Context, f File) ([]byte, Hash, error) {
	data, err := t.Read(ctx, f)
	if err != nil {
		return nil, "", err
	}
	h := HashOf(data, f.Hash)
	if t.memo != nil && h != f.Hash {
		t.mu.Lock()
		t.memo.learn(f.Path, h)
		// Who lists the folder again in this run sees what was read.
		if i, ok := slices.BinarySearchFunc(t.listed, f.Path, func(g File, path string) int { return strings.Compare(g.Path, path) }); ok {
			t.listed[i].Hash = h
		}
		t.mu.Unlock()
	}
	return data, h, nil
}

// leftOut gives the file of that path where a sparse checkout left it out.
func (t *folder) leftOut(path string) *File {
	i, ok := slices.BinarySearchFunc(t.left, path, func(f File, path string) int { return strings.Compare(f.Path, path) })
	if !ok {
		return nil
	}
	return &t.left[i]
}

func (t *folder) Read(ctx context.Context, f File) ([]byte, error) {
	name := filepath.Join(t.root, filepath.FromSlash(f.Path))
	data, err := readRegular(name)
	if l := t.leftOut(f.Path); errors.Is(err, fs.ErrNotExist) && l != nil {
		data, err = t.repo.typed(ctx, l.Hash, blobKind)
	}
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", Quote(f.Path), reason(err))
	}
	return data, nil
}

// readRegular reads a file of known or unknown size with as few calls as can
// be: rack files are small, and there are many.
func readRegular(name string) ([]byte, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	buf := make([]byte, 0, 8<<10)
	for {
		n, err := file.Read(buf[len(buf):cap(buf)])
		buf = buf[:len(buf)+n]
		if err != nil {
			if err == io.EOF {
				return buf, nil
			}
			return nil, err
		}
		if len(buf) == cap(buf) {
			buf = append(buf, 0)[:len(buf)]
		}
	}
}

func dirName(dir string) string {
	if dir == "" {
		return "."
	}
	return dir
}

// reason takes the path out of an error of the file system: the message
// around it names the file already, the way the user sees it.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
