package source

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// A Commit is what a commit says about itself.
type Commit struct {
	Hash      Hash
	Tree      Hash
	Parents   []Hash    // as grafts have it; none at the boundary of a shallow clone
	Author    string    // name, always UTF-8
	When      time.Time // when the author made it, in the author's zone
	Committed time.Time
	Subject   string // first paragraph of the message, on one line
	Boundary  bool   // older history exists, and this shallow clone lacks it
}

// Commit reads a commit.
func (r *Repository) Commit(ctx context.Context, h Hash) (*Commit, error) {
	r.mu.Lock()
	c := r.commits[h]
	r.mu.Unlock()
	if c != nil {
		return c, nil
	}
	data, err := r.typed(ctx, h, commitKind)
	if err != nil {
		return nil, err
	}
	if c, err = parseCommit(h, data); err != nil {
		return nil, err
	}
	if parents, ok := r.grafts[h]; ok {
		c.Parents = parents
	}
	if r.shallow[h] {
		c.Boundary = len(c.Parents) > 0
		c.Parents = nil
	}
	r.mu.Lock()
	r.commits[h] = c
	r.mu.Unlock()
	return c, nil
}

func parseCommit(h Hash, data []byte) (*Commit, error) {
	c := &Commit{Hash: h}
	head, message, _ := strings.Cut(string(data), "\n\n")
	latin := false
	for line := range strings.SplitSeq(head, "\n") {
		key, value, _ := strings.Cut(line, " ")
		switch key {
		case "tree":
			c.Tree, _ = ParseHash(value)
		case "parent":
			p, ok := ParseHash(value)
			if !ok {
				return nil, damaged(h, line)
			}
			c.Parents = append(c.Parents, p)
		case "author":
			c.Author, c.When = parseSignature(value)
		case "committer":
			_, c.Committed = parseSignature(value)
		case "encoding":
			v := strings.ToLower(value)
			latin = v == "iso-8859-1" || v == "latin1" || v == "latin-1"
		}
	}
	if c.Tree == "" {
		return nil, damaged(h, "no tree")
	}
	subject, _, _ := strings.Cut(strings.TrimLeft(message, "\n"), "\n\n")
	c.Subject = strings.Join(strings.Fields(toUTF8(subject, latin)), " ")
	c.Author = toUTF8(c.Author, latin)
	return c, nil
}

func damaged(h Hash, what string) error {
	return fmt.Errorf("commit %s is damaged (%s); see what is damaged with: git fsck", h.Short(), what)
}

// parseSignature reads "Name <mail> seconds zone".
func parseSignature(s string) (name string, when time.Time) {
	name, rest, _ := strings.Cut(s, "<")
	name = strings.TrimSpace(name)
	if i := strings.LastIndexByte(rest, '>'); i >= 0 {
		rest = rest[i+1:]
	}
	fields := strings.Fields(rest)
	if len(fields) == 0 {
		return name, time.Time{}
	}
	seconds, err := strconv.ParseInt(fields[0], 10, 64)
	if err != nil {
		return name, time.Time{}
	}
	zone := time.UTC
	if len(fields) > 1 {
		if n, err := strconv.Atoi(fields[1]); err == nil && n != 0 {
			zone = time.FixedZone("", (n/100*60+n%100)*60)
		}
	}
	return name, time.Unix(seconds, 0).In(zone)
}

// toUTF8 gives text as UTF-8, whatever bytes it holds.
func toUTF8(s string, latin bool) string {
	if latin {
		runes := make([]rune, len(s))
		for i := range len(s) {
			runes[i] = rune(s[i])
		}
		return string(runes)
	}
	return strings.ToValidUTF8(s, "\uFFFD")
}
