package source

import (
	"context"
	"fmt"
	"strings"
)

// A Range is two revisions to compare.
type Range struct {
	Old, New string // "" for an end that was left out, which means HEAD
	Base     bool   // A...B: the old side is the merge base of both
}

// ParseRange splits A..B and A...B. It reports false where text is no range.
// Dots inside braces, and in :/text, belong to a revision.
func ParseRange(text string) (Range, bool) {
	if strings.HasPrefix(text, ":/") {
		return Range{}, false
	}
	depth := 0
	for i := 0; i+1 < len(text); i++ {
		switch {
		case text[i] == '{':
			depth++
		case text[i] == '}':
			depth--
		case depth == 0 && text[i] == '.' && text[i+1] == '.':
			if strings.HasPrefix(text[i:], "...") {
				return Range{text[:i], text[i+3:], true}, true
			}
			return Range{text[:i], text[i+2:], false}, true
		}
	}
	return Range{}, false
}

// Pair gives the two trees that a comparison's arguments mean:
//
//	(none)   HEAD and the folder
//	A        A and the folder
//	A B      A and B; also written A..B, where an end left out means HEAD
//	A...B    the merge base of A and B, and B
//
// In a bare repository the folder's place is taken by HEAD.
func (p *Place) Pair(ctx context.Context, args ...string) (old, neu Tree, err error) {
	if err := p.needRepo(); err != nil {
		return nil, nil, err
	}
	var a, b string
	base := false
	switch len(args) {
	case 0:
		a = "HEAD"
	case 1:
		a = args[0]
		if r, ok := ParseRange(args[0]); ok {
			a, b, base = orHead(r.Old), orHead(r.New), r.Base
		}
	case 2:
		a, b = args[0], args[1]
	default:
		return nil, nil, fmt.Errorf("a comparison takes one or two revisions; %d are given", len(args))
	}
	if base {
		return p.sinceBase(ctx, a, b)
	}
	if old, err = p.At(ctx, a); err != nil {
		return nil, nil, err
	}
	if b == "" && p.Root != "" {
		neu, err = p.Folder()
		return old, neu, err
	}
	neu, err = p.At(ctx, orHead(b))
	return old, neu, err
}

// sinceBase gives the trees of A...B.
func (p *Place) sinceBase(ctx context.Context, a, b string) (old, neu Tree, err error) {
	r := p.Repo
	x, err := r.Resolve(ctx, a)
	if err != nil {
		return nil, nil, err
	}
	y, err := r.Resolve(ctx, b)
	if err != nil {
		return nil, nil, err
	}
	bases, err := r.MergeBases(ctx, x, y)
	if err != nil {
		return nil, nil, err
	}
	if neu, err = p.Commit(ctx, y, b); err != nil {
		return nil, nil, err
	}
	old, err = p.Commit(ctx, bases[0], "")
	return old, neu, err
}

func orHead(rev string) string {
	if rev == "" {
		return "HEAD"
	}
	return rev
}
