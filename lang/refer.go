package lang

import (
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"cagenut/lang/estate"
)

// refer reads a reference, or a list of them, and keeps it to be looked up
// when all files are read.
func (r *reader) refer(owner any, kind string, x hclsyntax.Expression, many bool) {
	elems := []hclsyntax.Expression{x}
	if list, ok := x.(*hclsyntax.TupleConsExpr); ok && many {
		elems = list.Exprs
	}
	r.scratch = append(r.scratch[:0], kind...)
	for _, e := range elems {
		ok := false
		r.scratch, ok = appendDotted(append(r.scratch, ' '), e)
		if !ok {
			r.badReference(kind, e)
			return
		}
	}
	list := r.lists[string(r.scratch)]
	if list == nil {
		if list = r.newList(kind, elems); list == nil {
			return
		}
	}
	spans := r.spanSlice(len(elems))
	for i, e := range elems {
		spans[i] = span(e.Range())
	}
	r.part.links = append(r.part.links, link{owner: owner, attr: r.attr, list: list, spans: spans})
}

// newList makes the list of references whose key is in r.scratch, or gives nil
// where one of them has not the form of a reference to the kind.
func (r *reader) newList(kind string, elems []hclsyntax.Expression) *refList {
	key := string(r.scratch)
	list := &refList{kind: kind}
	good := true
	for _, e := range elems {
		name, _ := dotted(e)
		good = r.refersTo(kind, name, e) && good
		list.names = append(list.names, r.intern(name))
	}
	if !good {
		return nil
	}
	r.lists[key] = list
	return list
}

// appendDotted appends a bare name such as rack.hq-a.core-1.
func appendDotted(b []byte, x hclsyntax.Expression) ([]byte, bool) {
	t, ok := x.(*hclsyntax.ScopeTraversalExpr)
	if !ok {
		return b, false
	}
	for i, step := range t.Traversal {
		switch step := step.(type) {
		case hcl.TraverseRoot:
			b = append(b, step.Name...)
		case hcl.TraverseAttr:
			b = append(append(b, '.'), step.Name...)
		case hcl.TraverseIndex: // rack.hq-a["core-1"]
			if step.Key.Type() != cty.String || i == 0 {
				return b, false
			}
			b = append(append(b, '.'), step.Key.AsString()...)
		default:
			return b, false
		}
	}
	return b, true
}

// dotted gives a bare name such as frame.cab-42.
func dotted(x hclsyntax.Expression) (string, bool) {
	b, ok := appendDotted(nil, x)
	return string(b), ok
}

// shape shows how a reference to a kind is written.
func shape(kind string) string {
	if kind == "mount" {
		return "rack.RACK.MOUNT"
	}
	return kind + ".NAME"
}

// prefix is the word with which a reference to a kind begins, and dots how
// many dots it has.
func prefix(kind string) (word string, dots int) {
	if kind == "mount" {
		return "rack", 2
	}
	return kind, 1
}

// refersTo reports whether a name has the form of a reference to the kind.
func (r *reader) refersTo(kind, name string, x hclsyntax.Expression) bool {
	word, dots := prefix(kind)
	first, rest, _ := strings.Cut(name, ".")
	if first == word && strings.Count(name, ".") == dots && rest != "" {
		return true
	}
	switch {
	case !strings.Contains(name, "."):
		if name == "unknown" {
			r.bad(x, "unknown stands only for figures; leave the line out")
		} else {
			r.bad(x, "%s lacks its kind; write %s", clip(name), strings.Replace(shape(kind), "NAME", clip(name), 1))
		}
	case first == word:
		r.bad(x, "%s has the wrong number of parts; a %s is written %s", clip(name), kind, shape(kind))
	default:
		r.bad(x, "takes a %s, written %s; %s is none", kind, shape(kind), clip(name))
	}
	return false
}

func (r *reader) badReference(kind string, x hclsyntax.Expression) {
	s, ok := textOf(x)
	switch {
	case ok && strings.HasPrefix(s, kind+".") && goodPath(s):
		r.bad(x, "a name stands without quotes; write %s", clip(s))
	case ok && goodLabel(s):
		r.bad(x, "takes a name without quotes; write %s", clip(strings.Replace(shape(kind), "NAME", s, 1)))
	case isList(x):
		r.bad(x, "takes one %s, not a list; write %s", kind, shape(kind))
	default:
		r.bad(x, "takes a %s, written %s, not %s", kind, shape(kind), describe(x))
	}
}

func isList(x hclsyntax.Expression) bool {
	_, ok := x.(*hclsyntax.TupleConsExpr)
	return ok
}

// goodPath reports whether s is names with dots between them.
func goodPath(s string) bool {
	for _, part := range strings.Split(s, ".") {
		if !goodLabel(part) {
			return false
		}
	}
	return true
}

// scopeKinds are the kinds of things that a ruling may be confined to.
// kind.ups means everything of that kind, which is declared nowhere.
var scopeKinds = []string{"site", "room", "row", "rack", "frame", "equipment", "kind"}

// scopes reads the things that a ruling is confined to.
func (r *reader) scopes(x hclsyntax.Expression) ([]estate.Scope, bool) {
	var out []estate.Scope
	ok := r.each(x, func(x hclsyntax.Expression) bool {
		name, ok := dotted(x)
		kind, rest, _ := strings.Cut(name, ".")
		if !ok || !contains(scopeKinds, kind) || strings.Contains(rest, ".") || rest == "" {
			r.bad(x, "takes names such as room.hq; what may stand here is a %s", choice(scopeKinds))
			return false
		}
		if kind != "kind" {
			r.check(kind, name, x)
		}
		out = append(out, estate.Scope{Kind: kind, Name: r.intern(rest), At: r.at(x.Range())})
		return true
	})
	return out, ok
}

// check keeps a name to be looked up, for no other purpose than to see that it
// exists.
func (r *reader) check(kind, name string, x hclsyntax.Expression) {
	key := kind + " " + name
	list := r.lists[key]
	if list == nil {
		list = &refList{kind: kind, names: []string{r.intern(name)}}
		r.lists[key] = list
	}
	spans := r.spanSlice(1)
	spans[0] = span(x.Range())
	r.part.links = append(r.part.links, link{owner: r.owner, list: list, spans: spans})
}

// target reads the name of a thing that a waiver is about.
func (r *reader) target(x hclsyntax.Expression) (string, bool) {
	name, ok := dotted(x)
	kind, _, found := strings.Cut(name, ".")
	dots := strings.Count(name, ".")
	if kind == "rack" && dots == 2 {
		kind = "mount"
	}
	if !ok || !found || dots > 2 || dots == 2 && kind != "mount" || !(kind == "mount" || referable(kind)) {
		if s, isText := textOf(x); isText && goodPath(s) {
			r.bad(x, "a name stands without quotes; write %s", clip(s))
			return "", false
		}
		r.bad(x, "takes the name of one thing, such as rack.hq-a or rack.hq-a.core-1, not %s", describe(x))
		return "", false
	}
	r.check(kind, name, x)
	return r.intern(name), true
}

// referable reports whether things of that kind may be referred to.
func referable(kind string) bool {
	b := root.inner[kind]
	return b != nil && b.all != nil
}
