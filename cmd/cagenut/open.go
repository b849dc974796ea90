package main

import (
	"context"
	"errors"
	"path"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/near"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
	"cagenut/lang/text"
	"cagenut/lint"
	"cagenut/render/report"
)

// locate finds the estate that the command is about.
func (p *program) locate() (*source.Place, error) {
	dir := p.dir
	switch {
	case p.root != "" && filepath.IsAbs(p.root):
		dir = p.root
	case p.root != "":
		dir = filepath.Join(p.dir, p.root)
	}
	if !p.noStore {
		lang.Prepare()
	}
	place, err := source.Locate(dir)
	if errors.Is(err, source.ErrNoEstate) {
		return nil, usageError{err.Error()}
	}
	if err == nil && p.noStore {
		place.Forget()
	}
	return place, err
}

// load loads a tree, with the help of what earlier runs have kept in the git
// directory. What cannot be kept costs time and nothing else, so that it is
// told only to whoever asks.
func (p *program) load(ctx context.Context, place *source.Place, tree source.Tree) (*estate.Estate, []lang.Diagnostic, error) {
	o, end := p.loading(place, "reading "+tree.Name())
	e, mistakes, err := lang.Load(ctx, tree, o)
	end()
	if err != nil {
		return nil, nil, err
	}
	p.loaded(o, tree)
	return e, mistakes, nil
}

// loading gives the options of a load, and what takes its progress away.
func (p *program) loading(place *source.Place, what string) (o lang.Options, end func()) {
	if dir := place.Store(); dir != "" {
		if p.store == nil {
			p.store = lang.OpenStore(dir)
		}
		o.Store = p.store
	}
	bar := p.progress(what)
	o.Each = bar.each
	o.Sized = func(size int64) { atomic.AddInt64(&p.text, size) }
	return o, bar.end
}

// loaded keeps what was learnt from trees for the next run.
func (p *program) loaded(o lang.Options, trees ...source.Tree) {
	lang.BoundMemory(atomic.LoadInt64(&p.text))
	errs := []error{o.Store.Save()}
	for _, t := range trees {
		errs = append(errs, source.Remember(t))
	}
	if err := errors.Join(errs...); err != nil && p.verbose {
		p.notef("nothing was kept for the next run: %v", err)
	}
}

// A reading is an estate as a command reads it: one tree, whole.
type reading struct {
	place    *source.Place
	tree     source.Tree
	estate   *estate.Estate
	mistakes []lang.Diagnostic

	outside map[string]*text.Text // files of shared policies

	// Where only a part was read, since what was found on the rest still holds:
	carried *lint.Carried
	before  *survey                // of the earlier run
	was     map[string]source.Hash // the files that have changed, with the hashes that they had

	mu    sync.Mutex
	texts map[string]*text.Text
	files map[string]source.File
}

// read reads the commit of --at, or the folder.
func (p *program) read(ctx context.Context) (*reading, error) {
	place, err := p.locate()
	if err != nil {
		return nil, err
	}
	tree, err := p.tree(ctx, place, p.at)
	if err != nil {
		return nil, err
	}
	return p.readTree(ctx, place, tree)
}

// tree gives the files of the revision, or the folder where rev is empty.
func (p *program) tree(ctx context.Context, place *source.Place, rev string) (source.Tree, error) {
	if rev == "" {
		return place.Folder()
	}
	return place.At(ctx, rev)
}

func (p *program) readTree(ctx context.Context, place *source.Place, tree source.Tree) (*reading, error) {
	e, mistakes, err := p.load(ctx, place, tree)
	if err != nil {
		return nil, err
	}
	if p.verbose {
		via := "without a repository"
		if place.Repo != nil {
			via = "through " + place.Repo.Via()
		}
		p.notef("read %s %s: %s in %s", tree.Name(), via, quantity.Count(len(e.Racks), "rack"), place.Root)
	}
	p.tellSkipped(tree)
	r := &reading{place: place, tree: tree, estate: e, mistakes: mistakes}
	return r, r.shared(ctx)
}

// tellSkipped names what looks like a file of the estate and is not read: a
// rack behind a link would else be missed without a word.
func (p *program) tellSkipped(tree source.Tree) {
	for _, n := range source.Skipped(tree) {
		p.notef("not read: %s %s", source.Quote(n.Path), n.Why)
	}
}

// whole refuses an estate with mistakes in its text, for commands that would
// draw or plan something wrong from what is left of it.
func (r *reading) whole() error {
	for _, m := range r.mistakes {
		if m.Severity == lang.Error {
			t := r.text(m.File)
			at := ""
			if t != nil {
				at = ":" + t.Position(int(m.Start)).String()
			}
			return mistakeError{r.path(m.File) + at + ": " + m.Summary, len(r.mistakes)}
		}
	}
	return nil
}

// A mistakeError says that the text of the estate keeps a command from its
// work.
type mistakeError struct {
	first string
	all   int
}

func (e mistakeError) Error() string {
	if e.all == 1 {
		return e.first
	}
	return e.first + "; and more, which lint lists: " + quantity.Count(e.all, "mistake") + " in all"
}

// text gives the text of a file of the estate, or nil where it cannot be read
// again.
func (r *reading) text(file string) *text.Text {
	if t := r.outside[file]; t != nil {
		return t
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if t, ok := r.texts[file]; ok {
		return t
	}
	if r.texts == nil {
		r.texts, r.files = map[string]*text.Text{}, map[string]source.File{}
		files, err := r.tree.Files(context.Background())
		if err != nil {
			return nil
		}
		for _, f := range files {
			r.files[f.Path] = f
		}
	}
	var t *text.Text
	if f, ok := r.files[file]; ok {
		if b, err := r.tree.Read(context.Background(), f); err == nil {
			t = text.New(b)
		}
	}
	r.texts[file] = t
	return t
}

// path gives the path of a file of the estate from the top of the repository,
// or from the estate's root where there is no repository.
func (r *reading) path(file string) string { return path.Join(r.place.Prefix, file) }

// page begins the page that reports print.
func (r *reading) page(result *lint.Result, rules []*lint.Rule) *report.Page {
	return &report.Page{
		Result: result, Rules: rules, Mistakes: r.mistakes, Broken: r.estate.Broken,
		Texts: r.text, Path: r.path, Version: version(), Root: r.estate.Source.File,
	}
}

// racks gives the racks that the arguments name, in the order asked for, or
// all racks in the order of their names where none is named.
func (r *reading) racks(names []string) ([]*estate.Rack, error) {
	if len(names) == 0 {
		return sortedRacks(r.estate, wantedRacks(nil)), nil
	}
	var racks []*estate.Rack
	var errs []error
	for _, name := range names {
		rack := r.estate.Rack(trimRef(name, "rack."))
		if rack == nil {
			errs = append(errs, r.noRack(name))
			continue
		}
		racks = append(racks, rack)
	}
	return racks, errors.Join(errs...)
}

func (r *reading) noRack(name string) error {
	var known []string
	for _, rack := range r.estate.Racks {
		known = append(known, rack.Name)
	}
	if meant := near.Name(name, known); meant != "" {
		return usagef("there is no rack %q in %s; did you mean %s?", name, r.tree.Name(), meant)
	}
	return usagef("there is no rack %q in %s; it has %s", name, r.tree.Name(), quantity.Count(len(known), "rack"))
}

// where names a place as file:line:column.
func (r *reading) where(at estate.Range) string {
	s := r.path(at.File)
	if t := r.text(at.File); t != nil {
		s += ":" + t.Position(int(at.Start)).String()
	}
	return s
}

// wantedRacks gives a test for the racks that the arguments name: by their own
// name, or that of their row or room.
func wantedRacks(args []string) func(*estate.Rack) bool {
	if len(args) == 0 {
		return func(*estate.Rack) bool { return true }
	}
	return func(r *estate.Rack) bool {
		names := []string{r.Name, r.Ref()}
		if r.Row != nil {
			names = append(names, r.Row.Name, "row."+r.Row.Name)
		}
		if room := r.Room(); room != nil {
			names = append(names, room.Name, "room."+room.Name)
		}
		return slices.ContainsFunc(args, func(a string) bool { return slices.Contains(names, a) })
	}
}

// sortedRacks gives the wanted racks of an estate in the order of their names.
func sortedRacks(e *estate.Estate, wanted func(*estate.Rack) bool) []*estate.Rack {
	racks := slices.DeleteFunc(slices.Clone(e.Racks), func(r *estate.Rack) bool { return !wanted(r) })
	slices.SortStableFunc(racks, func(a, b *estate.Rack) int { return estate.CompareNames(a.Name, b.Name) })
	return racks
}
