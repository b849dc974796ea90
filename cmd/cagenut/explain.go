package main

import (
	"context"
	"errors"
	"maps"
	"slices"

	"github.com/spf13/cobra"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/near"
	"cagenut/lang/quantity"
	"cagenut/lint"
	"cagenut/lint/rules"
	"cagenut/render/explain"
	"cagenut/render/style"
)

const explainLong = `Without RULE, list every rule with the level at which it is in force here. With
one, say what it finds and why, which figures are in force and who set them,
what it does not cover, and show an estate that breaks it and one that keeps it.

It reads the estate for adjustments, waivers and policies. Outside an estate it
explains the built-in rules as they come.`

func explainCommand(p *program) *cobra.Command {
	var set string
	cmd := &cobra.Command{
		Use:   "explain [RULE..]",
		Short: "what a rule finds, why, and with which figures here",
		Long:  explainLong,
		Example: `  cagenut explain
  cagenut explain power/feed-lost`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runExplain(cmd.Context(), p, set, args)
		},
	}
	cmd.AddCommand(explainSystemCommand(p))
	cmd.Flags().StringVar(&set, "rules", "", "explain the rule `SET` in place of the one that the estate pins; next for all rules there are")
	return cmd
}

func runExplain(ctx context.Context, p *program, set string, ids []string) error {
	e, book := &estate.Estate{}, rules.All()
	look := explain.Look{Width: p.width(p.stdout), ASCII: p.plain(), Colours: style.New(p.coloured(p.stdout)), Where: func(r estate.Range) string { return r.File }}
	r, err := p.read(ctx)
	var outside usageError
	switch {
	case err == nil:
		var mistakes []lang.Diagnostic
		if book, mistakes, err = p.ruleBook(r); err != nil {
			return err
		}
		e, look.Where = r.estate, r.where
		if n := len(r.mistakes) + len(mistakes); n > 0 {
			p.notef("the estate has %s; lint lists them", quantity.Count(n, "mistake"))
		}
	case errors.As(err, &outside) && p.root == "" && p.at == "":
		// No estate here: the rules are explained as they come.
	default:
		return err
	}
	if len(ids) == 0 {
		return explain.List(p.stdout, book, e, set, look)
	}
	names := lint.Names(book)
	var errs []error
	for i, id := range ids {
		rule := names[id]
		if rule == nil {
			if meant := near.Name(id, slices.Sorted(maps.Keys(names))); meant != "" {
				errs = append(errs, usagef("there is no rule %q; perhaps %s is meant", id, meant))
			} else {
				errs = append(errs, usagef("there is no rule %q; explain without a name lists them", id))
			}
			continue
		}
		if i > 0 {
			if _, err := p.stdout.Write([]byte("\n")); err != nil {
				return err
			}
		}
		if err := explain.Page(p.stdout, rule, e, set, look); err != nil {
			return err
		}
	}
	return errors.Join(errs...)
}
