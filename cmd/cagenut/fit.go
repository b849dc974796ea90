package main

import (
	"context"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/estate"
	"cagenut/lang/near"
	"cagenut/lint/candidate"
	"cagenut/render/candidates"
	"cagenut/render/style"
)

const fitLong = `Say where a piece of equipment of the catalogue could go: in each rack the best
run of free units, judged by the rules that judge what is mounted, feeds in
their lost state included; and for each rack that cannot take it the reason that
decides.

Heavy things are offered the lowest place, light ones the smallest gap. Blanks
count as free, and are named. WHAT confines the search to racks, rows or rooms
by name.

Exit statuses: 0 it could go somewhere, 1 nowhere.`

type fitOptions struct {
	format string
	face   string
}

var fitFormats = []string{"text", "json"}

func fitCommand(p *program) *cobra.Command {
	var o fitOptions
	cmd := &cobra.Command{
		Use:   "fit EQUIPMENT [WHAT..]",
		Short: "say where a piece of equipment could go, and why not elsewhere",
		Long:  fitLong,
		Example: `  cagenut fit ticket-server
  cagenut fit storage-24 room.hq --format json`,
		Args: atLeast(1, "the name of an equipment"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runFit(cmd.Context(), p, o, args[0], args[1:])
		},
	}
	cmd.Flags().StringVar(&o.format, "format", "text", "`FORMAT` of the output: "+strings.Join(fitFormats, ", "))
	cmd.Flags().StringVar(&o.face, "face", "front", "the posts it shall hang on: `FACE` front or rear")
	return cmd
}

func runFit(ctx context.Context, p *program, o fitOptions, name string, what []string) error {
	if !slices.Contains(fitFormats, o.format) {
		return usagef("--format %q: write one of %s", o.format, strings.Join(fitFormats, ", "))
	}
	face := slices.Index(estate.Faces, o.face)
	if face <= 0 {
		return usagef("--face %q: write front or rear", o.face)
	}
	r, err := p.read(ctx)
	if err != nil {
		return err
	}
	if err := r.whole(); err != nil {
		return err
	}
	q, err := r.equipment(name)
	if err != nil {
		return err
	}
	racks := sortedRacks(r.estate, wantedRacks(what))
	if len(racks) == 0 {
		if len(what) == 0 {
			return usagef("there is no rack in %s", r.tree.Name())
		}
		return usagef("there is no rack of these names in %s", r.tree.Name())
	}
	book, _, err := p.ruleBook(r)
	if err != nil {
		return err
	}
	today, err := p.day()
	if err != nil {
		return err
	}
	places, refusals, err := candidate.Find(ctx, r.estate, q, candidate.Options{Rules: book, Today: today, Face: estate.Face(face), Racks: racks})
	if err != nil {
		return err
	}
	if o.format == "json" {
		err = candidates.JSON(p.stdout, q, places, refusals)
	} else {
		lines := candidates.Text(q, places, refusals, candidates.Options{Width: p.page(p.stdout), ASCII: p.plain()})
		_, err = io.WriteString(p.stdout, style.Page(lines, style.New(p.coloured(p.stdout))))
	}
	if err == nil && len(places) == 0 {
		return errReported
	}
	return err
}

// equipment gives the catalogue's entry of that name.
func (r *reading) equipment(name string) (*estate.Equipment, error) {
	want := trimRef(name, "equipment.")
	var known []string
	for _, q := range r.estate.Equipment {
		if q.Name == want {
			return q, nil
		}
		known = append(known, q.Name)
	}
	if meant := near.Name(want, known); meant != "" {
		return nil, usagef("there is no equipment %q in %s; did you mean %s?", want, r.tree.Name(), meant)
	}
	return nil, usagef("there is no equipment %q in %s", want, r.tree.Name())
}
