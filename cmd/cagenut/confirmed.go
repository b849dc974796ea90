package main

import (
	"context"
	"fmt"
	"slices"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint/sequence"
)

// confirmations looks up, for each site that says by which tags its record is
// confirmed as built, what has become since the last one of the racks that a
// change asks work at. The base is the tree that the change starts from.
func (p *program) confirmations(ctx context.Context, place *source.Place, base source.Tree, c *change.Change) ([]sequence.Confirmation, error) {
	commit := source.CommitOf(base)
	if commit == nil || !slices.ContainsFunc(c.New.Sites, func(s *estate.Site) bool { return s.AsBuilt != "" }) {
		return nil, nil
	}
	racks := sequence.WorkedAt(c)
	var out []sequence.Confirmation
	for _, site := range c.New.Sites {
		var here []*estate.Rack
		for _, r := range racks {
			if s := r.Site(); site.AsBuilt != "" && s != nil && s.Name == site.Name {
				here = append(here, r)
			}
		}
		if len(here) == 0 {
			continue
		}
		found := sequence.Confirmation{Site: site}
		if err := p.confirmed(ctx, place, commit, c.Old, here, &found); err != nil {
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			found.Unknown = err.Error()
		}
		out = append(out, found)
	}
	return out, nil
}

// confirmed finds the last tag of a site's pattern at or before a commit, and
// which of some racks differ from what was tagged.
func (p *program) confirmed(ctx context.Context, place *source.Place, base *source.Commit, now *estate.Estate, racks []*estate.Rack, found *sequence.Confirmation) error {
	tag, err := place.Repo.LastTag(ctx, base.Hash, found.Site.AsBuilt)
	if err != nil {
		return err
	}
	if tag == nil {
		found.Racks = racks
		return nil
	}
	found.Tag = tag.Name
	// What lies in the same files as then needs no reading.
	commits, err := place.History(ctx, source.Walk{From: base.Hash, Until: tag.Commit.Hash})
	if err != nil || len(commits) == 0 {
		return err
	}
	tree, err := place.Commit(ctx, tag.Commit.Hash, tag.Name)
	if err != nil {
		return err
	}
	then, err := p.readTree(ctx, place, tree)
	if err != nil {
		return err
	}
	if err := then.whole(); err != nil {
		return err
	}
	since := change.Between(then.estate, now)
	files := map[string]bool{}
	note := func(r *estate.Rack) {
		if r == nil {
			return
		}
		files[r.Source.File] = true
		for _, m := range r.Mounts {
			files[m.Source.File] = true
		}
	}
	for _, r := range racks {
		part := since.In(func(o *estate.Rack) bool { return o.Name == r.Name })
		if len(part.Racks)+len(part.Mounts)+len(part.Blanks) == 0 {
			continue
		}
		found.Racks = append(found.Racks, r)
		note(r)
		for i := range part.Racks {
			note(part.Racks[i].Old)
		}
		for i := range part.Mounts {
			for _, m := range []*estate.Mount{part.Mounts[i].Old, part.Mounts[i].New} {
				if m != nil {
					note(m.Rack)
				}
			}
		}
	}
	if len(found.Racks) == 0 {
		return nil
	}
	paths := make([]string, 0, len(files))
	for f := range files {
		paths = append(paths, f)
	}
	slices.Sort(paths)
	commits, err = place.History(ctx, source.Walk{From: base.Hash, Until: tag.Commit.Hash, Paths: paths})
	if err != nil {
		return err
	}
	for _, v := range commits {
		found.Commits = append(found.Commits, fmt.Sprintf("%s (%s)", v.Hash.Short(), v.Subject))
	}
	return nil
}
