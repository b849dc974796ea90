package runsheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"strings"
	"sync"

	"cagenut/lint/sequence"
	"cagenut/render/elevation"
	"cagenut/render/style"
)

//go:embed sheet.gohtml
var sheetText string

// sheetPage is parsed when a page is asked for: most runs of the program print
// none.
var sheetPage = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("sheet").Funcs(template.FuncMap{"keep": keep}).Parse(sheetText))
})

// runOfUnits is a run of units such as "U18-19 ↑", which no line break may cut.
var runOfUnits = regexp.MustCompile(`U?\d+-\d+[.,;:)]?( [↑↓])?`)

// keep keeps runs of units on one line.
func keep(text string) template.HTML {
	var b strings.Builder
	at := 0
	for _, m := range runOfUnits.FindAllStringIndex(text, -1) {
		b.WriteString(template.HTMLEscapeString(text[at:m[0]]))
		b.WriteString(`<span class="keep">` + template.HTMLEscapeString(text[m[0]:m[1]]) + `</span>`)
		at = m[1]
	}
	b.WriteString(template.HTMLEscapeString(text[at:]))
	return template.HTML(b.String()) // every part is escaped
}

// HTML writes the run sheet as one page without scripts or links to elsewhere,
// which prints on A4 with boxes to tick.
func HTML(w io.Writer, p *sequence.Plan, o Options) error {
	return sheetPage().Execute(w, pageOf(p, o))
}

// Part gives the run sheet as a part of another page, below a heading of its
// second level: the same as [HTML] without what is around it.
func Part(p *sequence.Plan, o Options) (template.HTML, error) {
	var b strings.Builder
	if err := sheetPage().ExecuteTemplate(&b, "work", pageOf(p, o)); err != nil {
		return "", err
	}
	lower := strings.NewReplacer("<h1>", "<h3>", "</h1>", "</h3>", "<h2>", "<h4>", "</h2>", "</h4>", "<h3>", "<h5>", "</h3>", "</h5>",
		"<pre>", `<pre tabindex="0">`, "<th>", `<th scope="col">`)
	return template.HTML(lower.Replace(b.String())), nil // names of users are escaped, so that none is a tag
}

// A page is what the template prints.
type page struct {
	Title     string
	Caution   string
	Facts     [][2]string
	Blocked   []group // refusals, findings, proposals and the like
	Hazards   []string
	Cautions  [][2]string
	StopRules []string
	Before    []string
	Staged    []string
	AtRack    []string
	Daytime   []string
	Parts     []part
	Back      []wayBack
	AtEnd     []string
	Record    []string
}

type group struct {
	Head  string
	Items []string
}

type part struct {
	Head  string
	Go    string // the hold point before its first step
	Facts []string
	Runs  []run
}

type run struct {
	Clock bool
	Break string // a planned break before it
	Rows  []row
	Hold  string
	Drawn []drawn
}

func stepsText(from, to int) string {
	if from == to {
		return fmt.Sprintf("step %d", from)
	}
	return fmt.Sprintf("steps %d to %d", from, to)
}

type row struct {
	Number, Start, Latest, Minutes, Place, Do, Marks, Tip, Expect, Who, State, Undo string
}

type drawn struct{ Head, Text string }

type wayBack struct {
	Head, Turning string
	Rows          [][4]string
}

func pageOf(p *sequence.Plan, o Options) *page {
	s := newSheet(p, o)
	d := &page{
		Title: Title(p), Caution: sequence.PlanningAid, Facts: s.facts(), Blocked: s.blocked(), Record: p.Record,
	}
	if len(p.Steps) == 0 {
		return d
	}
	d.Hazards, d.StopRules, d.Before, d.AtRack, d.AtEnd = s.heavy(), sequence.StopRules, append(s.ways(), preChecks...), rackChecks, endChecks
	for i, c := range s.cautions {
		d.Cautions = append(d.Cautions, [2]string{fmt.Sprintf("C%d", i+1), c})
	}
	d.Staged = s.parts()
	for i := range p.Daytime {
		d.Daytime = append(d.Daytime, fmt.Sprintf("%s (%s min)", p.Daytime[i].Do, minutes(p.Daytime[i].Minutes)))
	}
	if len(p.Windows) == 0 {
		d.Parts = append(d.Parts, part{Head: "Steps", Runs: s.runs(0, len(p.Steps))})
	} else {
		for _, n := range p.Windows {
			d.Parts = append(d.Parts, part{Head: windowHead(n), Facts: windowFacts(n), Go: goText, Runs: s.runsOf(n.Blocks)})
		}
		if len(p.Left) > 0 {
			d.Parts = append(d.Parts, part{Head: "In no window", Runs: s.runsOf(p.Left)})
		}
	}
	d.Back = s.back()
	return d
}

// back gives the ways back: of every block, or, where some steps are done, from
// where the work stands to the start and then of what is still to come.
func (s *sheet) back() []wayBack {
	p := s.p
	var out []wayBack
	add := func(head, turning string, undo []sequence.Undo) {
		w := wayBack{Head: head, Turning: turning}
		for _, u := range undo {
			w.Rows = append(w.Rows, [4]string{fmt.Sprint(u.Step), s.undoes(&p.Steps[u.Step-1], u.Do), minutes(u.Minutes), minutes(p.WithContingency(u.Sum))})
		}
		out = append(out, w)
	}
	at := p.Next() - 1
	for i, undo := range p.WayBack() {
		b := &p.Blocks[p.Steps[at-1].Block]
		head := fmt.Sprintf("Back from step %d to the rest before step %d", at, b.From+1)
		if i > 0 {
			head = "Further back: " + stepsText(b.From+1, b.To)
		}
		add(head, "From there on nothing of these steps is done any more.", undo)
		at = b.From
	}
	for n := range p.Blocks {
		if b := &p.Blocks[n]; b.From < b.To && b.To >= p.Next() {
			add("Back from "+stepsText(b.From+1, b.To), turningText(p, n), p.BackOut(b.To))
		}
	}
	return out
}

// undoes says what undoes a step, and on which thing where: the line is read
// alone, far from the step.
func (s *sheet) undoes(st *sequence.Step, do string) string {
	if st.Job == nil || st.Job.Name == "" {
		return s.place(st.At) + ": " + do
	}
	return st.Job.Name + ", " + s.place(st.At) + ": " + do
}

// runsOf cuts the steps of blocks at their hold points.
func (s *sheet) runsOf(blocks []int) []run {
	var out []run
	for _, b := range blocks {
		out = append(out, s.runs(s.p.Blocks[b].From, s.p.Blocks[b].To)...)
	}
	return out
}

// runs cuts steps at their hold points.
func (s *sheet) runs(from, to int) []run {
	p := s.p
	var out []run
	from = max(from, p.Next()-1)
	for from < to {
		end := from
		for end < to && p.Steps[end].Hold == nil && (end+1 == to || s.pause(&p.Steps[end+1]) == nil) {
			end++
		}
		end = min(end+1, to)
		r := run{Clock: !p.Steps[from].Start.IsZero()}
		if b := s.pause(&p.Steps[from]); b != nil {
			r.Break = fmt.Sprintf("Planned break of %s min at %s: everybody off the work, one stays at the rack. The lead asks who can go on.", minutes(b.Minutes), s.p.NightOf(&p.Steps[from]).Clock(b.At))
		}
		for i := from; i < end; i++ {
			r.Rows = append(r.Rows, s.row(&p.Steps[i]))
		}
		if h := p.Steps[end-1].Hold; h != nil {
			r.Hold = fmt.Sprintf("Hold point %s: %s. Decides: %s.%s", h.Name, h.What, h.Decides, s.choice(&p.Steps[end-1]))
		}
		r.Drawn = s.drawn(from, end)
		out = append(out, r)
		from = end
	}
	return out
}

// pause gives the planned break before a step, or nil.
func (s *sheet) pause(st *sequence.Step) *sequence.Pause {
	for _, n := range s.p.Windows {
		for i := range n.Breaks {
			if n.Breaks[i].Before == st.Number {
				return &n.Breaks[i]
			}
		}
	}
	return nil
}

// choice says what going on and going back from a hold point take, and until
// when the choice is open.
func (s *sheet) choice(st *sequence.Step) string {
	c := s.p.ChoiceAt(st)
	by := ""
	if !c.By.IsZero() {
		by = s.p.NightOf(st).Clock(c.By)
	}
	switch {
	case c.Close > 0 && by != "":
		return fmt.Sprintf(" To rest here, close first what is open (%s min): if it is not go by %s, do that, and the rest waits for another window.", minutes(c.Close), by)
	case c.Close > 0:
		return fmt.Sprintf(" To rest here, close first what is open (%s min).", minutes(c.Close))
	case c.Ends && by != "":
		return fmt.Sprintf(" The work rests here; if it is not go by %s, the rest waits for another window.", by)
	case c.Ends:
		return ""
	}
	text := fmt.Sprintf(" Back from here %s min, on %s min.", minutes(c.Back), minutes(c.On))
	switch {
	case by == "":
	case c.Turned:
		text += fmt.Sprintf(" If it is not go by %s, go on all the same and call for more time.", by)
	default:
		text += fmt.Sprintf(" If it is not go by %s, go back.", by)
	}
	return text
}

func (s *sheet) row(st *sequence.Step) row {
	r := row{
		Number: fmt.Sprint(st.Number), Minutes: minutes(st.Minutes), Place: s.place(st.At), Do: st.Do, Expect: st.Expect,
		Who: s.who(st), State: s.state(&st.State), Undo: s.undo(st),
	}
	var marks []string
	for _, c := range st.Cautions {
		marks = append(marks, s.caution(c))
	}
	r.Marks = strings.Join(marks, " ")
	if st.Tip != nil {
		r.Tip = st.Tip.String()
	}
	if !st.Start.IsZero() {
		n := s.p.NightOf(st)
		r.Start, r.Latest = n.Clock(st.Start), n.Clock(st.LatestStart)
	}
	return r
}

// drawn draws the racks that steps changed, before and after.
func (s *sheet) drawn(from, to int) []drawn {
	if s.o.Bare {
		return nil
	}
	var out []drawn
	before, after := s.p.Racks(from), s.p.Racks(to)
	for i := range before {
		if i >= len(after) || before[i] == after[i] {
			continue
		}
		for _, view := range []elevation.View{elevation.Front, elevation.Rear} {
			lines := elevation.Pair(before[i], after[i], elevation.Options{View: view, ASCII: s.o.ASCII, Inches: s.o.Inches, Width: 80})
			if len(lines) > 0 {
				out = append(out, drawn{
					Head: before[i].Name + " before and after " + stepsText(from+1, to),
					Text: style.Page(lines, style.New(false)),
				})
			}
		}
	}
	return out
}
