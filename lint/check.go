package lint

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"cagenut/lang"
	"cagenut/lang/estate"
)

// CheckRulings gives what is wrong with the adjustments, waivers and the rule
// set of an estate, given all rules that there are, policies included: rules
// that do not exist, limits that a rule has not, and values that cannot be
// read. Run ignores such rulings.
func CheckRulings(e *estate.Estate, rules []*Rule) []lang.Diagnostic {
	c := &checker{names: Names(rules)}
	c.known = slices.Sorted(maps.Keys(c.names))
	for _, a := range e.Rulings.Adjustments {
		c.adjustment(a)
	}
	for _, w := range e.Rulings.Waivers {
		if c.rule(w.Rule, &w.Source) == nil {
			continue
		}
		if strings.TrimSpace(w.Reason) == "" {
			c.wrong(w.Source.Attr("reason"), "a waiver needs a reason that a reader in a year understands")
		}
	}
	if sets := Sets(rules); e.Rules != "" && !slices.Contains(sets, e.Rules) {
		c.wrong(e.Source.Attr("rules"), "there is no rule set %q; this program knows %s", e.Rules, strings.Join(sets, ", "))
	}
	slices.SortStableFunc(c.found, func(a, b lang.Diagnostic) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Start, b.Start), cmp.Compare(a.Summary, b.Summary))
	})
	return c.found
}

type checker struct {
	names map[string]*Rule
	known []string
	found []lang.Diagnostic
}

func (c *checker) wrong(at estate.Range, format string, args ...any) {
	c.found = append(c.found, lang.Diagnostic{Range: at, Severity: lang.Error, Summary: fmt.Sprintf(format, args...)})
}

// rule gives the rule that the label of a block names.
func (c *checker) rule(id string, src *estate.Source) *Rule {
	rule := c.names[id]
	if rule == nil && lang.RuleName(id) { // else it was told when it was read
		perhaps := "; explain lists them"
		if near := lang.Near(id, c.known); near != "" {
			perhaps = "; perhaps " + near + " is meant"
		}
		c.wrong(src.At(), "there is no rule %q%s", id, perhaps)
	}
	return rule
}

func (c *checker) adjustment(a *estate.Adjustment) {
	rule := c.rule(a.Rule, &a.Source)
	if rule == nil {
		return
	}
	if a.Level == "" && len(a.Limits) == 0 {
		c.wrong(a.Source.At(), "this adjusts nothing; write a level or a limit")
	}
	if strings.TrimSpace(a.Reason) == "" {
		c.wrong(a.Source.At(), "an adjustment needs a reason; write reason = \"...\"")
	}
	for _, l := range a.Limits {
		limit := rule.limit(l.Name)
		if limit == nil {
			c.wrong(l.At, "%s has no limit %q; %s", rule.ID, l.Name, rule.limitNames(l.Name))
			continue
		}
		if _, err := limit.read(l.Text); err != nil {
			c.wrong(l.At, "%v", err)
		}
	}
}

// limitNames says which limits a rule has.
func (r *Rule) limitNames(written string) string {
	if len(r.Limits) == 0 {
		return "it has none, and only its level can be adjusted"
	}
	var names []string
	for _, l := range r.Limits {
		names = append(names, l.Name)
	}
	if near := lang.Near(written, names); near != "" {
		return "perhaps " + near + " is meant"
	}
	return "it has " + strings.Join(names, ", ")
}
