package runsheet

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"cagenut/lint/sequence"
)

// Markdown writes the run sheet of a plan: front page, checks before, daytime
// work, the steps with what each of them is undone by, and the back page.
func Markdown(w io.Writer, p *sequence.Plan, o Options) error {
	m := &markdown{sheet: newSheet(p, o)}
	m.front()
	m.against()
	if len(p.Steps) > 0 {
		m.hazards()
		m.before()
		m.daytime()
		m.steps()
		m.backPage()
	}
	m.record()
	_, err := io.WriteString(w, m.b.String())
	return err
}

type markdown struct {
	*sheet
	b strings.Builder
}

func (m *markdown) line(format string, args ...any) { fmt.Fprintf(&m.b, format+"\n", args...) }

func (m *markdown) head(level int, text string) {
	m.line("\n%s %s\n", strings.Repeat("#", level), text)
}

func (m *markdown) item(format string, args ...any) { m.line("- "+format, args...) }

func (m *markdown) tick(format string, args ...any) { m.line("- [ ] "+format, args...) }

// cell makes text fit for a cell of a table.
func cell(s string) string {
	s = strings.ReplaceAll(s, "|", "\\|")
	return strings.ReplaceAll(s, "\n", "<br>")
}

func (m *markdown) row(cells ...string) {
	for i := range cells {
		cells[i] = cell(cells[i])
	}
	m.line("| %s |", strings.Join(cells, " | "))
}

func (m *markdown) table(heads ...string) {
	m.row(heads...)
	m.line("|%s", strings.Repeat(" --- |", len(heads)))
}

func (m *markdown) front() {
	m.line("# Run sheet: %s", Title(m.p))
	m.line("\n> %s\n", sequence.PlanningAid)
	for _, f := range m.facts() {
		m.item("%s: %s", f[0], f[1])
	}
	if len(m.p.Steps) > 0 {
		m.line("\nApproved by: ____________________  Notices sent: ____________________  Call order: ____________________")
	}
}

// against says what stands against the plan, and what it proposes.
func (m *markdown) against() {
	for _, g := range m.blocked() {
		m.head(2, g.Head)
		for _, s := range g.Items {
			m.item("%s", s)
		}
	}
}

// hazards lists what is lifted beyond one person, and the cautions.
func (m *markdown) hazards() {
	m.head(2, "Hazards")
	for _, s := range m.heavy() {
		m.item("%s", s)
	}
	for i, c := range m.cautions {
		m.item("**C%d** %s", i+1, c)
	}
	m.line("\nStop rules:\n")
	for _, r := range sequence.StopRules {
		m.item("%s", r)
	}
}

func (m *markdown) before() {
	m.head(2, "Before")
	for _, s := range append(m.ways(), preChecks...) {
		m.tick("%s", s)
	}
	if all := m.parts(); len(all) > 0 {
		m.line("\nIn the staging area:\n")
		for _, s := range all {
			m.tick("%s", s)
		}
	}
	m.line("\nAt the rack:\n")
	for _, s := range rackChecks {
		m.tick("%s", s)
	}
}

func (m *markdown) daytime() {
	if len(m.p.Daytime) == 0 {
		return
	}
	m.head(2, "Daytime work, before any window")
	for i := range m.p.Daytime {
		s := &m.p.Daytime[i]
		m.tick("%s (%s min)", s.Do, minutes(s.Minutes))
	}
}

// steps writes the tables of steps, window by window where windows are chosen,
// with the racks drawn between hold points.
func (m *markdown) steps() {
	p := m.p
	if len(p.Windows)+len(p.Left) == 0 {
		if p.Next() > len(p.Steps) {
			m.head(2, "Every step is done")
			return
		}
		m.head(2, "Steps")
		m.tables(m.runs(0, len(p.Steps)))
		return
	}
	for _, n := range p.Windows {
		m.head(2, windowHead(n))
		for _, s := range windowFacts(n) {
			m.item("%s", s)
		}
		box := m.sign("☐", "[ ]")
		m.line("\n**%s** %s go %s not tonight, time ______, initials ______", goText, box, box)
		m.tables(m.runsOf(n.Blocks))
	}
	for _, b := range p.Left {
		m.head(2, "In no window: "+stepsText(p.Blocks[b].From+1, p.Blocks[b].To))
		m.tables(m.runsOf([]int{b}))
	}
}

func (m *markdown) tables(runs []run) {
	box := m.sign("☐", "[ ]")
	for _, r := range runs {
		if r.Break != "" {
			m.line("\n**%s** %s taken, time ______", r.Break, box)
		}
		m.line("")
		heads := []string{"no.", "min", "place", "do", "shows that it is done", "who", "state after", "undo (min)", "done (time, initials), remark"}
		if r.Clock {
			heads = slices.Insert(heads, 1, "start", "latest")
		}
		m.table(heads...)
		for _, s := range r.Rows {
			do := s.Do
			if s.Marks != "" {
				do += " **" + s.Marks + "**"
			}
			if s.Tip != "" {
				do += " **" + s.Tip + "**"
			}
			cells := []string{s.Number, s.Minutes, s.Place, do, s.Expect, s.Who, s.State, s.Undo, box}
			if r.Clock {
				cells = slices.Insert(cells, 1, s.Start, s.Latest)
			}
			m.row(cells...)
		}
		if r.Hold != "" {
			m.line("\n**%s** %s go %s back, time ______, initials ______", r.Hold, box, box)
		}
		for _, d := range r.Drawn {
			m.line("\n%s:\n\n```", d.Head)
			m.b.WriteString(d.Text)
			m.line("```")
		}
	}
}

func (m *markdown) backPage() {
	m.head(2, "Back page")
	m.line("Undo only what has been done, from the last step back to where its block began; the work is at rest there.")
	for _, w := range m.back() {
		m.head(3, w.Head)
		m.line("%s\n", w.Turning)
		m.table("undoes step", "do", "min", "sum, with contingency", "done")
		for _, r := range w.Rows {
			m.row(r[0], r[1], r[2], r[3], m.sign("☐", "[ ]"))
		}
	}
	m.head(3, "At the end")
	for _, s := range endChecks {
		m.tick("%s", s)
	}
	m.line("\nSigned, lead: ____________________  owner: ____________________  date and time: ____________________")
}

func (m *markdown) record() {
	if len(m.p.Record) == 0 {
		return
	}
	m.head(2, "On paper only")
	m.line("No work at the rack belongs to these.\n")
	for _, r := range m.p.Record {
		m.item("%s", r)
	}
}
