package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint/rules"
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
		"history":   p.completeMounts,
		"explain":   completeRules,
		"fit":       once(p.completeEquipment),
		"load":      p.completeRacks,
		"diff":      p.completeRevisions,
		"review":    p.completeRevisions,
		"window":    p.completeRevisions,
	}
	values := map[string]completer{
		"fail-on": levels,
		"base":    p.completeRevisions,
		"at":      p.completeRevisions,
		"rack": func(c *cobra.Command, _ []string, word string) ([]string, cobra.ShellCompDirective) {
			return p.completeRacks(c, nil, word)
		},
		"face":  fixed("front", "rear", "side"),
		"sheet": fixed("a4"),
		"color": fixed("auto", "always", "never"),
	}
	for _, cmd := range append(root.Commands(), root) {
		if f, ok := arguments[cmd.Name()]; ok && cmd.ValidArgsFunction == nil {
			cmd.ValidArgsFunction = f
		}
		for flag, f := range values {
			complete(cmd, flag, f)
		}
		if format := cmd.Flags().Lookup("format"); format != nil {
			complete(cmd, "format", fixed(choices(format.Usage)...))
		}
	}
}

// complete sets how a flag's value is completed, where the command has the flag.
func complete(cmd *cobra.Command, flag string, f completer) {
	if cmd.Flags().Lookup(flag) == nil && cmd.PersistentFlags().Lookup(flag) == nil {
		return
	}
	if _, done := cmd.GetFlagCompletionFunc(flag); !done {
		// The only error is for a flag that is not there.
		_ = cmd.RegisterFlagCompletionFunc(flag, f)
	}
}

// choices gives the words that a flag's help lists: "FORMAT of the page: text,
// html" has two.
func choices(usage string) []string {
	_, list, ok := strings.Cut(usage, ": ")
	if !ok {
		return nil
	}
	words := strings.Split(strings.ReplaceAll(list, " or ", ", "), ", ")
	return slices.DeleteFunc(words, func(w string) bool { return w == "" || strings.Contains(w, " ") })
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

// completeMounts gives racks for the first argument, and for the second what is
// mounted in the first, each with its equipment.
func (p *program) completeMounts(cmd *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return p.completeRacks(cmd, nil, word)
	}
	r, err := p.read(cmd.Context())
	if err != nil || len(args) > 1 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	racks, err := r.racks(args)
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for _, m := range racks[0].Mounts {
		if !strings.HasPrefix(m.Name, word) {
			continue
		}
		what := ""
		if m.Equipment != nil {
			what = "\t" + m.Equipment.Name
		}
		out = append(out, m.Name+what)
	}
	slices.SortFunc(out, estate.CompareNames)
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeEquipment gives the kinds of equipment that the estate declares.
func (p *program) completeEquipment(cmd *cobra.Command, _ []string, word string) ([]string, cobra.ShellCompDirective) {
	r, err := p.read(cmd.Context())
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for _, q := range r.estate.Equipment {
		if strings.HasPrefix(q.Name, word) {
			out = append(out, q.Name+"\t"+q.Kind)
		}
	}
	slices.SortFunc(out, estate.CompareNames)
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeFrames gives the frames that the estate declares.
func (p *program) completeFrames(cmd *cobra.Command, _ []string, word string) ([]string, cobra.ShellCompDirective) {
	r, err := p.read(cmd.Context())
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for _, f := range r.estate.Frames {
		if strings.HasPrefix(f.Name, word) {
			out = append(out, f.Name+"\t"+f.Kind.String())
		}
	}
	slices.SortFunc(out, estate.CompareNames)
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
