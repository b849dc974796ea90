package main

import (
	"context"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/estate"
	"cagenut/render/elevation"
	"cagenut/render/holes"
	"cagenut/render/style"
)

const elevationLong = `Draw racks as seen from the front, from behind or, as a section, from the side.
An elevation shows which way units are counted, what is held and what is blank,
and gear on the other face; the section shows depth against posts and doors.

Without a RACK all racks are drawn. As SVG or PNG a picture is to scale and
holds one rack: with several, --to writes a file for each. As HTML one page
holds all of them, with a list of what is mounted; --sheet a4 makes sheets to
print and to hang in the doors.

With --holes it lists instead which holes of the posts each mount uses, by unit
and in millimetres, for whoever sets the cage nuts.`

type elevationOptions struct {
	face   string
	format string
	sheet  string
	to     string
	scale  float64
	holes  bool
}

func elevationCommand(p *program) *cobra.Command {
	var o elevationOptions
	cmd := &cobra.Command{
		Use:   "elevation [RACK..]",
		Short: "draw racks from the front, from behind or from the side",
		Long:  elevationLong,
		Example: `  cagenut elevation hq-a
  cagenut elevation hq-a --face side
  cagenut elevation hq-a hq-b --at HEAD~3
  cagenut elevation --format svg --to drawings
  cagenut elevation hq-a --sheet a4 > door.html`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runElevation(cmd.Context(), p, o, args)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&o.face, "face", "", "`FACE` to look at: front, rear or side (default: front; in HTML also rear where something is to be seen there)")
	flags.StringVar(&o.format, "format", "text", "`FORMAT` of the drawing: "+strings.Join(elevationFormats, ", "))
	flags.StringVar(&o.sheet, "sheet", "", "door sheets on `PAPER`: a4")
	flags.StringVar(&o.to, "to", "", "folder `DIR` to write a file for each rack to")
	flags.Float64Var(&o.scale, "scale", 1, "`PIXELS` of a PNG for each millimetre of the rack")
	flags.BoolVar(&o.holes, "holes", false, "list which holes of the posts each mount uses, in place of a drawing")
	return cmd
}

func runElevation(ctx context.Context, p *program, o elevationOptions, names []string) error {
	if err := o.check(); err != nil {
		return err
	}
	view := elevation.NoView
	if o.face != "" {
		v, err := elevation.ParseView(o.face)
		if err != nil {
			return usagef("--face: %v", err)
		}
		view = v
	}
	r, err := p.read(ctx)
	if err != nil {
		return err
	}
	if err := r.whole(); err != nil {
		return err
	}
	racks, err := r.racks(names)
	if err != nil {
		return err
	}
	if len(racks) == 0 {
		return usagef("%s has no racks to draw", r.tree.Name())
	}
	if o.holes {
		return p.printHoles(racks)
	}
	if o.format != "text" {
		return p.picture(o, r, racks, view)
	}
	if view == elevation.NoView {
		view = elevation.Front
	}
	look := elevation.Options{View: view, ASCII: p.plain(), Width: p.page(p.stdout), Inches: r.estate.Lengths == "in"}
	colours := style.New(p.coloured(p.stdout))
	for _, rack := range racks {
		if _, err := io.WriteString(p.stdout, style.Page(elevation.Draw(rack, look), colours)+"\n"); err != nil {
			return err
		}
	}
	_, err = io.WriteString(p.stdout, style.Page(elevation.Cautions(look), colours))
	return err
}

// printHoles prints the holes that the mounts of racks use.
func (p *program) printHoles(racks []*estate.Rack) error {
	look := holes.Options{ASCII: p.plain(), Width: p.page(p.stdout)}
	colours := style.New(p.coloured(p.stdout))
	for i, rack := range racks {
		lines := holes.Text(rack, look)
		if i > 0 {
			lines = append([]style.Line{nil}, lines...)
		}
		if _, err := io.WriteString(p.stdout, style.Page(lines, colours)); err != nil {
			return err
		}
	}
	return nil
}

// page gives how wide a drawing for the stream may be: the terminal, but no
// more than a page of 80 columns, which is also what a file gets.
func (p *program) page(w io.Writer) int {
	if width := p.width(w); width > 0 && width < 80 {
		return width
	}
	return 80
}
