package explain

import (
	"fmt"
	"strings"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lint"
	"cagenut/lint/policy"
)

//go:generate go test -run TestReferences -update .

const generated = "<!-- Generated from the code; run: go generate ./render/explain -->\n\n"

// Rules gives the reference of the built-in rules as Markdown.
func Rules(rules []*lint.Rule) string {
	var b strings.Builder
	b.WriteString("# Rules\n\n" + generated)
	b.WriteString(`What ` + "`cagenut lint`" + ` looks for. A rule has three results: it holds, it does not hold, or it
was not checked because a figure is missing. The rules check declared data only and certify
nothing. ` + "`cagenut explain RULE`" + ` shows the same with the figures that are in force in an estate.

Limits are adjusted, levels changed and findings waived in the estate itself; see the blocks
` + "`adjust`" + ` and ` + "`waive`" + ` of [the language](../lang/LANGUAGE.md).

`)
	for _, r := range rules {
		fmt.Fprintf(&b, "- [%s](#%s) (%s): %s\n", r.ID, anchor(r.ID), r.Level, r.Summary)
	}
	for _, r := range rules {
		fmt.Fprintf(&b, "\n## %s\n\n%s.\n\n%s\n\n", r.ID, upperFirst(r.Summary), oneLine(r.Why))
		fmt.Fprintf(&b, "- Level: %s, since rule set %s\n- Source: %s\n", r.Level, r.Since, oneLine(r.Source))
		if r.Decides != "" {
			fmt.Fprintf(&b, "- Only screens; who decides: %s\n", oneLine(r.Decides))
		}
		if r.Omits != "" {
			fmt.Fprintf(&b, "- Not covered: %s\n", oneLine(r.Omits))
		}
		if len(r.Aliases) > 0 {
			fmt.Fprintf(&b, "- Once called: %s\n", strings.Join(r.Aliases, ", "))
		}
		for _, l := range r.Limits {
			fmt.Fprintf(&b, "- Limit `%s` = %s: %s\n", l.Name, lint.FormatLimit(l.Default), oneLine(l.Doc))
		}
		if r.Before != "" {
			fmt.Fprintf(&b, "\nBefore both:\n\n```hcl\n%s\n```\n", strings.TrimSpace(r.Before))
		}
		fmt.Fprintf(&b, "\nDoes not hold:\n\n```hcl\n%s\n```\n\nHolds:\n\n```hcl\n%s\n```\n", strings.TrimSpace(r.Bad), strings.TrimSpace(r.Good))
	}
	return b.String()
}

// Language gives the reference of the language as Markdown: its blocks, and
// what the expressions of policies can see and call.
func Language() string {
	var b strings.Builder
	b.WriteString("# Language\n\n" + generated)
	b.WriteString(`An estate is all ` + "`.hcl`" + ` files below the folder of ` + "`estate.hcl`" + `, in any arrangement and
order. A name of another thing is written without quotes, as in ` + "`frame.cab-42`" + `. A quantity is a
text with its unit: ` + "`\"740 mm\"`" + `. A figure may be ` + "`unknown`" + `, and may carry how it was come by:
` + "`depth = { is = \"812 mm\", basis = \"measured\", on = \"2026-09-14\" }`" + `.

## Blocks

`)
	for _, block := range lang.Schema() {
		b.WriteString(blockReference(&block))
	}
	b.WriteString(policyReference())
	return b.String()
}

func blockReference(block *lang.BlockDoc) string {
	var b strings.Builder
	label := ""
	if block.Label != "" {
		label = fmt.Sprintf(" \"%s\"", block.Label)
	}
	fmt.Fprintf(&b, "### %s%s\n\n%s", block.Name, label, upperFirst(block.Doc))
	if len(block.In) > 0 {
		fmt.Fprintf(&b, "; it stands in %s", strings.Join(block.In, ", "))
	}
	b.WriteString(".")
	if len(block.Blocks) > 0 {
		fmt.Fprintf(&b, " It may hold %s.", strings.Join(block.Blocks, ", "))
	}
	b.WriteString("\n\n")
	if len(block.Attributes) > 0 {
		b.WriteString("| attribute | takes | means | example |\n|---|---|---|---|\n")
	}
	for _, a := range block.Attributes {
		takes := a.Kind
		if len(a.Words) > 0 {
			takes += ": " + strings.Join(a.Words, ", ")
		}
		means := a.Doc
		if a.Required {
			means += "; required"
		}
		if a.Default != "" {
			means += "; otherwise " + a.Default
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | `%s` |\n", a.Name, cell(takes), cell(means), cell(a.Example))
	}
	if block.Example != "" {
		fmt.Fprintf(&b, "\n```hcl\n%s\n```\n", block.Example)
	}
	b.WriteString("\n")
	return b.String()
}

func policyReference() string {
	model := policy.NewModel(&estate.Estate{}, 0)
	var b strings.Builder
	fmt.Fprintf(&b, `## Expressions of policies

A policy is judged on each %s. Its `+"`where` and `require`"+` are conditions,
its `+"`say`"+` is a text. They are written as HCL writes expressions and are checked when they are
read, units included: `+"`mount.mass > 25`"+` is refused, `+"`mount.mass > kg(25)`"+` is meant. Numbers are exact.
What reads an unknown figure is itself unknown, unless the rest decides: `+"`false && unknown`"+` is false.
A policy that comes out unknown is not checked, and says why; so is one that divides by zero.
`+"`null`"+` is compared with objects only, and `+"`known(VALUE)`"+` says whether a value is known.

`, strings.Join(policy.Judged(), ", "))
	b.WriteString("### What a policy can see\n\n")
	for _, each := range policy.Judged() {
		var names []string
		for _, f := range model.Scope(each).Fields() {
			names = append(names, "`"+f.Name+"`")
		}
		fmt.Fprintf(&b, "- `each = %s`: %s\n", each, strings.Join(names, ", "))
	}
	for _, c := range model.Classes() {
		fmt.Fprintf(&b, "\n### %s, as policies see it\n\n%s\n\n| name | is | unit | means |\n|---|---|---|---|\n", c.Name, c.Doc)
		for _, f := range c.Fields() {
			is := f.Type.String()
			if f.Type.Kind == policy.NumberKind {
				is = "a number"
			}
			fmt.Fprintf(&b, "| `%s.%s` | %s | %s | %s |\n", c.Name, f.Name, cell(is), cell(f.Unit), cell(f.Doc))
		}
	}
	b.WriteString("\n### Functions\n\n| written | gives |\n|---|---|\n")
	for _, f := range policy.Functions() {
		fmt.Fprintf(&b, "| `%s` | %s |\n", cell(f.Usage), cell(f.Doc))
	}
	return b.String()
}

func cell(s string) string { return strings.ReplaceAll(oneLine(s), "|", `\|`) }

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// anchor gives the name that Markdown readers give to a heading.
func anchor(id string) string { return strings.ReplaceAll(id, "/", "") }
