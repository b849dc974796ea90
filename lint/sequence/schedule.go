package sequence

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// horizon is for how many days windows are looked for.
const horizon = 400

// schedule reckons the way on and the way back of every step, and puts the
// blocks into windows, if windows are wanted: in order, each into the first
// window that has room, people and lift for it and is not frozen. A block is
// never cut, because between its ends nothing is at rest.
func (p *Plan) schedule(o Options) {
	for i := range p.Steps {
		s := &p.Steps[i]
		s.BackMinutes = p.WithContingency(p.back(i))
		s.ForwardMinutes = p.WithContingency(p.on(i))
	}
	if len(p.Steps) == 0 {
		return
	}
	p.checkCrew()
	p.checkCompetences()
	p.checkRecord(o)
	p.acceptCrew(o.Today)
	p.checkRest()
	if o.From.IsZero() || len(p.after.Windows) == 0 {
		return
	}
	clock, _ := paceOf(p.after)
	open := map[string]*filling{}
	var last time.Time // blocks are done in order, whatever the site
	var nights []*Night
	// Where something is left undone, what comes after it may need it.
	racks, rooms := map[string]bool{}, map[string]bool{}
	leave := func(chain []int) {
		p.Left = append(p.Left, chain...)
		for _, n := range chain {
			at, room, feed := p.worksAt(n)
			for _, rack := range at {
				racks[rack] = true
			}
			rooms[room] = rooms[room] || feed
		}
	}
	waits := func(n int) bool {
		at, room, _ := p.worksAt(n)
		return rooms[room] || slices.ContainsFunc(at, func(rack string) bool { return racks[rack] })
	}
	for n := 0; n < len(p.Blocks); n++ {
		chain := p.chain(n)
		n = chain[len(chain)-1]
		chain = slices.DeleteFunc(chain, func(n int) bool { return p.Blocks[n].From == p.Blocks[n].To || p.Blocks[n].To < p.Next() })
		if len(chain) == 0 {
			continue
		}
		b := p.joint(chain)
		if slices.ContainsFunc(chain, waits) {
			leave(chain)
			first := &p.Steps[b.From]
			p.Findings = append(p.Findings, lint.Finding{
				Rule: "plan/too-long", Level: lint.Note, At: first.Job.declared(), Thing: stepThing(first), Rack: first.At.Rack,
				Message: stepsText(b.From+1, b.To) + " wait: something before them at the same rack finds no window",
			})
			continue
		}
		name := siteName(b.Site)
		f := open[name]
		if f == nil {
			all, err := Occurrences(p.after, b.Site, o.From, horizon)
			if err != nil {
				p.Findings = append(p.Findings, lint.Finding{Rule: "plan/too-long", Level: lint.Error, At: b.Site.Source.Attr("zone"), Thing: "site." + name, Message: err.Error()})
				leave(chain)
				continue
			}
			f = &filling{all: slices.DeleteFunc(all, func(night Occurrence) bool { return night.begun(o) })}
			open[name] = f
		}
		night := p.place(f, chain, &b, clock, last)
		if night == nil {
			leave(chain)
			p.tooLong(f, chain, &b, clock)
			continue
		}
		if !slices.Contains(nights, night) {
			nights = append(nights, night)
		}
		last = night.Opens
	}
	for i, n := range nights {
		n.Number = i + 1
		p.reckon(n, clock)
	}
	p.Windows = nights
	p.checkNotice(o)
}

// begun reports whether a window opens before the first day, or moment, that may
// be used: it is of use only to a sheet that is half done. A midnight of UTC
// stands for the day, wherever the site is.
func (n *Occurrence) begun(o Options) bool {
	from := o.From
	if from.UTC().Truncate(24 * time.Hour).Equal(from) {
		y, m, d := from.UTC().Date()
		from = time.Date(y, m, d, 0, 0, 0, 0, n.Opens.Location())
	}
	return len(o.Done) == 0 && n.Opens.Before(from)
}

// worksAt names the racks and the rooms that a block works at, and says
// whether it is about a feed, which a whole room may wait for.
func (p *Plan) worksAt(block int) (places []string, room string, feed bool) {
	for i := p.Blocks[block].From; i < p.Blocks[block].To; i++ {
		s := &p.Steps[i]
		if s.At.Rack != "" && !slices.Contains(places, s.At.Rack) {
			places = append(places, s.At.Rack)
		}
		if s.At.Room != "" {
			room = s.At.Room
		}
		feed = feed || s.Job != nil && s.Job.feed != nil
	}
	return places, room, feed
}

func siteName(s *estate.Site) string {
	if s == nil {
		return ""
	}
	return s.Name
}

// A filling is the windows of one site while blocks are put into them.
type filling struct {
	all  []Occurrence
	next int // index of the occurrence that is being filled
	now  *Night
}

// around gives the minutes of a window beside its steps: walking up and
// closing out.
func around(c *clockwork) quantity.Duration { return c.of(WalkUp) + c.of(CloseOut) }

// place puts blocks that follow each other, which b is together, into the window
// being filled, or else into the first later one that will do; nil where none
// will. Where none leaves the time to go back, the first that leaves the time to
// go on is taken, and the plan says what is wrong with it.
func (p *Plan) place(f *filling, blocks []int, b *Block, c *clockwork, last time.Time) *Night {
	if n := f.now; n != nil && !n.Opens.Before(last) && p.fitsCrew(b, n.Window) {
		needs := p.WithContingency(around(c) + p.work(c, slices.Concat(n.Blocks, blocks)))
		if needs <= n.Usable && p.leavesTime(n.Blocks, blocks, n.Usable, c) {
			n.Blocks = append(n.Blocks, blocks...)
			return n
		}
	}
	first := -1
	for i := f.next; i < len(f.all); i++ {
		o := &f.all[i]
		if o.Frozen != nil {
			p.passOver(o)
			continue
		}
		if o.Opens.Before(last) || !p.fitsCrew(b, o.Window) || p.WithContingency(around(c)+p.work(c, blocks)) > o.Usable() {
			continue
		}
		if f.now != nil && o.Opens.Before(f.now.Closes) {
			continue // another window of the same night
		}
		if p.leavesTime(nil, blocks, o.Usable(), c) {
			return f.take(i, blocks)
		}
		if first < 0 {
			first = i
		}
	}
	if first < 0 {
		return nil
	}
	return f.take(first, blocks)
}

// take begins to fill an occurrence with blocks.
func (f *filling) take(i int, blocks []int) *Night {
	o := &f.all[i]
	f.next = i + 1
	f.now = &Night{Window: o.Window, Opens: o.Opens, Closes: o.Closes, Zone: o.Zone, Usable: o.Usable(), Blocks: slices.Clone(blocks)}
	return f.now
}

// leavesTime reports whether blocks that are done after others in a window
// leave, at the start of each step, the time to go on or back from there.
func (p *Plan) leavesTime(before, blocks []int, usable quantity.Duration, c *clockwork) bool {
	at := c.of(WalkUp)
	end := usable - p.WithContingency(c.of(CloseOut))
	all := slices.Concat(before, blocks)
	breaks := p.breaks(c, all)
	for n, b := range all {
		turning := p.Turning(b)
		for i := max(p.Blocks[b].From, p.Next()-1); i < p.Blocks[b].To; i++ {
			s := &p.Steps[i]
			if slices.Contains(breaks, i) {
				at += c.of(Break)
			}
			if n >= len(before) && p.WithContingency(at)+p.needsFrom(s, turning)+p.breaksWithin(c, breaks, i) > end {
				return false
			}
			at += s.Minutes
		}
	}
	return true
}

// breaksWithin gives the minutes of the breaks that come after a step and before
// its block ends.
func (p *Plan) breaksWithin(c *clockwork, breaks []int, step int) quantity.Duration {
	var sum quantity.Duration
	for _, k := range breaks {
		if k > step && k < p.Blocks[p.Steps[step].Block].To {
			sum += c.of(Break)
		}
	}
	return p.WithContingency(sum)
}

// needsFrom gives what has to be left, from the start of a step on, to finish
// its block or, before the turning point of it, to do the step and undo all of
// the block so far.
func (p *Plan) needsFrom(s *Step, turning int) quantity.Duration {
	if turning == 0 || s.Number < turning {
		return max(s.ForwardMinutes, p.WithContingency(s.Minutes)+s.BackMinutes)
	}
	return s.ForwardMinutes
}

func (p *Plan) passOver(o *Occurrence) {
	f := o.Frozen
	text := fmt.Sprintf("%s, %s to %s", f.Name, f.From, f.To)
	if f.Reason != "" {
		text += " (" + f.Reason + ")"
	}
	if !slices.Contains(p.Frozen, text) {
		p.Frozen = append(p.Frozen, text)
	}
}

// work gives the minutes of blocks that are done in one window, breaks among
// them.
func (p *Plan) work(c *clockwork, blocks []int) quantity.Duration {
	sum := quantity.Duration(len(p.breaks(c, blocks))) * c.of(Break)
	for _, b := range blocks {
		sum += p.rest(b)
	}
	return sum
}

// breakAfter is how long people work before a break (common practice).
const breakAfter = 240 * quantity.Minute

// breaks gives the steps, by index, before which the planned breaks of a window
// come: at the last rest within four hours of the last break, at a hold point
// where there is no rest, and before the step that would go beyond them where
// there is neither. A break soon after the last one is none.
func (p *Plan) breaks(c *clockwork, blocks []int) []int {
	type place struct {
		step  int
		since quantity.Duration
	}
	var out []int
	since := c.of(WalkUp) // of work since the last break
	var rest, hold *place
	for _, b := range blocks {
		for i := max(p.Blocks[b].From, p.Next()-1); i < p.Blocks[b].To; i++ {
			s := &p.Steps[i]
			switch late := p.WithContingency(since) >= breakAfter/3; {
			case late && i == p.Blocks[b].From:
				rest = &place{i, since}
			case late && i > p.Blocks[b].From && p.Steps[i-1].Hold != nil && p.Steps[i-1].State.Out == "":
				hold = &place{i, since}
			}
			if p.WithContingency(since+s.Minutes) > breakAfter {
				at := rest
				if at == nil {
					at = hold
				}
				if at == nil {
					at = &place{i, since}
				}
				out = append(out, at.step)
				since -= at.since
				rest, hold = nil, nil
			}
			since += s.Minutes
		}
	}
	return out
}

func (p *Plan) fitsCrew(b *Block, w *estate.Window) bool {
	return (w.People == 0 || b.People <= w.People) && (!b.Lift || w.Lift && p.liftFits(b, w)) && p.competent(b, w)
}

// reckon sets the planned and the latest start of every step of a window.
//
// Before the turning point of its block a step has to start so early that,
// once it is done, the block can still be undone, and so early that the block
// can be finished; from the turning point on the way forward is the shorter
// one, and it alone decides. Either way the window has to be closed out before
// its margin.
func (p *Plan) reckon(n *Night, c *clockwork) {
	n.Needs = p.WithContingency(around(c) + p.work(c, n.Blocks))
	breaks := p.breaks(c, n.Blocks)
	n.Begin = n.Opens
	n.End = n.Opens.Add(toTime(n.Needs))
	end := n.Closes.Add(-toTime(n.Window.Margin)).Add(-toTime(p.WithContingency(c.of(CloseOut))))
	at := c.of(WalkUp)
	for _, b := range n.Blocks {
		turning := p.Turning(b)
		n.Turning = append(n.Turning, turning)
		for i := max(p.Blocks[b].From, p.Next()-1); i < p.Blocks[b].To; i++ {
			s := &p.Steps[i]
			if slices.Contains(breaks, i) {
				n.Breaks = append(n.Breaks, Pause{Before: s.Number, Minutes: c.of(Break), At: clockAt(n, p, at)})
				at += c.of(Break)
			}
			s.Start = clockAt(n, p, at)
			at += s.Minutes
			if turning == 0 || s.Number < turning {
				n.LatestBack = end.Add(-toTime(s.BackMinutes)).Truncate(time.Minute)
			}
			s.LatestStart = end.Add(-toTime(p.needsFrom(s, turning) + p.breaksWithin(c, breaks, i))).Truncate(time.Minute)
			if s.Start.After(s.LatestStart) {
				p.Findings = append(p.Findings, lint.Finding{
					Rule: "plan/back-out", Level: lint.Error, At: stepAt(s, n.Window), Thing: stepThing(s), Rack: s.At.Rack,
					Message: fmt.Sprintf("step %d is planned for %s in window.%s and would have to start by %s: it takes %s min, and going back after it %s min more",
						s.Number, n.Clock(s.Start), n.Window.Name, n.Clock(s.LatestStart), minutesText(p.WithContingency(s.Minutes)), minutesText(s.BackMinutes)),
				})
			}
		}
	}
}

// clockAt gives the time of day after minutes of work in a window.
func clockAt(n *Night, p *Plan, at quantity.Duration) time.Time {
	return n.Opens.Add(toTime(quantity.Of(at.Minutes()*(1+p.Contingency), quantity.Minute))).Truncate(time.Minute)
}

func minutesText(d quantity.Duration) string { return quantity.Number(d.Minutes(), 0) }

func toTime(d quantity.Duration) time.Duration {
	return time.Duration(d/quantity.Millisecond) * time.Millisecond
}

func stepThing(s *Step) string {
	if s.Job != nil {
		return s.Job.Thing
	}
	return ""
}

func stepAt(s *Step, w *estate.Window) estate.Range {
	if s.Job != nil {
		return s.Job.declared()
	}
	return w.Source.At()
}

// checkCrew finds steps that need more people, or a lift, than any window of
// their site has; and what ends with something parked.
func (p *Plan) checkCrew() {
	seen := map[string]bool{}
	for i := range p.Steps {
		s := &p.Steps[i]
		b := &p.Blocks[s.Block]
		people, lift, any := 0, false, false
		var unfit []string
		there, said := p.competences(b.Site)
		for _, w := range p.after.Windows {
			if w.Site != nil && b.Site != nil && w.Site.Name != b.Site.Name {
				continue
			}
			any = true
			people = max(people, w.People)
			if w.Lift && s.Lift {
				why := p.liftUnfit(w, s)
				lift = lift || len(why) == 0
				unfit = append(unfit, why...)
			}
		}
		if !any {
			p.proposeStripping(s, 0)
		}
		if !any || s.Job == nil {
			continue
		}
		n := s.People + boolInt(s.Watcher)
		var lacks []string
		if s.Lift && !lift {
			lacks = append(lacks, strings.Join(append([]string{fmt.Sprintf("a lift (%s at %s)", s.Mass, s.At.Units)}, unfit...), "; "))
		}
		if people > 0 && n > people {
			lacks = append(lacks, fmt.Sprintf("%d people", n))
		}
		mend := "lighten it if its maker allows, or bring what it takes"
		if len(lacks) > 0 {
			if text := p.proposeStripping(s, people); text != "" {
				mend = text + ", or bring what it takes"
			}
		}
		if c := s.Competence; c != "" && said && !slices.Contains(there, c) {
			if len(lacks) == 0 {
				mend = fmt.Sprintf("have one there, and write it: competences = [%q]", c)
			}
			lacks = append(lacks, article(c))
		}
		rule := "plan/too-few-people"
		if s.Task == RemakeSeal {
			rule = "plan/seal-open"
		}
		key := rule + " " + s.Job.Thing
		if len(lacks) == 0 || seen[key] {
			continue
		}
		seen[key] = true
		p.Findings = append(p.Findings, lint.Finding{
			Rule: rule, Level: lint.Error, At: s.Job.declared(), Thing: s.Job.Thing, Rack: s.At.Rack,
			Message: fmt.Sprintf("step %d (%s) calls for %s, and no window of site.%s has that; %s", s.Number, strings.TrimSuffix(s.Do, "."), strings.Join(lacks, " and "), siteName(b.Site), mend),
		})
	}
}

// checkRest finds things that the work leaves on fewer feeds than they have
// cords for: where one of them is lost in the days before the next window, the
// thing is, too.
func (p *Plan) checkRest() {
	for n := range p.Blocks {
		b := &p.Blocks[n]
		if b.From == b.To {
			continue
		}
		for _, j := range b.Jobs {
			m := j.New
			if m == nil || m.Equipment == nil || len(m.Feeds) == 0 || j.Kind == Relabel {
				continue
			}
			count := 0
			for _, in := range m.Equipment.Inlets {
				count += in.Count
			}
			if count < 2 || len(m.Feeds) >= 2 {
				continue
			}
			p.Findings = append(p.Findings, lint.Finding{
				Rule: "plan/not-at-rest", Level: lint.Error, At: m.Source.Attr("feeds"), Thing: j.Thing, Rack: j.Rack,
				Message: fmt.Sprintf("after step %d %s rests on feed %s alone, and has %d inlets", p.Steps[b.To-1].Number, j.Name, m.Feeds[0].Name, count),
			})
		}
	}
}

// acceptCrew leaves out of what blocks ask of a window the steps whose lack of
// people or of a lift a waiver accepts.
func (p *Plan) acceptCrew(today estate.Date) {
	for n := range p.Blocks {
		b := &p.Blocks[n]
		b.People, b.Lift, b.Competences, b.lifts = 0, false, nil, nil
		for i := b.From; i < b.To; i++ {
			s := &p.Steps[i]
			if p.waiverOn("plan/too-few-people", stepThing(s), today) != nil || s.Task == RemakeSeal && p.waiverOn("plan/seal-open", stepThing(s), today) != nil {
				continue
			}
			b.People = max(b.People, s.People+boolInt(s.Watcher))
			if s.Lift {
				b.Lift, b.lifts = true, append(b.lifts, i)
			}
			b.needs(s.Competence)
		}
	}
}

func stepsText(from, to int) string {
	if from == to {
		return fmt.Sprintf("step %d", from)
	}
	return fmt.Sprintf("steps %d to %d", from, to)
}

// tooLong says why blocks that follow each other, which b is together, fit into
// no window, with the shortest window that would do.
func (p *Plan) tooLong(f *filling, blocks []int, b *Block, c *clockwork) {
	needs := p.WithContingency(around(c) + p.work(c, blocks))
	first := &p.Steps[b.From]
	finding := lint.Finding{Rule: "plan/too-long", Level: lint.Error, Thing: stepThing(first), Rack: first.At.Rack}
	if first.Job != nil {
		finding.At = first.Job.declared()
	} else if b.Site != nil {
		finding.At = b.Site.Source.At()
	}
	steps := stepsText(max(b.From+1, p.Next()), b.To)
	var longest, margin quantity.Duration
	var freeze *estate.Freeze
	crewless := false
	for i := range f.all {
		o := &f.all[i]
		if o.Usable() > longest {
			longest, margin = o.Usable(), o.Window.Margin
		}
		switch {
		case o.Usable() < needs:
		case o.Frozen != nil:
			freeze = o.Frozen
		case !p.fitsCrew(b, o.Window):
			crewless = true
		}
	}
	crew := fmt.Sprintf("%d people", b.People)
	if b.Lift {
		crew += " and a lift"
	}
	for _, c := range b.Competences {
		crew += " and " + article(c)
	}
	switch {
	case len(f.all) == 0:
		finding.Message = fmt.Sprintf("%s need %s min with set-up, close-out and %s %% added, and site.%s has no window; declare one", steps, minutesText(needs), quantity.Number(p.Contingency*100, 0), siteName(b.Site))
	case longest < needs:
		finding.Message = fmt.Sprintf("%s cannot be cut, need %s min with set-up, close-out and %s %% added, and the longest window of site.%s has %s usable: a window of %s min would do (%s and a margin of %s), or another target, or a second set of rails",
			steps, minutesText(needs), quantity.Number(p.Contingency*100, 0), siteName(b.Site), minutesText(longest), minutesText(needs+margin), minutesText(needs), minutesText(margin))
	case crewless && slices.ContainsFunc(p.Findings, func(f lint.Finding) bool {
		return f.Rule == "plan/too-few-people" && f.Thing == finding.Thing || f.Rule == "plan/seal-open" && slices.ContainsFunc(b.Jobs, func(j *Job) bool { return j.Thing == f.Thing })
	}):
		return // said already, of the step itself
	case crewless:
		finding.Rule = "plan/too-few-people"
		finding.Message = fmt.Sprintf("%s need %s, and no window of site.%s that is long enough has that", steps, crew, siteName(b.Site))
	case freeze != nil:
		finding.Rule = "plan/freeze"
		finding.Message = fmt.Sprintf("%s find no window of site.%s outside freeze.%s (%s to %s: %s)", steps, siteName(b.Site), freeze.Name, freeze.From, freeze.To, freeze.Reason)
	default:
		finding.Message = fmt.Sprintf("%s find no window of site.%s after those before them within %d days", steps, siteName(b.Site), horizon)
	}
	p.Findings = append(p.Findings, finding)
}
