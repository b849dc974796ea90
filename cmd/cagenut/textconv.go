package main

import (
	"github.com/spf13/cobra"

	"cagenut/lang/merge"
)

const textconvLong = `Print a rack file with one attribute a line, each with the rack and mount that
it belongs to, and without comments and layout. Git calls this to show
differences of files that have the attribute diff=cagenut, so that a hunk says
which mount it is about and reformatting alone shows nothing; "cagenut install"
sets that up. A file that does not parse is printed as it is.`

func textconvCommand(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "textconv FILE",
		Short: "print a rack file with one attribute a line, for git diff",
		Long:  textconvLong,
		Args:  exactly(1, "one file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			text, err := p.readNamed(args[0])
			if err != nil {
				return err
			}
			if flat, err := merge.Flat(text); err == nil {
				text = flat
			}
			_, err = p.stdout.Write(text)
			return err
		},
	}
}
