package main

import (
	"context"
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/estate"
	"cagenut/lang/near"
	"cagenut/render/load"
	"cagenut/render/style"
)

const loadLong = `Print the sheet that an engineer asks for: what racks draw on each feed in
normal state and with others lost, in watts and volt-amperes, what leaks to
earth, what UPS carry and how long they last at it, their heat and the air it
needs, their mass, centre of mass and tilt, what they press on the floor, and
how heavy things are lifted; each figure with its formula and what it rests on.

Without a name all racks are shown. A room is named as room.NAME. Where a figure
is missing the sheet says which, and assumes nothing about structure or wiring.

Planning aid: the sheet screens and gives no verdict. Electrical work, floors,
anchors and lifting are for licensed or competent people under the local codes.`

var loadFormats = []string{"text", "json", "csv", "markdown"}

func loadCommand(p *program) *cobra.Command {
	format := "text"
	cmd := &cobra.Command{
		Use:   "load [RACK.. | ROOM..]",
		Short: "print what racks draw, give off, weigh and press with",
		Long:  loadLong,
		Example: `  cagenut load hq-a
  cagenut load room.hq --format markdown
  cagenut load --format csv > loads.csv`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runLoad(cmd.Context(), p, format, args)
		},
	}
	cmd.Flags().StringVar(&format, "format", format, "`FORMAT` of the sheet: "+strings.Join(loadFormats, ", "))
	return cmd
}

func runLoad(ctx context.Context, p *program, format string, names []string) error {
	if !slices.Contains(loadFormats, format) {
		return usagef("--format %q: write one of %s", format, strings.Join(loadFormats, ", "))
	}
	r, err := p.read(ctx)
	if err != nil {
		return err
	}
	if err := r.whole(); err != nil {
		return err
	}
	sheets, err := r.sheets(names)
	if err != nil {
		return err
	}
	if len(sheets) == 0 {
		return usagef("%s has no racks to reckon", r.tree.Name())
	}
	if p.plain() && format != "json" {
		sheets = load.ASCII(sheets)
	}
	switch format {
	case "json":
		return load.JSON(p.stdout, sheets)
	case "csv":
		return load.CSV(p.stdout, sheets)
	case "markdown":
		return load.Markdown(p.stdout, sheets)
	}
	look := load.Options{ASCII: p.plain(), Width: p.page(p.stdout)}
	_, err = io.WriteString(p.stdout, style.Page(load.Text(sheets, look), style.New(p.coloured(p.stdout))))
	return err
}

// sheets works out the sheets of racks and rooms in the order named, or of all
// racks.
func (r *reading) sheets(names []string) ([]load.Sheet, error) {
	supply := r.estate.Supply()
	var out []load.Sheet
	var errs []error
	if len(names) == 0 {
		racks, err := r.racks(nil)
		if err != nil {
			return nil, err
		}
		for _, rack := range racks {
			out = append(out, load.Rack(r.estate, supply, rack))
		}
		return out, nil
	}
	for _, name := range names {
		if rack := r.estate.Rack(trimRef(name, "rack.")); rack != nil && !strings.HasPrefix(name, "room.") {
			out = append(out, load.Rack(r.estate, supply, rack))
			continue
		}
		if room := r.room(trimRef(name, "room.")); room != nil && !strings.HasPrefix(name, "rack.") {
			out = append(out, load.Room(r.estate, supply, room))
			continue
		}
		errs = append(errs, r.noRackOrRoom(name))
	}
	return out, errors.Join(errs...)
}

func (r *reading) room(name string) *estate.Room {
	for _, room := range r.estate.Rooms {
		if room.Name == name {
			return room
		}
	}
	return nil
}

func (r *reading) noRackOrRoom(name string) error {
	var known []string
	for _, rack := range r.estate.Racks {
		known = append(known, rack.Name)
	}
	for _, room := range r.estate.Rooms {
		known = append(known, "room."+room.Name)
	}
	if meant := near.Name(name, known); meant != "" {
		return usagef("there is no rack or room %q in %s; did you mean %s?", name, r.tree.Name(), meant)
	}
	return usagef("there is no rack or room %q in %s", name, r.tree.Name())
}
