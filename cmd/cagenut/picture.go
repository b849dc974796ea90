package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/google/renameio/v2/maybe"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/render/elevation"
	"cagenut/render/html"
	"cagenut/render/style"
	"cagenut/render/svg"
)

var elevationFormats = []string{"text", "svg", "png", "html"}

// check refuses options that do not go together, and fills in what one means
// for another.
func (o *elevationOptions) check() error {
	if !slices.Contains(elevationFormats, o.format) {
		return usagef("--format %q: write one of %s", o.format, strings.Join(elevationFormats, ", "))
	}
	switch o.sheet {
	case "":
	case "a4":
		if o.format != "text" && o.format != "html" {
			return usagef("--sheet a4 makes HTML, not %s; leave --format out", o.format)
		}
		o.format = "html"
	default:
		return usagef("--sheet %q: write a4", o.sheet)
	}
	if o.holes && (o.format != "text" || o.face != "") {
		return usagef("--holes lists both faces as text; leave --face, --format and --sheet out")
	}
	if o.to != "" && o.format != "svg" && o.format != "png" {
		return usagef("--to writes a file for each rack as SVG or PNG; add --format svg, or redirect the output")
	}
	if o.scale <= 0 {
		return usagef("--scale %v: write a number of pixels above 0", o.scale)
	}
	return nil
}

// picture prints racks in a form that is not text.
func (p *program) picture(o elevationOptions, r *reading, racks []*estate.Rack, view elevation.View) error {
	inches := r.estate.Lengths == "in"
	if o.format == "html" {
		page := &html.Elevations{
			Title: "Elevations of " + style.Name(r.estate.Name), Read: r.tree.Name(), Racks: racks, View: view, Inches: inches,
		}
		if o.sheet != "" {
			page.Title = "Door sheets of " + style.Name(r.estate.Name)
			return page.Sheets(p.stdout)
		}
		return page.Print(p.stdout)
	}
	if view == elevation.NoView {
		view = elevation.Front
	}
	look := svg.Options{View: view, Inches: inches}
	print := func(w io.Writer, rack *estate.Rack) error {
		d, err := svg.Elevation(rack, look)
		if err != nil {
			return err
		}
		if o.format == "png" {
			return d.PNG(w, o.scale)
		}
		return d.SVG(w)
	}
	if o.to != "" {
		return p.pictureFiles(o, racks, view, print)
	}
	if len(racks) > 1 {
		return usagef("%s holds one rack, not %d; name one, or write a file for each with --to DIR", strings.ToUpper(o.format), len(racks))
	}
	if o.format == "png" && p.width(p.stdout) > 0 {
		return usagef("a terminal shows no PNG; redirect the output to a file, or add --to DIR")
	}
	return print(p.stdout, racks[0])
}

// pictureFiles writes a file for each rack, whole or not at all.
func (p *program) pictureFiles(o elevationOptions, racks []*estate.Rack, view elevation.View, print func(io.Writer, *estate.Rack) error) error {
	dir := o.to
	if !filepath.IsAbs(dir) {
		dir = filepath.Join(p.dir, dir)
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	side := map[elevation.View]string{elevation.Front: "front", elevation.Rear: "rear", elevation.Side: "side"}[view]
	for _, rack := range racks {
		var out bytes.Buffer
		if err := print(&out, rack); err != nil {
			return err
		}
		name := fmt.Sprintf("%s-%s.%s", rack.Name, side, o.format)
		if err := maybe.WriteFile(filepath.Join(dir, name), out.Bytes(), 0o666); err != nil {
			return err
		}
	}
	p.notef("wrote %s to %s", quantity.Count(len(racks), "drawing"), o.to)
	return nil
}
