package sequence

import (
	"fmt"
	"slices"
	"strings"
)

// holds sets the hold points of a plan and names them: each isolation, the
// last step before the way back gets longer than the way on, services
// confirmed, and the member of a group that must be back before the next one.
func (p *Plan) holds() {
	for n := range p.Blocks {
		b := &p.Blocks[n]
		if b.From == b.To {
			continue
		}
		// Where nothing is heavy, parked or paired, the turning point on the
		// back page is enough.
		grave := len(b.Jobs) > 1 || b.Lift || slices.ContainsFunc(p.Steps[b.From:b.To], func(s Step) bool { return len(s.State.Parked)+len(s.State.Down) > 0 })
		if t := p.turning(b); t > b.From && t < b.To && grave {
			s := &p.Steps[t-1]
			if s.Hold == nil {
				s.Hold = &Hold{What: "last step from which going back is the shorter way"}
			}
		}
		last := &p.Steps[b.To-1]
		if h := p.restHold(n); h != nil {
			last.Hold = h
		}
	}
	n := 0
	for i := range p.Steps {
		if h := p.Steps[i].Hold; h != nil {
			n++
			h.Name = fmt.Sprintf("H%d", n)
			h.Decides = "lead"
			if j := p.Steps[i].Job; j != nil && j.Mount() != nil && j.Mount().Owner != "" && p.Steps[i].Task == Service {
				h.Decides = "lead with " + j.Mount().Owner
			}
		}
	}
}

// restHold gives the hold point with which a block ends, or nil.
func (p *Plan) restHold(block int) *Hold {
	b := &p.Blocks[block]
	var next string
	for _, j := range b.Jobs {
		if m := p.nextMember(block, j); m != "" {
			next = m
		}
	}
	if open := p.openAfter(block); open != "" && next == "" {
		return &Hold{What: "everything in its place, nothing parked, every cord on; open for what follows: " + open}
	}
	switch {
	case next != "":
		return &Hold{What: fmt.Sprintf("%s is back, in step with its group, and signed; only then %s", blockName(b), next)}
	case slices.ContainsFunc(p.Steps[b.From:b.To], func(s Step) bool { return s.Task == Service }):
		return &Hold{What: "services confirmed, at rest: everything in its place, nothing parked, every cord on"}
	}
	return nil
}

// openAfter says what stays open after a block for the one that follows it.
func (p *Plan) openAfter(block int) string {
	if block+1 >= len(p.Blocks) || !p.Blocks[block+1].Follows {
		return ""
	}
	s := &p.Steps[p.Blocks[block].To-1].State
	return strings.Join(slices.Concat(s.Open, s.Ajar, prefixed("fire seal ", s.Seals)), ", ")
}

func prefixed(prefix string, words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = prefix + w
	}
	return out
}

func blockName(b *Block) string {
	if len(b.Jobs) == 0 {
		return "the work"
	}
	return b.Jobs[0].Name
}

// nextMember gives the member of one of a job's groups that a later block
// takes down.
func (p *Plan) nextMember(block int, j *Job) string {
	if j.New == nil {
		return ""
	}
	for _, g := range p.after.Groups {
		if !slices.Contains(g.Of, j.New) {
			continue
		}
		for n := block + 1; n < len(p.Blocks); n++ {
			for _, o := range p.Blocks[n].Jobs {
				if o != j && o.New != nil && slices.Contains(g.Of, o.New) && o.Kind != Relabel {
					return o.Name
				}
			}
		}
	}
	return ""
}
