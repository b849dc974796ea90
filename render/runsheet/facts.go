package runsheet

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
	"cagenut/lint/sequence"
)

// facts are the lines of the front page.
func (s *sheet) facts() [][2]string {
	p := s.p
	var out [][2]string
	add := func(name, text string) {
		if text != "" {
			out = append(out, [2]string{name, text})
		}
	}
	add("Change record", s.o.Record)
	add("Reason", strings.TrimSpace(s.o.Reason))
	add("Purpose", purpose(s.o.Purpose))
	add("Drawing before", s.o.Before)
	add("Drawing after", s.o.After)
	add("Confirmed as built", strings.Join(confirmed(p), "; "))
	add("Estate", p.New().Name)
	add("Rooms", strings.Join(rooms(p), ", "))
	add("Racks", strings.Join(racksOf(p), ", "))
	if len(p.Steps) == 0 {
		return out
	}
	if n := len(p.Done); n > 0 {
		at := &p.Steps[p.Next()-2]
		add("Where the work stands", fmt.Sprintf("%s done, up to step %d; then: %s", count(n, "step"), at.Number, s.state(&at.State)))
	}
	for _, n := range p.Windows {
		name := fmt.Sprintf("Window %d", n.Number)
		add(name, strings.TrimPrefix(windowHead(n), name+": ")+"; "+strings.Join(windowFacts(n), "; "))
	}
	add("Moves", fmt.Sprint(p.Moves)+s.gap())
	add("Work", fmt.Sprintf("%s min in %s; %s min with %s %% added; %s", minutes(p.Minutes()), count(len(p.Steps)-p.Next()+1, "step")+still(p),
		minutes(p.WithContingency(p.Minutes())), quantity.Number(p.Contingency*100, 0), count(len(p.Blocks), "run of steps between two rests")))
	people, lift, competences := crew(p.Steps)
	text := count(people, "person")
	if lift {
		text += ", a lift" + s.liftFor(p.Steps)
	}
	for _, c := range competences {
		text += ", " + c
	}
	add("Crew and tools", text+"; lead, hands and remote verifier are named on the approved sheet")
	add("Services and owners", strings.Join(owners(p), "; "))
	add("Without an owner", some(p.Unowned()))
	for _, l := range p.Losses() {
		add(l.What, minutes(l.Minutes)+" min")
	}
	add("Notices", strings.Join(notices(p), "; "))
	add("Freeze check", freezes(p))
	add("States between", fmt.Sprintf("%d judged by the rules that a layout is judged by", p.States))
	return out
}

// still says that the steps that are counted are not all.
func still(p *sequence.Plan) string {
	if len(p.Done) == 0 {
		return ""
	}
	return " still to do"
}

// purpose says in two lines what a change is for.
func purpose(subjects []string) string {
	const most = 2
	if len(subjects) <= most {
		return strings.Join(subjects, "; ")
	}
	return strings.Join(subjects[:most], "; ") + fmt.Sprintf("; and %s before", count(len(subjects)-most, "commit"))
}

// confirmed says of each site by which tag its record was last confirmed as
// built.
func confirmed(p *sequence.Plan) []string {
	var out []string
	for i := range p.Confirmations {
		c := &p.Confirmations[i]
		switch {
		case c.Confirmed():
			out = append(out, fmt.Sprintf("%s by tag %s; nothing at these racks was changed on paper since", c.Site.Name, c.Tag))
		case c.Unknown != "":
			out = append(out, c.Site.Name+" not checked: "+c.Unknown)
		case c.Tag != "":
			out = append(out, fmt.Sprintf("%s by tag %s, and changed on paper since: see the findings", c.Site.Name, c.Tag))
		default:
			out = append(out, fmt.Sprintf("%s never, as far as tags %s tell: see the findings", c.Site.Name, c.Site.AsBuilt))
		}
	}
	return out
}

// freezes says that no window falls into a freeze, and which were passed over.
func freezes(p *sequence.Plan) string {
	passed := strings.Join(p.Frozen, "; ")
	switch {
	case len(p.Windows) == 0 && passed == "":
		return ""
	case len(p.Windows) == 0:
		return "windows passed over for " + passed
	case len(p.New().Freezes) == 0:
		return "no freeze is declared"
	case passed == "":
		return "no window of this sheet falls into a freeze"
	}
	return "no window of this sheet falls into a freeze; passed over for " + passed
}

// notices says by when those concerned are to be told of the first window of
// each site that asks for notice.
func notices(p *sequence.Plan) []string {
	var out []string
	seen := map[*estate.Site]bool{}
	for _, n := range p.Windows {
		site := p.Blocks[n.Blocks[0]].Site
		if site == nil || site.Notice == 0 || seen[site] {
			continue
		}
		seen[site] = true
		out = append(out, fmt.Sprintf("owners, neighbours and desk of %s told by %s (%d days before window %d): to whom and when is written on the approved sheet",
			site.Name, estate.DateOf(n.Opens)-estate.Date(site.Notice), site.Notice, n.Number))
	}
	return out
}

// count is [quantity.Count] for nouns with plurals of their own as well.
func count(n int, what string) string {
	switch {
	case n == 1:
	case what == "person":
		return fmt.Sprintf("%d people", n)
	case strings.HasPrefix(what, "run "):
		return fmt.Sprintf("%d runs%s", n, strings.TrimPrefix(what, "run"))
	}
	return quantity.Count(n, what)
}

func (s *sheet) gap() string {
	if s.p.Moves == s.p.Least {
		return " (no order needs fewer)"
	}
	return fmt.Sprintf(" (at least %d are needed; a shorter order was neither found nor ruled out)", s.p.Least)
}

// liftFor says what the lift has to lift, and how high.
func (s *sheet) liftFor(steps []sequence.Step) string {
	var most quantity.Mass
	var high quantity.Length
	for i := range steps {
		if st := &steps[i]; st.Lift {
			most = max(most, st.Mass)
			if st.At.High {
				high = max(high, st.At.Middle)
			}
		}
	}
	if most == 0 {
		return ""
	}
	text := " rated for " + most.String() + " or more"
	if high > 0 {
		text += " at " + s.length(high) + " above the floor"
	}
	return text
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

// some lists names, the first of them where they are many.
func some(names []string) string {
	const most = 12
	if len(names) > most {
		names = append(slices.Clone(names[:most]), fmt.Sprintf("%d more", len(names)-most))
	}
	return strings.Join(names, ", ")
}

// parts lists what has to be there before the work: new things and their kits,
// cords, blanks, labels.
func (s *sheet) parts() []string {
	p := s.p
	var out, things []string
	counts := map[sequence.Task]int{}
	blanks := 0
	for i := range p.Daytime {
		counts[p.Daytime[i].Task] += p.Daytime[i].Count
	}
	for i := range p.Steps {
		switch s := &p.Steps[i]; s.Task {
		case sequence.FitBlank:
			blanks += s.Count
		case sequence.OpenBlank:
			blanks -= s.Count
		}
	}
	for _, j := range p.Jobs {
		if j.Kind != sequence.Fit && j.Kind != sequence.Rerail || j.New.Equipment == nil {
			continue
		}
		text := j.Name + " (" + j.New.Equipment.Name
		switch j.New.Equipment.Mounting {
		case estate.FixedRails, estate.Slides:
			text += ", with its " + strings.ReplaceAll(j.New.Equipment.Mounting.String(), "-", " ")
		case estate.Ears, estate.Shelf, estate.Centre, estate.ZeroU:
		}
		things = append(things, text+")")
	}
	if len(things) > 12 {
		things = append(things[:12:12], fmt.Sprintf("and %d more", len(things)-12))
	}
	if len(things) > 0 {
		out = append(out, strings.Join(things, ", "))
	}
	add := func(n int, what string) {
		if n > 0 {
			out = append(out, fmt.Sprintf("%d %s", n, what))
		}
	}
	if n := counts[sequence.LayCord]; n > 0 {
		out = append(out, count(n, "new supply cord")+s.cordLengths())
	}
	add(counts[sequence.LabelCord], "pairs of cord labels")
	add(counts[sequence.LabelThing], "labels of things")
	add(blanks, "U of blanks")
	return out
}

// cordLengths says how many cords of which length a plan brings, the shortest
// first, as far as the record tells cords: ": 2 of 1500 mm, 1 of 3000 mm".
func (s *sheet) cordLengths() string {
	counts := map[quantity.Length]int{}
	for _, j := range s.p.Jobs {
		for _, c := range s.p.CordsToLay(j) {
			counts[c.Cord.Length.Or(0)]++
		}
	}
	var parts []string
	for _, l := range slices.Sorted(maps.Keys(counts)) {
		if l > 0 {
			parts = append(parts, fmt.Sprintf("%d of %s", counts[l], s.length(l)))
		}
	}
	if n := counts[0]; n > 0 && len(parts) > 0 {
		parts = append(parts, fmt.Sprintf("%d of a length that is not declared", n))
	}
	if len(parts) == 0 {
		return ""
	}
	return ": " + strings.Join(parts, ", ")
}

// blocked gathers what stands against the plan, what it proposes, and what
// nobody could judge.
func (s *sheet) blocked() []group {
	p := s.p
	var out []group
	add := func(head string, items []string) {
		if len(items) > 0 {
			out = append(out, group{head, items})
		}
	}
	var refused, other, parked, found, accepted, unchecked []string
	for _, r := range p.Refused {
		refused = append(refused, upper(r.Why)+".")
		for _, mend := range r.Mends {
			refused = append(refused, "It would be possible with: "+mend+".")
		}
	}
	for _, q := range p.Proposals {
		other = append(other, upper(q.Text)+".")
	}
	for _, q := range p.Parked {
		how := "off"
		if q.Live {
			how = "running"
		}
		parked = append(parked, fmt.Sprintf("%s at %s, %s: %s.", q.Job.Name, q.Where, how, q.Why))
	}
	open, waived := split(p.Findings)
	for _, f := range open {
		found = append(found, fmt.Sprintf("%s %s: %s", f.Level, f.Rule, f.Message))
	}
	for _, f := range waived {
		by := f.Waiver.By
		if by == "" {
			by = "nobody named"
		}
		accepted = append(accepted, fmt.Sprintf("%s: %s; accepted by %s until %s: %s", f.Rule, f.Message, by, f.Waiver.Until, f.Waiver.Reason))
	}
	for _, u := range p.Unchecked {
		unchecked = append(unchecked, u.Rule+": "+u.Because)
	}
	add("Not possible as asked", refused)
	add("Other targets", other)
	add("Parked for a while", parked)
	add("Findings on the plan", found)
	add("Accepted by name", accepted)
	add("Not checked", unchecked)
	if len(p.Steps) > 0 && len(found) == 0 {
		add("Findings on the plan", []string{"No finding among the rules that were checked on the states between."})
	}
	return out
}

func split(all []lint.Finding) (open, waived []lint.Finding) {
	for _, f := range all {
		if f.Waiver != nil {
			waived = append(waived, f)
		} else {
			open = append(open, f)
		}
	}
	return open, waived
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// heavy lists what is lifted by more than one person, and where each rack comes
// nearest to tipping.
func (s *sheet) heavy() []string {
	var out []string
	for _, st := range s.p.LeastStable() {
		out = append(out, fmt.Sprintf("Tip-over: %s stands least firmly at step %d, with %s (%s). %s", st.Tip.Rack, st.Number, st.Tip.Name, st.Tip.Mass, st.Tip))
	}
	seen := map[string]bool{}
	for i := range s.p.Steps {
		st := &s.p.Steps[i]
		if st.Mass == 0 || st.People < 2 || st.Job == nil || seen[st.Job.Thing] {
			continue
		}
		seen[st.Job.Thing] = true
		height := ""
		if st.At.High {
			height = ", its middle " + s.length(st.At.Middle) + " above the floor"
		}
		lift := count(st.People, "person")
		if st.People == 2 {
			lift = "two people"
		}
		if st.Lift {
			lift = "a lift and " + lift
		}
		out = append(out, fmt.Sprintf("%s: %s at %s%s: %s.", st.Job.Name, st.Mass, s.place(st.At), height, lift))
	}
	return out
}

func (s *sheet) length(l quantity.Length) string {
	if s.o.Inches {
		return l.Inched()
	}
	return quantity.Number(l.Millimetres(), 0) + " mm"
}

var preChecks = []string{
	"The drawing before is confirmed as built, by somebody who looked.",
	"Parts, nuts, blanks, rails and cords (length!) are there; labels are printed.",
	"The standby of each service has been tested; what must be restored can be.",
	"Freeze, berth, weather and access are still as planned; cards and keys work.",
	"Emergency sheet at hand: first aid, fire, emergency power off and what it cuts, call order.",
}

var rackChecks = []string{
	"Right room, row and rack: labels read aloud at both ends.",
	"Both feeds live; meters and alarms noted; photographs front and rear.",
	"Stabiliser down or anchors proven; floor clear; light enough.",
}

var endChecks = []string{
	"Everything in its old or its new place, nothing parked; every thing with two cords on two feeds.",
	"No open units but those drawn; doors shut; labels true; fire seals re-made and photographed.",
	"Meters read; inlet temperature read after 30 minutes; alarms clear.",
	"Tools counted, waste out, keys back, notices closed.",
	"As-built mark-ups and the times of this sheet handed in; the record is confirmed as built by a commit or tag of its own.",
}

// goText is the first hold point of every window.
const goText = "Hold point H0: pre-checks ticked, everybody there, nothing unplanned going on. Decides: lead."

func windowHead(n *sequence.Night) string {
	return fmt.Sprintf("Window %d: %s, %s to %s (%s)", n.Number, n.Window.Name, n.Opens.Format("Mon 2 January 2006 ")+n.Clock(n.Opens), n.Clock(n.Closes), n.Zone)
}

func windowFacts(n *sequence.Night) []string {
	out := []string{
		fmt.Sprintf("usable %s min (margin %s), planned %s min with set-up and close-out", minutes(n.Usable), minutes(n.Window.Margin), minutes(n.Needs)),
		fmt.Sprintf("planned from %s to %s", n.Clock(n.Begin), n.Clock(n.End)),
	}
	for _, b := range n.Breaks {
		out = append(out, fmt.Sprintf("planned break of %s min at %s, before step %d", minutes(b.Minutes), n.Clock(b.At), b.Before))
	}
	if !n.LatestBack.IsZero() {
		out = append(out, "latest moment to turn back "+n.Clock(n.LatestBack))
	}
	return out
}

func turningText(p *sequence.Plan, block int) string {
	if t := p.Turning(block); t > 0 {
		return fmt.Sprintf("Turning point: step %d. Before it, if late, go back; from it on, if late, go on and call for more time.", t)
	}
	return "Turning point: none; going back is the shorter way up to the last step."
}
