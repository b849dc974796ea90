package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"cagenut/render/style"
)

func init() {
	cobra.AddTemplateFunc("flagTable", flagTable)
	cobra.AddTemplateFunc("hang", hang)
}

// fitHelp lays help out for the terminal: texts are written for eighty columns,
// and flow anew where there are fewer.
func (p *program) fitHelp(root *cobra.Command) {
	width := tableWidth
	if w := p.width(p.stdout); w > 0 {
		width = min(w, tableWidth)
	}
	root.SetUsageTemplate(strings.NewReplacer(
		".LocalFlags.FlagUsages", fmt.Sprint("flagTable .LocalFlags ", width),
		"{{.Short}}", fmt.Sprintf("{{hang .Short .NamePadding %d}}", width),
		".InheritedFlags.FlagUsages", fmt.Sprint("flagTable .InheritedFlags ", width),
	).Replace(root.UsageTemplate()))
	if width == tableWidth {
		return
	}
	help := root.HelpFunc()
	root.SetHelpFunc(func(cmd *cobra.Command, args []string) {
		cmd.Long = flow(cmd.Long, width)
		help(cmd, args)
	})
}

// hang sets what a command is for behind its name, below itself where it takes
// several lines.
func hang(short string, padding, width int) string {
	column := padding + len("   ")
	return strings.Join(style.Wrap(short, max(width-column, 20)), "\n"+strings.Repeat(" ", column))
}

// flow sets the paragraphs of a text in lines of at most width cells. Lines
// that are set in stand for themselves.
func flow(text string, width int) string {
	var out, paragraph []string
	end := func() {
		if len(paragraph) > 0 {
			out = append(out, style.Wrap(strings.Join(paragraph, " "), width)...)
			paragraph = nil
		}
	}
	for line := range strings.SplitSeq(text, "\n") {
		if line == "" || line[0] == ' ' {
			end()
			out = append(out, line)
			continue
		}
		paragraph = append(paragraph, line)
	}
	end()
	return strings.Join(out, "\n")
}

// flagTable prints flags with their texts in a column. A switch has its name
// alone: that it could be written --ascii=false, too, helps nobody who reads
// what it is for.
func flagTable(flags *pflag.FlagSet, width int) string {
	table := pflag.NewFlagSet("", pflag.ContinueOnError)
	flags.VisitAll(func(f *pflag.Flag) {
		shown := *f
		if f.Value.Type() == "bool" {
			shown.Value = namelessValue{f.Value}
		}
		table.AddFlag(&shown)
	})
	return table.FlagUsagesWrapped(width)
}

// A namelessValue is the value of a switch, of a type for which the library
// prints no choice of values.
type namelessValue struct{ pflag.Value }

func (namelessValue) Type() string { return "boolfunc" }
