package sequence

import "cagenut/lang/quantity"

// Going back and going on are reckoned within a block, because the work may
// rest where a block begins and where it ends.

// back gives the minutes to undo a block up to and with a step; on gives the
// minutes from the start of a step to the end of its block. Both are without
// contingency, and steps are given by index.
func (p *Plan) back(step int) quantity.Duration {
	var sum quantity.Duration
	for i := p.Blocks[p.Steps[step].Block].From; i <= step; i++ {
		sum += p.Steps[i].UndoMinutes
	}
	return sum
}

func (p *Plan) on(step int) quantity.Duration {
	var sum quantity.Duration
	for i := step; i < p.Blocks[p.Steps[step].Block].To; i++ {
		sum += p.Steps[i].Minutes
	}
	return sum
}

// turning gives the index of the first step of a block from which going back,
// the step included, takes longer than going on; the block's end if there is
// none.
func (p *Plan) turning(b *Block) int {
	for i := b.From; i < b.To; i++ {
		if p.back(i) > p.on(i) {
			return i
		}
	}
	return b.To
}

// An Undo is one line of the way back.
type Undo struct {
	Step    int // the number of the step that it undoes
	Do      string
	Minutes quantity.Duration
	Sum     quantity.Duration // with all lines before it, without contingency
}

// BackOut gives the way back from the end of a step (by number) to the resting
// state before its block: the reverse of what has been done, nothing else.
func (p *Plan) BackOut(number int) []Undo {
	if number < 1 || number > len(p.Steps) {
		return nil
	}
	var out []Undo
	var sum quantity.Duration
	for i := number - 1; i >= p.Blocks[p.Steps[number-1].Block].From; i-- {
		s := &p.Steps[i]
		if s.Undo == "" {
			continue
		}
		sum += s.UndoMinutes
		out = append(out, Undo{s.Number, s.Undo, s.UndoMinutes, sum})
	}
	return out
}

// Turning gives the number of the step that is the turning point of a block:
// from its start on, going back takes longer than going on. It is 0 where going
// back is the shorter way to the end.
func (p *Plan) Turning(block int) int {
	b := &p.Blocks[block]
	if t := p.turning(b); t < b.To {
		return p.Steps[t].Number
	}
	return 0
}
