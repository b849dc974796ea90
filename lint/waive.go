package lint

import (
	"fmt"
	"slices"

	"cagenut/lang/estate"
)

// waive marks the findings that a waiver accepts on that day, and those that
// one accepted before. A waiver is for one thing: a finding on two things is
// accepted by a waiver on either.
func (r *rulings) waive(findings []Finding, today estate.Date) {
	if len(r.waivers) == 0 {
		return
	}
	for i := range findings {
		f := &findings[i]
		for _, w := range r.waivers[f.Rule] {
			if w.On != f.Thing && !slices.Contains(f.Others, w.On) {
				continue
			}
			w.accepted = true
			switch {
			case today <= w.Until:
				if f.Waiver == nil || f.Waiver.Until < w.Until {
					f.Waiver = w.Waiver
				}
			case f.Ended == nil || f.Ended.Until < w.Until:
				f.Ended = w.Waiver
			}
		}
		if f.Waiver != nil {
			f.Ended = nil
		}
		if f.Ended != nil {
			f.Related = append(slices.Clone(f.Related), Related{
				At: f.Ended.Source.Attr("until"), Message: fmt.Sprintf("a waiver accepted this until %s", f.Ended.Until),
			})
		}
	}
}

// A WaiverState is what became of a waiver in a run.
type WaiverState struct {
	*estate.Waiver
	Accepts bool // it matches a finding, whether or not it has ended
	Judged  bool // what it is for was judged, so that Accepts means something
}

// states gives the waivers of the estate in the order declared, and what became
// of each.
func (r *rulings) states(res *Result) []WaiverState {
	if len(r.waivers) == 0 {
		return nil
	}
	unsure := map[[2]string]bool{}
	for i := range res.Unchecked {
		unsure[[2]string{res.Unchecked[i].Rule, res.Unchecked[i].Thing}] = true
	}
	state := map[*estate.Waiver]WaiverState{}
	for id, all := range r.waivers {
		for _, w := range all {
			state[w.Waiver] = WaiverState{w.Waiver, w.accepted, !r.partial && r.ran[id] && !unsure[[2]string{id, w.On}]}
		}
	}
	out := make([]WaiverState, 0, len(state))
	for _, w := range r.estate.Rulings.Waivers {
		out = append(out, state[w])
	}
	return out
}
