package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/merge"
	"cagenut/lang/source"
	"cagenut/lint"
	"cagenut/render/report"
)

// A branch is one of the branches that a merge preview brings together.
type branch struct {
	name   string // as the user wrote it, or "this branch"
	commit source.Hash
	base   source.Hash   // where it parted from this branch
	bases  []source.Hash // all of them, where there are several
	estate *estate.Estate
	was    *estate.Estate // at base
}

// with judges the estate as it would be once other branches are merged into
// what was read, and leaves on the page what none of the branches has alone:
// what no merge of texts can see.
func (p *program) with(ctx context.Context, r *reading, result *lint.Result, revs []string, set string) (*report.Page, error) {
	if r.place.Repo == nil {
		_, err := r.place.At(ctx, "HEAD") // says why there is nothing to merge
		return nil, err
	}
	here, err := r.place.Repo.Resolve(ctx, orElse(p.at, "HEAD"))
	if err != nil {
		return nil, err
	}
	own := branch{name: "this branch", commit: here, estate: r.estate}
	if p.at != "" {
		own.name = p.at
	}
	tree := r.tree
	var sides []branch
	alone := []*lint.Result{result}
	known := slices.Clone(r.mistakes)
	var conflicts []lang.Diagnostic
	for _, rev := range revs {
		s, theirs, err := p.side(ctx, r.place, own, rev)
		if err != nil {
			return nil, fmt.Errorf("merging %s: %w", rev, err)
		}
		was, err := common(ctx, r.place, s.bases)
		if err != nil {
			return nil, fmt.Errorf("merging %s: %w", rev, err)
		}
		texts, clashes, err := merge.Trees(ctx, was, tree, theirs.tree)
		if err != nil {
			return nil, fmt.Errorf("merging %s: %w", rev, err)
		}
		tree = source.Overlay("the merge with "+strings.Join(revs, ", "), tree, texts)
		judged, _, err := p.judge(ctx, theirs, set)
		if err != nil {
			return nil, err
		}
		alone, known = append(alone, judged), append(known, theirs.mistakes...)
		sides = append(sides, *s)
		for _, c := range clashes {
			conflicts = append(conflicts, p.conflict(ctx, r.place, own, *s, c, r.estate))
		}
	}
	merged, err := p.readTree(ctx, r.place, tree)
	if err != nil {
		return nil, err
	}
	all, book, err := p.judge(ctx, merged, set)
	if err != nil {
		return nil, err
	}
	page := merged.page(all, book)
	page.Base = &report.Base{Name: "each side of the merge with " + strings.Join(revs, ", ")}
	for _, before := range alone {
		c := lint.New(page.Result, before, nil)
		page.Result = c.Result
		page.Base.Old += c.Old
	}
	page.Mistakes = slices.DeleteFunc(merged.mistakes, func(m lang.Diagnostic) bool {
		return slices.ContainsFunc(known, func(k lang.Diagnostic) bool { return k.File == m.File && k.Summary == m.Summary })
	})
	page.Mistakes = append(page.Mistakes, conflicts...)
	own.was, own.base = sides[0].was, sides[0].base
	p.tellSides(ctx, r.place, page, merged.estate, append([]branch{own}, sides...))
	return page, nil
}

// common gives what two branches were made from. Branches that were merged into
// each other have several common ancestors; as git does, these are merged, so
// that what both branches have already is no conflict between them.
func common(ctx context.Context, place *source.Place, bases []source.Hash) (source.Tree, error) {
	tree, err := place.Commit(ctx, bases[0], "")
	if err != nil {
		return nil, err
	}
	for _, other := range bases[1:] {
		further, err := place.Commit(ctx, other, "")
		if err != nil {
			return nil, err
		}
		var under source.Tree = source.Memory("nothing", nil)
		below, err := place.Repo.MergeBases(ctx, bases[0], other)
		if err == nil {
			under, err = common(ctx, place, below)
		}
		if err != nil && ctx.Err() != nil {
			return nil, err
		}
		texts, _, err := merge.Trees(ctx, under, tree, further) // in doubt what the first has
		if err != nil {
			return nil, err
		}
		tree = source.Overlay(tree.Name(), tree, texts)
	}
	return tree, nil
}

// side reads another branch, and where it parted from this one.
func (p *program) side(ctx context.Context, place *source.Place, own branch, rev string) (*branch, *reading, error) {
	h, err := place.Repo.Resolve(ctx, rev)
	if err != nil {
		return nil, nil, err
	}
	bases, err := place.Repo.MergeBases(ctx, own.commit, h)
	if err != nil {
		return nil, nil, err
	}
	tree, err := place.Commit(ctx, h, rev)
	if err != nil {
		return nil, nil, err
	}
	theirs, err := p.readTree(ctx, place, tree)
	if err != nil {
		return nil, nil, err
	}
	base, err := place.Commit(ctx, bases[0], "")
	if err != nil {
		return nil, nil, err
	}
	was, err := p.readTree(ctx, place, base)
	if err != nil {
		return nil, nil, err
	}
	return &branch{name: rev, commit: h, base: bases[0], bases: bases, estate: theirs.estate, was: was.estate}, theirs, nil
}

// conflict tells of a place that people must merge.
func (p *program) conflict(ctx context.Context, place *source.Place, own, other branch, c merge.Conflict, e *estate.Estate) lang.Diagnostic {
	own.base = other.base
	d := lang.Diagnostic{Range: estate.Range{File: c.File}, Severity: lang.Error}
	what := c.Why
	if c.Place != "" {
		thing, attr, _ := strings.Cut(c.Place, ": ")
		d.Range = whereIs(e, thing, attr, c.File)
		what = "both sides changed " + c.Place
	}
	d.Summary = fmt.Sprintf("%s: %s; %s; merge it by hand", what,
		p.lastTouch(ctx, place, own, c.File), p.lastTouch(ctx, place, other, c.File))
	return d
}

// whereIs gives the place of a thing in this branch.
func whereIs(e *estate.Estate, thing, attr, file string) estate.Range {
	for _, r := range e.Racks {
		if r.Ref() == thing {
			return r.Source.Attr(attr)
		}
		for _, m := range r.Mounts {
			if m.Ref() == thing && m.Source.File == file {
				return m.Source.Attr(attr)
			}
		}
	}
	return estate.Range{File: file}
}

// lastTouch names the commit with which a side last changed a file.
func (p *program) lastTouch(ctx context.Context, place *source.Place, s branch, file string) string {
	versions, err := place.History(ctx, source.Walk{From: s.commit, Until: s.base, Paths: []string{file}, Limit: 1})
	if err != nil || len(versions) == 0 {
		return s.name + " (not committed)"
	}
	return fmt.Sprintf("%s (%s %q)", s.name, versions[0].Hash.Short(), versions[0].Subject)
}

// A touch is a thing that a side of a merge has changed, and where it stands
// now.
type touch struct {
	ref string
	at  estate.Range // in the merge
	by  string       // the side, with its commit
}

// tellSides adds to each finding which branch each of its things comes from. A
// finding of the merge that neither side has alone comes of both: where its own
// things are of one side only, what the others changed is named as well.
func (p *program) tellSides(ctx context.Context, place *source.Place, page *report.Page, merged *estate.Estate, sides []branch) {
	places := map[string]estate.Range{}
	for _, r := range merged.Racks {
		places[r.Ref()] = r.Source.At()
		for _, m := range r.Mounts {
			places[m.Ref()] = m.Source.At()
		}
	}
	for _, t := range change.Between(&estate.Estate{}, merged).Things {
		places[t.Ref()] = change.At(t.New)
	}
	touched := make([][]touch, len(sides))
	for i, s := range sides {
		c := change.Between(s.was, s.estate)
		commits := map[string]string{} // by file
		add := func(ref, file string) {
			if commits[file] == "" {
				commits[file] = p.lastTouch(ctx, place, s, file)
			}
			touched[i] = append(touched[i], touch{ref, places[ref], commits[file]})
		}
		for j := range c.Mounts {
			if m := c.Mounts[j].New; m != nil {
				add(m.Ref(), m.Source.File)
			}
		}
		for j := range c.Racks {
			if k := c.Racks[j].New; k != nil {
				add(k.Ref(), k.Source.File)
			}
		}
		for j := range c.Things {
			if t := &c.Things[j]; t.New != nil {
				add(t.Ref(), change.At(t.New).File)
			}
		}
	}
	for i := range page.Result.Findings {
		f := &page.Result.Findings[i]
		named := 0
		var unnamed []int
		for j := range sides {
			if tellSide(f, touched[j]) {
				named++
			} else {
				unnamed = append(unnamed, j)
			}
		}
		for _, j := range unnamed {
			if named < 2 && len(touched[j]) > 0 {
				f.Related = append(slices.Clip(f.Related), brings(touched[j]))
			}
		}
	}
}

// tellSide says of the things of a finding that a side has changed that they
// are as it has them, and reports whether there are any: the things that the
// finding names, and those that its places are the names of.
func tellSide(f *lint.Finding, touched []touch) (told bool) {
	for _, t := range touched {
		as := "as " + t.by + " has it"
		if k := slices.IndexFunc(f.Related, func(r lint.Related) bool { return r.At == t.at && r.At != (estate.Range{}) }); k >= 0 {
			f.Related = slices.Clone(f.Related) // a rule's result is kept as it is
			f.Related[k].Message = strings.TrimPrefix(f.Related[k].Message+"; "+as, "; ")
			told = true
		} else if t.ref == f.Thing || slices.Contains(f.Others, t.ref) {
			f.Related = append(slices.Clip(f.Related), lint.Related{At: t.at, Message: strings.TrimPrefix(t.ref, "rack.") + " is " + as})
			told = true
		}
	}
	return told
}

// brings says what a side has changed, a few things of it.
func brings(touched []touch) lint.Related {
	const few = 3
	var names []string
	for _, t := range touched[:min(len(touched), few)] {
		names = append(names, t.ref)
	}
	s := touched[0].by + " changed " + strings.Join(names, ", ")
	if n := len(touched) - few; n > 0 {
		s += fmt.Sprintf(" and %d more", n)
	}
	return lint.Related{At: touched[0].at, Message: s}
}
