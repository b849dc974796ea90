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
	others  []headFile // files that declare anything, or cannot be told
	ties    []string   // of all racks of the folder, as written: "feed.a"
	racks   headFiles  // that declare racks alone
	supply  headFiles  // that declare supplies alone
}

// A headFile is one file of a folder and what is told of it.
type headFile struct {
	name  string
	hash  source.Hash
	sort  skimSort
	names []string // what it declares: "rack.hq-a", "feed.a"
	refs  []string // supplies that it refers to, where it declares anything but racks
	ties  []int    // among those of the folder, where it declares racks
}

// headFiles are files of one sort, not read yet.
type headFiles struct {
	data  []byte
	count int
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
		for _, f := range o.folders[0].others {
			lists = append(lists, []source.Listed{{Name: f.name, Hash: f.hash}})
		}
	}
	for _, u := range fresh {
		if o.folders[u.at].dir == "" {
			lists = append(lists, u.listing.Files)
		}
	}
	for _, l := range lists {
		for _, f := range l {
			if source.IsRootFile(f.Name) {
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
			if u.parts[i] = opts.Store.peek(f.Hash); u.parts[i] == nil {
				u.parts[i] = opts.Store.get(f.Hash) // read in this run
			}
			if u.parts[i] == nil {
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
//	other files: count, each its name and hash, its sort and its references
//	ties of racks: count, each as written
//	files of racks: count, length in bytes, each its name and hash, its racks
//	and the numbers of its ties
//	files of supplies: count, each its name and hash, the names of what it
//	declares and its references
func writeHeads(u *unread) []byte {
	var sorted [suppliesOnly + 1][]int
	skims := make([]skim, len(u.parts))
	var ties []string
	number := map[string]int{}
	for i := range u.parts {
		s := skimPart(u.parts[i])
		skims[i] = s
		sorted[s.sort] = append(sorted[s.sort], i)
		if s.sort != racksAlone {
			continue
		}
		for _, name := range s.ties {
			if _, ok := number[name]; !ok {
				number[name] = len(ties)
				ties = append(ties, name)
			}
		}
	}
	w := newPartWriter()
	named := func(f source.Listed) {
		w.text(f.Name)
		w.text(string(f.Hash))
	}
	w.uint(headsMark)
	w.uint(uint64(len(u.listing.Folders)))
	for _, f := range u.listing.Folders {
		named(f)
	}
	others := append(sorted[untold], sorted[otherThings]...)
	slices.Sort(others)
	w.uint(uint64(len(others)))
	for _, i := range others {
		named(u.listing.Files[i])
		w.uint(uint64(skims[i].sort))
		w.texts(skims[i].refs)
	}
	w.texts(ties)
	w.uint(uint64(len(sorted[racksAlone])))
	before := w.out
	w.out = nil
	for _, i := range sorted[racksAlone] {
		named(u.listing.Files[i])
		w.texts(skims[i].racks)
		w.uint(uint64(len(skims[i].ties)))
		for _, name := range skims[i].ties {
			w.uint(uint64(number[name]))
		}
	}
	racks := w.out
	w.out = before
	w.uint(uint64(len(racks)))
	w.out = append(w.out, racks...)
	w.uint(uint64(len(sorted[suppliesOnly])))
	for _, i := range sorted[suppliesOnly] {
		named(u.listing.Files[i])
		w.texts(skims[i].names)
		w.texts(skims[i].refs)
	}
	return slices.Clone(w.out)
}

func readHeads(data []byte) (heads, bool) {
	r := partReader{in: data}
	if len(data) == 0 || r.uint() != headsMark {
		return heads{}, false
	}
	var h heads
	for range r.count() {
		h.folders = append(h.folders, source.Listed{Name: r.text(), Hash: source.Hash(r.text())})
	}
	for range r.count() {
		f := headFile{name: r.text(), hash: source.Hash(r.text()), sort: skimSort(r.uint())}
		f.refs = r.texts(nil)
		h.others = append(h.others, f)
	}
	h.ties = r.texts(nil)
	h.racks.count = r.count()
	n := r.count()
	h.racks.data = r.in[:n:n]
	r.in = r.in[n:]
	h.supply.count = r.count()
	h.supply.data = r.in
	return h, !r.bad
}

// each visits files, until visit reports false. What it is given changes with
// the next call.
func (h headFiles) each(sort skimSort, visit func(f *headFile) bool) {
	r := partReader{in: h.data}
	f := headFile{sort: sort}
	for range h.count {
		f.name, f.hash = r.text(), source.Hash(r.text())
		f.names, f.refs, f.ties = r.texts(f.names[:0]), f.refs[:0], f.ties[:0]
		if sort == racksAlone {
			for range r.count() {
				f.ties = append(f.ties, int(r.uint()))
			}
		} else {
			f.refs = r.texts(f.refs)
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
		if !bytes.Contains(f.racks.data, []byte(rack)) {
			continue
		}
		f.racks.each(racksAlone, func(file *headFile) bool {
			if slices.Contains(file.names, rack) && !o.skip(f.dir+file.name) {
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

// Racks lists the racks whose files declare racks alone, folder by folder.
func (o *Outline) Racks() []string {
	var names []string
	for i := range o.folders {
		f := &o.folders[i]
		f.racks.each(racksAlone, func(file *headFile) bool {
			if !o.skip(f.dir + file.name) {
				for _, ref := range file.names {
					names = append(names, strings.TrimPrefix(ref, "rack."))
				}
			}
			return true
		})
	}
	return names
}

// Part gives of the tree the files that are wanted, what they refer to, and
// all files that declare anything that may bear on racks without being
// referred to.
func (o *Outline) Part(wanted ...string) source.Tree {
	return source.Selection(o.tree, o.files(selecting{wanted: wanted, refs: map[string]bool{}}))
}

// selecting says which files of an outline are taken.
type selecting struct {
	wanted   []string        // paths
	unwanted map[string]bool // paths
	tied     map[string]bool // feeds and racks: racks that are or are tied to one are taken
	refs     map[string]bool // supplies that are referred to from elsewhere; those of what is taken are added
}

// files gives the files that an outline's tree must be read from: those that
// are wanted, all that declare neither racks nor supplies alone, and those of
// the supplies that any of these refer to, directly or through others.
func (o *Outline) files(s selecting) []source.File {
	var out []source.File
	take := func(f *outlined, file *headFile) {
		if path := f.dir + file.name; !s.unwanted[path] {
			out = append(out, source.File{Path: path, Hash: file.hash, Size: -1})
		}
	}
	var racks []string
	for name := range s.tied {
		if strings.HasPrefix(name, "rack.") {
			racks = append(racks, name)
		}
	}
	all := false // supplies: of some file nobody knows what it refers to
	refer := func(names []string) {
		for _, name := range names {
			s.refs[name] = true
		}
	}
	for i := range o.folders {
		f := &o.folders[i]
		for j := range f.others {
			all = all || f.others[j].sort == untold && !o.skip(f.dir+f.others[j].name)
			refer(f.others[j].refs)
			take(f, &f.others[j])
		}
		on := make([]bool, len(f.ties)) // whether it is among those asked for
		some := slices.ContainsFunc(racks, func(ref string) bool { return bytes.Contains(f.racks.data, []byte(ref)) })
		for j, name := range f.ties {
			on[j] = s.tied[name]
			some = some || on[j]
		}
		here := o.in(f, s.wanted)
		if !some && len(here) == 0 {
			continue
		}
		f.racks.each(racksAlone, func(file *headFile) bool {
			if slices.Contains(here, file.name) || slices.ContainsFunc(file.ties, func(n int) bool { return n < len(on) && on[n] }) ||
				slices.ContainsFunc(file.names, func(ref string) bool { return s.tied[ref] }) {
				take(f, file)
				for _, n := range file.ties {
					if n < len(f.ties) {
						s.refs[f.ties[n]] = true
					}
				}
			}
			return true
		})
	}
	taken := map[[2]int]bool{}
	for again := true; again; {
		again = false
		for i := range o.folders {
			f := &o.folders[i]
			here := o.in(f, s.wanted)
			n := 0
			f.supply.each(suppliesOnly, func(file *headFile) bool {
				key := [2]int{i, n}
				n++
				if !taken[key] && (all || slices.Contains(here, file.name) || slices.ContainsFunc(file.names, func(name string) bool { return s.refs[name] })) {
					taken[key], again = true, true
					refer(file.refs)
					take(f, file)
				}
				return true
			})
		}
	}
	return out
}

// in gives the names of the paths that lie in a folder itself.
func (o *Outline) in(f *outlined, paths []string) []string {
	var names []string
	flat := source.RootHash(o.tree) == "" // all files are in one folder, by their whole path
	for _, path := range paths {
		if rest, ok := strings.CutPrefix(path, f.dir); ok && (flat || !strings.Contains(rest, "/")) {
			names = append(names, rest)
		}
	}
	return names
}
