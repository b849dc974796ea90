package source

import (
	"context"
	"errors"
	"fmt"
	"path"
	"strings"
)

// A Tag is a name for a commit that stays with it.
type Tag struct {
	Name   string // without refs/tags/
	Commit *Commit
}

// LastTag gives the youngest of the tags of a pattern that lie on a commit or
// on one before it, and nil where there is none. The pattern is one of
// [MatchesTag]; of several tags on one commit the last by name is given. The
// error is a [ShallowError] where a shallow clone ends before any was found.
func (r *Repository) LastTag(ctx context.Context, from Hash, pattern string) (*Tag, error) {
	refs, err := r.refs("refs/tags/")
	if err != nil {
		return nil, err
	}
	names := map[Hash]string{}
	for _, ref := range refs {
		name := strings.TrimPrefix(ref.name, "refs/tags/")
		if !MatchesTag(pattern, name) {
			continue
		}
		// What is tagged may be no commit, or one that a shallow clone lacks.
		if h, err := r.Resolve(ctx, ref.name); err == nil {
			names[h] = name
		} else if ctx.Err() != nil {
			return nil, ctx.Err()
		}
	}
	var found *Tag
	boundary := false
	err = r.youngest(ctx, []Hash{from}, func(c *Commit) (bool, error) {
		boundary = boundary || c.Boundary
		if name, ok := names[c.Hash]; ok {
			found = &Tag{name, c}
		}
		return found == nil, ctx.Err()
	})
	if err != nil {
		return nil, err
	}
	if found == nil && boundary {
		return nil, &ShallowError{fmt.Sprintf("this clone is shallow, and no tag %s is in it; fetch more history with: git fetch --tags --deepen=100 %s", Quote(pattern), r.remote())}
	}
	return found, nil
}

// MatchesTag reports whether a tag's name fits a pattern, as git tag --list
// reads one: * stands for any text, ? for one character, [..] for one of those
// in it. A pattern that cannot be read fits nothing.
func MatchesTag(pattern, name string) bool {
	ok, err := path.Match(flat(pattern), flat(name))
	return ok && err == nil
}

// CheckTagPattern says what is wrong with a pattern of tags.
func CheckTagPattern(pattern string) error {
	if _, err := path.Match(flat(pattern), ""); err != nil {
		return errors.New("it has a [ or a \\ without what belongs to it")
	}
	return nil
}

// flat makes slashes characters like others: * stands for them as well.
func flat(s string) string { return strings.ReplaceAll(s, "/", "\x01") }
