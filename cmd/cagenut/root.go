package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

const rootLong = `cagenut keeps racks as text in a git repository. It lints them against standard
dimensions and the site's own policy, draws elevations, prints what a change
does unit by unit, and turns a difference between commits into change windows.

Planning aid: it checks declared data only and certifies nothing. Electrical
work, structure and floor loading, anchoring, fire stopping and lifting are
governed by local law, codes and the makers' instructions, and are for competent
or licensed people. Verify at the rack. If in doubt, stop.

Exit statuses: 0 nothing to report, 1 something reported at or above the level
asked for, 2 called wrongly, 3 could not do its work.`

func rootCommand(p *program) *cobra.Command {
	root := &cobra.Command{
		Use:           "cagenut",
		Short:         "racks as text in git: lint, elevations, differences and change windows",
		Long:          rootLong,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
	}
	root.SetIn(p.stdin)
	root.SetOut(p.stdout)
	root.SetErr(p.stderr)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usagef("%v; see: %s --help", err, cmd.CommandPath())
	})
	root.CompletionOptions.HiddenDefaultCmd = true
	p.fitHelp(root)

	flags := root.PersistentFlags()
	flags.StringVar(&p.root, "root", "", "`DIR` of the estate, or any below it (default: here)")
	flags.StringVar(&p.at, "at", "", "read commit `REV` in place of the folder")
	flags.StringVar(&p.colour, "color", "auto", "`WHEN` to colour: auto, always or never")
	flags.StringVar(&p.today, "today", "", "`DATE` to judge by, such as 2027-01-31 (default: today)")
	flags.BoolVar(&p.ascii, "ascii", false, "print ASCII characters only, your own names aside")
	flags.BoolVarP(&p.quiet, "quiet", "q", false, "say nothing about the run on stderr")
	flags.BoolVarP(&p.verbose, "verbose", "v", false, "say on stderr what was read, and how")
	flags.BoolVar(&p.noStore, "no-store", false, "neither use nor keep what earlier runs parsed")
	root.PersistentPreRunE = func(cmd *cobra.Command, _ []string) error {
		p.suit(cmd)
		if !slices.Contains([]string{"auto", "always", "never"}, p.colour) {
			return usagef("--color %q: write auto, always or never", p.colour)
		}
		if err := p.revisions(cmd); err != nil {
			return err
		}
		_, err := p.day()
		return err
	}

	root.AddCommand(
		lintCommand(p),
		historyCommand(p),
		capacityCommand(p),
		mergeCommand(p),
		textconvCommand(p),
		installCommand(p),
		elevationCommand(p),
		loadCommand(p),
		diffCommand(p),
		fitCommand(p),
		reviewCommand(p),
		partsCommand(p),
		explainCommand(p),
		waiversCommand(p),
		windowCommand(p),
		timingCommand(p),
		tidyCommand(p),
		importCommand(p),
		newCommand(p),
		demoCommand(p),
		manualCommand(p),
	)
	root.InitDefaultHelpCmd()
	for _, c := range root.Commands() {
		if c.Name() == "help" {
			c.Short = "print help about a command"
		}
	}
	p.complete(root)
	return root
}

// revisions refuses a revision that is given and empty, as a variable of a
// script is that nobody set: without it something else would be read, and the
// answer would be about that. It refuses --at, too, where nothing is read from
// a commit.
func (p *program) revisions(cmd *cobra.Command) error {
	for _, name := range []string{"at", "base", "with", "since"} {
		f := cmd.Flags().Lookup(name)
		if f == nil || !f.Changed {
			continue
		}
		values, err := cmd.Flags().GetStringArray(name)
		if err != nil { // it holds one
			values = []string{f.Value.String()}
		}
		if slices.Contains(values, "") {
			return usagef("--%s is empty; write a branch, a tag or a commit, such as HEAD, or leave it out", name)
		}
	}
	if p.at != "" && slices.Contains([]string{"install", "demo", "textconv", "merge", "manual"}, cmd.Name()) {
		return usagef("%s reads no commit; leave --at out", cmd.Name())
	}
	return nil
}

// unknownCommand explains a word that is no command, with the nearest one.
func unknownCommand(cmd *cobra.Command, word string) error {
	near := cmd.SuggestionsFor(word)
	if len(near) == 0 {
		return usagef("%q is no command; see: cagenut --help", word)
	}
	return usagef("%q is no command; did you mean %s?", word, strings.Join(near, " or "))
}
