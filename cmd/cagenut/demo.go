package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"github.com/go-git/go-git/v5"
	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/object"
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
	repo, err := git.PlainInitWithOptions(dir, &git.PlainInitOptions{
		InitOptions: git.InitOptions{DefaultBranch: plumbing.NewBranchReferenceName("main")},
	})
	if err != nil {
		return fmt.Errorf("making a repository in %s: %w", dir, err)
	}
	tree, err := repo.Worktree()
	if err != nil {
		return err
	}
	current := "main"
	for _, c := range commits {
		if c.Branch != current {
			if err := switchBranch(repo, tree, c); err != nil {
				return fmt.Errorf("branch %s: %w", c.Branch, err)
			}
			current = c.Branch
		}
		if err := writeCommit(dir, tree, c); err != nil {
			return fmt.Errorf("commit %q: %w", c.Message, err)
		}
	}
	return tree.Checkout(&git.CheckoutOptions{Branch: plumbing.NewBranchReferenceName("main")})
}

// switchBranch leaves the work tree at the tip of the commit's branch, which is
// made at the tip of the branch it starts from.
func switchBranch(repo *git.Repository, tree *git.Worktree, c examples.Commit) error {
	from, err := repo.Reference(plumbing.NewBranchReferenceName(c.From), true)
	if err != nil {
		return err
	}
	return tree.Checkout(&git.CheckoutOptions{
		Hash:   from.Hash(),
		Branch: plumbing.NewBranchReferenceName(c.Branch),
		Create: true,
	})
}

func writeCommit(dir string, tree *git.Worktree, c examples.Commit) error {
	for _, f := range c.Files {
		path := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(path, f.Data, 0o666); err != nil {
			return err
		}
		if _, err := tree.Add(f.Name); err != nil {
			return err
		}
	}
	who := &object.Signature{Name: c.Author.Name, Email: c.Author.Address, When: c.Time}
	_, err := tree.Commit(c.Message, &git.CommitOptions{Author: who, Committer: who})
	return err
}
