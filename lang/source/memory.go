package source

import (
	"context"
	"fmt"
)

// Memory gives a tree of files held in memory, by path. The map must not
// change afterwards.
func Memory(name string, files map[string]string) Tree {
	t := &memory{name: name, text: files}
	for path, text := range files {
		if IsEstateFile(path) {
			t.files = append(t.files, File{Path: path, Hash: HashOf([]byte(text), ""), Size: int64(len(text))})
		}
	}
	sortFiles(t.files)
	return t
}

type memory struct {
	name  string
	files []File
	text  map[string]string
}

func (t *memory) Name() string { return t.name }

func (t *memory) Files(context.Context) ([]File, error) { return t.files, nil }

func (t *memory) Read(_ context.Context, f File) ([]byte, error) {
	text, ok := t.text[f.Path]
	if !ok {
		return nil, fmt.Errorf("%s has no file %s", t.name, Quote(f.Path))
	}
	return []byte(text), nil
}
