package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// A load is a cord of another thing that hangs on a strip, a UPS or the like.
type load struct {
	key    *estate.Mount // of the thing
	inlet  int           // from 0
	outlet int           // 0 where it is not said
	only   bool          // all cords of the thing hang there
}

// at says which cord it is of a thing so called, and where it goes: "cord 2 of
// n from outlet 3".
func (l *load) at(name, word string) string {
	s := fmt.Sprintf("cord %d of %s", l.inlet+1, name)
	if l.outlet > 0 {
		s += fmt.Sprintf(" %s outlet %d", word, l.outlet)
	}
	return s
}

// loadsOf gives the cords that hang on a mount as the racks stand now, rack by
// rack.
func (r *writer) loadsOf(at *estate.Mount) []load {
	if !gives(at) {
		return nil
	}
	here := func(m *estate.Mount, c *estate.Cord) bool {
		return c.To == at.Ref() || c.To == at.Name && m.Rack.Name == at.Rack.Name
	}
	var out []load
	for _, rack := range r.w.racks {
		for _, m := range rack.Mounts {
			only := !slices.ContainsFunc(m.Cords, func(c estate.Cord) bool { return !here(m, &c) })
			for i := range m.Cords {
				if c := &m.Cords[i]; here(m, c) {
					out = append(out, load{r.w.origin[m], i, c.Outlet, only})
				}
			}
		}
	}
	return out
}

// loadsOff writes the step that takes the cords of other things off what is
// moved, and notes them: they are put on again where it comes to be.
func (r *writer) loadsOff(m *estate.Mount) {
	if !r.job.movesAbout() {
		return
	}
	loads := r.loadsOf(m)
	if len(loads) == 0 {
		return
	}
	r.loads[r.job] = loads
	var texts, alone, other []string
	for _, l := range loads {
		name := r.w.now[l.key].Name
		texts = append(texts, l.at(name, "from"))
		switch {
		case l.only && !slices.Contains(alone, name):
			alone = append(alone, name)
			r.down[l.key] = true
		case !l.only && !slices.Contains(other, name):
			other = append(other, name)
		}
	}
	s := r.step(CordsOff, m, "Take off %s what hangs on it, one cord at a time: %s.", m.Name, strings.Join(texts, ", "))
	s.Minutes = r.clock.times(CordsOff, len(loads))
	s.Expect = "each cord is the one that its labels say; what has another cord runs on by it, seen at its lamp and on the meter"
	s.Undo, s.UndoMinutes = "put the cords on again, each checked", r.clock.times(PowerOn, len(loads))
	s.Cautions = append(s.Cautions, cautionMeter)
	if len(alone) > 0 {
		s.Cautions = append(s.Cautions, fmt.Sprintf("What hangs on %s alone goes down now: %s. Hand over first, or feed it otherwise for that time.", m.Name, inWords(alone)))
	}
	var state []string
	if len(other) > 0 {
		state = append(state, "without "+m.Name+": "+strings.Join(other, ", "))
	}
	if len(alone) > 0 {
		state = append(state, "off with "+m.Name+": "+strings.Join(alone, ", "))
	}
	r.oneFeed = strings.Join(state, "; ")
}

// loadsOn writes the step that puts the cords of other things on again, where
// what they hung on has come to its place.
func (r *writer) loadsOn(m *estate.Mount) {
	loads := r.loads[r.job]
	if len(loads) == 0 || r.job.New == nil || where(m) != where(r.w.spot(r.job.New)) {
		return
	}
	delete(r.loads, r.job)
	r.sync()
	r.oneFeed = ""
	var texts []string
	var on []switched
	var dark []*estate.Mount
	for _, l := range loads {
		if l.only {
			delete(r.down, l.key)
		}
		now := r.w.now[l.key]
		if now == nil {
			continue
		}
		texts = append(texts, l.at(now.Name, "at"))
		on = append(on, switchedBy(r.p.after, now, l.inlet)...)
		if l.only && !slices.ContainsFunc(dark, func(m *estate.Mount) bool { return m == now }) {
			dark = append(dark, now)
		}
	}
	if len(texts) == 0 {
		return
	}
	s := r.step(PowerOn, m, "Put on %s again what hung on it, one cord at a time, and check each: %s.", m.Name, strings.Join(texts, ", "))
	s.Minutes = r.clock.times(PowerOn, len(texts))
	s.Expect = "each supply lamp lit, its current seen on the meter; the cord neither taut nor pinched"
	s.Undo, s.UndoMinutes = "take the cords off", r.clock.times(CordsOff, len(texts))
	s.Cautions = append(s.Cautions, cautionMeter)
	s.on = on
	if dark = startOrder(dark); len(dark) > 0 {
		s.Cautions = append(s.Cautions, "What was off starts as its restart setting says: "+restarts(dark)+".")
	}
}

// stripOff gives how long a strip beside the posts is off while it is moved, and
// the first and the last step of that time.
func (p *Plan) stripOff(j *Job) (off quantity.Duration, first, last int) {
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Job != j {
			continue
		}
		if first == 0 {
			first = s.Number
		}
		last = s.Number
	}
	for i := first; i > 0 && i <= last; i++ {
		off += p.Steps[i-1].Minutes
	}
	return off, first, last
}
