package review

import (
	"fmt"
	"io"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
	"cagenut/render/diff"
	"cagenut/render/style"
)

// CommentSize is how many characters a page may have: below the 65 536 that
// GitHub takes in a comment.
const CommentSize = 60_000

// A section is a part of the page with a shorter form, for when there is too
// much. The last to be shortened are those at the top.
type section struct {
	title string
	full  string
	short string // "" leaves the section out
	what  string // what is left out then, for the last line
}

// Markdown prints the page for a comment, within size characters; 0 stands for
// [CommentSize]. What does not fit is left out from the end, and named.
func Markdown(w io.Writer, p *Page, size int) error {
	if size <= 0 {
		size = CommentSize
	}
	sections := []section{
		p.top(),
		p.brought(),
		p.totals(),
		p.collisions(),
		p.rulingList(),
		p.cured(),
		p.units(),
		p.plan(),
		p.unchecked(),
		p.pictures(),
		p.runSheet(),
		p.questions(),
	}
	end := p.foot()
	var left []string
	shortened := make([]bool, len(sections))
	page := func() string {
		var b strings.Builder
		for i, s := range sections {
			text := s.full
			if shortened[i] {
				text = s.short
			}
			if text == "" {
				continue
			}
			if s.title != "" {
				b.WriteString("### " + s.title + "\n\n")
			}
			b.WriteString(strings.TrimRight(text, "\n") + "\n\n")
		}
		if len(left) > 0 {
			b.WriteString("Left out, since a comment may have " + fmt.Sprint(size) + " characters: " + strings.Join(left, "; ") + ".\n\n")
		}
		b.WriteString(end)
		return b.String()
	}
	text := page()
	for i := len(sections) - 1; i >= 0 && runes(text) > size; i-- {
		if sections[i].what == "" {
			continue
		}
		shortened[i] = true
		left = append(left, sections[i].what)
		text = page()
	}
	_, err := io.WriteString(w, text)
	return err
}

func runes(s string) int {
	n := 0
	for range s {
		n++
	}
	return n
}

// top is the view of ten seconds: what is compared, what it does, what it
// brings.
func (p *Page) top() section {
	var b strings.Builder
	fmt.Fprintf(&b, "## Racks: %s\n\n", markdown(diff.Summary(p.Change)))
	fmt.Fprintf(&b, "**%s**\n", markdown(p.Verdict()))
	if where := p.where(); where != "" {
		fmt.Fprintf(&b, "\n%s\n", where)
	}
	return section{full: b.String()}
}

// where names the rooms and racks that are touched.
func (p *Page) where() string {
	var rooms []string
	racks := map[string][]string{}
	for _, d := range p.Deltas {
		room := "no room"
		if r := d.Rack().Room(); r != nil {
			room = "room " + r.Name
		}
		if racks[room] == nil {
			rooms = append(rooms, room)
		}
		racks[room] = append(racks[room], d.Rack().Name)
	}
	var parts []string
	for _, room := range rooms {
		const most = 12
		names := racks[room]
		rest := ""
		if len(names) > most {
			rest = fmt.Sprintf(" and %d more", len(names)-most)
			names = names[:most]
		}
		var shown []string
		for _, n := range names {
			shown = append(shown, code(n))
		}
		parts = append(parts, markdown(room)+": "+strings.Join(shown, ", ")+rest)
	}
	return strings.Join(parts, "; ")
}

// mostFindings is how many findings a section lists.
const mostFindings = 60

func (p *Page) brought() section {
	s := section{title: "What it brings", what: "findings past the tenth"}
	if len(p.Lint.Findings) == 0 && len(p.Mistakes) == 0 {
		s.full = fmt.Sprintf("No finding that was not there before, by the %s that could be judged.\n", plural(p.Rules, "rule", "rules"))
		s.what = ""
		return s
	}
	var b strings.Builder
	for _, m := range p.Mistakes {
		fmt.Fprintf(&b, "- **error** %s %s\n", p.link(m.At, false), markdown(m.Message))
	}
	s.full = b.String() + p.findings(p.Lint.Findings, false, mostFindings)
	s.short = b.String() + p.findings(p.Lint.Findings, false, 10)
	if len(p.Lint.Findings) <= 10 {
		s.what = ""
	}
	return s
}

func (p *Page) cured() section {
	if len(p.Lint.Cured) == 0 {
		return section{}
	}
	return section{
		title: "What it cures",
		full:  p.findings(p.Lint.Cured, true, mostFindings),
		short: count(p.Lint.Cured).String() + ".\n",
		what:  "the list of cured findings",
	}
}

// findings lists findings, worst first, up to a number.
func (p *Page) findings(all []lint.Finding, old bool, most int) string {
	var b strings.Builder
	for i, f := range sorted(all) {
		if i == most {
			fmt.Fprintf(&b, "- and %d more\n", len(all)-most)
			break
		}
		mark := "**" + f.Level.String() + "**"
		if old {
			mark = f.Level.String()
		}
		fmt.Fprintf(&b, "- %s %s %s %s\n", mark, code(f.Rule), p.link(f.At, old), markdown(f.Message))
		for k, r := range f.Related {
			if k == 3 && len(f.Related) > 4 {
				fmt.Fprintf(&b, "  - and %d more places\n", len(f.Related)-k)
				break
			}
			fmt.Fprintf(&b, "  - %s %s\n", p.link(r.At, old), markdown(r.Message))
		}
	}
	return b.String()
}

func (p *Page) link(r estate.Range, old bool) string {
	if p.Place == nil || r.IsZero() {
		return ""
	}
	at := p.Place(r, old)
	if at.Link == "" {
		return code(at.String())
	}
	return "[" + code(at.String()) + "](" + at.Link + ")"
}

// totals is the table of what the change does to each rack.
func (p *Page) totals() section {
	var b strings.Builder
	n := 0
	for _, d := range p.Deltas {
		name := code(d.Rack().Name)
		for _, t := range diff.Totals(d, p.look().Inches) {
			if !t.Differs() && !t.Over {
				continue
			}
			if n == 0 {
				b.WriteString("| rack | figure | before | after | limit |\n|---|---|--:|--:|--:|\n")
			}
			n++
			after := markdown(p.orDash(t.After))
			if t.Over {
				after = "**" + after + "** above"
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", name, markdown(t.What), markdown(p.orDash(t.Before)), after, markdown(p.orDash(t.Held())))
			name = ""
		}
	}
	if n == 0 {
		return section{}
	}
	return section{title: "What it does to the racks", full: b.String(), short: "", what: "the table of totals"}
}

func (p *Page) orDash(s string) string {
	if s == "" {
		s = "–"
	}
	return p.plain(s)
}

func (p *Page) collisions() section {
	if len(p.Collisions) == 0 {
		return section{}
	}
	var b strings.Builder
	for _, c := range p.Collisions {
		fmt.Fprintf(&b, "- %s\n", code(c.Branch))
		for _, w := range c.What {
			fmt.Fprintf(&b, "  - %s\n", markdown(w))
		}
	}
	return section{title: "Other branches that want the same", full: b.String(), short: plural(len(p.Collisions), "branch", "branches") + ".\n", what: "what other branches want"}
}

func (p *Page) rulingList() section {
	all := p.rulings()
	if len(all) == 0 {
		return section{}
	}
	var b strings.Builder
	for _, r := range all {
		fmt.Fprintf(&b, "- %s %s", r.kind, code(r.ref))
		for i, s := range r.says {
			sep := ", "
			if i == 0 {
				sep = ": "
			}
			b.WriteString(sep + markdown(s))
		}
		b.WriteString("\n")
	}
	b.WriteString("\nWhoever owns the rule approves this, not whoever wrote the change.\n")
	return section{title: "Policies, adjustments and waivers", full: b.String(), short: plural(len(all), "ruling is", "rulings are") + " touched.\n", what: "what policies and waivers say"}
}

// look is how parts of the page that are text are drawn.
func (p *Page) look() diff.Options {
	return diff.Options{ASCII: p.ASCII, Width: 80, Inches: p.Change.New.Lengths == "in"}
}

// wide is how lists are printed, in which nothing may be cut: the page scrolls.
func (p *Page) wide() diff.Options {
	o := p.look()
	o.Width = 1000
	return o
}

// units is the list by unit, a block for each rack.
func (p *Page) units() section {
	var b strings.Builder
	if lines := diff.Things(p.Change, p.wide()); len(lines) > 0 {
		b.WriteString("declared for several racks\n" + style.Page(lines, nil))
	}
	for _, d := range p.Deltas {
		lines := diff.List(p.Change, d, p.wide())
		if len(lines) == 0 {
			continue
		}
		if b.Len() > 0 {
			b.WriteString("\n")
		}
		b.WriteString(style.Name(d.Rack().Name) + "\n" + style.Page(lines, nil))
	}
	if b.Len() == 0 {
		return section{}
	}
	return section{
		title: "Unit by unit",
		full:  fence(b.String()) + "\n`+` in, `-` out, `>` moved, `*` altered, `{ }` letters that differ\n",
		short: "", what: "the list by unit",
	}
}

// pictures are the racks before and after, folded.
func (p *Page) pictures() section {
	var b strings.Builder
	n := 0
	for _, d := range p.Deltas {
		lines := diff.Pictures(p.Change, d, p.look())
		if len(lines) == 0 {
			continue
		}
		n++
		b.WriteString(fold(d.Rack().Name+" before and after", fence(style.Page(lines, nil))))
	}
	if n == 0 {
		return section{}
	}
	return section{full: b.String(), what: plural(n, "elevation", "elevations")}
}

func (p *Page) unchecked() section {
	here, elsewhere := p.open()
	if len(here) == 0 && elsewhere == 0 {
		return section{}
	}
	var b strings.Builder
	for i, r := range here {
		if i == 30 {
			fmt.Fprintf(&b, "- and %s\n", plural(len(here)-i, "reason more", "reasons more"))
			break
		}
		var rules []string
		for _, id := range r.rules {
			rules = append(rules, code(id))
		}
		fmt.Fprintf(&b, "- %s (%s): %s\n", markdown(r.because), plural(len(r.things), "thing", "things"), strings.Join(rules, ", "))
	}
	if elsewhere > 0 {
		fmt.Fprintf(&b, "- %s in racks that the change does not touch\n", plural(elsewhere, "check lacks a figure", "checks lack a figure"))
	}
	title := "Not checked, for lack of a figure"
	if len(here) == 0 {
		return section{title: title, full: b.String()}
	}
	return section{title: title, full: b.String(), short: plural(len(p.Lint.Unchecked), "check lacks a figure", "checks lack a figure") + ".\n", what: "what was not checked"}
}

func (p *Page) plan() section {
	switch {
	case p.Plan != nil:
		var b strings.Builder
		for _, f := range p.Plan.Facts {
			fmt.Fprintf(&b, "- %s\n", markdown(f))
		}
		full := b.String()
		short := full + count(p.Plan.Findings).String() + " on the plan.\n"
		if len(p.Plan.Findings) > 0 {
			full += p.findings(p.Plan.Findings, false, mostFindings)
		}
		return section{title: "The work", full: full, short: short, what: "what is found on the plan"}
	case p.NoRunSheet != "":
		return section{title: "The work", full: "No run sheet: " + markdown(p.NoRunSheet) + "\n"}
	}
	return section{}
}

func (p *Page) runSheet() section {
	if p.Plan == nil || p.Plan.RunSheet == "" {
		return section{}
	}
	return section{full: fold("Run sheet", lowered(p.Plan.RunSheet)), what: "the run sheet, which window prints"}
}

// lowered sets the headings of a page three levels lower, below those of the
// page that it is folded into.
func lowered(page string) string {
	lines := strings.Split(page, "\n")
	fenced := false
	for i, line := range lines {
		switch {
		case strings.HasPrefix(line, "```"):
			fenced = !fenced
		case !fenced && strings.HasPrefix(line, "#"):
			hashes := len(line) - len(strings.TrimLeft(line, "#"))
			lines[i] = strings.Repeat("#", min(hashes+3, 6)) + line[hashes:]
		}
	}
	return strings.Join(lines, "\n")
}

func (p *Page) questions() section {
	var b strings.Builder
	for _, q := range asked {
		b.WriteString("- [ ] " + q + "\n")
	}
	return section{full: fold("What no tool can answer", b.String()), what: "the questions for the reviewer"}
}

// foot says what was read, and what the page is not.
func (p *Page) foot() string {
	var b strings.Builder
	b.WriteString("---\n")
	b.WriteString(markdown(p.read()))
	b.WriteString("\n\n" + caution + "\n")
	return b.String()
}
