package main

import (
	"context"
	"slices"
	"strings"

	"cagenut/lang"
	"cagenut/lint"
	"cagenut/lint/policy"
	"cagenut/lint/rules"
)

// ruleBook gives the rules that an estate is judged by, its own policies among
// them, and what is wrong with what it says about rules.
func (p *program) ruleBook(r *reading) ([]*lint.Rule, []lang.Diagnostic, error) {
	today, err := p.day()
	if err != nil {
		return nil, nil, err
	}
	own, mistakes := policy.Rules(r.estate, today)
	book := slices.Concat(rules.All(), own)
	named := book // a policy that is wrong is named rightly even so
	for _, p := range r.estate.Rulings.Policies {
		named = append(named[:len(named):len(named)], &lint.Rule{ID: "policy/" + p.Name})
	}
	return book, slices.Concat(mistakes, lint.CheckRulings(r.estate, named)), nil
}

// judge judges an estate by its rule book, and adds what is wrong with the
// book to what is wrong with the estate's text.
func (p *program) judge(ctx context.Context, r *reading, set string) (*lint.Result, []*lint.Rule, error) {
	book, mistakes, err := p.ruleBook(r)
	if err != nil {
		return nil, nil, err
	}
	r.mistakes = slices.Concat(r.mistakes, mistakes)
	if set != "" && set != lint.Newest && !slices.Contains(lint.Sets(book), set) {
		return nil, nil, usagef("--rules %q: this program knows %s, and %s for all rules that it has", set, strings.Join(lint.Sets(book), ", "), lint.Newest)
	}
	today, err := p.day()
	if err != nil {
		return nil, nil, err
	}
	bar := p.progress("judging " + r.tree.Name())
	defer bar.end()
	result, err := lint.Run(ctx, r.estate, lint.Options{Rules: book, Today: today, RuleSet: set, Each: bar.each, Carried: r.carried})
	return result, book, err
}
