package lang

import (
	"context"
	"fmt"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/go-git/go-git/v5/plumbing/format/gitignore"

	"cagenut/lang/estate"
	"cagenut/lang/source"
)

// Options say how an estate is loaded.
type Options struct {
	// Workers is how many files are read at the same time; 0 for one a core.
	Workers int
	// Store keeps what files were parsed to from run to run; nil for none.
	// The caller saves it.
	Store *Store
	// Each is told how many of how many files have been read, if it is set.
	// Workers call it, some at the same time.
	Each func(done, all int)
	// Sized is told how many bytes of text there are, about, before they are
	// read, if it is set.
	Sized func(bytes int64)
}

// Load reads every file of a tree and gives the estate that they declare, with
// all that is wrong with their text, sorted. A file that cannot be read whole
// takes nothing from the others: what could be read of it is in the estate,
// and its path in [estate.Estate.Broken].
//
// The error is for what kept the files themselves from being read, such as a
// failing disk or a canceled context; then there is no estate.
func Load(ctx context.Context, tree source.Tree, opts Options) (*estate.Estate, []Diagnostic, error) {
	files, err := filesOf(ctx, tree, opts.Store)
	if err != nil {
		return nil, nil, err
	}
	size := textSize(files)
	defer boundMemory(size)()
	if opts.Sized != nil {
		opts.Sized(size)
	}
	parts, err := readAll(ctx, tree, files, opts)
	if err != nil {
		return nil, nil, err
	}
	e, diags := join(parts)
	return e, diags, nil
}

// Files lists the files of a tree that belong to its estate: all but those that
// the estate's header says to skip.
func Files(ctx context.Context, tree source.Tree) ([]source.File, error) {
	return filesOf(ctx, tree, nil)
}

func filesOf(ctx context.Context, tree source.Tree, store *Store) ([]source.File, error) {
	files, err := tree.Files(ctx)
	if err != nil {
		return nil, err
	}
	skip, err := skippedIn(ctx, tree, files, store)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(slices.Clone(files), func(f source.File) bool { return skip(f.Path) }), nil
}

// readAll reads the files with some workers, and gives their parts in the
// order of the files. While files are parsed, parts are held as bytes: what
// has no pointers costs the garbage collector nothing, and most of what a
// parser makes is garbage.
func readAll(ctx context.Context, tree source.Tree, files []source.File, opts Options) ([]*part, error) {
	parts := make([]*part, len(files))
	packed := make([][]byte, len(files))
	var done atomic.Int64
	err := shareOut(ctx, len(files), opts.Workers, func() func(i int) error {
		r, w := newReader(), newPartWriter()
		return func(i int) error {
			if opts.Each != nil {
				defer func() { opts.Each(int(done.Add(1)), len(files)) }()
			}
			var err error
			packed[i], parts[i], err = pack(ctx, tree, files[i], opts.Store, r, w)
			return err
		}
	})
	if err != nil {
		return nil, err
	}
	err = shareOut(ctx, len(files), opts.Workers, func() func(i int) error {
		r := newReader()
		kept := newKeptReader(r)
		return func(i int) error {
			if packed[i] == nil {
				return nil
			}
			if parts[i] = kept.part(files[i].Path, packed[i]); parts[i] != nil {
				return nil
			}
			// The store has bytes that mean nothing; the text is still there.
			src, err := tree.Read(ctx, files[i])
			if err != nil {
				return err
			}
			parts[i] = r.read(files[i].Path, src)
			return nil
		}
	})
	if err != nil {
		return nil, err
	}
	for _, data := range packed {
		opts.Store.count(len(data))
	}
	return parts, nil
}

// pack gives a file as a part in bytes, from the store or parsed now, or as a
// part where it cannot be kept.
func pack(ctx context.Context, tree source.Tree, f source.File, store *Store, r *reader, w *partWriter) ([]byte, *part, error) {
	if data := store.get(f.Hash); data != nil {
		return data, nil, nil
	}
	src, hash, err := source.ReadHashed(ctx, tree, f)
	if err != nil {
		return nil, nil, err
	}
	if f.Hash == "" {
		if data := store.get(hash); data != nil {
			return data, nil, nil
		}
	}
	p := r.read(f.Path, src)
	data, ok := w.part(p)
	if !ok {
		return nil, p, nil
	}
	store.put(hash, data)
	return data, nil, nil
}

// shareOut does n pieces of work with some workers, 0 for one a core. Each worker
// gets its own function from begin. The error is that of the first piece that
// failed.
func shareOut(ctx context.Context, n, workers int, begin func() func(i int) error) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = max(1, min(workers, n))
	errs := make([]error, n)
	var next atomic.Int64
	var failed atomic.Bool
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			do := begin()
			for !failed.Load() {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				err := ctx.Err()
				if err == nil {
					err = do(i)
				}
				if err != nil {
					errs[i] = err
					failed.Store(true)
				}
			}
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// skippedIn gives a test for the paths that the estate's header says are not
// read. A header that cannot be read skips nothing; what is wrong with it is
// reported when it is read with the other files.
func skippedIn(ctx context.Context, tree source.Tree, files []source.File, store *Store) (func(path string) bool, error) {
	var patterns []gitignore.Pattern
	for _, f := range files {
		if !source.IsRootFile(f.Path) {
			continue
		}
		r := newReader()
		var p *part
		if data := store.get(f.Hash); data != nil {
			p = newKeptReader(r).part(f.Path, data)
		}
		if p == nil {
			src, err := tree.Read(ctx, f)
			if err != nil {
				return nil, err
			}
			p = r.read(f.Path, src)
		}
		for _, s := range p.estate.Skip {
			patterns = append(patterns, gitignore.ParsePattern(s, nil))
		}
	}
	if len(patterns) == 0 {
		return func(string) bool { return false }, nil
	}
	m := gitignore.NewMatcher(patterns)
	return func(path string) bool {
		steps := strings.Split(path, "/")
		for i := range steps {
			if m.Match(steps[:i+1], i < len(steps)-1) {
				return !source.IsRootFile(path)
			}
		}
		return false
	}, nil
}

// join makes one estate of the parts of all files.
func join(parts []*part) (*estate.Estate, []Diagnostic) {
	e := &estate.Estate{}
	r := newReader()
	header(r, e, parts)
	var givens []givenExpr
	for _, p := range parts {
		givens = append(givens, p.givens...)
	}
	ctx := r.givenContext(givens)
	for _, p := range parts {
		if len(p.deferred) > 0 {
			r.readDeferred(p, ctx)
		}
		appendAll(reflect.ValueOf(e).Elem(), reflect.ValueOf(&p.estate).Elem())
		if p.broken {
			e.Broken = append(e.Broken, p.path)
		}
	}
	resolve(e, parts, false)
	r.layOut(e, parts)
	resolve(e, parts, true)
	e.FollowCords()
	sortUnresolved(e.Unresolved)
	var diags []Diagnostic
	for _, p := range parts {
		diags = append(diags, p.diags...)
		if p.more > 0 {
			diags = append(diags, Diagnostic{
				Range: estate.Range{File: p.path, Span: estate.Span{Start: int32(p.size), End: int32(p.size)}}, Severity: Error,
				Summary: fmt.Sprintf("%d more mistakes in this file are not shown; mend those above first", p.more),
			})
		}
		p.diags = nil
	}
	return e, sortDiagnostics(diags)
}

// header takes what the estate block says, and reports further such blocks.
func header(r *reader, e *estate.Estate, parts []*part) {
	var first *part
	for _, p := range parts {
		if p.headers == 0 {
			continue
		}
		if first == nil {
			first = p
			e.Name, e.Source = p.estate.Name, p.estate.Source
			e.Language, e.Rules, e.Lengths = p.estate.Language, p.estate.Rules, p.estate.Lengths
			e.Skip, e.Policies = p.estate.Skip, p.estate.Policies
			if p.headers == 1 {
				continue
			}
		}
		p.diags = append(p.diags, Diagnostic{
			Range: p.estate.Source.At(), Severity: Error,
			Summary: "an estate is declared once, in estate.hcl; take this block out",
			Related: []Related{{At: first.estate.Source.At(), Message: "it is declared here"}},
		})
	}
	for _, p := range parts {
		if first == nil && source.IsRootFile(p.path) && !p.broken {
			p.diags = append(p.diags, Diagnostic{
				Range: estate.Range{File: p.path}, Severity: Error,
				Summary: "no file names the estate; write estate \"NAME\" { } in " + source.RootFile,
			})
		}
	}
	if e.Language == 0 {
		e.Language = 1
	}
	if e.Lengths == "" {
		e.Lengths = "mm"
	}
}

// appendAll appends every slice of pointers in one part of a model to that of
// the whole, so that a new kind of thing needs no line here.
func appendAll(to, from reflect.Value) {
	for i := range to.NumField() {
		t, f := to.Field(i), from.Field(i)
		switch {
		case t.Kind() == reflect.Slice && t.Type().Elem().Kind() == reflect.Pointer:
			if f.Len() > 0 {
				t.Set(reflect.AppendSlice(t, f))
			}
		case t.Kind() == reflect.Struct && t.Type() == reflect.TypeFor[estate.Rulings]():
			appendAll(t, f)
		}
	}
}
