package sequence

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// goesDark finds what loses its last supply while something that gives power
// is off: a UPS that a source names, a strip, a transfer switch. What hangs on
// it is looked up in the estate before the change, since that is how the cords
// run when the work begins.
func (p *Plan) goesDark() {
	for _, j := range p.Jobs {
		if j.Old == nil {
			continue
		}
		o := p.outage(j.Old)
		if len(o.Feeds) == 0 && !gives(j.Old) {
			continue
		}
		dark := p.darkIn(o, j.Old)
		off, first, last := p.offTime(j)
		if len(dark) == 0 || off == 0 {
			continue
		}
		f := lint.Finding{
			Rule: "plan/goes-dark", Level: lint.Warning, At: j.Old.Source.At(), Thing: j.Old.Ref(), Rack: j.Rack,
			Message: fmt.Sprintf("from step %d to step %d, some %s in all, %s is off, and with it %s: nothing else feeds %s; hand over their services first, or feed them otherwise for that time",
				first, last, p.WithContingency(off), j.Name, deadFeeds(o.Feeds), names(dark)),
		}
		for _, m := range dark {
			f.Others = append(f.Others, m.Ref())
			f.Related = append(f.Related, lint.Related{At: m.Source.At(), Message: m.Ref() + " goes down"})
		}
		if g, up := p.tooFewUp(o, j.Old); g != nil {
			f.Level = lint.Error
			f.Message += fmt.Sprintf("; group %s then has %d of %d members up and needs %d", g.Name, up, len(g.Of), g.Up)
		}
		p.Findings = append(p.Findings, f)
	}
}

// outage gives what is dead while a mount is off.
func (p *Plan) outage(m *estate.Mount) *estate.Outage {
	o := &estate.Outage{Mounts: []*estate.Mount{m}}
	for _, s := range p.before.PowerSources {
		if s.Mount != m {
			continue
		}
		for _, f := range p.before.Feeds {
			if p.before.DiesWith(f, s.Ref(), true) && !slices.Contains(o.Feeds, f) {
				o.Feeds = append(o.Feeds, f)
			}
		}
	}
	return o
}

// gives reports whether a mount has outlets of its own.
func gives(m *estate.Mount) bool { return m.Equipment != nil && m.Equipment.OutletCount() > 0 }

// darkIn gives the mounts that run before the work and not in the outage, by
// rack and name.
func (p *Plan) darkIn(o *estate.Outage, cause *estate.Mount) []*estate.Mount {
	var out []*estate.Mount
	for _, r := range p.before.Racks {
		for _, m := range r.Mounts {
			if m != cause && p.before.UpIn(m, nil) && !p.before.UpIn(m, o) {
				out = append(out, m)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *estate.Mount) int { return cmp.Compare(a.Ref(), b.Ref()) })
	return out
}

// tooFewUp gives the first group that an outage leaves with too few members,
// and how many are up then.
func (p *Plan) tooFewUp(o *estate.Outage, cause *estate.Mount) (*estate.Group, int) {
	for _, g := range p.before.Groups {
		up := 0
		for _, m := range g.Of {
			if m != nil && m != cause && p.before.UpIn(m, o) {
				up++
			}
		}
		if up < g.Up {
			return g, up
		}
	}
	return nil, 0
}

// offTime gives how long the thing of a job is off, and the first and the last
// step of that time. It may run in between, where it is parked.
func (p *Plan) offTime(j *Job) (off quantity.Duration, first, last int) {
	if j.movesAbout() && strip(j.Old) {
		return p.stripOff(j)
	}
	for i, down := range p.shut() {
		if !slices.Contains(down, j) {
			continue
		}
		s := &p.Steps[i]
		if first == 0 {
			first = s.Number
		}
		off += s.Minutes
		last = s.Number
	}
	return off, first, last
}

func deadFeeds(feeds []*estate.Feed) string {
	if len(feeds) == 0 {
		return "its outlets"
	}
	var out []string
	for _, f := range feeds {
		out = append(out, f.Ref())
	}
	return strings.Join(out, ", ")
}

// names lists mounts, the first of them where they are many.
func names(mounts []*estate.Mount) string {
	const most = 6
	var out []string
	for i, m := range mounts {
		if i == most {
			out = append(out, fmt.Sprintf("%d more", len(mounts)-most))
			break
		}
		out = append(out, m.Ref())
	}
	return strings.Join(out, ", ")
}
