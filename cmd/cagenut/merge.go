package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"

	"github.com/spf13/cobra"

	"cagenut/lang/merge"
)

const mergeLong = `Merge what two branches made of a rack file, by block and attribute, and write
the result to OURS. Git calls this for files that have the attribute
merge=cagenut; "cagenut install" sets that up.

What only one side changed is taken from it, so that changes of different
attributes of one mount, and mounts added next to each other, do not conflict.
Comments and the layout of lines are kept. Where people must decide, the file
gets git's usual markers and the exit status is 1. A file that does not parse is
merged by line, as git would.

That two branches claim the same units is no conflict of text: see
cagenut lint --with.`

type mergeOptions struct {
	path string
	size int
}

func mergeCommand(p *program) *cobra.Command {
	var o mergeOptions
	cmd := &cobra.Command{
		Use:   "merge BASE OURS THEIRS",
		Short: "merge rack files by block and attribute, as a merge driver of git",
		Long:  mergeLong,
		Example: `  git config merge.cagenut.driver \
    "cagenut merge --path %P --marker-size %L %O %A %B"`,
		Args: exactly(3, "three files, BASE OURS THEIRS"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runMerge(cmd.Context(), p, o, args[0], args[1], args[2])
		},
	}
	cmd.Flags().StringVar(&o.path, "path", "", "`NAME` of the file in the repository, for messages (%P)")
	cmd.Flags().IntVar(&o.size, "marker-size", 7, "`LENGTH` of the conflict markers (%L)")
	return cmd
}

func runMerge(ctx context.Context, p *program, o mergeOptions, base, ours, theirs string) error {
	if o.size < 1 || o.size > 1000 {
		return usagef("--marker-size %d: write a number such as 7", o.size)
	}
	var texts [3][]byte
	for i, name := range []string{base, ours, theirs} {
		text, err := p.readNamed(name)
		if err != nil {
			return err
		}
		texts[i] = text
	}
	name := o.path
	if name == "" {
		name = ours
	}
	r, err := merge.Merge(texts[0], texts[1], texts[2], merge.Labels{Ours: "ours", Theirs: "theirs", Size: o.size})
	if errors.Is(err, merge.ErrSyntax) {
		p.notef("cagenut: %s is merged by line: %v", name, err)
		return p.mergeLines(ctx, o, base, ours, theirs)
	}
	if err != nil {
		return err
	}
	if err := os.WriteFile(p.inDir(ours), r.Text, 0o666); err != nil {
		return err
	}
	for _, c := range r.Conflicts {
		p.notef("cagenut: %s: both sides changed %s", name, c)
	}
	if len(r.Conflicts) > 0 {
		return errReported
	}
	return nil
}

// mergeLines merges as git does without a driver.
func (p *program) mergeLines(ctx context.Context, o mergeOptions, base, ours, theirs string) error {
	cmd := exec.CommandContext(ctx, "git", "merge-file", "--quiet", "--marker-size="+strconv.Itoa(o.size),
		"-L", "ours", "-L", "base", "-L", "theirs", ours, base, theirs)
	cmd.Dir = p.dir
	var problems bytes.Buffer
	cmd.Stderr = &problems
	err := cmd.Run()
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) && exit.ExitCode() > 0 && exit.ExitCode() < 128 {
		return errReported // so many conflicts
	}
	if err != nil {
		return fmt.Errorf("git merge-file: %w\n%s", err, problems.Bytes())
	}
	return nil
}
