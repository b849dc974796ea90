package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"cagenut/lang/quantity"
	"cagenut/lang/text"
	"cagenut/lint"
	"cagenut/render/style"
)

// A Reason is one thing that keeps rules from being judged, and what it keeps
// from being judged. To mend it is to make so many judgements possible.
type Reason struct {
	Because string
	Rules   []RuleUnchecked // by identifier
	First   lint.Unchecked  // a place where it shows
	Count   int
}

// A RuleUnchecked is a rule that one reason keeps from being judged.
type RuleUnchecked struct {
	Rule   string
	Things []string // sorted, each once
	Racks  []string // sorted, each once
}

// Reasons groups what was not checked by why, what keeps most from being
// judged first.
func Reasons(unchecked []lint.Unchecked) []Reason {
	index := map[string]int{}
	var all []Reason
	for _, u := range unchecked {
		i, ok := index[u.Because]
		if !ok {
			i = len(all)
			index[u.Because] = i
			all = append(all, Reason{Because: u.Because, First: u})
		}
		r := &all[i]
		r.Count++
		j := slices.IndexFunc(r.Rules, func(x RuleUnchecked) bool { return x.Rule == u.Rule })
		if j < 0 {
			j = len(r.Rules)
			r.Rules = append(r.Rules, RuleUnchecked{Rule: u.Rule})
		}
		r.Rules[j].Things = append(r.Rules[j].Things, u.Thing)
		r.Rules[j].Racks = append(r.Rules[j].Racks, u.Rack)
	}
	for i := range all {
		rules := all[i].Rules
		for j := range rules {
			rules[j].Things = names(rules[j].Things)
			rules[j].Racks = names(rules[j].Racks)
		}
		slices.SortFunc(rules, func(a, b RuleUnchecked) int { return cmp.Compare(a.Rule, b.Rule) })
	}
	slices.SortFunc(all, func(a, b Reason) int {
		return cmp.Or(-cmp.Compare(a.Count, b.Count), cmp.Compare(a.Because, b.Because))
	})
	return all
}

// names sorts names, leaves out empty ones and repetitions.
func names(all []string) []string {
	all = slices.Clone(all)
	slices.Sort(all)
	all = slices.Compact(all)
	return slices.DeleteFunc(all, func(s string) bool { return s == "" })
}

// reasonsShown is how many reasons [Unchecked] prints in full.
const reasonsShown = 30

// Unchecked prints what was not checked and why. What keeps most from being
// judged comes first; beyond thirty reasons only the rules are counted, and the
// JSON form has them all.
func Unchecked(w io.Writer, p *Page, look Look) error {
	out := &printer{Writer: bufio.NewWriter(w), page: p, look: look}
	reasons := Reasons(p.Result.Unchecked)
	for _, r := range reasons[:min(len(reasons), reasonsShown)] {
		out.reason(&r)
	}
	if rest := reasons[min(len(reasons), reasonsShown):]; len(rest) > 0 {
		out.rest(rest)
	}
	out.para("", fmt.Sprintf("%d not checked, for %s", len(p.Result.Unchecked), quantity.Count(len(reasons), "reason")), style.Heading)
	return out.Flush()
}

// reason prints one reason and what it keeps from being judged.
func (o *printer) reason(r *Reason) {
	for i, line := range wrap(text.Printable(r.Because), o.look.Width-len(margin)) {
		lead := margin
		if i == 0 {
			lead = o.look.Colours.Paint(style.Unsure, "??") + " "
		}
		fmt.Fprintf(o, "%s%s\n", lead, o.look.Colours.Paint(style.Strong, line))
	}
	for _, rule := range r.Rules {
		line := "not checked: " + rule.Rule
		if len(rule.Things) > 0 {
			line += " on " + some(rule.Things, 3)
		}
		o.para(margin, line, style.Plain)
	}
	at := r.First.At
	if !at.IsZero() {
		where := fmt.Sprintf("%s:%s", text.Printable(o.page.path(at.File)), o.text(at.File).Position(int(at.Start)))
		o.para(margin, where, style.Place)
	}
	fmt.Fprintln(o)
}

// rest counts the reasons that are not printed, by rule.
func (o *printer) rest(rest []Reason) {
	total := 0
	counts := map[string]int{}
	for _, r := range rest {
		total += r.Count
		for _, rule := range r.Rules {
			counts[rule.Rule] += max(len(rule.Things), 1)
		}
	}
	ids := make([]string, 0, len(counts))
	for id := range counts {
		ids = append(ids, id)
	}
	slices.SortFunc(ids, func(a, b string) int {
		return cmp.Or(-cmp.Compare(counts[a], counts[b]), cmp.Compare(a, b))
	})
	for i, id := range ids {
		ids[i] = fmt.Sprintf("%s %d", id, counts[id])
	}
	o.para("", fmt.Sprintf("and %s that keep %d more from being checked: %s; --format json has them all",
		quantity.Count(len(rest), "further reason"), total, strings.Join(ids, ", ")), style.Plain)
	fmt.Fprintln(o)
}

// some prints the first few of many names.
func some(all []string, n int) string {
	if len(all) <= n+1 { // "and 1 more" is no shorter than the name
		return strings.Join(all, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(all[:n], ", "), len(all)-n)
}
