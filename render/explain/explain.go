// Package explain prints what rules mean and how they are in force, and the
// reference of rules and of the language, from what the rules and the language
// say of themselves.
//
// [List] and [Page] are for a terminal; [Rules] and [Language] are the same
// content as Markdown.
package explain

import (
	"fmt"
	"io"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
	"cagenut/render/style"
)

// A Look says how text is laid out.
type Look struct {
	Width   int  // cells in a line; 0 for any length
	ASCII   bool // no character beyond ASCII, names aside
	Colours *style.Table
	// Where names a place in a file of the estate.
	Where func(estate.Range) string
}

func (l Look) width() int {
	if l.Width <= 0 {
		return 100
	}
	return max(l.Width, 40)
}

// List prints the rules, group by group, with the level at which each is in
// force in the estate.
func List(w io.Writer, rules []*lint.Rule, e *estate.Estate, set string, look Look) error {
	var b strings.Builder
	longest := 0
	for _, r := range rules {
		longest = max(longest, style.Width(r.ID))
	}
	group := ""
	for _, r := range rules {
		name, _, _ := strings.Cut(r.ID, "/")
		if name != group {
			if group != "" {
				b.WriteByte('\n')
			}
			b.WriteString(look.Colours.Paint(style.Heading, name) + "\n")
			group = name
		}
		f := lint.InForce(e, r, set)
		level := f.Level.String()
		if !f.In {
			level = "from " + r.Since
		}
		mark := " "
		if len(f.Adjustments) > 0 {
			mark = "*"
		}
		lead := fmt.Sprintf("  %s  %-11s%s ", style.Left(r.ID, longest, true), level, mark)
		lines := style.Wrap(r.Summary, max(look.width()-style.Width(lead), 24))
		for i, line := range lines {
			if i > 0 {
				lead = strings.Repeat(" ", style.Width(lead))
			}
			b.WriteString(lead + line + "\n")
		}
	}
	fmt.Fprintf(&b, "\n%d rules; * adjusted in this estate\n", len(rules))
	_, err := io.WriteString(w, b.String())
	return err
}

// Page explains one rule: what it finds and why, the figures in force and who
// set them, what it does not cover, and an example of each kind.
func Page(w io.Writer, r *lint.Rule, e *estate.Estate, set string, look Look) error {
	p := &page{look: look}
	f := lint.InForce(e, r, set)
	if look.ASCII && r.Policy == nil {
		plain := *r
		for _, s := range []*string{&plain.Summary, &plain.Why, &plain.Source, &plain.Decides, &plain.Omits} {
			*s = style.ASCII(*s)
		}
		r = &plain
	}
	p.line(style.Heading, r.ID)
	p.para("  ", r.Summary)
	p.gap()
	if r.Why != r.Summary {
		p.para("", r.Why)
		p.gap()
	}
	level := f.Level.String()
	if !f.In {
		level += fmt.Sprintf(", but not yet: it comes with rule set %s, and the estate pins %s", r.Since, e.Rules)
	}
	p.field("level", level)
	if r.Since != "" {
		p.field("since", "rule set "+r.Since)
	}
	p.field("source", r.Source)
	if r.Decides != "" {
		p.field("decides", r.Decides+"; the rule only screens")
	}
	if r.Omits != "" {
		p.field("not covered", r.Omits)
	}
	if len(r.Aliases) > 0 {
		p.field("once called", strings.Join(r.Aliases, ", "))
	}
	p.limits(f)
	p.rulings(f)
	if r.Policy != nil {
		p.policy(r.Policy)
		p.trials(r.Policy, e)
	}
	if r.Before != "" {
		p.example("before both", r.Before)
	}
	p.example("does not hold", r.Bad)
	p.example("holds", r.Good)
	_, err := io.WriteString(w, p.b.String())
	return err
}

type page struct {
	b    strings.Builder
	look Look
}

func (p *page) gap() { p.b.WriteByte('\n') }

func (p *page) line(role style.Role, s string) {
	p.b.WriteString(p.look.Colours.Paint(role, s) + "\n")
}

func (p *page) para(indent, s string) {
	for _, line := range style.Wrap(s, p.look.width()-style.Width(indent)) {
		p.b.WriteString(indent + line + "\n")
	}
}

// column is where the text of a field begins.
const column = 14

func (p *page) field(name, s string) {
	lead := style.Left(name, column, true)
	for i, line := range style.Wrap(s, p.look.width()-column) {
		if i > 0 {
			lead = strings.Repeat(" ", column)
		}
		p.b.WriteString(strings.TrimRight(lead+line, " ") + "\n")
	}
}

func (p *page) limits(f lint.Force) {
	if len(f.Limits) == 0 {
		return
	}
	p.gap()
	p.line(style.Strong, "figures in force")
	for _, l := range f.Limits {
		s := fmt.Sprintf("%s = %s: %s", l.Name, lint.FormatLimit(l.Value), l.Doc)
		if l.By != nil {
			s += fmt.Sprintf("; set in %s (%s), in place of %s", p.look.Where(l.By.Source.At()), l.By.Reason, lint.FormatLimit(l.Default))
		}
		p.para("  ", s)
	}
}

func (p *page) rulings(f lint.Force) {
	if len(f.Adjustments)+len(f.Waivers) == 0 {
		return
	}
	p.gap()
	p.line(style.Strong, "said about it in this estate")
	for _, a := range f.Adjustments {
		p.para("  ", fmt.Sprintf("%s: %s%s: %s", p.look.Where(a.Source.At()), adjusts(a), within(a.Within), a.Reason))
	}
	for _, w := range f.Waivers {
		by := ""
		if w.By != "" {
			by = " by " + w.By
		}
		p.para("  ", fmt.Sprintf("%s: waived%s on %s until %s: %s", p.look.Where(w.Source.At()), by, w.On, w.Until, w.Reason))
	}
}

// adjusts says what an adjustment changes.
func adjusts(a *estate.Adjustment) string {
	var parts []string
	for _, l := range a.Limits {
		parts = append(parts, l.Name+" = "+l.Text)
	}
	if a.Level != "" {
		parts = append(parts, "level "+a.Level)
	}
	return strings.Join(parts, ", ")
}

func within(scopes []estate.Scope) string {
	if len(scopes) == 0 {
		return " everywhere"
	}
	var names []string
	for _, s := range scopes {
		names = append(names, s.Kind+"."+s.Name)
	}
	return " within " + strings.Join(names, ", ")
}

func (p *page) policy(t *estate.Policy) {
	p.gap()
	p.line(style.Strong, "the policy, in "+p.look.Where(t.Source.At()))
	p.b.WriteString("  each    = " + t.Each + "\n")
	for _, x := range []struct {
		name string
		of   estate.Expr
	}{{"where  ", t.Where}, {"require", t.Require}, {"say    ", t.Say}} {
		if x.of.Text != "" {
			p.b.WriteString("  " + x.name + " = " + x.of.Text + "\n")
		}
	}
	if len(t.Within) > 0 {
		p.b.WriteString(" " + within(t.Within) + "\n")
	}
}

// trials tells where the policy is tried, and what it must find there.
func (p *page) trials(t *estate.Policy, e *estate.Estate) {
	first := true
	for _, trial := range e.Rulings.Trials {
		if trial.Policy != t.Name {
			continue
		}
		if first {
			p.gap()
			p.line(style.Strong, "tried on")
			first = false
		}
		finds := "nothing"
		if len(trial.Finds) > 0 {
			finds = strings.Join(trial.Finds, ", ")
		}
		p.para("  ", fmt.Sprintf("the estate in %s, where it must find fault with %s", p.look.Where(trial.Source.At()), finds))
	}
}

func (p *page) example(title, text string) {
	if text == "" {
		return
	}
	p.gap()
	p.line(style.Strong, title)
	for _, line := range strings.Split(strings.Trim(text, "\n"), "\n") {
		p.b.WriteString(strings.TrimRight("  "+line, " ") + "\n")
	}
}
