package runsheet

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint/sequence"
)

// Options say how a sheet is printed.
type Options struct {
	ASCII  bool   // no character beyond ASCII, names aside
	Inches bool   // lengths in inches
	Before string // the commits between which the plan leads, as people know them
	After  string
	Record string // number of the change record, if there is one
	Reason string // why the change is made, if somebody has said it
	// Purpose says what the change is for: the subjects of its commits, the
	// youngest first.
	Purpose []string
	Bare    bool // no elevations
}

// A sheet is a plan being printed.
type sheet struct {
	p        *sequence.Plan
	o        Options
	cautions []string // numbered C1, C2, ... as they are first needed
}

func newSheet(p *sequence.Plan, o Options) *sheet {
	s := &sheet{p: p, o: o}
	for _, steps := range [][]sequence.Step{p.Daytime, p.Steps} {
		for i := range steps {
			for _, c := range steps[i].Cautions {
				if !slices.Contains(s.cautions, c) {
					s.cautions = append(s.cautions, c)
				}
			}
		}
	}
	return s
}

// caution gives the mark of a caution: "C3".
func (s *sheet) caution(c string) string { return fmt.Sprintf("C%d", 1+slices.Index(s.cautions, c)) }

func (s *sheet) sign(unicode, ascii string) string {
	if s.o.ASCII {
		return ascii
	}
	return unicode
}

// place names where a step is done, with the direction in which units are
// counted: "s1 front U3-5 ↓".
func (s *sheet) place(a sequence.Place) string {
	var parts []string
	for _, part := range []string{a.Rack, a.Face, a.Units} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	if len(parts) == 0 {
		if a.Room != "" {
			return "room " + a.Room
		}
		return s.sign("–", "-")
	}
	if a.Units != "" {
		switch a.Counted {
		case "up":
			parts = append(parts, s.sign("↑", "(counted up)"))
		case "down":
			parts = append(parts, s.sign("↓", "(counted down)"))
		}
	}
	return strings.Join(parts, " ")
}

// who says by whom and with what a step is done.
func (s *sheet) who(st *sequence.Step) string {
	text := fmt.Sprint(st.People)
	if st.Watcher {
		text += "+1 watching"
	}
	if st.Lift {
		text += ", lift"
	} else if st.Tool != "" {
		text += ", " + st.Tool
	}
	if st.Competence != "" {
		text += ", " + st.Competence
	}
	return text
}

// state says what is so after a step, as far as it is out of the ordinary.
func (s *sheet) state(st *sequence.State) string {
	var parts []string
	if st.Out != "" {
		parts = append(parts, st.Out+" is out")
	}
	if len(st.Off) > 0 {
		parts = append(parts, "off: "+strings.Join(st.Off, ", "))
	}
	if st.OneFeed != "" {
		parts = append(parts, st.OneFeed)
	}
	if len(st.Parked) > 0 {
		parts = append(parts, "parked: "+strings.Join(st.Parked, ", "))
	}
	if len(st.Down) > 0 {
		parts = append(parts, "down: "+strings.Join(st.Down, ", "))
	}
	if len(st.Open) > 0 {
		parts = append(parts, "open: "+strings.Join(st.Open, ", "))
	}
	if len(st.Ajar) > 0 {
		parts = append(parts, "door open: "+strings.Join(st.Ajar, ", "))
	}
	if len(st.Seals) > 0 {
		parts = append(parts, "fire seal open: "+strings.Join(st.Seals, ", "))
	}
	if len(parts) == 0 {
		return "at rest"
	}
	return strings.Join(parts, "; ")
}

// minutes prints a number of minutes without its unit.
func minutes(d quantity.Duration) string { return quantity.Number(d.Minutes(), 1) }

// undo says what undoes a step.
func (s *sheet) undo(st *sequence.Step) string {
	switch {
	case st.Undo == "":
		return s.sign("–", "-")
	case st.UndoMinutes == 0:
		return st.Undo
	}
	return fmt.Sprintf("%s (%s)", st.Undo, minutes(st.UndoMinutes))
}

// Title says in one line what a plan does, and where.
func Title(p *sequence.Plan) string {
	counts := map[sequence.JobKind]int{}
	for _, j := range p.Jobs {
		counts[j.Kind]++
	}
	var parts []string
	for k := sequence.Fit; k <= sequence.NewFrame; k++ {
		if n := counts[k]; n > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", k, n))
		}
	}
	racks := racksOf(p)
	if len(parts) == 0 {
		return "nothing to be done by hand"
	}
	where := strings.Join(racks, ", ")
	if len(racks) > 6 {
		where = fmt.Sprintf("%s and %d more racks", strings.Join(racks[:5], ", "), len(racks)-5)
	}
	if where == "" {
		return strings.Join(parts, ", ")
	}
	return strings.Join(parts, ", ") + " in " + where
}

func racksOf(p *sequence.Plan) []string {
	var racks []string
	add := func(name string) {
		if name != "" && !slices.Contains(racks, name) {
			racks = append(racks, name)
		}
	}
	for _, j := range p.Jobs {
		for _, m := range []*estate.Mount{j.Old, j.New} {
			if m != nil && m.Rack != nil {
				add(m.Rack.Name)
			}
		}
		add(j.Rack)
	}
	slices.Sort(racks)
	return racks
}
