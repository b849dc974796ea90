package sequence

import (
	"slices"

	"cagenut/lang/quantity"
)

// A Loss is how long something is missing while the work goes on.
type Loss struct {
	What    string
	Minutes quantity.Duration // with contingency
}

// Losses gives the expected loss of service of each thing that is shut down,
// and of redundancy where a member of a group is down, in the order in which
// they begin.
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
	down := map[*Job]bool{}
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Job != nil && s.Task == HandOver {
			down[s.Job] = true
		}
		for _, j := range p.Jobs {
			if down[j] {
				add("Loss of "+j.Name, s.Minutes)
			}
		}
		for _, d := range s.State.Down {
			add("Loss of redundancy, "+d, s.Minutes)
		}
		if s.Job != nil && s.Task == Service {
			delete(down, s.Job)
		}
	}
	for i := range out {
		out[i].Minutes = p.WithContingency(out[i].Minutes)
	}
	return out
}
