package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/google/renameio/v2/maybe"
	"github.com/spf13/cobra"

	"cagenut/lang"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
	"cagenut/lang/text"
)

const tidyLong = `Lay the files of the estate out: indents, "=" in columns, blank lines. Order,
values and comments stay as they are.

  cagenut tidy            all files
  cagenut tidy hq         files and folders
  cagenut tidy -          from stdin to stdout, for editors
  cagenut tidy --check    write nothing; name the files that are not laid out

Files in the JSON form, and what the estate's "skip" names, are left alone. So
is a file that cannot be parsed; it is named with its mistakes.

The exit status is 1 where a file cannot be parsed and, with --check, where one
is not laid out.`

type tidyOptions struct{ check bool }

func tidyCommand(p *program) *cobra.Command {
	var o tidyOptions
	cmd := &cobra.Command{
		Use:   "tidy [PATH.. | -]",
		Short: "lay the text of files out",
		Long:  tidyLong,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runTidy(cmd.Context(), p, o, args)
		},
	}
	cmd.Flags().BoolVar(&o.check, "check", false, "write nothing; name the files that are not laid out")
	return cmd
}

func runTidy(ctx context.Context, p *program, o tidyOptions, args []string) error {
	if p.at != "" {
		return usagef("tidy works on the folder; leave --at out")
	}
	if slices.Contains(args, "-") {
		if len(args) > 1 {
			return usagef("\"-\" reads stdin and stands alone")
		}
		return p.tidyStream(o)
	}
	place, err := p.locate()
	if err != nil {
		return err
	}
	r := &reading{place: place}
	if r.tree, err = place.Folder(); err != nil {
		return err
	}
	files, err := p.filesBelow(ctx, r, args)
	if err != nil {
		return err
	}
	left := source.Left(r.tree) // nothing to lay out: they are not there
	files = slices.DeleteFunc(files, func(f source.File) bool { return slices.Contains(left, f.Path) })
	var differ, broken int
	for _, f := range files {
		was, err := r.tree.Read(ctx, f)
		if err != nil {
			return fmt.Errorf("reading %s: %w", source.Quote(f.Path), err)
		}
		now, mistakes := lang.Format(f.Path, was)
		if len(mistakes) > 0 {
			broken++
			p.printMistakes(r.path(f.Path), was, mistakes)
			continue
		}
		if bytes.Equal(was, now) {
			continue
		}
		differ++
		fmt.Fprintln(p.stdout, text.Printable(r.path(f.Path)))
		if !o.check {
			if err := replace(filepath.Join(place.Root, filepath.FromSlash(f.Path)), now); err != nil {
				return fmt.Errorf("writing %s: %w", source.Quote(f.Path), err)
			}
		}
	}
	switch {
	case o.check:
		p.notef("%d of %s not laid out", differ, quantity.Count(len(files), "file"))
	default:
		p.notef("laid out %d of %s", differ, quantity.Count(len(files), "file"))
	}
	if broken > 0 || o.check && differ > 0 {
		return errReported
	}
	return nil
}

// filesBelow gives the files of the estate at or below the paths, or all files
// where none is given. A path that holds none is a mistake of the call.
func (p *program) filesBelow(ctx context.Context, r *reading, paths []string) ([]source.File, error) {
	all, err := lang.Files(ctx, r.tree)
	if err != nil || len(paths) == 0 {
		return all, err
	}
	wanted := map[string]bool{}
	for _, arg := range paths {
		at, err := p.inEstate(r, arg)
		if err != nil {
			return nil, err
		}
		found := false
		for _, f := range all {
			if below(at, f.Path) {
				wanted[f.Path], found = true, true
			}
		}
		if !found {
			return nil, usagef("%s holds no files of the estate in %s", arg, r.place.Root)
		}
	}
	return slices.DeleteFunc(all, func(f source.File) bool { return !wanted[f.Path] }), nil
}

// tidyStream lays out what comes from stdin.
func (p *program) tidyStream(o tidyOptions) error {
	was, err := io.ReadAll(p.stdin)
	if err != nil {
		return err
	}
	now, mistakes := lang.Format("stdin.hcl", was)
	if len(mistakes) > 0 {
		for _, m := range mistakes {
			fmt.Fprintf(p.stderr, "stdin:%s: %s\n", text.New(was).Position(int(m.Start)), m.Summary)
		}
		if !o.check { // an editor replaces its text by what comes out
			if _, err := p.stdout.Write(was); err != nil {
				return err
			}
		}
		return errReported
	}
	if o.check {
		if !bytes.Equal(was, now) {
			return errReported
		}
		return nil
	}
	_, err = p.stdout.Write(now)
	return err
}

// printMistakes prints mistakes of a file, a line each, as editors read them.
func (p *program) printMistakes(path string, src []byte, mistakes []lang.Diagnostic) {
	t := text.New(src)
	for _, m := range mistakes {
		fmt.Fprintf(p.stdout, "%s:%s: %s\n", text.Printable(path), t.Position(int(m.Start)), m.Summary)
	}
}

// replace writes a file in one step, with the permissions that it has.
func replace(path string, data []byte) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	return maybe.WriteFile(path, data, info.Mode().Perm())
}
