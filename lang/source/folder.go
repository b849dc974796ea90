package source

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"sync"
)

// Folder gives the files below a folder of the disk. No repository is needed.
//
// Symbolic links are not followed, and folders named .git and folders that hold
// a repository of their own are not entered. Hash and Size of its files are
// those of the file as it lies there; Hash is "" until [Known] or [Differ]
// asks for it.
func Folder(root string) Tree { return &folder{root: root} }

type folder struct {
	root string

	mu    sync.Mutex
	notes []Note
}

func (t *folder) Name() string { return "folder" }

func (t *folder) skipped() []Note {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.notes
}

func (t *folder) Files(ctx context.Context) ([]File, error) {
	var files []File
	var notes []Note
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
	sortFiles(files)
	sort.Slice(notes, func(i, j int) bool { return notes[i].Path < notes[j].Path })
	t.mu.Lock()
	t.notes = notes
	t.mu.Unlock()
	return files, nil
}

func (t *folder) Read(_ context.Context, f File) ([]byte, error) {
	name := filepath.Join(t.root, filepath.FromSlash(f.Path))
	data, err := readRegular(name)
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
