package lang

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"sync/atomic"

	"cagenut/lang/source"
)

// An Outline is what can be told of a tree from what a store keeps: which
// racks its files declare, what these are tied to, and which files declare
// anything else.
//
// It is kept by folder, under the hash that git gives to the folder's content,
// so that the outline of a commit whose folders are known costs one look-up a
// folder, and that of the next commit reads only the folders that changed.
type Outline struct {
	tree    source.Tree
	folders []outlined
	skip    func(path string) bool
}

// An outlined is the outline of one folder and where it lies.
type outlined struct {
	dir string // "" or ending in a slash
	heads
}

// heads are what the files of one folder declare, from their heads.
type heads struct {
	folders []source.Listed
	others  []source.Listed // files that declare anything but racks, or cannot be told
	ties    []string        // of all racks of the folder, as written: "feed.a"
	racks   []byte          // what a headReader reads
	count   int             // of the files in racks
}

// OutlineOf gives the outline of a tree. Files that the store does not know
// yet are read. Without a store there is none, and it gives nil.
func OutlineOf(ctx context.Context, tree source.Tree, opts Options) (*Outline, error) {
	if opts.Store == nil {
		return nil, nil
	}
	o := &Outline{tree: tree}
	var fresh []*unread
	add := func(dir string, hash source.Hash, l source.Listing) {
		fresh = append(fresh, &unread{at: len(o.folders), hash: hash, listing: l})
		o.folders = append(o.folders, outlined{dir: dir})
	}
	root := source.RootHash(tree)
	if root == "" {
		files, err := tree.Files(ctx)
		if err != nil {
			return nil, err
		}
		var l source.Listing
		for _, f := range files {
			l.Files = append(l.Files, source.Listed{Name: f.Path, Hash: f.Hash})
		}
		add("", "", l)
	} else if err := o.walk(ctx, opts.Store, "", root, add); err != nil {
		return nil, err
	}
	var err error
	if o.skip, err = skippedIn(ctx, tree, o.header(fresh), opts.Store); err != nil {
		return nil, err
	}
	return o, o.readFresh(ctx, opts, fresh)
}

// walk adds a folder and those below it, from the store or as new.
func (o *Outline) walk(ctx context.Context, store *Store, dir string, hash source.Hash, add func(dir string, hash source.Hash, l source.Listing)) error {
	var below []source.Listed
	if h, ok := readHeads(store.get(hash)); ok {
		o.folders = append(o.folders, outlined{dir, h})
		below = h.folders
	} else {
		l, err := source.List(ctx, o.tree, hash)
		if err != nil {
			return err
		}
		add(dir, hash, l)
		below = l.Folders
	}
	for _, f := range below {
		if err := o.walk(ctx, store, dir+f.Name+"/", f.Hash, add); err != nil {
			return err
		}
	}
	return nil
}

// header gives the file at the root that names the estate, or nil.
func (o *Outline) header(fresh []*unread) []source.File {
	lists := [][]source.Listed{}
	if len(o.folders) > 0 && o.folders[0].dir == "" {
		lists = append(lists, o.folders[0].others)
	}
	for _, u := range fresh {
		if o.folders[u.at].dir == "" {
			lists = append(lists, u.listing.Files)
		}
	}
	for _, l := range lists {
		for _, f := range l {
			if f.Name == source.RootFile {
				return []source.File{{Path: f.Name, Hash: f.Hash, Size: -1}}
			}
		}
	}
	return nil
}

// An unread is a folder that the store does not know.
type unread struct {
	at      int // among the folders of the outline
	hash    source.Hash
	listing source.Listing
	parts   [][]byte // of its files, in order; nil where one cannot be told
}

// readFresh reads the files of folders that the store does not know, as far as
// it does not know the files, and keeps what it finds.
func (o *Outline) readFresh(ctx context.Context, opts Options, fresh []*unread) error {
	type missing struct {
		file source.File
		part *[]byte
	}
	var unknown []missing
	var files []source.File
	for _, u := range fresh {
		u.parts = make([][]byte, len(u.listing.Files))
		for i, f := range u.listing.Files {
			path := o.folders[u.at].dir + f.Name
			if o.skip(path) {
				continue
			}
			if u.parts[i] = opts.Store.get(f.Hash); u.parts[i] == nil {
				file := source.File{Path: path, Hash: f.Hash, Size: -1}
				unknown, files = append(unknown, missing{file, &u.parts[i]}), append(files, file)
			}
		}
	}
	if len(unknown) > 0 {
		defer boundMemory(textSize(files))()
		var done atomic.Int64
		err := shareOut(ctx, len(unknown), opts.Workers, func() func(i int) error {
			r, w := newReader(), newPartWriter()
			return func(i int) (err error) {
				if opts.Each != nil {
					defer func() { opts.Each(int(done.Add(1)), len(unknown)) }()
				}
				*unknown[i].part, _, err = pack(ctx, o.tree, unknown[i].file, opts.Store, r, w)
				return err
			}
		})
		if err != nil {
			return err
		}
	}
	for _, u := range fresh {
		data := writeHeads(u)
		h, ok := readHeads(data)
		if !ok {
			return fmt.Errorf("the outline of %s cannot be read back", source.Quote(o.folders[u.at].dir))
		}
		o.folders[u.at].heads = h
		if u.hash != "" {
			opts.Store.put(u.hash, data)
		}
	}
	return nil
}

// headsMark begins the outline of a folder; no part begins so.
const headsMark = 0x7f

// writeHeads gives what the files of a folder declare as bytes:
//
//	mark; folders: count, each its name and hash
//	other files: count, each its name and hash
//	ties: count, each its name
//	files of racks: count, each its name and hash, the numbers of its ties,
//	and its racks
func writeHeads(u *unread) []byte {
	w := newPartWriter()
	list := func(all []source.Listed) {
		w.uint(uint64(len(all)))
		for _, f := range all {
			w.text(f.Name)
			w.text(string(f.Hash))
		}
	}
	w.uint(headsMark)
	list(u.listing.Folders)
	skims := make([]skim, len(u.parts))
	var others []source.Listed
	var ties []string
	number := map[string]int{}
	racks := 0
	for i, f := range u.listing.Files {
		if u.parts[i] != nil {
			skims[i] = skimPart(u.parts[i])
		}
		if !skims[i].onlyRacks {
			others = append(others, f)
			continue
		}
		racks++
		for _, name := range skims[i].ties {
			if _, ok := number[name]; !ok {
				number[name] = len(ties)
				ties = append(ties, name)
			}
		}
	}
	list(others)
	w.uint(uint64(len(ties)))
	for _, name := range ties {
		w.text(name)
	}
	w.uint(uint64(racks))
	for i, f := range u.listing.Files {
		if !skims[i].onlyRacks {
			continue
		}
		w.text(f.Name)
		w.text(string(f.Hash))
		w.uint(uint64(len(skims[i].ties)))
		for _, name := range skims[i].ties {
			w.uint(uint64(number[name]))
		}
		w.uint(uint64(len(skims[i].racks)))
		for _, name := range skims[i].racks {
			w.text(name)
		}
	}
	return slices.Clone(w.out)
}

func readHeads(data []byte) (heads, bool) {
	r := partReader{in: data}
	list := func() []source.Listed {
		n := r.count()
		all := make([]source.Listed, 0, n)
		for range n {
			all = append(all, source.Listed{Name: r.text(), Hash: source.Hash(r.text())})
		}
		return all
	}
	if len(data) == 0 || r.uint() != headsMark {
		return heads{}, false
	}
	h := heads{folders: list(), others: list()}
	n := r.count()
	h.ties = make([]string, 0, n)
	for range n {
		h.ties = append(h.ties, r.text())
	}
	h.count, h.racks = r.count(), r.in
	return h, !r.bad
}

// A rackFile is a file that declares racks and nothing else.
type rackFile struct {
	name  string
	hash  source.Hash
	ties  []int    // among those of its folder
	racks []string // "rack.hq-a"
}

// each visits the files of a folder that declare racks alone, until visit
// reports false. What it is given changes with the next call.
func (h *heads) each(visit func(f *rackFile) bool) {
	r := partReader{in: h.racks}
	var f rackFile
	for range h.count {
		f.name, f.hash = r.text(), source.Hash(r.text())
		f.ties, f.racks = f.ties[:0], f.racks[:0]
		for range r.count() {
			f.ties = append(f.ties, int(r.uint()))
		}
		for range r.count() {
			f.racks = append(f.racks, r.text())
		}
		if r.bad || !visit(&f) {
			return
		}
	}
}

// File gives the file that declares a rack, where it declares racks alone.
func (o *Outline) File(rack string) (path string, ok bool) {
	rack = "rack." + rack
	for i := range o.folders {
		f := &o.folders[i]
		if !bytes.Contains(f.racks, []byte(rack)) {
			continue
		}
		f.each(func(file *rackFile) bool {
			if slices.Contains(file.racks, rack) && !o.skip(f.dir+file.name) {
				path, ok = f.dir+file.name, true
			}
			return !ok
		})
		if ok {
			break
		}
	}
	return path, ok
}

// Part gives of the tree what files besides those of racks alone declare, and
// the files that are wanted.
func (o *Outline) Part(wanted ...string) source.Tree {
	return source.Selection(o.tree, o.files(nil, wanted, nil))
}

// files gives the files that declare anything but racks, those of racks that are
// or are tied to any that are named, and those that are wanted; none of those that
// are not.
func (o *Outline) files(tied map[string]bool, wanted []string, unwanted map[string]bool) []source.File {
	var out []source.File
	var racks []string
	for name := range tied {
		if strings.HasPrefix(name, "rack.") {
			racks = append(racks, name)
		}
	}
	for i := range o.folders {
		f := &o.folders[i]
		take := func(name string, hash source.Hash) {
			if path := f.dir + name; !unwanted[path] {
				out = append(out, source.File{Path: path, Hash: hash, Size: -1})
			}
		}
		for _, file := range f.others {
			take(file.Name, file.Hash)
		}
		var on []bool // ties of the folder, whether they are among those asked for
		some := false
		for _, name := range f.ties {
			on = append(on, tied[name])
			some = some || tied[name]
		}
		for _, ref := range racks {
			some = some || bytes.Contains(f.racks, []byte(ref))
		}
		var here []string
		for _, path := range wanted {
			if rest, ok := strings.CutPrefix(path, f.dir); ok && (o.flat() || !strings.Contains(rest, "/")) {
				here = append(here, rest)
			}
		}
		if !some && len(here) == 0 {
			continue
		}
		f.each(func(file *rackFile) bool {
			if slices.Contains(here, file.name) || slices.ContainsFunc(file.ties, func(n int) bool { return n < len(on) && on[n] }) ||
				slices.ContainsFunc(file.racks, func(ref string) bool { return tied[ref] }) {
				take(file.name, file.hash)
			}
			return true
		})
	}
	return out
}

// flat reports whether the outline has all files in one folder, by their whole
// path.
func (o *Outline) flat() bool { return source.RootHash(o.tree) == "" }
