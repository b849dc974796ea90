package main

import (
	"context"
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/history"
	"cagenut/lang/near"
	"cagenut/lang/source"
	render "cagenut/render/history"
	"cagenut/render/style"
)

const historyLong = `Print who put what where, and when: the commits that changed a rack, the
youngest first, each with what it did. A unit number follows one unit, a label
follows one mount, through moves between racks and files and through new names.

With --by-unit print the rack unit by unit, each with the commit that last
changed it.

Where a rack of the same name was there before and was taken out, its history
follows, with the time in which there was none.

The history is that of the branch itself, so a merge brings at once what its
branch did; --full follows the branches that were merged as well.`

type historyOptions struct {
	byUnit bool
	full   bool
	format string
}

var historyFormats = []string{"text", "json"}

func historyCommand(p *program) *cobra.Command {
	var o historyOptions
	cmd := &cobra.Command{
		Use:   "history RACK [UNIT|MOUNT]",
		Short: "print who put what where in a rack, commit by commit",
		Long:  historyLong,
		Example: `  cagenut history hq-a
  cagenut history hq-a 38
  cagenut history hq-a core-1 --full
  cagenut history hq-a --by-unit`,
		Args: cobra.MatchAll(atLeast(1, "the name of a rack"), atMost(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runHistory(cmd.Context(), p, o, args)
		},
	}
	cmd.Flags().BoolVar(&o.byUnit, "by-unit", false, "print each unit with the commit that last changed it")
	cmd.Flags().BoolVar(&o.full, "full", false, "follow the branches that were merged as well")
	cmd.Flags().StringVar(&o.format, "format", "text", "`FORMAT` of the output: "+strings.Join(historyFormats, ", "))
	return cmd
}

func runHistory(ctx context.Context, p *program, o historyOptions, args []string) error {
	if !slices.Contains(historyFormats, o.format) {
		return usagef("--format %q: write one of %s", o.format, strings.Join(historyFormats, ", "))
	}
	target := history.Target{Rack: trimRef(args[0], "rack.")}
	if rack, mount, ok := strings.Cut(target.Rack, "."); ok && len(args) == 1 {
		target.Rack, target.Mount = rack, mount // rack.hq-a.core-1
	}
	if len(args) == 2 {
		if o.byUnit {
			return usagef("--by-unit prints all units of %s; leave %s out", args[0], args[1])
		}
		if n, ok := unitNumber(args[1]); ok {
			target.Unit = &n
		} else {
			target.Mount = strings.TrimPrefix(strings.TrimPrefix(args[1], "rack."), target.Rack+".")
		}
	}
	place, err := p.locate()
	if err != nil {
		return err
	}
	if place.Repo == nil {
		_, err := place.At(ctx, "HEAD") // says why there are no commits
		return err
	}
	from, err := place.Repo.Resolve(ctx, orElse(p.at, "HEAD"))
	if err != nil {
		return err
	}
	f, end := p.follower(place, o.full)
	events, err := f.Follow(ctx, from, target)
	end()
	if unknown := (*history.UnknownError)(nil); errors.As(err, &unknown) {
		word, older := unknown.Target.Rack, ""
		if unknown.Target.Mount != "" {
			word, older = unknown.Target.Mount, " An older label, or what has gone, is found with --at REV"
		}
		if meant := near.Name(word, unknown.Known); meant != "" {
			return usagef("%v in %s; did you mean %s?%s", err, orElse(p.at, "HEAD"), meant, older)
		}
		if unknown.Frame != nil {
			return usageError{err.Error()}
		}
		return usagef("%v in %s; name a commit that has it with --at REV", err, orElse(p.at, "HEAD"))
	}
	if err != nil {
		return err
	}
	if o.byUnit {
		return p.printUnits(ctx, place, from, target.Rack, events, o)
	}
	if o.format == "json" {
		return render.EventsJSON(p.stdout, events)
	}
	look := render.Options{ASCII: p.plain(), Width: p.page(p.stdout)}
	if len(events) > 0 {
		look.Inches = events[0].Change.New.Lengths == "in"
	}
	lines := render.Events(events, look)
	if len(events) == 0 {
		lines = []style.Line{{{Text: "no commit changed it"}}}
	}
	_, err = io.WriteString(p.stdout, style.Page(lines, style.New(p.coloured(p.stdout))))
	return err
}

// follower makes what goes through the commits of a place. What was learnt on
// the way is kept by the function that comes with it.
func (p *program) follower(place *source.Place, full bool) (f *history.Follower, end func()) {
	f = &history.Follower{
		Place: place, Full: full,
		Load: func(ctx context.Context, t source.Tree) (*estate.Estate, error) {
			o, ended := p.loading(place, "reading "+t.Name())
			defer ended()
			e, _, err := lang.Load(ctx, t, o)
			return e, err
		},
	}
	if place.Store() != "" {
		f.Outline = func(ctx context.Context, t source.Tree) (history.Outline, error) {
			o, ended := p.loading(place, "reading "+t.Name())
			defer ended()
			return lang.OutlineOf(ctx, t, o)
		}
	}
	return f, func() {
		o, _ := p.loading(place, "")
		p.loaded(o)
	}
}

func (p *program) printUnits(ctx context.Context, place *source.Place, from source.Hash, name string, events []history.Event, o historyOptions) error {
	tree, err := place.Commit(ctx, from, orElse(p.at, "HEAD"))
	if err != nil {
		return err
	}
	r, err := p.readTree(ctx, place, tree)
	if err != nil {
		return err
	}
	rack := r.estate.Rack(name)
	if rack == nil {
		return r.noRack(name)
	}
	if rack.Frame == nil {
		return usagef("rack %q has no frame that is declared, so its units cannot be counted", name)
	}
	units := history.ByUnit(rack, events)
	if o.format == "json" {
		return render.UnitsJSON(p.stdout, name, units)
	}
	lines := render.Units(units, rack.Frame.Counted != estate.CountedDown, render.Options{ASCII: p.plain(), Width: p.page(p.stdout)})
	_, err = io.WriteString(p.stdout, style.Page(lines, style.New(p.coloured(p.stdout))))
	return err
}

// unitNumber reads a unit as people write it: 38, U38, 40.5.
func unitNumber(s string) (estate.UnitNumber, bool) {
	s = strings.TrimPrefix(strings.ToUpper(s), "U")
	whole, part, _ := strings.Cut(s, ".")
	n := 0
	if whole == "" || len(whole) > 4 || len(part) > 3 {
		return 0, false
	}
	for _, c := range whole + part + strings.Repeat("0", 3-len(part)) {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return estate.UnitNumber(n), true
}
