package source

import "context"

// Subset gives the files of a tree whose paths are wanted.
func Subset(t Tree, wanted func(path string) bool) Tree { return &subset{t, wanted} }

type subset struct {
	Tree
	wanted func(path string) bool
}

func (s *subset) Files(ctx context.Context) ([]File, error) {
	all, err := s.Tree.Files(ctx)
	if err != nil {
		return nil, err
	}
	files := make([]File, 0, 64)
	for _, f := range all {
		if s.wanted(f.Path) {
			files = append(files, f)
		}
	}
	return files, nil
}

func (s *subset) readHashed(ctx context.Context, f File) ([]byte, Hash, error) {
	return ReadHashed(ctx, s.Tree, f)
}

func (s *subset) skipped() []Note { return Skipped(s.Tree) }

// Overlay gives a tree in which some files have another text, or are gone
// where the text is nil.
func Overlay(name string, under Tree, texts map[string][]byte) Tree {
	return &overlay{under, name, texts}
}

type overlay struct {
	Tree
	name  string
	texts map[string][]byte
}

func (o *overlay) Name() string { return o.name }

func (o *overlay) Files(ctx context.Context) ([]File, error) {
	all, err := o.Tree.Files(ctx)
	if err != nil {
		return nil, err
	}
	files := make([]File, 0, len(all)+len(o.texts))
	for _, f := range all {
		if _, ok := o.texts[f.Path]; !ok {
			files = append(files, f)
		}
	}
	for path, text := range o.texts {
		if text != nil {
			files = append(files, File{Path: path, Size: int64(len(text))})
		}
	}
	sortFiles(files)
	return files, nil
}

func (o *overlay) Read(ctx context.Context, f File) ([]byte, error) {
	if text, ok := o.texts[f.Path]; ok && text != nil {
		return text, nil
	}
	return o.Tree.Read(ctx, f)
}

func (o *overlay) readHashed(ctx context.Context, f File) ([]byte, Hash, error) {
	if text, ok := o.texts[f.Path]; ok && text != nil {
		return text, HashOf(text, ""), nil
	}
	return ReadHashed(ctx, o.Tree, f)
}
