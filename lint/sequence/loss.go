package sequence

import (
	"slices"
	"strings"

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
// of redundancy where a member of a group is down, and of a closed front where
// units are open for longer than openMost, in the order in which they begin.
func (p *Plan) Losses() []Loss {
	var out []Loss
	add := func(what string, d quantity.Duration) {
		i := slices.IndexFunc(out, func(l Loss) bool { return l.What == what })
		if i < 0 {
			i = len(out)
			out = append(out, Loss{What: what})
		}
		out[i].Minutes += d
	}
	for i, down := range p.shut() {
		s := &p.Steps[i]
		for _, j := range p.Jobs {
			if slices.Contains(down, j) {
				add("Loss of "+j.Name, s.Minutes)
			}
		}
		for _, d := range s.State.Down {
			add("Loss of redundancy, "+d, s.Minutes)
		}
		for _, u := range s.State.Open {
			add("Units open, "+u, s.Minutes)
		}
	}
	out = slices.DeleteFunc(out, func(l Loss) bool { return strings.HasPrefix(l.What, "Units open") && l.Minutes <= openMost })
	for i := range out {
		out[i].Minutes = p.WithContingency(out[i].Minutes)
	}
	return out
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

// off fills in what is shut down in its place after each step: what is shut
// while it is done, less what it proves back and what has left for good.
func (p *Plan) off() {
	last := map[*Job]int{}
	for i := range p.Steps {
		if s := &p.Steps[i]; !s.Task.opens() { // a door is shut after the thing has left
			last[s.Job] = i
		}
	}
	for i, down := range p.shut() {
		s := &p.Steps[i]
		for _, j := range down {
			if last[j] > i && !(s.Job == j && s.Task == Service) && j.Name != s.State.Out {
				s.State.Off = append(s.State.Off, j.Name)
			}
		}
	}
}
