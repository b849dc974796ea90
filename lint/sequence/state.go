package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
)

// sync fills in the state after each step that has been written since the last
// call, and has what was moved judged.
func (r *writer) sync() {
	if r.synced == len(r.p.Steps) {
		return
	}
	state := r.state()
	for i := r.synced; i < len(r.p.Steps); i++ {
		r.p.Steps[i].State = state
	}
	r.synced = len(r.p.Steps)
	if last := &r.p.layouts[len(r.p.layouts)-1]; !slices.Equal(last.racks, r.w.racks) {
		r.p.layouts = append(r.p.layouts, layout{r.synced, r.w.snapshot()})
	}
	if r.moved && r.check != nil {
		r.check(r.synced - 1)
	}
	r.moved = false
}

func (r *writer) state() State {
	s := State{Out: r.out, OneFeed: r.oneFeed}
	for _, j := range r.p.Jobs {
		if at, ok := r.parked[j]; ok {
			s.Parked = append(s.Parked, j.Name+" on "+at)
		}
	}
	for _, g := range r.w.end.Groups {
		up := 0
		var down []string
		for _, m := range g.Of {
			if r.w.now[m] != nil && !r.down[m] || r.benchLive(m) {
				up++
			} else if r.down[m] || r.w.now[m] == nil {
				down = append(down, m.Name)
			}
		}
		if len(down) > 0 && r.touches(g) {
			s.Down = append(s.Down, fmt.Sprintf("%s (%s: %d of %d up, %d needed)", strings.Join(down, ", "), g.Name, up, len(g.Of), g.Up))
		}
	}
	for _, rack := range r.w.racks {
		for _, face := range []estate.Face{estate.FrontFace, estate.RearFace} {
			if run := r.open[rack.Name+" "+face.String()]; len(run.units) > 0 {
				s.Open = append(s.Open, run.String())
				s.OpenUnits += len(run.units)
				s.opens = append(s.opens, run)
			}
		}
	}
	return s
}

// atRest forgets what the work has opened, and shows the last step's state
// without it: what is open at rest is so by design, and lint judges that.
func (r *writer) atRest() {
	clear(r.open)
	if n := len(r.p.Steps); n > 0 {
		s := &r.p.Steps[n-1].State
		s.Open, s.OpenUnits, s.opens = nil, 0, nil
	}
}

// touches reports whether the plan has work on a member of a group.
func (r *writer) touches(g *estate.Group) bool {
	return slices.ContainsFunc(r.p.Jobs, func(j *Job) bool { return j.New != nil && slices.Contains(g.Of, j.New) })
}

func (r *writer) benchLive(m *estate.Mount) bool {
	for _, j := range r.p.Jobs {
		if b := r.bench[j]; b != nil && j.New == m {
			return b.Powered && !r.down[m]
		}
	}
	return false
}
