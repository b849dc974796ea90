package main

import (
	"context"
	"fmt"
	"slices"

	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint"
	"cagenut/lint/rules"
	"cagenut/lint/sequence"
	"cagenut/render/report"
)

// baseTree gives the tree that --base names. Beside one revision it may be
// A...B, the merge base of the two, where B left out is the commit that is
// read: what a branch has brought since it left A.
func (p *program) baseTree(ctx context.Context, place *source.Place, rev string) (source.Tree, error) {
	r, isRange := source.ParseRange(rev)
	if !isRange {
		return place.At(ctx, rev)
	}
	if !r.Base {
		return nil, usagef("--base %q: one revision is compared with; write --base %s, or --base %s... for where the branch left it", rev, orElse(r.Old, "HEAD"), orElse(r.Old, "HEAD"))
	}
	r.Old, r.New = orElse(r.Old, "HEAD"), orElse(r.New, orElse(p.at, "HEAD"))
	old, _, err := place.Pair(ctx, r.Old+"..."+r.New)
	return old, err
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// sinceBase leaves on the page what the base has not.
func (p *program) sinceBase(ctx context.Context, v *verdict, page *report.Page, o lintOptions) error {
	tree, err := p.baseTree(ctx, v.place, o.base)
	if err != nil {
		return fmt.Errorf("reading the base: %w", err)
	}
	base, err := p.verdictOn(ctx, v.place, tree, o.rules, o.keeps(nil))
	if err != nil {
		return fmt.Errorf("reading the base: %w", err)
	}
	if files, err := tree.Files(ctx); err != nil || base.result.Racks == 0 && !slices.ContainsFunc(files, func(f source.File) bool { return source.IsRootFile(f.Path) }) {
		return fmt.Errorf("reading the base: %s holds no %s, so there is nothing to compare with", o.base, source.RootFile)
	}
	was, is := base.estate, v.estate
	if !base.whole || !v.whole {
		deltas, err := source.Differ(ctx, tree, v.tree)
		if err != nil {
			return err
		}
		before, after, err := p.loadPair(ctx, v.place, tree, v.tree, deltas)
		if err != nil {
			return err
		}
		was, is = before.Estate, after.Estate
	}
	since := change.Between(was, is)
	c := lint.New(page.Result, base.result, renames(since))
	page.Result = c.Result
	if err := p.unconfirmed(ctx, v.place, is, page, tree, since); err != nil {
		return err
	}
	page.Base = &report.Base{Name: o.base, Cured: len(c.Cured), Old: c.Old}
	page.Mistakes = slices.DeleteFunc(slices.Clone(page.Mistakes), func(m lang.Diagnostic) bool {
		had := slices.ContainsFunc(base.mistakes, func(b lang.Diagnostic) bool { return b.File == m.File && b.Summary == m.Summary })
		if had {
			page.Base.Old++
		}
		return had
	})
	return nil
}

// unconfirmed adds to a page what stands against starting from a record that
// nobody has confirmed as built.
func (p *program) unconfirmed(ctx context.Context, place *source.Place, e *estate.Estate, page *report.Page, base source.Tree, c *change.Change) error {
	all, err := p.confirmations(ctx, place, base, c)
	if err != nil {
		return err
	}
	today, err := p.day()
	if err != nil {
		return err
	}
	found, unchecked := sequence.Unconfirmed(all)
	if found, err = lint.Ruled(ctx, e, rules.All(), found, today); err != nil {
		return err
	}
	page.Result.Findings = append(page.Result.Findings, found...)
	page.Result.Unchecked = append(page.Result.Unchecked, unchecked...)
	slices.SortStableFunc(page.Result.Findings, lint.Compare)
	return nil
}

// renames gives the names that the things of the old side of a change have on
// the new one, where nothing but the name of a rack, or the label of a mount in its place,
// differs. A mount that moves is judged anew where it comes to.
func renames(c *change.Change) func(string) string {
	now := map[string]string{}
	for i := range c.Racks {
		if rc := &c.Racks[i]; rc.Old != nil && rc.New != nil && rc.Renamed() {
			now[rc.Old.Ref()] = rc.New.Ref()
			for _, m := range rc.Old.Mounts {
				now[m.Ref()] = rc.New.Ref() + "." + m.Name
			}
		}
	}
	for i := range c.Mounts {
		if m := &c.Mounts[i]; m.Renamed() && m.Kind == change.Altered && !m.Replaced() {
			now[m.Old.Ref()] = m.New.Ref()
		}
	}
	return func(thing string) string {
		if name, ok := now[thing]; ok {
			return name
		}
		return thing
	}
}
