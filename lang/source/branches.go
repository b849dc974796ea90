package source

import (
	"slices"
	"strings"
)

// A Branch is a name under which work is kept.
type Branch struct {
	Name string // "proposal", or "origin/proposal" for one that was fetched
	Tip  Hash
}

// Branches lists the local branches and those fetched from elsewhere, by name.
// Of several with one tip the first is listed, local ones before others.
func (r *Repository) Branches() ([]Branch, error) {
	var out []Branch
	for _, prefix := range []string{"refs/heads/", "refs/remotes/"} {
		refs, err := r.refs(prefix)
		if err != nil {
			return nil, err
		}
		for _, ref := range refs {
			name := strings.TrimPrefix(ref.name, prefix)
			if strings.HasSuffix(name, "/HEAD") || slices.ContainsFunc(out, func(b Branch) bool { return b.Tip == ref.hash }) {
				continue
			}
			out = append(out, Branch{name, ref.hash})
		}
	}
	slices.SortStableFunc(out, func(a, b Branch) int { return strings.Compare(a.Name, b.Name) })
	return out, nil
}
