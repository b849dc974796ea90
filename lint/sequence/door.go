package sequence

import (
	"cmp"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint/sequence/rearrange"
)

// A door is one that must stay shut, such as that of a shielded cabinet or of a
// contained room.
type door struct {
	ref string // "room.hq" or "rack.c1"
	why string
}

// doorsOf gives the doors that a rack is behind, the outer one first.
func doorsOf(r *estate.Rack) []door {
	if r == nil {
		return nil
	}
	doors := doorsOfRoom(r.Room())
	if r.Frame != nil && r.Frame.Shut != "" {
		doors = append(doors, door{r.Ref(), r.Frame.Shut})
	}
	return doors
}

func doorsOfRoom(r *estate.Room) []door {
	if r == nil || r.Shut == "" {
		return nil
	}
	return []door{{"room." + r.Name, r.Shut}}
}

// turns gives the order in which racks are worked at: that of the estate, but
// with the racks behind one door side by side, so that it is opened once.
func turns(w *world) map[string]int {
	first := map[string]int{} // of each outer door: its first rack
	outer := func(i int) int {
		doors := doorsOf(w.racks[i])
		if len(doors) == 0 {
			return i
		}
		n, ok := first[doors[0].ref]
		if !ok {
			n = i
			first[doors[0].ref] = i
		}
		return n
	}
	order := make([][2]int, len(w.racks))
	for i := range w.racks {
		order[i] = [2]int{outer(i), i}
	}
	slices.SortFunc(order, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	turn := map[string]int{}
	for n, o := range order {
		turn[w.racks[o[1]].Name] = n
	}
	return turn
}

// behindDoor reports whether a job ends, or was, behind a door that must stay
// shut.
func (b *binding) behindDoor(j *Job) bool { return len(doorsOf(b.w.rack(j.Rack))) > 0 }

// behind names the outer doors that a job is done behind.
func (w *world) behind(j *Job) []string {
	var out []string
	for _, m := range []*estate.Mount{j.Old, j.New} {
		if m == nil || m.Rack == nil {
			continue
		}
		if doors := doorsOf(w.rack(m.Rack.Name)); len(doors) > 0 && !slices.Contains(out, doors[0].ref) {
			out = append(out, doors[0].ref)
		}
	}
	return out
}

// finishBehind writes the labels and blanks behind the doors of a job, where no
// later move is behind them: otherwise they would be opened again for those.
func (r *writer) finishBehind(j *Job, later []rearrange.Move) {
	for _, ref := range r.w.behind(j) {
		if slices.ContainsFunc(later, func(m rearrange.Move) bool { return slices.Contains(r.w.behind(r.b.jobs[m.Item]), ref) }) {
			continue
		}
		for _, other := range r.p.Jobs {
			if other.Kind == Relabel && !r.labelled[other] && slices.Contains(r.w.behind(other), ref) {
				r.label(other)
			}
		}
		r.blankings(func(rack *estate.Rack) bool {
			doors := doorsOf(rack)
			return len(doors) > 0 && doors[0].ref == ref
		})
	}
}

// doorSteps gives the steps that open and shut a door.
func doorSteps(d door, c *clockwork) (open, shut Step) {
	open = Step{
		Task: OpenDoor, Minutes: c.of(OpenDoor), People: 1,
		Do:     "Open the door of " + d.ref + ", with the leave of whoever answers for it (" + d.why + ").",
		Expect: "leave given for this time; all that is needed lies ready in front of it",
		Undo:   "gasket clean, door of " + d.ref + " shut, proven shut", UndoMinutes: c.of(ShutDoor),
		Cautions: []string{cautionDoor},
	}
	shut = Step{
		Task: ShutDoor, Minutes: c.of(ShutDoor), People: 1,
		Do:     "Clean the gasket and its seat, and shut the door of " + d.ref + ".",
		Expect: "gasket clean and whole, nothing caught in it, every latch home; whoever answers for it (" + d.why + ") confirms",
		Undo:   "open the door of " + d.ref + " again, with leave", UndoMinutes: c.of(OpenDoor),
	}
	return open, shut
}

// gather has blocks in a row that are done behind the same outer door, or whose
// cords pass the same fire seal, follow each other, as far as the longest window
// of their site holds them: what is open stays so between them. The hold point
// where they meet stays.
func (p *Plan) gather(w *world, c *clockwork) {
	for n := 1; n < len(p.Blocks); n++ {
		b, before := &p.Blocks[n], &p.Blocks[n-1]
		if b.Follows || siteName(b.Site) != siteName(before.Site) {
			continue
		}
		door := p.outerDoor(w, b)
		if (door == "" || door != p.outerDoor(w, before)) && !p.sharesSeal(b, before) {
			continue
		}
		b.Follows = true
		if !p.someWindowHolds(w, c, p.chain(p.head(n))) {
			b.Follows = false
		}
	}
}

// sharesSeal reports whether cords of two blocks pass the same fire seal.
func (p *Plan) sharesSeal(a, b *Block) bool {
	for i := a.From; i < a.To; i++ {
		for _, seal := range sealsAt(&p.Steps[i]) {
			for k := b.From; k < b.To; k++ {
				if slices.Contains(sealsAt(&p.Steps[k]), seal) {
					return true
				}
			}
		}
	}
	return false
}

// outerDoor names the outer door behind which all steps of a block are done
// that are done at any rack; "" where there is none, or more than one.
func (p *Plan) outerDoor(w *world, b *Block) string {
	found := ""
	for i := b.From; i < b.To; i++ {
		doors := p.doorsAt(w, &p.Steps[i])
		switch {
		case len(doors) == 0 && p.Steps[i].At.Rack != "":
			return ""
		case len(doors) == 0:
		case found != "" && found != doors[0].ref:
			return ""
		default:
			found = doors[0].ref
		}
	}
	return found
}

// doorsAt gives the doors that a step is done behind, the outer one first.
func (p *Plan) doorsAt(w *world, s *Step) []door {
	if s.At.Rack != "" {
		return doorsOf(w.rack(s.At.Rack))
	}
	for _, room := range w.end.Rooms {
		if room.Name == s.At.Room {
			return doorsOfRoom(room)
		}
	}
	return nil
}

// someWindowHolds reports whether some window of their site is long enough for
// blocks that follow each other, with what they open and close, to finish them
// and to go back within the last of them, and has their crew.
func (p *Plan) someWindowHolds(w *world, c *clockwork, blocks []int) bool {
	joint := p.joint(blocks)
	last := &p.Blocks[blocks[len(blocks)-1]]
	before := joint.Forward - last.Forward
	var closing quantity.Duration
	for _, e := range p.enclosures(w, c, joint.From, joint.To) {
		joint.Forward += e.open.Minutes + e.close.Minutes
		before += e.open.Minutes
		closing += e.close.Minutes + e.open.Minutes + e.open.UndoMinutes
	}
	var done, back quantity.Duration
	for i := last.From; i < last.To; i++ {
		s := &p.Steps[i]
		done += s.Minutes
		if back += s.UndoMinutes; back > last.Forward-done {
			break
		}
		// What is opened may be closed by then, to be opened for the way back and
		// closed again. Clock times are rounded to minutes one by one.
		joint.Forward = max(joint.Forward, before+done+back+closing+2*quantity.Minute)
	}
	return p.windowHolds(&joint, c)
}

// windowHolds reports whether some window of a block's site is long enough for
// it and has its crew; where the site has no window, any length will do.
func (p *Plan) windowHolds(b *Block, c *clockwork) bool {
	needs := p.WithContingency(around(c) + b.Forward)
	any := false
	for _, w := range p.after.Windows {
		if w.Site != nil && b.Site != nil && w.Site.Name != b.Site.Name {
			continue
		}
		any = true
		length := w.Closes - w.Opens
		if length <= 0 {
			length += 24 * 60
		}
		if p.fitsCrew(b, w) && quantity.Of(float64(length), quantity.Minute)-w.Margin >= needs {
			return true
		}
	}
	return !any
}

// joint gives blocks in a row as one: what they take together. Crew and
// competences are what each of them has noted.
func (p *Plan) joint(blocks []int) Block {
	first := &p.Blocks[blocks[0]]
	joint := Block{From: first.From, Site: first.Site}
	for _, n := range blocks {
		b := &p.Blocks[n]
		joint.To = b.To
		joint.People, joint.Lift = max(joint.People, b.People), joint.Lift || b.Lift
		joint.lifts = append(joint.lifts, b.lifts...)
		joint.Forward += b.Forward
		for _, c := range b.Competences {
			joint.needs(c)
		}
		joint.Jobs = append(joint.Jobs, b.Jobs...)
	}
	return joint
}
