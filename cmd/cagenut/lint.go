package main

import (
	"context"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint"
	"cagenut/render/report"
	"cagenut/render/style"
)

const lintLong = `Judge the estate by the built-in rules and by its own policies, and report what
does not hold: each with the two figures compared, where they come from, and the
text to look at. A rule that lacks a figure is not checked, and counted.

PATH limits what is reported to the racks and things declared in those files or
folders; the whole estate is read all the same, since a rack in one file is fed,
framed and paired by others.

--base REV leaves what the change brings: findings are matched by rule and
names, not by lines. --base main... compares with the commit where this branch
left main. --with REV judges what merging a branch would give, and leaves what
neither side has alone: two branches that claim one unit, or the last watts of a
feed. Where the base cannot be read, the status is 3 and the message says what
to fetch.`

type lintOptions struct {
	failOn    string
	format    string
	unchecked bool
	rules     string
	trials    bool
	base      string
	staged    bool
	with      []string
}

func lintCommand(p *program) *cobra.Command {
	var o lintOptions
	cmd := &cobra.Command{
		Use:   "lint [PATH..]",
		Short: "report what a careful colleague would find",
		Long:  lintLong,
		Example: `  cagenut lint
  cagenut lint hq/ --fail-on warning
  cagenut lint --at HEAD~3 --format json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runLint(cmd.Context(), p, o, args)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&o.failOn, "fail-on", "error", "`LEVEL` from which the exit status is 1: error, warning or note")
	flags.StringVar(&o.format, "format", "text", "`FORMAT` of the report: "+strings.Join(report.FormNames(), ", "))
	flags.StringVar(&o.base, "base", "", "report only what the commit `REV` has not; main... is where this branch left main")
	flags.StringArrayVar(&o.with, "with", nil, "report what merging `REV` would bring that neither side has alone; may be repeated")
	flags.BoolVar(&o.staged, "staged", false, "judge what is staged for the next commit, in place of the folder")
	flags.StringVar(&o.rules, "rules", "", "judge by the rule `SET` in place of the one that the estate pins; next for all rules there are")
	flags.BoolVar(&o.trials, "trials", false, "try the policies on the small estates of their trial blocks, and nothing else")
	flags.BoolVar(&o.unchecked, "unchecked", false, "list what was not checked, and which figure is missing")
	return cmd
}

func runLint(ctx context.Context, p *program, o lintOptions, paths []string) error {
	failOn, err := lint.ParseLevel(o.failOn)
	if err != nil || failOn == lint.Off {
		return usagef("--fail-on %q: write error, warning or note", o.failOn)
	}
	if !slices.Contains(report.FormNames(), o.format) {
		return usagef("--format %q: write one of %s", o.format, strings.Join(report.FormNames(), ", "))
	}
	if o.staged && p.at != "" {
		return usagef("--staged and --at %s name two things to read; write one of them", p.at)
	}
	place, tree, err := p.lintTree(ctx, o)
	if err != nil {
		return err
	}
	if o.trials {
		r, err := p.readTree(ctx, place, tree)
		if err != nil {
			return err
		}
		return p.runTrials(ctx, r)
	}
	v, err := p.verdictOn(ctx, place, tree, o.rules, o.keeps(paths))
	if err != nil {
		return err
	}
	r, result := v.reading, v.result
	page := r.page(result, v.book)
	if len(o.with) > 0 {
		if o.base != "" {
			return usagef("--with %s compares with both sides of the merge already; leave --base out", o.with[0])
		}
		if page, err = p.with(ctx, r, result, o.with, o.rules); err != nil {
			return err
		}
	}
	page.FailOn = failOn
	if o.base != "" {
		if err := p.sinceBase(ctx, v, page, o); err != nil {
			return err
		}
	}
	if len(paths) > 0 {
		if err := p.confine(r, page, paths); err != nil {
			return err
		}
	}
	return p.finishLint(page, o)
}

// finishLint prints a page and turns it into an exit status.
func (p *program) finishLint(page *report.Page, o lintOptions) error {
	if err := p.printLint(page, o); err != nil {
		return err
	}
	if page.Counts().Worst() >= page.FailOn {
		return errReported
	}
	return nil
}

// keeps reports whether the result is one of the whole estate, and printed in
// a form that needs nothing else, so that one that was kept will do.
func (o lintOptions) keeps(paths []string) bool {
	return len(paths) == 0 && len(o.with) == 0 && (o.format == "text" || o.format == "json")
}

// lintTree gives what is to be judged.
func (p *program) lintTree(ctx context.Context, o lintOptions) (*source.Place, source.Tree, error) {
	place, err := p.locate()
	if err != nil {
		return nil, nil, err
	}
	if o.staged {
		tree, err := place.Index(ctx)
		return place, tree, err
	}
	tree, err := p.tree(ctx, place, p.at)
	return place, tree, err
}

func (p *program) printLint(page *report.Page, o lintOptions) error {
	look := report.Look{Width: p.width(p.stdout), ASCII: p.plain(), Colours: style.New(p.coloured(p.stdout))}
	if o.unchecked && o.format == "text" {
		if err := report.Unchecked(p.stdout, page, look); err != nil {
			return err
		}
	}
	return report.Print(p.stdout, o.format, page, look)
}

// confine keeps what is declared below the given paths. A path that holds
// nothing of the estate is a mistake of the call.
func (p *program) confine(r *reading, page *report.Page, paths []string) error {
	within := make([]string, len(paths))
	for i, arg := range paths {
		rel, err := p.inEstate(r, arg)
		if err != nil {
			return err
		}
		within[i] = rel
	}
	covers := func(file string) bool {
		return slices.ContainsFunc(within, func(w string) bool { return below(w, file) })
	}
	res := page.Result
	var racks, mounts int
	for _, rack := range r.estate.Racks {
		if covers(rack.Source.File) {
			racks++
			mounts += len(rack.Mounts)
		}
	}
	res.Racks, res.Mounts = racks, mounts
	res.Findings = slices.DeleteFunc(res.Findings, func(f lint.Finding) bool {
		return !covers(f.At.File) && !slices.ContainsFunc(f.Related, func(rel lint.Related) bool { return covers(rel.At.File) })
	})
	res.Unchecked = slices.DeleteFunc(res.Unchecked, func(u lint.Unchecked) bool { return !covers(u.At.File) })
	page.Mistakes = slices.DeleteFunc(page.Mistakes, func(m lang.Diagnostic) bool { return !covers(m.File) })
	for i, w := range within {
		holds := func(file string) bool { return below(w, file) }
		if !slices.ContainsFunc(r.estate.Racks, func(rack *estate.Rack) bool { return holds(rack.Source.File) }) &&
			!slices.ContainsFunc(r.estate.Broken, holds) {
			return usagef("%s holds no racks; name files or folders of racks, or none to judge all", paths[i])
		}
	}
	return nil
}

// inEstate gives a path of the user as a slash path from the estate's root.
func (p *program) inEstate(r *reading, arg string) (string, error) {
	if r.place.Root == "" { // a bare repository: paths are those of its trees
		return path.Clean(filepath.ToSlash(arg)), nil
	}
	abs := arg
	if !filepath.IsAbs(abs) {
		abs = filepath.Join(p.dir, arg)
	}
	rel, err := filepath.Rel(r.place.Root, abs)
	if err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return "", usagef("%s lies outside the estate in %s", arg, r.place.Root)
	}
	return filepath.ToSlash(rel), nil
}

// below reports whether a file lies at or under a path of the estate.
func below(at, file string) bool {
	return at == "." || file == at || strings.HasPrefix(file, at+"/")
}
