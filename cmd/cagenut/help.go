package main

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func init() { cobra.AddTemplateFunc("flagTable", flagTable) }

// flagTables makes the library's template of help print flags by [flagTable].
var flagTables = strings.NewReplacer(
	".LocalFlags.FlagUsages", "flagTable .LocalFlags",
	".InheritedFlags.FlagUsages", "flagTable .InheritedFlags",
)

// flagTable prints flags with their texts in a column. A switch has its name
// alone: that it could be written --ascii=false, too, helps nobody who reads
// what it is for.
func flagTable(flags *pflag.FlagSet) string {
	table := pflag.NewFlagSet("", pflag.ContinueOnError)
	flags.VisitAll(func(f *pflag.Flag) {
		shown := *f
		if f.Value.Type() == "bool" {
			shown.Value = namelessValue{f.Value}
		}
		table.AddFlag(&shown)
	})
	return table.FlagUsagesWrapped(tableWidth)
}

// A namelessValue is the value of a switch, of a type for which the library
// prints no choice of values.
type namelessValue struct{ pflag.Value }

func (namelessValue) Type() string { return "boolfunc" }
