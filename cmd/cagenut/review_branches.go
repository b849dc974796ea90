package main

import (
	"context"
	"errors"
	"slices"
	"time"

	"cagenut/lang/change"
	"cagenut/lang/source"
	"cagenut/render/review"
)

// mostBranches is how many other branches a review compares: each may have to be
// read whole.
const mostBranches = 24

// collisions looks in the other branches, the youngest first, for changes that
// want what this one wants. A branch that cannot be compared is named on the
// page, and is no failure.
func (p *program) collisions(ctx context.Context, page *review.Page, before, after *reading) error {
	repo, base := before.place.Repo, source.CommitOf(before.tree)
	if repo == nil || base == nil {
		return nil
	}
	branches, err := youngest(ctx, repo)
	if err != nil {
		return err
	}
	tip := source.CommitOf(after.tree)
	head := ""
	if tip == nil { // the folder: its own branch is no other
		if h, err := repo.Resolve(ctx, "HEAD"); err == nil {
			head = h.String()
		}
	}
	for _, b := range branches {
		if b.Tip == base.Hash || tip != nil && b.Tip == tip.Hash || b.Tip.String() == head {
			continue
		}
		if len(page.Compared) == mostBranches {
			page.Older++
			continue
		}
		theirs, err := p.branchChange(ctx, before, b, tip)
		if err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			page.Unread = append(page.Unread, review.Unread{Branch: b.Name, Why: err.Error()})
			continue
		}
		if theirs == nil {
			continue
		}
		page.Compared = append(page.Compared, b.Name)
		var what []string
		for _, c := range change.Clashes(page.Change, theirs) {
			what = append(what, review.Clash(c))
		}
		if len(what) > 0 {
			page.Collisions = append(page.Collisions, review.Collision{Branch: b.Name, What: what})
		}
	}
	return nil
}

// youngest gives the branches in the order of their tips, the youngest first.
func youngest(ctx context.Context, repo *source.Repository) ([]source.Branch, error) {
	branches, err := repo.Branches() // by name
	if err != nil {
		return nil, err
	}
	when := make(map[source.Hash]time.Time, len(branches))
	for _, b := range branches {
		if c, err := repo.Commit(ctx, b.Tip); err == nil {
			when[b.Tip] = c.Committed
		}
	}
	slices.SortStableFunc(branches, func(a, b source.Branch) int { return when[b.Tip].Compare(when[a.Tip]) })
	return branches, nil
}

// branchChange gives what a branch changes since it left the old side, or nil
// where that is nothing of its own: it is part of one of the sides, or goes on
// from the new one.
func (p *program) branchChange(ctx context.Context, before *reading, b source.Branch, tip *source.Commit) (*change.Change, error) {
	repo, base := before.place.Repo, source.CommitOf(before.tree)
	bases, err := repo.MergeBases(ctx, base.Hash, b.Tip)
	if err != nil {
		return nil, err
	}
	from := bases[0]
	if from == b.Tip {
		return nil, nil
	}
	if tip != nil {
		own, err := repo.MergeBases(ctx, tip.Hash, b.Tip)
		if err != nil {
			return nil, err
		}
		if own[0] == b.Tip || own[0] == tip.Hash {
			return nil, nil
		}
	}
	theirs, err := before.place.Commit(ctx, b.Tip, b.Name)
	if err != nil {
		return nil, err
	}
	old := before
	if from != base.Hash {
		tree, err := before.place.Commit(ctx, from, "")
		if err != nil {
			return nil, err
		}
		if old, err = p.readTree(ctx, before.place, tree); err != nil {
			return nil, err
		}
	}
	// Most branches of a repository change nothing that is read here.
	if deltas, err := source.Differ(ctx, old.tree, theirs); err != nil || len(deltas) == 0 {
		return nil, err
	}
	neu, err := p.readTree(ctx, before.place, theirs)
	if err != nil {
		return nil, err
	}
	if len(neu.estate.Broken) > 0 {
		return nil, errors.New("its text has mistakes")
	}
	return change.Between(old.estate, neu.estate), nil
}
