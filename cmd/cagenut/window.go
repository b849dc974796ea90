package main

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint"
	"cagenut/lint/policy"
	"cagenut/lint/rules"
	"cagenut/lint/sequence"
	"cagenut/render/runsheet"
)

const windowLong = `Plan the night in which a change is carried out: an ordered run sheet in which
space is free before it is taken, what changes places is parked, members of a
group are never down together, and every state between is judged like a layout.

  cagenut window A..B     from commit A to commit B
  cagenut window A        from commit A to the folder
  cagenut window A...B    from where B left A, to B

The sheet says who, with what, for how long, and what undoes each step. It
certifies nothing: electrical work, lifting and structure are for competent
people under the site's own rules.

The exit status is 1 where something stands against the plan: then mend the
change, or accept the finding by a waiver with a reason and an end.`

type windowOptions struct {
	format   string
	record   string
	reason   string
	recorded bool
	from     string
	done     string
	resting  int
	branch   string
	bare     bool
	failOn   string
}

var windowFormats = []string{"markdown", "html", "json", "csv", "ics"}

func windowCommand(p *program) *cobra.Command {
	var o windowOptions
	cmd := &cobra.Command{
		Use:   "window [A [B] | A..B | A...B]",
		Short: "plan the night: steps, checked and timed, and the way back",
		Long:  windowLong,
		Args:  atMost(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runWindow(cmd.Context(), p, o, args)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&o.format, "format", "markdown", "`FORMAT` of the output: "+strings.Join(windowFormats, ", "))
	flags.StringVar(&o.record, "record", "", "`NUMBER` of the change record, for the front page")
	flags.StringVar(&o.reason, "reason", "", "`TEXT` that says why the change is made, for the front page")
	flags.StringVar(&o.from, "from", "", "first `DATE` on which a window may be used (default: today)")
	flags.StringVar(&o.done, "done", "", "half-done sheet `FILE`: plan the way forward and the way back from its ticked steps")
	flags.IntVar(&o.resting, "resting", 0, "write the estate as it rests after each of the first `N` windows, one commit each, to a new branch")
	flags.StringVar(&o.branch, "branch", "resting", "`NAME` of the branch that --resting makes")
	flags.BoolVar(&o.recorded, "as-found", false, "nothing is moved by hand: the record follows what was found")
	flags.BoolVar(&o.bare, "no-elevations", false, "draw no racks")
	flags.StringVar(&o.failOn, "fail-on", "error", "least `LEVEL` that gives exit status 1: error, warning or note")
	return cmd
}

func runWindow(ctx context.Context, p *program, o windowOptions, args []string) error {
	if !slices.Contains(windowFormats, o.format) {
		return usagef("--format %q: write one of %s", o.format, strings.Join(windowFormats, ", "))
	}
	failOn, err := lint.ParseLevel(o.failOn)
	if err != nil {
		return usagef("--fail-on: %v", err)
	}
	c, err := p.change(ctx, args)
	if err != nil {
		return err
	}
	place, base, _, err := p.pair(ctx, args)
	if err != nil {
		return err
	}
	plan, err := p.plan(ctx, place, base, c, o)
	if err != nil {
		return err
	}
	if o.resting != 0 && plan.Failed(failOn) {
		return errors.New("nothing is written: something stands against the plan; see it without --resting")
	}
	if o.resting != 0 {
		return p.writeResting(ctx, plan, o.branch, o.resting, args)
	}
	look := runsheet.Options{ASCII: p.plain(), Inches: c.New.Lengths == "in", Record: o.record, Reason: o.reason, Bare: o.bare}
	if look.Before, look.After, err = p.drawings(ctx, args); err != nil {
		return err
	}
	if look.Purpose, err = p.subjects(ctx, place, args); err != nil {
		return err
	}
	if err := printPlan(p, plan, o.format, look); err != nil {
		return err
	}
	if plan.Failed(failOn) {
		return errReported
	}
	return nil
}

// drawings names the two states that a plan leads between, as a sheet's front
// page has them: the revision as it was written and the commit that it is.
func (p *program) drawings(ctx context.Context, args []string) (before, after string, err error) {
	place, err := p.locate()
	if err != nil {
		return "", "", err
	}
	from, to, err := place.Pair(ctx, args...)
	if err != nil {
		return "", "", err
	}
	name := func(t source.Tree) string {
		c := source.CommitOf(t)
		switch {
		case c == nil:
			return t.Name()
		case strings.HasPrefix(c.Hash.String(), t.Name()):
			return "commit " + c.Hash.Short()
		}
		return t.Name() + ", commit " + c.Hash.Short()
	}
	return name(from), name(to), nil
}

// subjects gives the subjects of the commits between the two states, the
// youngest first: none where the new state is the folder, or where the clone
// lacks what lies between.
func (p *program) subjects(ctx context.Context, place *source.Place, args []string) ([]string, error) {
	from, to, err := place.Pair(ctx, args...)
	if err != nil {
		return nil, err
	}
	a, b := source.CommitOf(from), source.CommitOf(to)
	if a == nil || b == nil {
		return nil, nil
	}
	commits, err := place.History(ctx, source.Walk{From: b.Hash, Until: a.Hash})
	if err != nil {
		return nil, ctx.Err() // the sheet is none the worse without
	}
	var out []string
	for _, v := range commits {
		out = append(out, v.Subject)
	}
	return out, nil
}

// printPlan prints a plan in a format.
func printPlan(p *program, plan *sequence.Plan, format string, look runsheet.Options) error {
	switch format {
	case "html":
		return runsheet.HTML(p.stdout, plan, look)
	case "json":
		return runsheet.JSON(p.stdout, plan, look)
	case "csv":
		return runsheet.CSV(p.stdout, plan, look)
	case "ics":
		day, err := p.day()
		if err != nil {
			return err
		}
		return runsheet.Calendar(p.stdout, plan, look, day.Time())
	}
	return runsheet.Markdown(p.stdout, plan, look)
}

// plan plans a change from a base by the built-in rules.
func (p *program) plan(ctx context.Context, place *source.Place, base source.Tree, c *change.Change, o windowOptions) (*sequence.Plan, error) {
	today, err := p.day()
	if err != nil {
		return nil, err
	}
	from := today
	if o.from != "" {
		if from, err = estate.ParseDate(o.from); err != nil {
			return nil, usagef("--from: %v", err)
		}
	}
	var done []int
	if o.done != "" {
		if done, err = p.ticks(o.done); err != nil {
			return nil, err
		}
	}
	confirmed, err := p.confirmations(ctx, place, base, c)
	if err != nil {
		return nil, err
	}
	return sequence.Make(ctx, c, sequence.Options{
		Done: done, Confirmations: confirmed,
		Rules: rules.All(), Today: today, Recorded: o.recorded, Record: o.record, Reason: o.reason, From: from.Time(),
		Check: policy.Steps(ctx, c.New, today),
	})
}

// ticks reads which steps of a half-done sheet are ticked; "-" is standard
// input.
func (p *program) ticks(name string) ([]int, error) {
	if name == "-" {
		return sequence.ReadTicks(p.stdin, "the sheet")
	}
	sheet, err := p.readNamed(name)
	if err != nil {
		return nil, err
	}
	return sequence.ReadTicks(bytes.NewReader(sheet), name)
}
