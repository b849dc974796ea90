package main

import (
	"context"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/parts"
	"cagenut/lang/system"
	renderparts "cagenut/render/parts"
	"cagenut/render/style"
)

const partsLong = `List the hardware that racks are put together with: screws, cage nuts and
washers by thread, rail kits, adapters, shelves, trays, brackets, blanks, and
the supply cords that are declared; or, for a change, what must be got and what
is set free.

  cagenut parts           all racks
  cagenut parts hq-a      these racks
  cagenut parts A..B      what the change from A to B needs; also A...B

What the estate does not say is assumed by common practice, and the list says
what was assumed. Spares are not counted.`

type partsOptions struct {
	format string
	thread string
}

var partsFormats = []string{"text", "csv", "json"}

func partsCommand(p *program) *cobra.Command {
	var o partsOptions
	cmd := &cobra.Command{
		Use:   "parts [RACK.. | A..B]",
		Short: "list the mounting hardware of racks, or of a change",
		Long:  partsLong,
		Example: `  cagenut parts hq-a hq-b
  cagenut parts main..proposal --format csv`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runParts(cmd.Context(), p, o, args)
		},
	}
	cmd.Flags().StringVar(&o.format, "format", "text", "`FORMAT` of the output: "+strings.Join(partsFormats, ", "))
	cmd.Flags().StringVar(&o.thread, "thread", "m6", "`THREAD` of screws in posts that are not tapped: "+strings.Join(threadNames(), ", "))
	return cmd
}

func threadNames() []string {
	var names []string
	for _, t := range system.Threads() {
		names = append(names, t.Name)
	}
	return names
}

func runParts(ctx context.Context, p *program, o partsOptions, args []string) error {
	if !slices.Contains(partsFormats, o.format) {
		return usagef("--format %q: write one of %s", o.format, strings.Join(partsFormats, ", "))
	}
	if !slices.Contains(threadNames(), o.thread) {
		return usagef("--thread %q: write one of %s", o.thread, strings.Join(threadNames(), ", "))
	}
	count := parts.Options{Thread: o.thread}
	look := renderparts.Options{ASCII: p.plain(), Width: p.page(p.stdout)}
	if len(args) == 1 && strings.Contains(args[0], "..") {
		c, err := p.change(ctx, args)
		if err != nil {
			return err
		}
		before, after := touched(c)
		old, neu := parts.Of(before, count), parts.Of(after, count)
		doc := renderparts.Changed(old, neu, rackNames(append(slices.Clone(before), after...)))
		return p.printParts(o.format, doc, renderparts.Change(old, neu, args[0], look))
	}
	r, err := p.read(ctx)
	if err != nil {
		return err
	}
	if err := r.whole(); err != nil {
		return err
	}
	racks, err := r.racks(args)
	if err != nil {
		return err
	}
	if len(racks) == 0 {
		return usagef("%s has no racks to list the parts of", r.tree.Name())
	}
	l := parts.Of(racks, count)
	names := rackNames(racks)
	return p.printParts(o.format, renderparts.Listed(l, names), renderparts.Text(l, strings.Join(names, ", "), look))
}

func (p *program) printParts(format string, doc *renderparts.Document, text []style.Line) error {
	switch format {
	case "json":
		return doc.JSON(p.stdout)
	case "csv":
		return doc.CSV(p.stdout)
	}
	_, err := io.WriteString(p.stdout, style.Page(text, style.New(p.coloured(p.stdout))))
	return err
}

// touched gives the racks in which a change does anything, before and after it,
// by name. A changed frame or catalogue entry touches every rack.
func touched(c *change.Change) (before, after []*estate.Rack) {
	all := len(c.Things) > 0
	names := map[string]bool{}
	note := func(r *estate.Rack) {
		if r != nil {
			names[r.Name] = true
		}
	}
	for _, m := range c.Mounts {
		for _, mount := range []*estate.Mount{m.Old, m.New} {
			if mount != nil {
				note(mount.Rack)
			}
		}
	}
	for _, b := range c.Blanks {
		note(b.Blank().Rack)
	}
	for _, r := range c.Racks {
		note(r.Old)
		note(r.New)
	}
	pick := func(racks []*estate.Rack) []*estate.Rack {
		var out []*estate.Rack
		for _, r := range racks {
			if all || names[r.Name] {
				out = append(out, r)
			}
		}
		return out
	}
	return pick(c.Old.Racks), pick(c.New.Racks)
}

// rackNames gives the names of racks, each once, sorted as people count.
func rackNames(racks []*estate.Rack) []string {
	var names []string
	for _, r := range racks {
		if !slices.Contains(names, r.Name) {
			names = append(names, r.Name)
		}
	}
	slices.SortFunc(names, estate.CompareNames)
	return names
}
