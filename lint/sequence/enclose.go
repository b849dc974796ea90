package sequence

import "slices"

// opens reports whether a task opens or closes what other steps are done
// behind.
func (t Task) opens() bool {
	return t == OpenDoor || t == ShutDoor || t == OpenSeal || t == RemakeSeal
}

// An enclosure is what is opened before the first step that is done behind it,
// of blocks that follow each other, and closed after the last one.
type enclosure struct {
	ref         string
	first, last int // indices of steps
	open, close Step
}

// enclose puts the steps into a plan that open and close doors and fire seals.
// Where blocks that follow each other end all of them are closed. It gives the
// new index of each step.
func (p *Plan) enclose(w *world, c *clockwork) []int {
	p.gather(w, c)
	moved := make([]int, len(p.Steps))
	var steps []Step
	var all []*enclosure
	for n := range p.Blocks {
		b := &p.Blocks[n]
		if !b.Follows {
			joint := p.joint(p.chain(n))
			all = p.enclosures(w, c, joint.From, joint.To)
		}
		from := len(steps)
		add := func(s Step, like int) {
			s.Job, s.State = p.Steps[like].Job, p.Steps[like].State
			steps = append(steps, s)
		}
		for i := b.From; i < b.To; i++ {
			for _, e := range all {
				if e.first == i {
					add(e.open, i)
					s := &steps[len(steps)-1]
					s.State = State{}
					if i > 0 {
						s.State = p.Steps[i-1].State
					}
				}
			}
			moved[i] = len(steps)
			steps = append(steps, p.Steps[i])
			for k := range all {
				if e := all[len(all)-1-k]; e.last == i {
					add(e.close, i)
				}
			}
		}
		b.From, b.To = from, len(steps)
	}
	p.Steps = steps
	var ajar, seals []string
	for n := range p.Blocks {
		b := &p.Blocks[n]
		if !b.Follows {
			ajar, seals = nil, nil
		}
		for i := b.From; i < b.To; i++ {
			s := &p.Steps[i]
			s.Number, s.Block = i+1, n
			is := func(o string) bool { return o == s.behind }
			switch s.Task {
			case OpenDoor:
				ajar = append(ajar, s.behind)
			case ShutDoor:
				ajar = slices.DeleteFunc(ajar, is)
			case OpenSeal:
				seals = append(seals, s.behind)
			case RemakeSeal:
				seals = slices.DeleteFunc(seals, is)
			}
			s.State.Ajar, s.State.Seals = slices.Clone(ajar), slices.Clone(seals)
		}
		p.tally(b)
	}
	for i := range p.layouts {
		if l := &p.layouts[i]; l.step > 0 {
			l.step = moved[l.step-1] + 1
		}
	}
	return moved
}

// enclosures gives what steps (by index) are done behind, the outer before the
// inner.
func (p *Plan) enclosures(w *world, c *clockwork, from, to int) []*enclosure {
	var all []*enclosure
	note := func(i int, ref string, at Place, steps func() (open, close Step)) {
		k := slices.IndexFunc(all, func(e *enclosure) bool { return e.ref == ref && e.open.At == at })
		if k < 0 {
			e := &enclosure{ref: ref, first: i}
			e.open, e.close = steps()
			e.open.behind, e.close.behind = ref, ref
			e.open.At, e.close.At = at, at
			k = len(all)
			all = append(all, e)
		}
		all[k].last = i
	}
	for i := from; i < to; i++ {
		s := &p.Steps[i]
		for _, d := range p.doorsAt(w, s) {
			note(i, d.ref, p.doorPlace(w, i, d), func() (Step, Step) { return doorSteps(d, c) })
		}
		for _, seal := range sealsAt(s) {
			note(i, seal, Place{Room: s.At.Room, Site: s.At.Site}, func() (Step, Step) { return sealSteps(seal, c) })
		}
	}
	return all
}

// doorPlace gives the place of a door behind which a step is done.
func (p *Plan) doorPlace(w *world, step int, d door) Place {
	at := p.Steps[step].At
	place := Place{Room: at.Room, Site: at.Site}
	if r := w.rack(at.Rack); r != nil && r.Ref() == d.ref {
		place.Rack = r.Name
	}
	return place
}

// renumber follows steps that others have been put between.
func (j *judge) renumber(moved []int) {
	for i := range j.states {
		j.states[i].step = moved[j.states[i].step]
	}
	for i := range j.judged {
		j.judged[i] = moved[j.judged[i]]
	}
}
