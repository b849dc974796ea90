package main

import (
	"context"
	"fmt"
	"path"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/quantity"
	"cagenut/lang/sheet"
)

const importLong = `Turn a spreadsheet of what is in which rack into files of the estate: one for
each rack, one for equipment that the catalogue has not, one for rows that are
not declared. The first row of the sheet holds headings. These columns are
understood, in any order; other columns are named and left out:

%s
Nothing is made up: what the sheet does not say is unknown. Nothing is
overwritten: a rack that is declared already is a mistake, and where the sheet
has mistakes all are told and no file is written.`

type importOptions struct {
	dryRun  bool
	frame   string
	into    string
	sheet   string
	columns []string
	largest bool
	fill    bool
}

func importCommand(p *program) *cobra.Command {
	var o importOptions
	var columns strings.Builder
	for _, c := range sheet.Columns {
		fmt.Fprintf(&columns, "  %-10s %s\n", c.Name, c.Doc)
	}
	cmd := &cobra.Command{
		Use:   "import FILE.csv|xlsx",
		Short: "turn a spreadsheet of racks into files of the estate",
		Long:  fmt.Sprintf(importLong, columns.String()),
		Example: `  cagenut import racks.xlsx --frame cab-42 --dry-run
  cagenut import racks.csv --column unit="Start" --column name="Asset"`,
		Args: atLeast(1, "a spreadsheet: a .csv or .xlsx file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usagef("import takes one file, not %d", len(args))
			}
			return runImport(cmd.Context(), p, o, args[0])
		},
	}
	f := cmd.Flags()
	f.BoolVar(&o.dryRun, "dry-run", false, "print the files and write none")
	f.StringVar(&o.frame, "frame", "", "frame `NAME` of racks whose rows name none")
	f.StringVar(&o.into, "into", "imported", "folder `DIR` of the new files, below the estate's root")
	f.StringVar(&o.sheet, "sheet", "", "`NAME` of the sheet in a file that has several (default: the first)")
	f.StringArrayVar(&o.columns, "column", nil, "`COLUMN=HEADING` where a heading is not understood; may be repeated")
	f.BoolVar(&o.largest, "largest-unit", false, "the unit column holds the largest unit that a thing takes, not the smallest")
	f.BoolVar(&o.fill, "fill-down", false, "an empty rack, row or frame is that of the row above")
	complete(cmd, "frame", p.completeFrames)
	complete(cmd, "column", completeColumns)
	complete(cmd, "sheet", fixed())
	return cmd
}

// completeColumns gives the columns that a sheet may have.
func completeColumns(_ *cobra.Command, _ []string, word string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for _, c := range sheet.Columns {
		if strings.HasPrefix(c.Name+"=", word) {
			out = append(out, c.Name+"=\t"+c.Doc)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
}

func runImport(ctx context.Context, p *program, o importOptions, file string) error {
	if p.at != "" {
		return usagef("import writes to the folder; leave --at out")
	}
	columns, err := columnFlags(o.columns)
	if err != nil {
		return err
	}
	into := path.Clean(filepath.ToSlash(o.into))
	if path.IsAbs(into) || filepath.IsAbs(o.into) || into == ".." || strings.HasPrefix(into, "../") {
		return usagef("--into %q: name a folder below the estate's root", o.into)
	}
	r, err := p.read(ctx)
	if err != nil {
		return err
	}
	if err := r.whole(); err != nil {
		return err
	}
	data, err := p.readNamed(file)
	if err != nil {
		return err
	}
	table, err := sheet.Read(filepath.Base(file), data, o.sheet)
	if err != nil {
		return usageError{err.Error()}
	}
	draft, problems := sheet.Make(table, r.estate, sheet.Options{
		Into: into, Frame: o.frame, Columns: columns, Largest: o.largest, FillDown: o.fill,
	})
	if len(problems) > 0 {
		for _, problem := range problems {
			fmt.Fprintf(p.stdout, "%s: %s\n", file, problem)
		}
		p.notef("%s; no file is written", quantity.Count(len(problems), "mistake"))
		return errReported
	}
	for _, note := range draft.Notes {
		p.notef("%s", note)
	}
	var paths []string
	texts := map[string]string{}
	for _, f := range draft.Files {
		paths = append(paths, f.Path)
		texts[f.Path] = f.Text
	}
	if o.dryRun {
		for i, at := range paths {
			if i > 0 {
				fmt.Fprintln(p.stdout)
			}
			fmt.Fprintf(p.stdout, "# %s\n%s", r.path(at), texts[at])
		}
	} else {
		if err := writeNew(r.place.Root, paths, texts); err != nil {
			return err
		}
		for _, at := range paths {
			fmt.Fprintln(p.stdout, r.path(at))
		}
	}
	p.notef("%s with %s; %s new in the catalogue", quantity.Count(draft.Racks, "rack"), quantity.Count(draft.Mounts, "mount"), quantity.Count(len(draft.New), "kind"))
	return nil
}

// columnFlags reads COLUMN=HEADING.
func columnFlags(flags []string) (map[string]string, error) {
	columns := map[string]string{}
	for _, s := range flags {
		name, heading, ok := strings.Cut(s, "=")
		if !ok || heading == "" {
			return nil, usagef("--column %q: write COLUMN=HEADING, such as unit=Start", s)
		}
		known := make([]string, len(sheet.Columns))
		found := false
		for i, c := range sheet.Columns {
			known[i] = c.Name
			found = found || c.Name == name
		}
		if !found {
			return nil, usagef("--column %q: there is no column %q; write one of %s", s, name, strings.Join(known, ", "))
		}
		columns[name] = heading
	}
	return columns, nil
}
