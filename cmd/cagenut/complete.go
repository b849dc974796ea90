package main

import (
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/source"
	"cagenut/lint/rules"
	"cagenut/render/report"
)

// A completer gives what an argument or a flag's value may be.
type completer = func(cmd *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective)

// complete makes the shell's completion know what the estate knows: racks,
// rules, revisions, and the words that a flag takes. Commands that are not there
// are passed over.
func (p *program) complete(root *cobra.Command) {
	levels := fixed("error", "warning", "note")
	arguments := map[string]completer{
		"elevation": p.completeRacks,
		"history":   once(p.completeRacks),
		"explain":   once(completeRules),
		"diff":      p.completeRevisions,
		"review":    p.completeRevisions,
		"window":    p.completeRevisions,
	}
	values := map[string]completer{
		"fail-on":            levels,
		"base":               p.completeRevisions,
		"at":                 p.completeRevisions,
		"face":               fixed("front", "rear", "side"),
		"sheet":              fixed("a4"),
		"color":              fixed("auto", "always", "never"),
		"lint --format":      fixed(report.FormNames()...),
		"elevation --format": fixed(elevationFormats...),
		"diff --format":      fixed(diffFormats...),
		"review --format":    fixed(reviewFormats...),
	}
	for _, cmd := range append(root.Commands(), root) {
		if f, ok := arguments[cmd.Name()]; ok && cmd.ValidArgsFunction == nil {
			cmd.ValidArgsFunction = f
		}
		for key, f := range values {
			flag := key
			if name, rest, ok := strings.Cut(key, " --"); ok {
				if name != cmd.Name() {
					continue
				}
				flag = rest
			}
			if cmd.Flags().Lookup(flag) == nil && cmd.PersistentFlags().Lookup(flag) == nil {
				continue
			}
			if _, done := cmd.GetFlagCompletionFunc(flag); !done {
				// The only error is for a flag that is not there.
				_ = cmd.RegisterFlagCompletionFunc(flag, f)
			}
		}
	}
}

// fixed completes from words that are always the same.
func fixed(words ...string) completer {
	return cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)
}

// once completes the first argument only.
func once(f completer) completer {
	return func(cmd *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return f(cmd, args, word)
	}
}

// completeRacks gives the racks of the estate that are not named yet, each with
// where it stands. Where there is no estate nothing is offered: the shell is no
// place for an error.
func (p *program) completeRacks(cmd *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	r, err := p.read(cmd.Context())
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	racks, err := r.racks(nil)
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	named := map[string]bool{}
	for _, a := range args {
		named[trimRef(a, "rack.")] = true
	}
	var out []string
	for _, rack := range racks {
		if named[rack.Name] || !strings.HasPrefix(rack.Name, word) {
			continue
		}
		where := ""
		if room := rack.Room(); room != nil {
			where = "\troom " + room.Name
		}
		out = append(out, rack.Name+where)
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

func completeRules(_ *cobra.Command, _ []string, word string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for _, rule := range rules.All() {
		if strings.HasPrefix(rule.ID, word) {
			out = append(out, rule.ID+"\t"+rule.Summary)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeRevisions gives the names of branches, also behind the dots of a
// range.
func (p *program) completeRevisions(_ *cobra.Command, _ []string, word string) ([]string, cobra.ShellCompDirective) {
	place, err := p.locate()
	if err != nil || place.Repo == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	branches, err := place.Repo.Branches()
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	before := ""
	if i := strings.LastIndex(word, ".."); i >= 0 {
		before, word = word[:i+2], word[i+2:]
	}
	var out []string
	for _, b := range append([]source.Branch{{Name: "HEAD"}}, branches...) {
		if strings.HasPrefix(b.Name, word) {
			out = append(out, before+b.Name)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}
