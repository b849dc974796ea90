package sequence

import "cagenut/lang/quantity"

// Going back and going on are reckoned within a block, because the work may
// rest where a block begins and where it ends, once what blocks before it have
// opened is closed.

// back gives the minutes to undo a block up to and with a step; on gives the
// minutes from the start of a step to the end of its block. Both are without
// contingency, and steps are given by index.
func (p *Plan) back(step int) quantity.Duration {
	block := p.Steps[step].Block
	sum := minutesOf(p.closings(block))
	for i := p.Blocks[block].From; i <= step; i++ {
		sum += p.Steps[i].UndoMinutes
	}
	return sum
}

func (p *Plan) on(step int) quantity.Duration {
	block := p.Steps[step].Block
	sum := minutesOf(p.closings(block + 1))
	for i := step; i < p.Blocks[block].To; i++ {
		sum += p.Steps[i].Minutes
	}
	return sum
}

func minutesOf(undo []Undo) quantity.Duration {
	var sum quantity.Duration
	for _, u := range undo {
		sum += u.Minutes
	}
	return sum
}

// closings gives what has to be closed for the work to rest before a block:
// units, fire seals and doors that the blocks which it follows have opened, the
// last one opened first.
func (p *Plan) closings(block int) []Undo {
	if block >= len(p.Blocks) || !p.Blocks[block].Follows {
		return nil
	}
	before := &p.Blocks[block-1]
	var out []Undo
	for _, u := range before.leaves {
		u.Step = before.To
		out = append(out, u)
	}
	shut := map[string]bool{}
	for i := before.To - 1; i >= p.Blocks[p.head(block)].From; i-- {
		switch s := &p.Steps[i]; s.Task {
		case ShutDoor, RemakeSeal:
			shut[s.behind] = true
		case OpenDoor, OpenSeal:
			if !shut[s.behind] {
				out = append(out, Undo{Step: s.Number, Do: s.Undo, Minutes: s.UndoMinutes})
			}
		}
	}
	return out
}

// head gives the first of the blocks that a block follows; chain gives those
// that are done in one window with it, from it on.
func (p *Plan) head(block int) int {
	for p.Blocks[block].Follows {
		block--
	}
	return block
}

func (p *Plan) chain(block int) []int {
	out := []int{block}
	for n := block + 1; n < len(p.Blocks) && p.Blocks[n].Follows; n++ {
		out = append(out, n)
	}
	return out
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
// state before its block: the reverse of what has been done, nothing else, and
// what closes what is open there.
func (p *Plan) BackOut(number int) []Undo {
	if number < 1 || number > len(p.Steps) {
		return nil
	}
	var out []Undo
	var sum quantity.Duration
	add := func(u Undo) {
		sum += u.Minutes
		u.Sum = sum
		out = append(out, u)
	}
	block := p.Steps[number-1].Block
	for i := number - 1; i >= p.Blocks[block].From; i-- {
		if s := &p.Steps[i]; s.Undo != "" {
			add(Undo{Step: s.Number, Do: s.Undo, Minutes: s.UndoMinutes})
		}
	}
	for _, u := range p.closings(block) {
		u.Do = "to rest here: " + u.Do
		add(u)
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
