package lang

import (
	"context"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/source"
)

// An Around is what a change of some racks may be felt by: these racks, all that
// are tied to them, straight or through others, and what ties them. What is
// found about anything else is the same before and after.
type Around struct {
	tree    source.Tree
	touched map[string]bool
}

// Tree gives the part of the tree that must be read to judge what is touched:
// the files of racks that are touched, those of other members of groups, and
// all that declare other things than racks.
func (a *Around) Tree() source.Tree { return a.tree }

// Touches reports whether a thing, named as findings name it, may feel the
// change.
func (a *Around) Touches(thing string) bool { return a.touched[rackPart(thing)] }

// LookAround looks around the files in which a tree differs from an earlier
// one; was gives their hashes then, "" of those that are new. It gives nil where
// the change may be felt anywhere: where something beside racks differs, names
// of racks come or go that something refers to, or the store does not know all
// files.
func LookAround(ctx context.Context, tree source.Tree, was map[string]source.Hash, opts Options) (*Around, error) {
	files, err := Files(ctx, tree)
	if err != nil || opts.Store == nil {
		return nil, err
	}
	a := &surroundings{skims: make([]skim, len(files)), touched: map[string]bool{}, added: map[string]bool{}, removed: map[string]bool{}}
	r, w := newReader(), newPartWriter()
	met := 0
	var others []source.File
	for i, f := range files {
		old, differs := was[f.Path]
		if !differs {
			if a.skims[i] = skimPart(opts.Store.peek(f.Hash)); !a.skims[i].onlyRacks() {
				others = append(others, f)
			}
			continue
		}
		met++
		data, _, err := pack(ctx, tree, f, opts.Store, r, w)
		if err != nil {
			return nil, err
		}
		a.skims[i] = skimPart(data)
		if !a.skims[i].onlyRacks() || !a.change(opts.Store, old, a.skims[i]) {
			return nil, nil
		}
	}
	if met < len(was) {
		there := make(map[string]bool, len(files))
		for _, f := range files {
			there[f.Path] = true
		}
		for path, old := range was {
			if !there[path] && !a.change(opts.Store, old, skim{}) {
				return nil, nil
			}
		}
	}
	if err := a.readOthers(ctx, tree, others, opts); err != nil {
		return nil, err
	}
	if a.renames() {
		return nil, nil
	}
	a.spread()
	wanted := map[string]bool{}
	for i, f := range files {
		s := &a.skims[i]
		if !s.onlyRacks() || slices.ContainsFunc(s.racks, func(name string) bool { return a.touched[name] || a.read[name] }) {
			wanted[f.Path] = true
		}
	}
	return &Around{source.Subset(tree, func(path string) bool { return wanted[path] }), a.touched}, nil
}

// surroundings are what LookAround works with.
type surroundings struct {
	skims          []skim
	layouts        map[string][]string // what the mounts of each layout are tied to
	edges          [][2]string         // what ties the things that are not racks
	groups         map[string][]string // the racks of the members of each
	grouped        bool                // what is tied to one member matters to the others
	named          map[string]bool     // racks that stand beside other things, or that these refer to
	added, removed map[string]bool     // racks
	touched        map[string]bool
	read           map[string]bool // racks that are read and not touched
}

// change begins with what a changed file declared and declares. It reports
// false where it is not known, or was more than racks.
func (a *surroundings) change(store *Store, hash source.Hash, now skim) bool {
	var old skim
	if hash != "" {
		if old = skimPart(store.get(hash)); !old.onlyRacks() {
			return false
		}
	}
	for _, s := range []*skim{&old, &now} {
		for _, name := range s.racks {
			a.touched[name] = true
		}
		for _, t := range s.ties {
			a.touched[t] = true
		}
	}
	for _, name := range old.racks {
		if !slices.Contains(now.racks, name) {
			a.removed[name] = true
		}
	}
	for _, name := range now.racks {
		if !slices.Contains(old.racks, name) {
			a.added[name] = true
		}
	}
	return true
}

// readOthers reads the files that declare other things than racks, for what
// ties these.
func (a *surroundings) readOthers(ctx context.Context, tree source.Tree, files []source.File, opts Options) error {
	opts.Each, opts.Sized = nil, nil
	parts, err := readAll(ctx, tree, files, opts)
	if err != nil {
		return err
	}
	a.layouts, a.groups = map[string][]string{}, map[string][]string{}
	a.named, a.read = map[string]bool{}, map[string]bool{}
	for _, p := range parts {
		layoutOf := map[*estate.Mount]string{}
		for _, o := range p.estate.Layouts {
			for _, m := range o.Mounts {
				layoutOf[m] = "layout." + o.Name
			}
		}
		stepOf := map[*estate.SequenceStep]string{}
		for _, s := range p.estate.Sequences {
			for _, step := range s.Steps {
				stepOf[step] = "sequence." + s.Name
			}
		}
		for i := range p.links {
			l := &p.links[i]
			if step, ok := l.owner.(*estate.SequenceStep); ok {
				for _, name := range l.list.names {
					a.named[rackPart(name)] = true
					a.tie(stepOf[step], rackPart(name))
				}
				continue
			}
			if slices.Contains(tieless, l.list.kind) {
				continue
			}
			a.link(l, layoutOf)
		}
		for m, o := range layoutOf {
			eachTieOfCords(m, func(t string) { a.layouts[o] = append(a.layouts[o], t) })
		}
		for _, s := range p.stacks {
			eachTieOfCords(&s.mount, func(t string) { a.tieStack(s, t) })
		}
		for _, rack := range p.estate.Racks {
			a.named[rack.Ref()] = true
			for _, m := range rack.Mounts {
				eachTieOfCords(m, func(t string) { a.tie(rack.Ref(), t) })
			}
		}
	}
	e, _ := join(parts)
	for _, f := range e.Feeds {
		for _, u := range e.Upstream(f) {
			if u.Carries() {
				a.tie(f.Ref(), u.Ref)
			}
		}
	}
	// Only a policy reads what the other members of a group are tied to.
	a.grouped = len(e.Rulings.Policies) > 0
	return nil
}

// link takes one reference of a file that declares other things than racks.
func (a *surroundings) link(l *link, layoutOf map[*estate.Mount]string) {
	for _, name := range l.list.names {
		to := rackPart(name)
		if strings.HasPrefix(to, "rack.") {
			a.named[to] = true
		}
		switch owner := l.owner.(type) {
		case *estate.Group:
			ref := "group." + owner.Name
			a.groups[ref] = append(a.groups[ref], to)
		case *estate.Breaker, *estate.Adjustment, *estate.Policy: // breakers: see readOthers
		case *estate.PowerSource:
			if l.list.kind == "mount" {
				a.tie(owner.Ref(), to)
			}
		case *estate.Feed:
			if l.list.kind != "breaker" {
				a.tie(owner.Ref(), to)
			}
		case *estate.Mount:
			if o := layoutOf[owner]; o != "" {
				a.layouts[o] = append(a.layouts[o], to)
			} else {
				a.tie(rackPart(owner.Ref()), to)
			}
		case *stack:
			a.tieStack(owner, to)
		default:
			a.tie(refOf(owner), to)
		}
	}
}

func (a *surroundings) tieStack(s *stack, to string) {
	switch parent := s.parent.(type) {
	case *estate.Rack:
		a.tie(parent.Ref(), to)
	case *estate.Layout:
		a.layouts["layout."+parent.Name] = append(a.layouts["layout."+parent.Name], to)
	}
}

func (a *surroundings) tie(x, y string) {
	if x != "" {
		a.edges = append(a.edges, [2]string{x, y})
	}
}

// renames reports whether a rack that comes or goes is referred to by name, or
// stands elsewhere too: then what is said about references changes.
func (a *surroundings) renames() bool {
	if len(a.added)+len(a.removed) == 0 {
		return false
	}
	count := map[string]int{}
	refers := map[string]bool{}
	for i := range a.skims {
		for _, ref := range a.skims[i].racks {
			if a.added[ref] || a.removed[ref] {
				count[ref]++
			}
		}
		for _, t := range a.skims[i].ties {
			if a.added[t] || a.removed[t] {
				refers[t] = true
			}
		}
	}
	for ref := range a.added {
		if count[ref] > 1 || a.named[ref] || refers[ref] {
			return true
		}
	}
	for ref := range a.removed {
		if count[ref] > 0 || a.named[ref] || refers[ref] {
			return true
		}
	}
	return false
}

// spread touches all that is tied to what is touched, until nothing is added.
func (a *surroundings) spread() {
	for again := true; again; {
		again = false
		touch := func(name string) {
			if !a.touched[name] {
				a.touched[name] = true
				again = true
			}
		}
		for i := range a.skims {
			if a.feels(&a.skims[i]) {
				for _, name := range a.skims[i].racks {
					touch(name)
				}
				a.eachTie(&a.skims[i], touch)
			}
		}
		if a.grouped {
			for g, racks := range a.groups {
				if a.touched[g] || slices.ContainsFunc(racks, func(r string) bool { return a.touched[r] }) {
					touch(g)
					for _, r := range racks {
						touch(r)
					}
				}
			}
		}
		for _, e := range a.edges {
			if a.touched[e[0]] != a.touched[e[1]] {
				touch(e[0])
				touch(e[1])
			}
		}
	}
	for g, racks := range a.groups {
		if !slices.ContainsFunc(racks, func(r string) bool { return a.touched[r] }) {
			continue
		}
		a.touched[g] = true
		for _, r := range racks {
			a.read[r] = true
		}
	}
	a.follow()
}

// follow reads the racks that the cords of racks lead to which are read for
// their groups.
func (a *surroundings) follow() {
	for again := len(a.read) > 0; again; {
		again = false
		for i := range a.skims {
			s := &a.skims[i]
			if !slices.ContainsFunc(s.racks, func(name string) bool { return a.read[name] }) {
				continue
			}
			a.eachTie(s, func(t string) {
				if strings.HasPrefix(t, "rack.") && !a.read[t] {
					a.read[t], again = true, true
				}
			})
		}
	}
}

// feels reports whether the racks of a file are touched.
func (a *surroundings) feels(s *skim) bool {
	for _, name := range s.racks {
		if a.touched[name] {
			return true
		}
	}
	found := false
	a.eachTie(s, func(name string) { found = found || a.touched[name] })
	return found
}

// eachTie calls do with the ties of racks. A layout ties them to what its mounts
// are tied to, and not to one another.
func (a *surroundings) eachTie(s *skim, do func(name string)) {
	for _, t := range s.ties {
		if strings.HasPrefix(t, "layout.") {
			for _, t := range a.layouts[t] {
				do(t)
			}
			continue
		}
		do(t)
	}
}
