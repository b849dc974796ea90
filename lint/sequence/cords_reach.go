package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// A cordCheck is a supply cord one of whose ends is worked at.
type cordCheck struct {
	m     *estate.Mount
	inlet int         // from 0
	own   *Job        // of its thing
	far   *Job        // of the strip that it goes to
	stale bool        // what it needs was measured before one of its ends moves
	cord  estate.Cord // without what is stale
	way   estate.CordWay
	why   string // why its way is not known
}

// moves reports whether one of the cord's ends comes to be elsewhere.
func (c *cordCheck) moves() bool { return c.own.movesAbout() || c.far.movesAbout() }

// cordChecks gives the supply cords one of whose ends is worked at, rack by
// rack: cords of what comes, moves or is fed otherwise, and cords to strips that
// come or move.
func (p *Plan) cordChecks() []cordCheck {
	works := map[*estate.Mount]*Job{}
	strips := false
	for _, j := range p.Jobs {
		if j.New != nil && j.Kind != Relabel {
			works[j.New] = j
			strips = strips || gives(j.New)
		}
	}
	was := map[*estate.Mount]*estate.Mount{}
	for i := range p.Change.Mounts {
		if c := &p.Change.Mounts[i]; c.Old != nil && c.New != nil {
			was[c.New] = c.Old
		}
	}
	var out []cordCheck
	for _, rack := range p.after.Racks {
		for _, m := range rack.Mounts {
			for i := range m.Cords {
				c := cordCheck{m: m, inlet: i, own: works[m], cord: m.Cords[i]}
				if strips {
					c.far = works[p.after.StripOf(m, &m.Cords[i])]
				}
				if c.own == nil && c.far == nil {
					continue
				}
				if c.stale = c.moves() && c.cord.Needed.Known() && unchanged(m, was[m], i); c.stale {
					c.cord.Needed = estate.Figure[quantity.Length]{}
				}
				c.way, c.why = p.way(m, &c.cord)
				out = append(out, c)
			}
		}
	}
	return out
}

// cordsReach finds the supply cords that are too short for where their ends
// come to be, and those of which nobody has said anew how long they are or have
// to be.
func (p *Plan) cordsReach() {
	all := p.cordChecks()
	for i := range all {
		p.cordReaches(&all[i])
	}
	for _, cords := range unread(all) {
		first := cords[0]
		lengths, reach := "the length of cord %s of %s is", "it reaches"
		if len(cords) > 1 {
			lengths, reach = "the lengths of cords %s of %s are", "they reach"
		}
		p.Findings = append(p.Findings, lint.Finding{
			Rule: "plan/cord-unread", Level: lint.Note, At: first.m.Source.Attr("cords"), Thing: first.m.Ref(), Rack: first.m.Rack.Name,
			Message: fmt.Sprintf("%s "+lengths+" not declared: whether %s is found out in the window%s; read what is printed on %s before, and write length",
				afterWork(first.own, first.far), inlets(cords), first.m.Name, reach, p.wouldNeed(cords), itThem(len(cords))),
		})
	}
}

// cordReaches judges one cord.
func (p *Plan) cordReaches(c *cordCheck) {
	f := lint.Finding{
		Rule: "plan/cord-short", Level: lint.Error, At: c.m.Source.Attr("cords"), Thing: c.m.Ref(), Rack: c.m.Rack.Name,
		Others: []string{fmt.Sprintf("cord %d", c.inlet+1)},
	}
	after, which := afterWork(c.own, c.far), fmt.Sprintf("cord %d of %s", c.inlet+1, c.m.Name)
	says, sure, vague := c.way.Short(&c.cord, p.length)
	switch {
	case says != "":
		if !sure {
			f.Level = lint.Warning
		}
		f.Message = fmt.Sprintf("%s %s, to %s, %s", after, which, c.cord.Goes(), says)
	case c.stale:
		f.Rule, f.Level = "plan/cord-unread", lint.Warning
		f.Message = fmt.Sprintf("%s the way of %s is another one: the %s needed are those of before%s; measure again, and write needed",
			after, which, p.length(c.m.Cords[c.inlet].Needed.Value), p.wouldNeed([]*cordCheck{c}))
	case c.cord.Length.Known() && c.why+vague != "":
		p.Unchecked = append(p.Unchecked, lint.Unchecked{
			Rule: f.Rule, At: c.m.Source.At(), Thing: f.Thing, Rack: f.Rack,
			Because: fmt.Sprintf("whether %s reaches is not known: %s%s", which, c.why, vague),
		})
		return
	default:
		return
	}
	p.Findings = append(p.Findings, f)
}

// unread gives the cords that come to run otherwise and whose length nobody has
// declared, those of one thing together.
func unread(all []cordCheck) [][]*cordCheck {
	var out [][]*cordCheck
	for i := range all {
		c := &all[i]
		if c.cord.Length.Known() || !c.moves() {
			continue
		}
		if n := len(out); n > 0 && out[n-1][0].m == c.m {
			out[n-1] = append(out[n-1], c)
			continue
		}
		out = append(out, []*cordCheck{c})
	}
	return out
}

// inlets numbers cords: "1", "1 and 2".
func inlets(cords []*cordCheck) string {
	var out []string
	for _, c := range cords {
		out = append(out, fmt.Sprint(c.inlet+1))
	}
	return inWords(out)
}

// wouldNeed says what the longest way of some cords takes, by an estimate: "; by
// an estimate it now takes some 1362 mm"; nothing where that is not known.
func (p *Plan) wouldNeed(cords []*cordCheck) string {
	var most *estate.CordWay
	for _, c := range cords {
		if c.why != "" {
			return ""
		}
		if most == nil || c.way.To > most.To {
			most = &c.way
		}
	}
	if len(cords) > 1 {
		return "; by an estimate the longer way takes " + p.needsNow(most)
	}
	return "; by an estimate it now takes " + p.needsNow(most)
}

// readCords writes the daytime work on cords that nobody has read or measured
// since their ends were elsewhere; reach says whether the cords of a thing can
// be got at by day.
func (p *Plan) readCords(reach func(*estate.Mount) bool, day func(n int, j *Job, text string)) {
	// What is laid out anew is checked for length then.
	all := slices.DeleteFunc(p.cordChecks(), func(c cordCheck) bool {
		return c.own != nil && slices.ContainsFunc(p.CordsToLay(c.own), func(l CordToLay) bool { return l.Inlet == c.inlet+1 })
	})
	write := func(cords []*cordCheck, because string) {
		c := cords[0]
		if !reach(c.m) {
			return
		}
		j, noun, way := c.own, "length of cord", "its way"
		if j == nil {
			j = c.far
		}
		if len(cords) > 1 {
			noun, way = "lengths of cords", "their ways"
		}
		day(len(cords), j, fmt.Sprintf("Read the %s %s of %s, and measure %s %s%s.", noun, inlets(cords), c.m.Name, way, because, p.wouldNeed(cords)))
	}
	for _, cords := range unread(all) {
		write(cords, "with "+mover(cords[0])+" in its new place: no length is declared")
	}
	for i := range all {
		if c := &all[i]; c.stale && c.cord.Length.Known() {
			write([]*cordCheck{c}, "anew: the "+p.length(c.m.Cords[c.inlet].Needed.Value)+" of the record are those of before "+mover(c)+" moves")
		}
	}
}

// mover names the end of a cord that moves.
func mover(c *cordCheck) string {
	if c.own.movesAbout() {
		return c.m.Name
	}
	return c.far.Name
}

func plural(noun string, n int) string {
	if n == 1 {
		return noun
	}
	return noun + "s"
}

func itThem(n int) string {
	if n == 1 {
		return "it"
	}
	return "them"
}

// needsNow prints what a cord's way takes.
func (p *Plan) needsNow(w *estate.CordWay) string {
	if w.From < w.To {
		return fmt.Sprintf("from %s to %s", p.length(w.From), p.length(w.To))
	}
	return "some " + p.length(w.To)
}

// afterWork says after what a cord is judged: the work at its thing, else that
// at the strip that it goes to.
func afterWork(own, far *Job) string {
	switch {
	case own.movesAbout():
		return fmt.Sprintf("with %s moved from %s to %s,", own.Name, where(own.Old), where(own.New))
	case far.movesAbout():
		return fmt.Sprintf("with %s moved from %s to %s,", far.Name, where(far.Old), where(far.New))
	case own != nil && own.Kind == Fit:
		return fmt.Sprintf("with %s fitted at %s,", own.Name, where(own.New))
	case own != nil:
		return fmt.Sprintf("with the cords of %s changed,", own.Name)
	}
	return fmt.Sprintf("with %s fitted at %s,", far.Name, where(far.New))
}

// unchanged reports whether what a cord is said to need is what was said before
// the change.
func unchanged(m, was *estate.Mount, i int) bool {
	if was == nil {
		return true
	}
	if i >= len(was.Cords) {
		return false
	}
	a, b := was.Cords[i].Needed, m.Cords[i].Needed
	return a.Known() && a.Value == b.Value && a.On == b.On && a.Basis == b.Basis
}

func inWords(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
