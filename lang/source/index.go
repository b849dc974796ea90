package source

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"

	"github.com/go-git/go-git/v5/plumbing/filemode"
	"github.com/go-git/go-git/v5/plumbing/format/index"
)

// Index gives the estate as it is staged: as the next commit would have it.
// Files with unresolved merges are an error that names them.
func (p *Place) Index(ctx context.Context) (Tree, error) {
	if err := p.needRepo(); err != nil {
		return nil, err
	}
	r := p.Repo
	if r.top == "" {
		return nil, errors.New("a bare repository has no index; name a commit with --at, such as --at HEAD")
	}
	entries, err := r.indexEntries(ctx)
	if err != nil {
		return nil, err
	}
	t := &indexTree{repo: r}
	var unmerged []string
	for _, e := range entries {
		path, ok := p.inside(e.path)
		if !ok {
			continue
		}
		en := entry{mode: e.mode, name: []byte(path[strings.LastIndexByte(path, '/')+1:])}
		file, note := judge(path, &en)
		if note != "" {
			t.notes = append(t.notes, Note{path, note})
		}
		if !file {
			continue
		}
		if e.stage != 0 {
			if n := len(unmerged); n == 0 || unmerged[n-1] != Quote(path) {
				unmerged = append(unmerged, Quote(path))
			}
			continue
		}
		t.files = append(t.files, File{Path: path, Hash: e.hash, Size: -1})
	}
	if len(unmerged) > 0 {
		return nil, fmt.Errorf("the index holds unfinished merges of %s; resolve them, then run: git add %s",
			strings.Join(unmerged, ", "), strings.Join(unmerged, " "))
	}
	sortFiles(t.files)
	sort.Slice(t.notes, func(i, j int) bool { return t.notes[i].Path < t.notes[j].Path })
	return t, nil
}

type indexTree struct {
	repo  *Repository
	files []File
	notes []Note
}

func (t *indexTree) Name() string { return "index" }

func (t *indexTree) skipped() []Note { return t.notes }

func (t *indexTree) Files(context.Context) ([]File, error) { return t.files, nil }

func (t *indexTree) Read(ctx context.Context, f File) ([]byte, error) {
	data, err := t.repo.typed(ctx, f.Hash, blobKind)
	if err != nil {
		return nil, fmt.Errorf("reading %s in the index: %w", Quote(f.Path), err)
	}
	return data, nil
}

type indexEntry struct {
	path  string
	mode  uint32
	stage int
	hash  Hash
	skip  bool // a sparse checkout leaves it out of the working tree
}

// indexEntries reads the index with the library, or with the installed git
// where the index has parts that the library does not know: a split index, or
// the sparse one of a partial checkout.
func (r *Repository) indexEntries(ctx context.Context) ([]indexEntry, error) {
	r.mu.Lock()
	installed := r.why != ""
	r.mu.Unlock()
	if !installed {
		name := filepath.Join(r.git, "index")
		if env := os.Getenv("GIT_INDEX_FILE"); env != "" {
			name = env
		}
		data, err := os.ReadFile(name)
		if errors.Is(err, os.ErrNotExist) {
			return nil, nil // nothing has been staged yet
		}
		if err != nil {
			return nil, fmt.Errorf("reading the index: %w", reason(err))
		}
		var idx index.Index
		if err = index.NewDecoder(bytes.NewReader(data)).Decode(&idx); err == nil {
			entries := make([]indexEntry, 0, len(idx.Entries))
			for _, e := range idx.Entries {
				if e.IntentToAdd {
					continue // announced, but without content yet
				}
				entries = append(entries, indexEntry{e.Name, modeOf(e.Mode), int(e.Stage), Hash(e.Hash[:]), e.SkipWorktree})
			}
			return entries, nil
		}
		if findGit() == "" {
			return nil, fmt.Errorf("the index cannot be read by the built-in reader (%v), and git is not installed; install git and run this again", err)
		}
	}
	out, err := r.ask(ctx, "ls-files", "-t", "-s", "-z", "--full-name")
	if err != nil {
		return nil, err
	}
	var entries []indexEntry
	for line := range bytes.SplitSeq(out, []byte{0}) {
		head, path, ok := strings.Cut(string(line), "\t")
		fields := strings.Fields(head)
		if !ok || len(fields) != 4 {
			continue
		}
		mode, _ := strconv.ParseUint(fields[1], 8, 32)
		stage, _ := strconv.Atoi(fields[3])
		h, _ := ParseHash(fields[2])
		entries = append(entries, indexEntry{path, uint32(mode), stage, h, fields[0] == "S"})
	}
	return entries, nil
}

func modeOf(m filemode.FileMode) uint32 { return uint32(m) }
