package runsheet

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
	"cagenut/lint/sequence"
	"cagenut/render/elevation"
	"cagenut/render/style"
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
	p := m.p
	m.line("# Run sheet: %s", Title(p))
	m.line("\n> %s\n", sequence.PlanningAid)
	if m.o.Record != "" {
		m.item("Change record: %s", m.o.Record)
	}
	if m.o.Before != "" {
		m.item("Drawing before: %s", m.o.Before)
	}
	if m.o.After != "" {
		m.item("Drawing after: %s", m.o.After)
	}
	m.item("Estate: %s", p.New().Name)
	if places := rooms(p); len(places) > 0 {
		m.item("Rooms: %s", strings.Join(places, ", "))
	}
	if racks := racksOf(p); len(racks) > 0 {
		m.item("Racks: %s", strings.Join(racks, ", "))
	}
	if len(p.Steps) == 0 {
		return
	}
	m.item("Moves: %d%s", p.Moves, m.gap())
	m.item("Work: %s min in %d steps; %s min with %s %% added; %d resting states",
		minutes(p.Minutes()), len(p.Steps), minutes(p.WithContingency(p.Minutes())), quantity.Number(p.Contingency*100, 0), len(p.Blocks))
	people, lift, competences := crew(p.Steps)
	text := fmt.Sprintf("%d people", people)
	if people == 1 {
		text = "1 person"
	}
	if lift {
		text += ", a lift"
	}
	for _, c := range competences {
		text += ", " + c
	}
	m.item("Crew and tools: %s; lead, hands and remote verifier are named on the approved sheet", text)
	if owners := owners(p); len(owners) > 0 {
		m.item("Services and owners: %s", strings.Join(owners, "; "))
	}
	for _, l := range losses(p) {
		m.item("%s", l)
	}
	m.item("States between: %d judged by the same rules as a layout", p.States)
	m.line("")
	m.line("Approved by: ____________________  Notices sent: ____________________  Call order: ____________________")
}

func (m *markdown) gap() string {
	if m.p.Moves == m.p.Least {
		return " (no order needs fewer)"
	}
	return fmt.Sprintf(" (at least %d are needed; a shorter order was neither found nor ruled out)", m.p.Least)
}

// crew gives the most people that a step needs, whether one needs a lift, and
// the competences needed.
func crew(steps []sequence.Step) (people int, lift bool, competences []string) {
	for i := range steps {
		s := &steps[i]
		n := s.People
		if s.Watcher {
			n++
		}
		people = max(people, n)
		lift = lift || s.Lift
		if s.Competence != "" && !slices.Contains(competences, s.Competence) {
			competences = append(competences, s.Competence)
		}
	}
	slices.Sort(competences)
	return people, lift, competences
}

func rooms(p *sequence.Plan) []string {
	var out []string
	for i := range p.Steps {
		a := p.Steps[i].At
		name := a.Room
		if name != "" && a.Site != "" {
			name += " at " + a.Site
		}
		if name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

func owners(p *sequence.Plan) []string {
	var out []string
	add := func(s string) {
		if s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	for _, j := range p.Jobs {
		for _, m := range []*estate.Mount{j.Old, j.New} {
			if m == nil {
				continue
			}
			owner := m.Owner
			if owner == "" && m.Rack != nil {
				owner = m.Rack.Owner
			}
			switch {
			case m.Service != "" && owner != "":
				add(m.Service + " (" + owner + ")")
			case m.Service != "":
				add(m.Service)
			default:
				add(owner)
			}
		}
	}
	slices.Sort(out)
	return out
}

// losses says for how long things are down and groups lack a member, with
// contingency.
func losses(p *sequence.Plan) []string {
	var out []string
	for _, l := range p.Losses() {
		out = append(out, fmt.Sprintf("%s: %s min", l.What, minutes(l.Minutes)))
	}
	return out
}

// against says what stands against the plan: refusals, findings, proposals.
func (m *markdown) against() {
	p := m.p
	if len(p.Refused) > 0 {
		m.head(2, "Not possible as asked")
		for _, r := range p.Refused {
			m.item("%s.", upper(r.Why))
			for _, mend := range r.Mends {
				m.line("  - It would be possible with: %s.", mend)
			}
		}
	}
	if len(p.Proposals) > 0 {
		m.head(2, "Other targets")
		for _, q := range p.Proposals {
			m.item("%s.", upper(q.Text))
		}
	}
	if len(p.Parked) > 0 {
		m.head(2, "Parked for a while")
		for _, q := range p.Parked {
			how := "off"
			if q.Live {
				how = "running"
			}
			m.item("%s at %s, %s: %s.", q.Job.Name, q.Where, how, q.Why)
		}
	}
	open, accepted := split(p.Findings)
	if len(open) > 0 {
		m.head(2, "Findings on the plan")
		for _, f := range open {
			m.item("%s %s: %s", f.Level, f.Rule, f.Message)
		}
	}
	if len(accepted) > 0 {
		m.head(2, "Accepted by name")
		for _, f := range accepted {
			by := f.Waiver.By
			if by == "" {
				by = "nobody named"
			}
			m.item("%s: %s; accepted by %s until %s: %s", f.Rule, f.Message, by, f.Waiver.Until, f.Waiver.Reason)
		}
	}
	if len(p.Unchecked) > 0 {
		m.head(2, "Not checked")
		for _, u := range p.Unchecked {
			m.item("%s: %s", u.Rule, u.Because)
		}
	}
	if len(p.Steps) > 0 && len(open) == 0 {
		m.line("\nNo finding among the rules that were checked on the states between.")
	}
}

func split(all []lint.Finding) (open, accepted []lint.Finding) {
	for _, f := range all {
		if f.Waiver != nil {
			accepted = append(accepted, f)
		} else {
			open = append(open, f)
		}
	}
	return open, accepted
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// hazards lists what is lifted beyond one person, and the cautions.
func (m *markdown) hazards() {
	m.head(2, "Hazards")
	seen := map[string]bool{}
	for i := range m.p.Steps {
		s := &m.p.Steps[i]
		if s.Mass == 0 || s.People < 2 || s.Job == nil || seen[s.Job.Thing] {
			continue
		}
		seen[s.Job.Thing] = true
		height := ""
		if s.At.High {
			height = fmt.Sprintf(", its middle %s above the floor", m.length(s.At.Middle))
		}
		lift := "two people"
		if s.Lift {
			lift = "a lift and two people"
		}
		m.item("%s: %s at %s%s: %s.", s.Job.Name, s.Mass, m.place(s.At), height, lift)
	}
	for i, c := range m.cautions {
		m.item("**C%d** %s", i+1, c)
	}
	m.line("\nStop rules:\n")
	for _, r := range sequence.StopRules {
		m.item("%s", r)
	}
}

func (m *markdown) length(l quantity.Length) string {
	if m.o.Inches {
		return l.Inched()
	}
	return quantity.Number(l.Millimetres(), 0) + " mm"
}

func (m *markdown) before() {
	m.head(2, "Before")
	for _, s := range []string{
		"The drawing before is confirmed as built, by somebody who looked.",
		"Parts, nuts, blanks, rails and cords (length!) are there; labels are printed.",
		"The standby of each service has been tested; what must be restored can be.",
		"Freeze, berth, weather and access are still as planned; cards and keys work.",
		"Emergency sheet at hand: first aid, fire, emergency power off and what it cuts, call order.",
	} {
		m.tick("%s", s)
	}
	m.line("\nAt the rack:\n")
	for _, s := range []string{
		"Right room, row and rack: labels read aloud at both ends.",
		"Both feeds live; meters and alarms noted; photographs front and rear.",
		"Stabiliser down or anchors proven; floor clear; light enough.",
	} {
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

// steps writes the table of steps, window by window where windows are chosen,
// with the racks drawn between hold points.
func (m *markdown) steps() {
	p := m.p
	if len(p.Windows) == 0 {
		m.head(2, "Steps")
		m.stepTables(0, len(p.Steps))
		return
	}
	for _, n := range p.Windows {
		m.window(n)
		m.stepTables(n.From, n.To)
	}
	for _, b := range p.Left {
		m.head(2, fmt.Sprintf("In no window: steps %d to %d", p.Blocks[b].From+1, p.Blocks[b].To))
		m.stepTables(p.Blocks[b].From, p.Blocks[b].To)
	}
}

func (m *markdown) stepTables(from, to int) {
	p := m.p
	for from < to {
		end := from
		for end < to && p.Steps[end].Hold == nil {
			end++
		}
		end = min(end+1, to)
		m.stepTable(p.Steps[from:end])
		if h := p.Steps[end-1].Hold; h != nil {
			box := m.sign("☐", "[ ]")
			m.line("\n**Hold point %s:** %s. Decides: %s. %s go %s back, time ______, initials ______", h.Name, h.What, h.Decides, box, box)
		}
		m.drawn(from, end)
		from = end
	}
}

func (m *markdown) stepTable(steps []sequence.Step) {
	m.line("")
	clock := !steps[0].Start.IsZero()
	heads := []string{"no.", "min", "place", "do", "shows that it is done", "who", "state after", "undo (min)", "done"}
	if clock {
		heads = slices.Insert(heads, 1, "start", "latest")
	}
	m.table(heads...)
	for i := range steps {
		s := &steps[i]
		do := s.Do
		if len(s.Cautions) > 0 {
			var marks []string
			for _, c := range s.Cautions {
				marks = append(marks, m.caution(c))
			}
			do += " **" + strings.Join(marks, " ") + "**"
		}
		cells := []string{fmt.Sprint(s.Number), minutes(s.Minutes), m.place(s.At), do, s.Expect, m.who(s), m.state(&s.State), m.undo(s), m.sign("☐", "[ ]")}
		if clock {
			cells = slices.Insert(cells, 1, s.Start.Format("15:04"), s.LatestStart.Format("15:04"))
		}
		m.row(cells...)
	}
}

// drawn draws the racks that steps changed, before and after.
func (m *markdown) drawn(from, to int) {
	if m.o.Bare {
		return
	}
	before, after := m.p.Racks(from), m.p.Racks(to)
	for i := range before {
		if i >= len(after) || before[i] == after[i] {
			continue
		}
		look := elevation.Options{View: elevation.Front, ASCII: m.o.ASCII, Inches: m.o.Inches, Width: 80}
		for _, view := range []elevation.View{elevation.Front, elevation.Rear} {
			look.View = view
			lines := elevation.Pair(before[i], after[i], look)
			if len(lines) == 0 {
				continue
			}
			m.line("\n%s before and after steps %d to %d:\n\n```", before[i].Name, from+1, to)
			m.b.WriteString(style.Page(lines, style.New(false)))
			m.line("```")
		}
	}
}

func (m *markdown) backPage() {
	p := m.p
	m.head(2, "Back page")
	m.line("Undo only what has been done, from the last step back to where its block began; the work is at rest there.")
	for n := range p.Blocks {
		b := &p.Blocks[n]
		if b.From == b.To {
			continue
		}
		m.head(3, fmt.Sprintf("Back from steps %d to %d", b.From+1, b.To))
		if t := p.Turning(n); t > 0 {
			m.line("Turning point: step %d. Before it, if late, go back; from it on, if late, go on and call for more time.\n", t)
		} else {
			m.line("Turning point: none; going back is the shorter way up to the last step.\n")
		}
		m.table("undoes step", "do", "min", "sum, with contingency", "done")
		for _, u := range p.BackOut(b.To) {
			m.row(fmt.Sprint(u.Step), u.Do, minutes(u.Minutes), minutes(p.WithContingency(u.Sum)), m.sign("☐", "[ ]"))
		}
	}
	m.head(3, "At the end")
	for _, s := range []string{
		"Everything in its old or its new place, nothing parked; every thing with two cords on two feeds.",
		"No open units but those drawn; doors shut; labels true; fire seals re-made and photographed.",
		"Meters read; inlet temperature read after 30 minutes; alarms clear.",
		"Tools counted, waste out, keys back, notices closed.",
		"As-built mark-ups and the times of this sheet handed in; the record is confirmed as built by a commit or tag of its own.",
	} {
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
