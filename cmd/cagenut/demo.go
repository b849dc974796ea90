package main

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"github.com/go-git/go-git/v5/config"
	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/filemode"
	"github.com/go-git/go-git/v5/plumbing/format/index"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"cagenut/examples"
)

const demoLong = `Write the racks of an invented ferry line as a git repository, with its history
and with four changes under review, each on a branch:

  proposal   servers for the summer; the mistakes in it are for lint to find
  mended     the same, mended
  ship-swap  the ship's UPS and her light gear change places
  audit      the record is corrected; nothing moves

Then lint, draw, compare and plan it, and print each command before its output,
so that you can run it again by hand. DIR must be empty or new; without it a
folder "ferry" is made here.`

func demoCommand(p *program) *cobra.Command {
	var writeOnly bool
	cmd := &cobra.Command{
		Use:   "demo [DIR]",
		Short: "build an invented estate in git and run the main job on it",
		Long:  demoLong,
		Args:  atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := "ferry"
			if len(args) > 0 {
				dir = args[0]
			}
			return runDemo(cmd.Context(), p, dir, writeOnly, cmd.InheritedFlags())
		},
	}
	cmd.Flags().BoolVar(&writeOnly, "write-only", false, "write the repository and run nothing")
	return cmd
}

// demoRuns are the command lines of the tour, with what each is for.
var demoRuns = []struct {
	why  string
	args []string
}{
	{"what a colleague would find in the estate as it stands", []string{"lint"}},
	{"the cabinet that the change is about", []string{"elevation", "hq-a"}},
	{"what the proposal does, by unit", []string{"diff", "main...proposal"}},
	{"what it brings that was not there before", []string{"lint", "--base", "main", "--at", "proposal"}},
	{"the same after mending", []string{"lint", "--base", "main", "--at", "mended"}},
	{"the night in which the mended change is done", []string{"window", "main..mended"}},
	{"the ship's frame counts downward; her swap needs a place to park", []string{"window", "main..ship-swap"}},
}

func runDemo(ctx context.Context, p *program, dir string, writeOnly bool, look *pflag.FlagSet) error {
	path := dir
	if !filepath.IsAbs(path) {
		path = filepath.Join(p.dir, dir)
	}
	if err := writeFerry(path); err != nil {
		if errors.Is(err, errNotEmpty) {
			return usagef("%s is not empty; name a new folder: cagenut demo DIR", dir)
		}
		return err
	}
	fmt.Fprintf(p.stdout, "wrote the ferry line's repository to %s\n", dir)
	if writeOnly {
		return nil
	}
	for _, tour := range demoRuns {
		if err := ctx.Err(); err != nil {
			return err
		}
		fmt.Fprintf(p.stdout, "\n# %s\n$ cagenut", tour.why)
		for _, a := range tour.args {
			fmt.Fprintf(p.stdout, " %s", a)
		}
		fmt.Fprint(p.stdout, "\n\n")
		inner := *p
		inner.dir, inner.root, inner.at = path, "", ""
		args := slices.Clone(tour.args)
		look.VisitAll(func(f *pflag.Flag) {
			if f.Changed && f.Name != "root" {
				args = append(args, "--"+f.Name+"="+f.Value.String())
			}
		})
		// What is found is the point of the tour; only a failure ends it.
		if status := run(ctx, &inner, args); status > statusReported {
			return fmt.Errorf("the demo stopped at: cagenut %v", tour.args)
		}
	}
	fmt.Fprintf(p.stdout, "\nThe repository is in %s: go there and try the commands by hand.\n", dir)
	return nil
}

// errNotEmpty says that the folder for the demo holds something already.
var errNotEmpty = errors.New("the folder is not empty")

// writeFerry makes the ferry line's repository in dir, which must not hold
// anything yet.
func writeFerry(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	if len(entries) > 0 {
		return errNotEmpty
	}
	commits, err := examples.FerryHistory()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	git := filepath.Join(dir, ".git")
	if err := os.Mkdir(git, 0o777); err != nil {
		return err
	}
	r := recordIn(git)
	if err := r.storage.Init(); err != nil {
		return fmt.Errorf("making a repository in %s: %w", dir, err)
	}
	if err := r.storage.SetConfig(config.NewConfig()); err != nil {
		return err
	}
	tips := map[string]plumbing.Hash{} // of branches
	trees := map[plumbing.Hash]plumbing.Hash{}
	files := map[string]map[string][]byte{} // by branch
	for _, c := range commits {
		if _, ok := tips[c.Branch]; !ok {
			tips[c.Branch], files[c.Branch] = tips[c.From], maps.Clone(files[c.From])
			if files[c.Branch] == nil {
				files[c.Branch] = map[string][]byte{}
			}
		}
		edits := map[string][]byte{}
		for _, f := range c.Files {
			edits[f.Name], files[c.Branch][f.Name] = f.Data, f.Data
		}
		parent := tips[c.Branch]
		tree, err := r.edit(trees[parent], "", edits)
		if err != nil {
			return fmt.Errorf("commit %q: %w", c.Message, err)
		}
		tip, err := r.commit(tree, parent, c.Author, c.Time, c.Message)
		if err != nil {
			return fmt.Errorf("commit %q: %w", c.Message, err)
		}
		tips[c.Branch], trees[tip] = tip, tree
	}
	for branch, tip := range tips {
		if err := r.storage.SetReference(plumbing.NewHashReference(plumbing.NewBranchReferenceName(branch), tip)); err != nil {
			return err
		}
	}
	if err := r.storage.SetReference(plumbing.NewSymbolicReference(plumbing.HEAD, plumbing.NewBranchReferenceName("main"))); err != nil {
		return err
	}
	return checkOut(r, dir, files["main"])
}

// checkOut writes the files of a commit to the folder, and notes them in the
// index.
func checkOut(r *recorder, dir string, files map[string][]byte) error {
	idx := &index.Index{Version: 2}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(path, files[name], 0o666); err != nil {
			return err
		}
		info, err := os.Stat(path)
		if err != nil {
			return err
		}
		idx.Entries = append(idx.Entries, &index.Entry{
			Name: name, Hash: plumbing.ComputeHash(plumbing.BlobObject, files[name]), Mode: filemode.Regular,
			ModifiedAt: info.ModTime(), Size: uint32(info.Size()),
		})
	}
	return r.storage.SetIndex(idx)
}
