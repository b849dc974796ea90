package lang

import (
	"cmp"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/near"
)

// resolve looks up the references of all parts: those to mounts, which exist
// only when layouts are laid out, or all others. What is declared twice is
// found where it is declared first.
func resolve(e *estate.Estate, parts []*part, mounts bool) {
	var wanted []*refList
	seen := map[*refList]bool{}
	for _, p := range parts {
		for i := range p.links {
			l := p.links[i].list
			if (l.kind == "mount") == mounts && !seen[l] {
				seen[l] = true
				wanted = append(wanted, l)
			}
		}
	}
	known := index(e, wanted)
	nearest := map[string]string{}
	for _, l := range wanted {
		l.things = make([]any, len(l.names))
		for i, n := range l.names {
			l.things[i] = known[l.kind][n]
		}
	}
	for _, p := range parts {
		for i := range p.links {
			k := &p.links[i]
			if (k.list.kind == "mount") != mounts {
				continue
			}
			for j, t := range k.list.things {
				if t == nil {
					e.Unresolved = append(e.Unresolved, p.unresolved(k, j, known, nearest))
				}
			}
			if k.attr != nil {
				k.attr.link(k.owner, k.list)
			}
		}
		if mounts {
			p.links = nil
		}
	}
}

// index gives the things of every wanted kind by the name that refers to them.
func index(e *estate.Estate, wanted []*refList) map[string]map[string]any {
	known := map[string]map[string]any{}
	for _, l := range wanted {
		if known[l.kind] != nil {
			continue
		}
		names := map[string]any{}
		known[l.kind] = names
		add := func(name string, thing any) {
			if _, dup := names[name]; !dup {
				names[name] = thing
			}
		}
		if l.kind == "mount" {
			for _, rack := range e.Racks {
				for _, m := range rack.Mounts {
					add("rack."+rack.Name+"."+m.Name, m)
				}
			}
			continue
		}
		blockNamed(l.kind).all(e, func(name string, thing any) { add(l.kind+"."+name, thing) })
	}
	return known
}

// unresolved describes a reference whose target does not exist.
func (p *part) unresolved(k *link, j int, known map[string]map[string]any, nearest map[string]string) estate.Unresolved {
	name := k.list.names[j]
	key := k.list.kind + " " + name
	n, done := nearest[key]
	if !done {
		n = nearReference(name, known[k.list.kind])
		nearest[key] = n
	}
	return estate.Unresolved{
		At:   estate.Range{File: p.path, Span: k.spans[j]},
		Kind: k.list.kind, Name: name, Near: n, From: refOf(k.owner),
	}
}

// nearReference gives the nearest name that exists. Among ten thousand racks
// all names are near to all others, so ties go to the first in order.
func nearReference(name string, known map[string]any) string {
	kind, _, _ := strings.Cut(name, ".")
	short := strings.TrimPrefix(name, kind+".")
	names := make([]string, 0, len(known))
	for k := range known {
		names = append(names, strings.TrimPrefix(k, kind+"."))
	}
	slices.Sort(names)
	if n := near.Name(short, names); n != "" {
		return kind + "." + n
	}
	return ""
}

// refOf names the thing that a link belongs to, as findings name it.
func refOf(owner any) string {
	switch t := owner.(type) {
	case *estate.Mount:
		return t.Ref()
	case *stack:
		if rack, ok := t.parent.(*estate.Rack); ok {
			return rack.Ref() + "." + t.mount.Name
		}
		return "stack " + t.mount.Name
	case *estate.Rack:
		return t.Ref()
	case *estate.Adjustment:
		return "adjust " + t.Rule
	case *estate.Waiver:
		return "waive " + t.Rule
	case nil:
		return ""
	}
	for _, b := range root.blocks {
		if b.all == nil || b.owner == nil {
			continue
		}
		if name, ok := b.owner(owner); ok {
			return b.name + "." + name
		}
	}
	return ""
}

func sortUnresolved(all []estate.Unresolved) {
	slices.SortStableFunc(all, func(a, b estate.Unresolved) int {
		return cmp.Or(cmp.Compare(a.At.File, b.At.File), cmp.Compare(a.At.Start, b.At.Start), cmp.Compare(a.Name, b.Name))
	})
}
