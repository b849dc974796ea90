package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// HalfEmpty reports a mount of part of a unit's width whose other part is open
// at the front: once per such mount, unless one to its left says so already; and
// one of narrow equipment that does not say which part it takes.
var HalfEmpty = &lint.Rule{
	ID:      "space/half-empty",
	Since:   "2026.1",
	Level:   lint.Note,
	Summary: "part of a unit's width is open beside a narrow mount",
	Why: `The half beside it is open to the front like any open unit, and it is
easily forgotten that it is free. Fit a filler, or note it for the next one.`,
	Source: "common practice",
	Bad:    exampleCabinet + halfThings + fmt.Sprintf(halfRack, ""),
	Good: exampleCabinet + halfThings + fmt.Sprintf(halfRack, `  mount "receiver-2" {
    at        = 20
    slot      = "right"
    equipment = equipment.receiver
  }
`),
	Rack: halfEmpty,
}

const (
	halfThings = `equipment "receiver" {
  system = "19in"
  height = "1U"
  share  = "1/2"
}

`
	halfRack = `rack "hq-a" {
  frame = frame.cab-42

  mount "receiver-1" {
    at        = 20
    slot      = "left"
    equipment = equipment.receiver
  }
%s}
`
)

func halfEmpty(p *lint.Pass, r *estate.Rack) {
	if r.Frame == nil {
		return
	}
	var placed []estate.Placed
	told := map[*estate.Mount]bool{}
	for _, m := range r.Mounts {
		if m.ZeroU != nil || m.Posts() == estate.RearFace || told[m] {
			continue
		}
		if m.Slot.Whole() {
			if q := m.Equipment; q != nil && !q.Share.Whole() {
				finding := lint.AtMount(m, "equipment")
				finding.Message = fmt.Sprintf("%s takes 1/%d of the width and does not say which part; write slot", m.Name, q.Share.Of)
				finding.Related = attrAt(&q.Source, "share", "the share of %s", q.Name)
				p.Report(finding)
			}
			continue
		}
		extent, ok := m.Extent()
		if !ok {
			continue
		}
		if placed == nil {
			placed = r.Placed()
		}
		// Count the parts of the width, in sixtieths so that halves, thirds,
		// quarters and fifths come out even.
		const parts = 60
		var taken [parts]bool
		for _, o := range placed {
			if o.Posts() == estate.RearFace || !o.Meets(extent) {
				continue
			}
			told[o.Mount] = true
			from, to := 0, parts
			if !o.Slot.Whole() {
				from, to = int(o.Slot.Part-1)*parts/int(o.Slot.Of), int(o.Slot.Part)*parts/int(o.Slot.Of)
			}
			for i := from; i < to; i++ {
				taken[i] = true
			}
		}
		open := 0
		for _, t := range taken {
			if !t {
				open++
			}
		}
		if open == 0 {
			continue
		}
		finding := lint.AtMount(m, "slot")
		finding.Message = fmt.Sprintf("%s takes %s of %s; %d %% of the width beside it is open", m.Name, slotWords(m.Slot), m.Label(), open*100/parts)
		p.Report(finding)
	}
}

// slotWords names a part of the width in a sentence: "the left half", "1/3".
func slotWords(s estate.Slot) string {
	switch s.String() {
	case "left":
		return "the left half"
	case "right":
		return "the right half"
	}
	return s.String()
}
