package main

import (
	"context"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/near"
	"cagenut/lang/source"
	"cagenut/render/diff"
	"cagenut/render/style"
)

const diffLong = `Print what differs between two states of the estate, unit by unit: what comes
in (+), what goes out (-), what is moved (>) and what is altered (*), with what
it does to mass, space, heat and each feed, and each touched rack before and
after. A move is seen as a move: by its label, its serial number, or its
likeness.

  cagenut diff            the last commit and the folder
  cagenut diff A          the commit A and the folder
  cagenut diff A B        two commits; also written A..B
  cagenut diff A...B      where B left A, and B
  cagenut diff --staged   the last commit, or A, and what is staged
  cagenut diff --unstaged what is staged and the folder

Behind -- stand files and folders: only what happens in the racks that they
declare, and to whatever else they declare, is printed. What comes to one of
these racks from another, or goes there, is part of it.

With --exit-code the exit status is 1 where anything differs, else it is 0
whatever there is to see.`

type diffOptions struct {
	format string
	bare   bool
	whole  bool
	stat   bool
	status bool
	racks  []string
	paths  []string // as the user wrote them

	staged, unstaged bool
}

var diffFormats = []string{"text", "json", "markdown"}

func diffCommand(p *program) *cobra.Command {
	var o diffOptions
	cmd := &cobra.Command{
		Use:   "diff [A [B] | A..B | A...B] [-- PATH..]",
		Short: "print what a change does, unit by unit",
		Long:  diffLong,
		Example: `  cagenut diff main...HEAD --no-elevations
  cagenut diff v1..v2 -- hq/ frames.hcl`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if dash := cmd.ArgsLenAtDash(); dash >= 0 {
				args, o.paths = args[:dash], args[dash:]
			}
			if len(args) > 2 {
				return usagef("diff compares two states, not %d; files and folders stand behind --", len(args))
			}
			return runDiff(cmd.Context(), p, o, args)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&o.format, "format", "text", "`FORMAT` of the output: "+strings.Join(diffFormats, ", "))
	flags.BoolVar(&o.bare, "no-elevations", false, "list the changes and their totals only")
	flags.BoolVar(&o.whole, "side-by-side", false, "draw each rack whole, before and after, in place of the lists")
	flags.BoolVar(&o.stat, "stat", false, "one line for each rack")
	flags.BoolVar(&o.status, "exit-code", false, "exit with 1 where anything differs")
	flags.BoolVar(&o.staged, "staged", false, "compare with what is staged for the next commit")
	flags.BoolVar(&o.unstaged, "unstaged", false, "compare what is staged with the folder")
	flags.StringSliceVar(&o.racks, "rack", nil, "only what happens in this `RACK`, as it is called on either side; may be given several times")
	return cmd
}

func runDiff(ctx context.Context, p *program, o diffOptions, args []string) error {
	if !slices.Contains(diffFormats, o.format) {
		return usagef("--format %q: write one of %s", o.format, strings.Join(diffFormats, ", "))
	}
	if o.whole && (o.bare || o.stat || o.format == "json") {
		return usagef("--side-by-side draws racks; leave --no-elevations, --stat and --format json out")
	}
	place, old, neu, err := p.diffPair(ctx, o, args)
	if err != nil {
		return err
	}
	read := p.changeOnly
	if len(o.racks)+len(o.paths) > 0 {
		read = p.changeOf // a name that is not there must be told from one that nothing happens to
	}
	c, err := read(ctx, place, old, neu)
	if err != nil {
		return err
	}
	if len(o.racks) > 0 {
		if c, err = only(c, o.racks); err != nil {
			return err
		}
	}
	if len(o.paths) > 0 {
		if c, err = p.onlyBelow(ctx, place, c, old, neu, o.paths); err != nil {
			return err
		}
	}
	if err := printDiff(p, c, o); err != nil {
		return err
	}
	if o.status && !c.Empty() {
		return errReported
	}
	return nil
}

func printDiff(p *program, c *change.Change, o diffOptions) error {
	look := diff.Options{ASCII: p.plain(), Width: p.page(p.stdout), Inches: c.New.Lengths == "in", Bare: o.bare, Whole: o.whole}
	switch {
	case o.format == "json":
		return diff.JSON(p.stdout, c)
	case o.format == "markdown":
		look.Width = 80
		return diff.Markdown(p.stdout, c, look)
	}
	lines := diff.Text
	if o.stat {
		lines = diff.Stat
	}
	_, err := io.WriteString(p.stdout, style.Page(lines(c, look), style.New(p.coloured(p.stdout))))
	return err
}

// only leaves of a change what happens in the named racks.
func only(c *change.Change, names []string) (*change.Change, error) {
	wanted := map[string]bool{}
	for _, name := range names {
		name = trimRef(name, "rack.")
		if c.Old.Rack(name) == nil && c.New.Rack(name) == nil {
			var known []string
			for _, e := range []*estate.Estate{c.Old, c.New} {
				for _, r := range e.Racks {
					known = append(known, r.Name)
				}
			}
			if meant := near.Name(name, known); meant != "" {
				return nil, usagef("--rack: there is no rack %q on either side; did you mean %s?", name, meant)
			}
			return nil, usagef("--rack: there is no rack %q on either side", name)
		}
		wanted[name] = true
	}
	return c.In(func(r *estate.Rack) bool { return wanted[r.Name] }), nil
}

// onlyBelow leaves of a change what happens in the files and folders that the
// user named.
func (p *program) onlyBelow(ctx context.Context, place *source.Place, c *change.Change, old, neu source.Tree, paths []string) (*change.Change, error) {
	var files []source.File
	for _, t := range []source.Tree{old, neu} {
		all, err := lang.Files(ctx, t)
		if err != nil {
			return nil, err
		}
		files = append(files, all...)
	}
	at := make([]string, len(paths))
	for i, arg := range paths {
		var err error
		if at[i], err = p.inEstate(&reading{place: place}, arg); err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(files, func(f source.File) bool { return below(at[i], f.Path) }) {
			return nil, usagef("%s holds no files of the estate on either side", arg)
		}
	}
	return c.Below(func(file string) bool {
		return slices.ContainsFunc(at, func(path string) bool { return below(path, file) })
	}), nil
}

// diffPair finds the two states to compare.
func (p *program) diffPair(ctx context.Context, o diffOptions, args []string) (place *source.Place, old, neu source.Tree, err error) {
	switch {
	case !o.staged && !o.unstaged:
		return p.pair(ctx, args)
	case o.staged && o.unstaged:
		return nil, nil, nil, usagef("--staged and --unstaged name two comparisons; write one of them")
	case o.unstaged && len(args) > 0:
		return nil, nil, nil, usagef("--unstaged compares what is staged with the folder; leave %s out", args[0])
	case len(args) > 1:
		return nil, nil, nil, usagef("--staged takes the place of the second state; leave %s out", args[1])
	case p.at != "":
		return nil, nil, nil, usagef("--at names one commit; write it as an argument: cagenut diff --staged %s", p.at)
	}
	if len(args) > 0 {
		if _, ranged := source.ParseRange(args[0]); ranged {
			return nil, nil, nil, usagef("--staged takes the place of the second state; write one revision in place of %s", args[0])
		}
	}
	if place, err = p.locate(); err != nil {
		return nil, nil, nil, err
	}
	staged, err := place.Index(ctx)
	if err != nil {
		return nil, nil, nil, err
	}
	if o.unstaged {
		neu, err = place.Folder()
		return place, staged, neu, err
	}
	rev := "HEAD"
	if len(args) > 0 {
		rev = args[0]
	}
	old, err = place.At(ctx, rev)
	return place, old, staged, err
}

// change reads the two states that the arguments name, and compares them.
func (p *program) change(ctx context.Context, args []string) (*change.Change, error) {
	place, old, neu, err := p.pair(ctx, args)
	if err != nil {
		return nil, err
	}
	return p.changeOf(ctx, place, old, neu)
}

// changeOf reads two states, and compares them.
func (p *program) changeOf(ctx context.Context, place *source.Place, old, neu source.Tree) (*change.Change, error) {
	before, err := p.readTree(ctx, place, old)
	if err != nil {
		return nil, err
	}
	after, err := p.readTree(ctx, place, neu)
	if err != nil {
		return nil, err
	}
	return compare(before, after)
}

// changeOnly is changeOf for those who look at nothing but the difference: racks
// that neither differ nor share a feed with one that does may be left out.
func (p *program) changeOnly(ctx context.Context, place *source.Place, old, neu source.Tree) (*change.Change, error) {
	// Where the files are the same there is nothing to read.
	deltas, err := source.Differ(ctx, old, neu)
	if err != nil {
		return nil, err
	}
	if len(deltas) == 0 {
		return change.Between(&estate.Estate{}, &estate.Estate{}), nil
	}
	a, b, err := p.loadPair(ctx, place, old, neu, deltas)
	if err != nil {
		return nil, err
	}
	return compare(&reading{place: place, tree: old, estate: a.Estate, mistakes: a.Diagnostics},
		&reading{place: place, tree: neu, estate: b.Estate, mistakes: b.Diagnostics})
}

// loadPair loads two trees as far as their difference needs it.
func (p *program) loadPair(ctx context.Context, place *source.Place, old, neu source.Tree, deltas []source.Delta) (before, after lang.Loaded, err error) {
	o, end := p.loading(place, "comparing")
	before, after, err = lang.LoadPair(ctx, old, neu, deltas, o)
	end()
	if err == nil {
		p.loaded(o, old, neu)
	}
	return before, after, err
}

// pair finds the two states that the arguments name.
func (p *program) pair(ctx context.Context, args []string) (place *source.Place, old, neu source.Tree, err error) {
	if p.at != "" {
		return nil, nil, nil, usagef("--at names one commit; write the two to compare as A B or A..B")
	}
	if place, err = p.locate(); err != nil {
		return nil, nil, nil, err
	}
	old, neu, err = place.Pair(ctx, args...)
	return place, old, neu, err
}

func compare(before, after *reading) (*change.Change, error) {
	if err := before.whole(); err != nil {
		return nil, err
	}
	if err := after.whole(); err != nil {
		return nil, err
	}
	return change.Between(before.estate, after.estate), nil
}
