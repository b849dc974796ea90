package sequence

import (
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint/sequence/rearrange"
)

// rest ends the block before some moves. Between windows no unit of a rack that
// wants its units closed stays open: where a later move covers what is open now,
// the next block follows in the same window, as far as the longest one of the
// site holds both; else blanks close the units for the time being.
func (r *writer) rest(later []rearrange.Move) {
	r.sync()
	r.follows = false
	if waiting := r.waiting(); len(waiting) > 0 {
		if r.follows = r.holdsNext(later); !r.follows {
			for _, run := range waiting {
				r.closeFor(run)
			}
		}
	}
	r.end()
}

// waiting gives the units that the work has opened, that a later move covers,
// and that the rack wants closed meanwhile.
func (r *writer) waiting() []unitRun {
	var out []unitRun
	for _, rack := range r.w.racks {
		for _, face := range []estate.Face{estate.FrontFace, estate.RearFace} {
			run := r.open[rack.Name+" "+face.String()]
			if len(run.units) == 0 || face == estate.RearFace || !rack.WantsBlanks() {
				continue
			}
			on, taken, end := blanked(rack.Blanks, face), covered(rack, face), r.w.covered(rack.Name, face)
			left := unitRun{rack: rack.Name, face: face}
			for _, u := range run.units {
				if end[u] && !on[u] && !taken[u] {
					left.units = append(left.units, u)
				}
			}
			if len(left.units) > 0 {
				out = append(out, left)
			}
		}
	}
	return out
}

// closeFor writes the step that closes units until a later move covers them.
func (r *writer) closeFor(run unitRun) {
	rack := r.w.rack(run.rack)
	s := r.step(FitBlank, nil, "Fit blanks over U%s of %s for the time being.", runsOf(run.units), run.rack)
	s.At = placeOfRack(rack)
	s.At.Face, s.At.Units = run.face.String(), "U"+runsOf(run.units)
	s.Minutes = r.clock.minutesFor(FitBlank, run.units)
	s.interim = len(run.units)
	s.Expect = "no open units left in " + run.rack
	s.Undo, s.UndoMinutes = "blanks off", r.clock.minutesFor(OpenBlank, run.units)
	r.w.setBlanks(run.rack, run.face, nil, run.units)
	r.shutUnits(run.rack, run.face, run.units)
}

// holdsNext reports whether a window holds the next block, which goes on until
// nothing is parked, with the blocks since the one that opened units.
func (r *writer) holdsNext(later []rearrange.Move) bool {
	if len(later) == 0 {
		return false
	}
	p := r.p
	next := r.b.jobs[later[0].Item]
	block := &p.Blocks[r.block]
	block.To = len(p.Steps)
	p.tally(block)
	var chain []int
	for n := p.head(r.block); n <= r.block; n++ {
		chain = append(chain, n)
	}
	joint := p.joint(chain)
	if siteName(joint.Site) != siteName(next.Site) {
		return false
	}
	parked := 0
	for _, m := range later {
		joint.Forward += r.estimate(r.b.jobs[m.Item])
		if m.From >= rearrange.FirstPark {
			parked--
		}
		if m.To >= rearrange.FirstPark {
			parked++
		}
		if parked == 0 {
			break
		}
	}
	return p.windowHolds(&joint, r.clock)
}

// estimate gives about how long the steps of a job take.
func (r *writer) estimate(j *Job) quantity.Duration {
	c := r.clock
	sum := c.of(Verify)
	for n, m := range []*estate.Mount{j.Old, j.New} {
		if m == nil {
			continue
		}
		units := len(unitsUnder(m))
		sum += c.times(OpenBlank, units) + c.times(FitBlank, units)
		if n == 0 {
			sum += c.of(HandOver) + c.of(Proof) + c.times(CordsOff, supplies(m)+1) + c.of(withdrawal(m)) + c.of(RailsOut) + c.of(Carry)
			continue
		}
		sum += c.of(insertion(m)) + c.times(PowerOn, supplies(m)) + c.of(DataOn) + c.of(Service)
		if railed(m.Equipment) {
			sum += c.of(railTask(m.Equipment))
		}
	}
	return sum
}
