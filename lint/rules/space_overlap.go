package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// Overlap reports a mount that claims space already taken by one declared
// earlier on the same posts, and a blank that closes what a mount or another
// blank takes: once per pair, at the later one's place, with the earlier one as related.
//
// It compares heights in nanometres, so fractional units, counting downwards
// and odd pitches need no case of their own. Two that overlap by less than
// [estate.Touch] only carry rounded figures.
var Overlap = &lint.Rule{
	ID:      "space/overlap",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "two mounts claim the same space",
	Why: `Only one thing can be bolted into a unit. The second one is found when
somebody stands in front of the rack with it.`,
	Source: "geometry of EIA-310-D and IEC 60297-3-100",
	Bad: exampleCabinet + overlapThings + `rack "hq-a" {
  frame = frame.cab-42

  mount "switch-1" {
    at        = 40
    equipment = equipment.two-unit-switch
  }
  mount "panel-1" {
    at        = 41
    equipment = equipment.panel-24
  }
}
`,
	Good: exampleCabinet + overlapThings + `rack "hq-a" {
  frame = frame.cab-42

  mount "switch-1" {
    at        = 40
    equipment = equipment.two-unit-switch
  }
  mount "panel-1" {
    at        = 42
    equipment = equipment.panel-24
  }
}
`,
	Rack: overlap,
}

const overlapThings = `equipment "two-unit-switch" {
  system = "19in"
  height = "2U"
}

equipment "panel-24" {
  system = "19in"
  height = "1U"
}

`

func overlap(p *lint.Pass, r *estate.Rack) {
	if r.Frame == nil {
		return
	}
	extents(p, r)
	for _, c := range r.Conflicts() {
		f := lint.AtMount(c.Later.Mount, "at")
		f.Message = fmt.Sprintf("%s and %s both claim %s of rack %s", c.Later.Name, c.Earlier.Name, r.Frame.Label(c.Shared), r.Name)
		f.Others = []string{c.Earlier.Ref()}
		f.Related = []lint.Related{{At: c.Earlier.Source.Attr("at"), Message: fmt.Sprintf("%s takes %s", c.Earlier.Name, c.Earlier.Label())}}
		f.Fixes = moveTo(p, r, c.Later.Mount)
		p.Report(f)
	}
	if len(r.Blanks) == 0 {
		return
	}
	placed := r.Placed()
	for i, b := range r.Blanks {
		at, ok := b.Extent()
		if !ok {
			continue
		}
		for _, o := range r.Blanks[:i] {
			if e, ok := o.Extent(); ok && e.Meets(at) && (o.Face == estate.RearFace) == (b.Face == estate.RearFace) {
				f := lint.AtRack(r, "")
				f.At = b.Source.Attr("at")
				f.Others = []string{"blank " + r.Frame.Label(at), "blank " + r.Frame.Label(e)}
				f.Message = fmt.Sprintf("two blanks close %s of rack %s", r.Frame.Label(e.Shared(at)), r.Name)
				f.Related = []lint.Related{{At: o.Source.Attr("at"), Message: "the other one closes " + r.Frame.Label(e)}}
				p.Report(f)
			}
		}
		for _, m := range placed {
			if m.Meets(at) && (m.Posts() == estate.RearFace) == (b.Face == estate.RearFace) {
				p.Report(lint.Finding{
					At: b.Source.Attr("at"), Thing: m.Ref(), Rack: r.Name,
					Others:  []string{r.Ref()},
					Message: fmt.Sprintf("a blank closes %s of rack %s, which %s takes", r.Frame.Label(m.Shared(at)), r.Name, m.Name),
					Related: []lint.Related{{At: m.Source.Attr("at"), Message: fmt.Sprintf("%s takes %s", m.Name, m.Label())}},
				})
			}
		}
	}
}
