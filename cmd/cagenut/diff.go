package main

import (
	"context"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/change"
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

The exit status is 0 whether or not anything differs.`

type diffOptions struct {
	format string
	bare   bool
}

var diffFormats = []string{"text", "json"}

func diffCommand(p *program) *cobra.Command {
	var o diffOptions
	cmd := &cobra.Command{
		Use:   "diff [A [B] | A..B | A...B]",
		Short: "print what a change does, unit by unit",
		Long:  diffLong,
		Args:  atMost(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runDiff(cmd.Context(), p, o, args)
		},
	}
	cmd.Flags().StringVar(&o.format, "format", "text", "`FORMAT` of the output: "+strings.Join(diffFormats, ", "))
	cmd.Flags().BoolVar(&o.bare, "no-elevations", false, "list the changes and their totals only")
	return cmd
}

func runDiff(ctx context.Context, p *program, o diffOptions, args []string) error {
	if !slices.Contains(diffFormats, o.format) {
		return usagef("--format %q: write one of %s", o.format, strings.Join(diffFormats, ", "))
	}
	c, err := p.change(ctx, args)
	if err != nil {
		return err
	}
	if o.format == "json" {
		return diff.JSON(p.stdout, c)
	}
	look := diff.Options{ASCII: p.plain(), Width: p.page(p.stdout), Inches: c.New.Lengths == "in", Bare: o.bare}
	_, err = io.WriteString(p.stdout, style.Page(diff.Text(c, look), style.New(p.coloured(p.stdout))))
	return err
}

// change reads the two states that the arguments name, and compares them.
func (p *program) change(ctx context.Context, args []string) (*change.Change, error) {
	if p.at != "" {
		return nil, usagef("--at names one commit; write the two to compare as A B or A..B")
	}
	place, err := p.locate()
	if err != nil {
		return nil, err
	}
	old, neu, err := place.Pair(ctx, args...)
	if err != nil {
		return nil, err
	}
	before, err := p.readTree(ctx, place, old)
	if err != nil {
		return nil, err
	}
	if err := before.whole(); err != nil {
		return nil, err
	}
	after, err := p.readTree(ctx, place, neu)
	if err != nil {
		return nil, err
	}
	if err := after.whole(); err != nil {
		return nil, err
	}
	return change.Between(before.estate, after.estate), nil
}
