package main

import (
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/near"
	"cagenut/lang/system"
	"cagenut/render/style"
	"cagenut/render/systems"
)

const explainSystemLong = `Print the geometry of panel systems: unit, holes, widths, heights of panels, and
every figure with its source and how far it can be relied on. Without NAME all
systems are listed. It needs no estate.`

var explainSystemFormats = []string{"text", "json"}

func explainSystemCommand(p *program) *cobra.Command {
	var format string
	cmd := &cobra.Command{
		Use:     "system [NAME..]",
		Short:   "the geometry of a panel system, with its sources",
		Long:    explainSystemLong,
		Example: "  cagenut explain system 19in",
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return system.Names(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			return runExplainSystem(p, format, args)
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "`FORMAT` of the output: "+strings.Join(explainSystemFormats, ", "))
	return cmd
}

func runExplainSystem(p *program, format string, names []string) error {
	if !slices.Contains(explainSystemFormats, format) {
		return usagef("--format %q: write one of %s", format, strings.Join(explainSystemFormats, ", "))
	}
	var chosen []*system.System
	var errs []error
	for _, name := range names {
		s, ok := system.ByName(name)
		switch {
		case ok:
			chosen = append(chosen, s)
		case near.Name(name, system.Names()) != "":
			errs = append(errs, usagef("there is no panel system %q; did you mean %s?", name, near.Name(name, system.Names())))
		default:
			errs = append(errs, usagef("there is no panel system %q; write one of %s", name, strings.Join(system.Names(), ", ")))
		}
	}
	if err := errors.Join(errs...); err != nil {
		return err
	}
	if format == "json" {
		if len(chosen) == 0 {
			chosen = system.All()
		}
		return systems.JSON(p.stdout, chosen)
	}
	o := systems.Options{ASCII: p.plain(), Width: p.page(p.stdout)}
	lines := systems.List(o)
	if len(chosen) > 0 {
		lines = nil
	}
	for i, s := range chosen {
		if i > 0 {
			lines = append(lines, nil)
		}
		lines = append(lines, systems.Text(s, o)...)
	}
	_, err := io.WriteString(p.stdout, style.Page(lines, style.New(p.coloured(p.stdout))))
	return err
}
