package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// A layer is what a thing serves, in the order in which layers are started.
// They are shut down the other way round; amplifiers, which make a bang of
// whatever starts before them, come on last and go off first (common practice).
type layer int

const (
	noLayer layer = iota
	supplyLayer
	networkLayer
	timeLayer
	storageLayer
	applications
	lastOn
)

// layers holds the kinds of equipment, plain words, that have a place in the
// order of starting.
var layers = map[string]layer{
	"ups": supplyLayer, "battery": supplyLayer, "strip": supplyLayer, "distribution": supplyLayer, "rectifier": supplyLayer,
	"switch": networkLayer, "router": networkLayer, "firewall": networkLayer, "gateway": networkLayer, "modem": networkLayer,
	"reference": timeLayer, "clock": timeLayer,
	"storage": storageLayer,
	"server":  applications, "recorder": applications,
	"amplifier": lastOn,
}

func layerOf(m *estate.Mount) layer {
	if m == nil || m.Equipment == nil {
		return noLayer
	}
	return layers[m.Equipment.Kind]
}

// serviceOrder notes where the plan shuts a thing down while one that may live
// on it runs, or starts one before what it may live on. The order of moves
// keeps to the layers where it is free to; of things that are moved one at a
// time and run before and after, no order does.
//
// What lives on what is not declared: things of one rack, or of one service,
// are taken to. Supplies are left out, plan/goes-dark follows their cords.
func (p *Plan) serviceOrder() {
	type broken struct{ down, early []string }
	found := map[*Job]*broken{}
	at := map[*Job]*Step{} // the step that is named
	running := map[*Job]bool{}
	for _, j := range p.Jobs {
		running[j] = j.Old != nil && draws(j.Old)
	}
	note := func(j *Job, s *Step) *broken {
		if found[j] == nil {
			found[j], at[j] = &broken{}, s
		}
		return found[j]
	}
	for i := range p.Steps {
		s := &p.Steps[i]
		j := s.Job
		if j == nil || s.Task != HandOver && s.Task != Service {
			continue
		}
		own := layerOf(j.Mount())
		for _, o := range p.Jobs {
			other := layerOf(o.Mount())
			switch {
			case o == j || other == noLayer || own == noLayer || !together(j, o):
			case s.Task == HandOver && own > supplyLayer && other > own && running[o]:
				b := note(j, s)
				if name := o.Mount().Name; !slices.Contains(b.down, name) {
					b.down = append(b.down, name)
				}
			case s.Task == Service && other > supplyLayer && other < own && !running[o] && o.New != nil && draws(o.New):
				b := note(o, s)
				if name := j.Mount().Name; !slices.Contains(b.early, name) {
					b.early = append(b.early, name)
				}
			}
		}
		running[j] = s.Task == Service
	}
	for _, j := range p.Jobs {
		b := found[j]
		if b == nil {
			continue
		}
		var texts []string
		if len(b.down) > 0 {
			texts = append(texts, "is shut down while "+listOf(b.down)+" may run")
		}
		if len(b.early) > 0 {
			texts = append(texts, "is not back yet when "+listOf(b.early)+" may start")
		}
		p.Findings = append(p.Findings, lint.Finding{
			Rule: "plan/service-order", Level: lint.Note, At: j.declared(), Thing: j.Thing, Rack: j.Rack,
			Message: fmt.Sprintf("from step %d on, %s (%s) %s: the moves leave no other order; shut down first what lives on it, and start that last",
				at[j].Number, j.Mount().Name, j.Mount().Equipment.Kind, strings.Join(texts, ", and ")),
		})
	}
}

// together reports whether the things of two jobs are taken to live on each
// other: they are, or come to be, in one rack, or are of one service.
func together(a, b *Job) bool {
	for _, m := range []*estate.Mount{a.Old, a.New} {
		for _, o := range []*estate.Mount{b.Old, b.New} {
			if m == nil || o == nil {
				continue
			}
			if m.Rack != nil && o.Rack != nil && m.Rack.Name == o.Rack.Name || m.Service != "" && m.Service == o.Service {
				return true
			}
		}
	}
	return false
}

// listOf writes names as a list, the first of them where they are many.
func listOf(names []string) string {
	const most = 6
	if len(names) > most {
		names = append(slices.Clone(names[:most]), fmt.Sprintf("%d more", len(names)-most))
	}
	return strings.Join(names, ", ")
}
