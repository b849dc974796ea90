package sequence

import (
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// A Loss is how long something is missing while the work goes on.
type Loss struct {
	What    string
	Minutes quantity.Duration // with contingency
}

// openMost is for how long units may be open before a sheet says so (common
// practice).
const openMost = 30 * quantity.Minute

// Losses gives the expected loss of service of each thing that is shut down,
// of redundancy where a member of a group is down, and of a closed face where
// units of a rack that wants them closed are open for longer than openMost in
// all, in the order in which they begin. Of a half-done sheet only what is to
// come is counted.
func (p *Plan) Losses() []Loss {
	var out []Loss
	most := map[string]int{} // the most units open at once
	add := func(what string, d quantity.Duration) {
		i := slices.IndexFunc(out, func(l Loss) bool { return l.What == what })
		if i < 0 {
			i = len(out)
			out = append(out, Loss{What: what})
		}
		out[i].Minutes += d
	}
	for i, down := range p.shut() {
		if i < p.Next()-1 {
			continue // of a half-done sheet: what is past
		}
		s := &p.Steps[i]
		for _, j := range p.Jobs {
			if slices.Contains(down, j) {
				add("Loss of "+j.Name, s.Minutes)
			}
		}
		for _, d := range s.State.Down {
			add("Loss of redundancy, "+d, s.Minutes)
		}
		for _, u := range s.State.opens {
			if r := p.rackNamed(u.rack); r == nil || !r.WantsBlanks() {
				continue
			}
			what := "Units open, " + u.rack + " " + u.face.String()
			most[what] = max(most[what], len(u.units))
			add(what, s.Minutes)
		}
	}
	out = slices.DeleteFunc(out, func(l Loss) bool { return most[l.What] > 0 && l.Minutes <= openMost })
	for i := range out {
		out[i].Minutes = p.WithContingency(out[i].Minutes)
		if n := most[out[i].What]; n > 0 {
			out[i].What += fmt.Sprintf(", up to %dU", n)
		}
	}
	return out
}

// rackNamed gives a rack as it is in the end, or as it was.
func (p *Plan) rackNamed(name string) *estate.Rack {
	if r := p.after.Rack(name); r != nil {
		return r
	}
	return p.before.Rack(name)
}

// shut gives for each step the jobs whose things are shut down while it is done,
// in the order in which they went: from the step that hands a service over to
// the one that proves it back, both included. What leaves for good stays shut.
func (p *Plan) shut() [][]*Job {
	out := make([][]*Job, len(p.Steps))
	var down []*Job
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Job != nil && s.Task == HandOver && !slices.Contains(down, s.Job) {
			down = append(down, s.Job)
		}
		out[i] = slices.Clone(down)
		if s.Task == Service {
			down = slices.DeleteFunc(down, func(j *Job) bool { return j == s.Job })
		}
	}
	return out
}

// off fills in what does not run in its place after each step: what is shut
// while it is done, less what it proves back and what has left for good; what
// came and has not been started yet; and what has its cords off.
func (p *Plan) off() {
	last := map[*Job]int{}
	back := map[*Job]Task{} // what brings a thing of a job back to work
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Task.opens() || s.Task == CordsOut { // a door is shut after the thing has left
			continue
		}
		last[s.Job] = i
		if s.Task == Service || s.Task == DataOn && back[s.Job] != Service {
			back[s.Job] = s.Task
		}
	}
	var waits []*Job // off, and nobody's service yet
	for i, down := range p.shut() {
		s := &p.Steps[i]
		switch j := s.Job; {
		case j == nil || back[j] == "":
		case s.Task == back[j]:
			waits = slices.DeleteFunc(waits, func(o *Job) bool { return o == j })
		case (s.Task == CordsOff || s.Task == Insert || s.Task == InsertTall || s.Task == InsertBig) && !slices.Contains(waits, j):
			waits = append(waits, j)
		}
		for _, j := range slices.Concat(down, waits) {
			if last[j] > i && !(s.Job == j && s.Task == Service) && j.Name != s.State.Out && !slices.Contains(s.State.Off, j.Name) {
				s.State.Off = append(s.State.Off, j.Name)
			}
		}
	}
}
