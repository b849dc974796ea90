package main

import (
	"context"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/estate"
	"cagenut/lang/source"
	render "cagenut/render/history"
	"cagenut/render/style"
)

const capacityLong = `Print how many units of each rack are taken, held by reserves and free, with
mass and heat of what is mounted. WHAT confines it to racks, rows or rooms by
name.

With --since print the same for the racks together, commit by commit from REV
on, with a bar for the share of units that is taken. The commits are those of
the branch itself; --full takes in the branches that were merged.`

type capacityOptions struct {
	since  string
	full   bool
	format string
}

var capacityFormats = []string{"text", "json"}

func capacityCommand(p *program) *cobra.Command {
	var o capacityOptions
	cmd := &cobra.Command{
		Use:   "capacity [WHAT..]",
		Short: "print what is taken and what is left, now or commit by commit",
		Long:  capacityLong,
		Example: `  cagenut capacity
  cagenut capacity room.hq --since v1
  cagenut capacity hq-a hq-b --format json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCapacity(cmd.Context(), p, o, args)
		},
	}
	cmd.Flags().StringVar(&o.since, "since", "", "print the sums commit by commit from `REV` on")
	cmd.Flags().BoolVar(&o.full, "full", false, "take in the branches that were merged")
	cmd.Flags().StringVar(&o.format, "format", "text", "`FORMAT` of the output: "+strings.Join(capacityFormats, ", "))
	return cmd
}

func runCapacity(ctx context.Context, p *program, o capacityOptions, args []string) error {
	if !slices.Contains(capacityFormats, o.format) {
		return usagef("--format %q: write one of %s", o.format, strings.Join(capacityFormats, ", "))
	}
	r, err := p.read(ctx)
	if err != nil {
		return err
	}
	wanted := wantedRacks(args)
	racks := sortedRacks(r.estate, wanted)
	if len(racks) == 0 && o.since == "" {
		if len(args) == 1 {
			return r.noRack(trimRef(args[0], "rack."))
		}
		if len(args) == 0 {
			return usagef("there is no rack in %s", r.tree.Name())
		}
		return usagef("there is no rack of these names in %s", r.tree.Name())
	}
	look := render.Options{ASCII: p.plain(), Width: p.page(p.stdout)}
	if o.since != "" {
		return p.capacitySince(ctx, r.place, o, wanted, look)
	}
	if o.format == "json" {
		return render.CapacitiesJSON(p.stdout, racks)
	}
	_, err = io.WriteString(p.stdout, style.Page(render.Capacities(racks, look), style.New(p.coloured(p.stdout))))
	return err
}

func (p *program) capacitySince(ctx context.Context, place *source.Place, o capacityOptions, wanted func(*estate.Rack) bool, look render.Options) error {
	since, err := place.At(ctx, o.since)
	if err != nil {
		return err
	}
	until, err := place.At(ctx, orElse(p.at, "HEAD"))
	if err != nil {
		return err
	}
	f, end := p.follower(place, o.full)
	points, err := f.Timeline(ctx, source.CommitOf(since).Hash, source.CommitOf(until).Hash, wanted)
	end()
	if err != nil {
		return err
	}
	if o.format == "json" {
		return render.TimelineJSON(p.stdout, points)
	}
	_, err = io.WriteString(p.stdout, style.Page(render.Timeline(points, look), style.New(p.coloured(p.stdout))))
	return err
}
