package sequence

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cagenut/lang/quantity"
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
				s.Hold = &Hold{What: "turning point: once the next step is begun, going on is the shorter way"}
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
			if owners := p.ownersAt(i); len(owners) > 0 {
				h.Decides = "lead with " + listOf(owners)
			}
		}
	}
}

// ownersAt gives those who own what a block has proven back, at the step that
// ends it.
func (p *Plan) ownersAt(step int) []string {
	s := &p.Steps[step]
	b := &p.Blocks[s.Block]
	var out []string
	for i := b.From; i < b.To && s.Number == b.To; i++ {
		if t := &p.Steps[i]; t.Task == Service && t.Job != nil && t.Job.Mount() != nil {
			if o := t.Job.Mount().Owner; o != "" && !slices.Contains(out, o) {
				out = append(out, o)
			}
		}
	}
	return out
}

// A Choice is what a hold point decides about.
type Choice struct {
	Back, On quantity.Duration // minutes to undo the block so far, and to finish it, with contingency
	Turned   bool              // going on is the shorter way
	Ends     bool              // the block ends here: the work may rest
	Close    quantity.Duration // what it takes to close what is open, for that
	By       time.Time         // when the next step has to start at the latest; zero where that is not known
}

// ChoiceAt gives what is decided at the hold point after a step.
func (p *Plan) ChoiceAt(s *Step) Choice {
	b := &p.Blocks[s.Block]
	c := Choice{Back: s.BackMinutes, Ends: s.Number == b.To}
	if c.Ends {
		c.Close = p.WithContingency(minutesOf(p.closings(s.Block + 1)))
	}
	if s.Number < len(p.Steps) {
		next := &p.Steps[s.Number]
		if !c.Ends {
			c.On = next.ForwardMinutes
		}
		if night := p.nightOf(s.Block); night != nil && night == p.nightOf(next.Block) {
			c.By = next.LatestStart
		}
	}
	t := p.Turning(s.Block)
	c.Turned = t > 0 && s.Number+1 > t
	return c
}

// NightOf gives the window in which a step is done, or nil.
func (p *Plan) NightOf(s *Step) *Night { return p.nightOf(s.Block) }

func (p *Plan) nightOf(block int) *Night {
	for _, n := range p.Windows {
		if slices.Contains(n.Blocks, block) {
			return n
		}
	}
	return nil
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
