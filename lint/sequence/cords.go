package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// A CordToLay is a supply cord that has to be there before the work begins.
type CordToLay struct {
	Job   *Job
	Inlet int // from 1
	Cord  *estate.Cord
	Needs quantity.Length // what its way takes at most, by an estimate; 0 where that is not known
}

// CordsToLay gives the supply cords that a job brings, as far as the record
// tells cords: all of a thing that comes, or comes from another rack; of
// another those that are other ones, and those to another strip of which nobody
// has said the length.
func (p *Plan) CordsToLay(j *Job) []CordToLay {
	if j.New == nil || len(j.New.Cords) == 0 {
		return nil
	}
	var inlets []int
	all := j.Kind == Fit || j.Kind == Transfer || len(j.cords) == 0 && (j.Kind == Refeed || j.Fed)
	for i := range j.New.Cords {
		if all {
			inlets = append(inlets, i)
		}
	}
	for i := range j.cords {
		if c := &j.cords[i]; !all && c.New != nil && (c.Other() || c.Old.To != c.New.To && !c.New.Length.Known()) {
			inlets = append(inlets, c.Inlet)
		}
	}
	out := make([]CordToLay, 0, len(inlets))
	for _, i := range inlets {
		lay := CordToLay{Job: j, Inlet: i + 1, Cord: &j.New.Cords[i]}
		if way, why := p.way(j.New, lay.Cord); why == "" {
			lay.Needs = way.To
		}
		out = append(out, lay)
	}
	return out
}

// way gives the way of a cord of a mount of the estate after the change.
func (p *Plan) way(m *estate.Mount, c *estate.Cord) (estate.CordWay, string) {
	usual := estate.UsualCordHabit
	const rule = "power/cord-short" // one place says how a site runs its cords
	return m.CordWay(c, p.after.StripOf(m, c), estate.CordHabit{
		Side:    lint.LimitIn(p.limits, rule, "side", m, usual.Side),
		Loop:    lint.LimitIn(p.limits, rule, "loop", m, usual.Loop),
		PullOut: lint.LimitIn(p.limits, rule, "pull_out", m, usual.PullOut),
	})
}

// length prints a length as the estate wants lengths printed.
func (p *Plan) length(l quantity.Length) string {
	if p.after.Lengths == "in" {
		return l.Inched()
	}
	return l.String()
}

// layOut says which cords are laid out by day, each with its length, its ends
// and where it goes.
func (p *Plan) layOut(m *estate.Mount, cords []CordToLay) string {
	parts := make([]string, len(cords))
	for i := range cords {
		c := cords[i].Cord
		part := "cord " + fmt.Sprint(cords[i].Inlet)
		switch length, ok := c.Length.Get(); {
		case ok:
			part += ", " + p.length(length)
		case cords[i].Needs > 0:
			part += ", length not declared, some " + p.length(cords[i].Needs) + " needed"
		default:
			part += ", length not declared"
		}
		for _, end := range []struct{ what, is string }{{"plug", c.Plug}, {"socket", c.Socket}} {
			if end.is != "" {
				part += ", " + end.what + " " + end.is
			}
		}
		if c.Locking.Known() && c.Locking.Value {
			part += ", locking"
		}
		parts[i] = part + ", to " + c.Goes()
	}
	up := ""
	if !inOwnRack(m) {
		up = upTo(sealsOf(m))
	}
	if len(cords) == 1 {
		return fmt.Sprintf("Lay out the new supply cord of %s, checked for length, and tie it off%s: %s.", m.Name, up, parts[0])
	}
	return fmt.Sprintf("Lay out the new supply cords of %s, checked for length, and tie them off%s: %s.", m.Name, up, strings.Join(parts, "; "))
}

// inOwnRack reports whether all supply cords of a mount are declared and stay in
// its rack.
func inOwnRack(m *estate.Mount) bool {
	if m == nil || m.Rack == nil || len(m.Cords) == 0 {
		return false
	}
	var none *estate.Estate // other racks are not looked at
	for i := range m.Cords {
		if none.StripOf(m, &m.Cords[i]) == nil {
			return false
		}
	}
	return true
}

// feedOf names the feed that a cord of a mount leads to, in words for a step:
// " (feed a)", or nothing where that is not known.
func feedOf(e *estate.Estate, m *estate.Mount, inlet int) string {
	for _, in := range e.Live(m, nil) {
		if in.Cord == &m.Cords[inlet] {
			return " (feed " + in.Feed.Name + ")"
		}
	}
	return ""
}

// byCord says by which cord a thing is put on a feed at the end of its way,
// where the record tells its cords: " by its new cord 1, 2000 mm, to outlet 5 of
// strip-a,".
func (r *writer) byCord(m *estate.Mount, i int) string {
	j := r.job
	if j == nil || j.New == nil || len(j.New.Cords) == 0 || len(j.New.Cords) != len(m.Feeds) || where(m) != where(r.w.spot(j.New)) {
		return ""
	}
	c := &j.New.Cords[i]
	length, ok := c.Length.Get()
	if !ok || !slices.ContainsFunc(r.p.CordsToLay(j), func(l CordToLay) bool { return l.Inlet == i+1 }) {
		return fmt.Sprintf(" by cord %d to %s,", i+1, c.Goes())
	}
	return fmt.Sprintf(" by its new cord %d, %s, to %s,", i+1, r.p.length(length), c.Goes())
}

// walkCords writes the steps by which the cords of a thing that stays are
// changed for others or go elsewhere, one at a time.
func (r *writer) walkCords(m *estate.Mount) {
	j := r.job
	for n := range j.cords {
		c := &j.cords[n]
		from, to := "", ""
		if c.Old != nil {
			from = c.Old.Goes() + feedOf(r.p.before, j.Old, c.Inlet)
		}
		if c.New != nil {
			to = c.New.Goes() + feedOf(r.p.after, j.New, c.Inlet)
		}
		inlet := c.Inlet + 1
		var s *Step
		switch {
		case c.New == nil:
			s = r.step(CordsOff, m, "Take cord %d of %s off %s.", inlet, m.Name, from)
			s.Expect = "its far end agrees with its label"
			s.Undo, s.UndoMinutes = "cord on again", r.clock.of(PowerOn)
		case c.Old == nil:
			s = r.step(PowerOn, m, "Put the new cord %d of %s%s on at %s, and check it.", inlet, m.Name, r.long(c.New), to)
			s.Expect = "its current seen on the meter of its feed"
			s.Undo, s.UndoMinutes = "cord off", r.clock.of(CordsOff)
		case c.Other():
			s = r.step(PowerOn, m, "Take cord %d of %s%s off %s, put the new one%s on at %s, and check it.", inlet, m.Name, r.long(c.Old), from, r.long(c.New), to)
			s.Minutes += r.clock.of(CordsOff)
			s.Expect = "its current seen on the meter of its feed; the old cord out from both ends"
			s.Undo, s.UndoMinutes = "put the old cord back", r.clock.of(PowerOn)+r.clock.of(CordsOff)
		default:
			s = r.step(PowerOn, m, "Move cord %d of %s from %s to %s, and check it.", inlet, m.Name, from, to)
			s.Minutes += r.clock.of(CordsOff)
			s.Expect = "its current seen on the meter of its feed"
			s.Undo, s.UndoMinutes = "move the cord back", r.clock.of(PowerOn)+r.clock.of(CordsOff)
		}
		if has := len(j.Old.Cords); c.Old != nil && has > 1 {
			s.Cautions = append(s.Cautions, "What else feeds this thing carries it alone meanwhile: read its meter first. "+moreThanOneSupply(m, has))
		}
		if c.Old != nil {
			s.Cautions = append(s.Cautions, direct(j.Old.Feeds)...)
		}
		if c.New != nil {
			s.on = switchedBy(r.p.after, j.New, c.Inlet)
		}
		s.Cautions = append(s.Cautions, cautionMeter)
	}
}

// long gives the length of a cord between commas, or nothing where it is not
// declared.
func (r *writer) long(c *estate.Cord) string {
	if l, ok := c.Length.Get(); ok {
		return ", " + r.p.length(l) + ","
	}
	return ""
}

// movesAbout reports whether a job's thing comes to stand elsewhere.
func (j *Job) movesAbout() bool {
	return j != nil && (j.Kind == Move || j.Kind == Transfer || j.Kind == Turn || j.Kind == ChangeSide)
}

// walkedInlets numbers the cords of a job that come or go elsewhere.
func (j *Job) walkedInlets() []string {
	var out []string
	for i := range j.cords {
		if c := &j.cords[i]; c.New != nil {
			out = append(out, fmt.Sprint(c.Inlet+1))
		}
	}
	return out
}

// unreadCords reports whether a thing moves with supply cords whose length
// nobody has declared.
func (j *Job) unreadCords() bool {
	return j.movesAbout() && slices.ContainsFunc(j.New.Cords, func(c estate.Cord) bool { return !c.Length.Known() })
}

// walked says what becomes of the cords of a thing that stays, for a job in one
// line.
func walked(all []change.CordChange) string {
	parts := make([]string, 0, len(all))
	for i := range all {
		c := &all[i]
		switch {
		case c.New == nil:
			parts = append(parts, fmt.Sprintf("cord %d off %s", c.Inlet+1, c.Old.Goes()))
		case c.Old == nil:
			parts = append(parts, fmt.Sprintf("cord %d on at %s", c.Inlet+1, c.New.Goes()))
		case c.Other():
			parts = append(parts, fmt.Sprintf("another cord %d to %s", c.Inlet+1, c.New.Goes()))
		default:
			parts = append(parts, fmt.Sprintf("cord %d from %s to %s", c.Inlet+1, c.Old.Goes(), c.New.Goes()))
		}
	}
	return strings.Join(parts, ", ")
}
