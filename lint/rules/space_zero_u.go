package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// ZeroU reports pieces beside the posts that overlap at one side and plane, or
// that are longer than the frame is high or reach past its ends.
var ZeroU = &lint.Rule{
	ID:      "space/zero-u",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "pieces beside the posts overlap, or are too long for the frame",
	Why: `The second strip is bought, wired and labelled before somebody finds that
the channel is taken, or that it ends ten centimetres short.`,
	Source: "common practice",
	Limits: []lint.Limit{
		{Name: "abreast", Default: 1, Doc: "how many pieces fit abreast at one side and plane; wide cabinets take two"},
	},
	Bad:  exampleCabinet + fmt.Sprintf(zeroUThings, "left"),
	Good: exampleCabinet + fmt.Sprintf(zeroUThings, "right"),
	Rack: zeroU,
}

const zeroUThings = `equipment "strip-16" {
  kind     = "strip"
  height   = "1750 mm"
  mounting = "zero-u"
}

rack "hq-a" {
  frame = frame.cab-42

  zero_u "strip-a" {
    equipment = equipment.strip-16
    side      = "left"
    plane     = "rear"
    from      = "60 mm"
  }
  zero_u "strip-b" {
    equipment = equipment.strip-16
    side      = "%s"
    plane     = "rear"
    from      = "60 mm"
  }
}
`

func zeroU(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	if f == nil {
		return
	}
	var known []estate.Placed
	for _, m := range r.Mounts {
		if m.ZeroU == nil {
			continue
		}
		usable := f.Usable()
		if length, ok := m.ZeroULength(); ok && length > usable.Height()+estate.Touch {
			finding := lint.AtMount(m, "equipment")
			finding.Message = fmt.Sprintf("%s is %s long; %s has %s of height, %s too little",
				m.Name, p.Length(length), f.Name, p.Length(usable.Height()), p.Length(length-usable.Height()))
			p.Report(finding)
			continue
		}
		e, ok := m.Extent()
		if !ok {
			p.MountUnchecked(m, "its lower end or its length is not known")
			continue
		}
		if !e.Within(usable) {
			finding := lint.AtMount(m, "from")
			finding.Level = lint.Warning
			finding.Message = fmt.Sprintf("%s reaches from %s to %s; the units of %s end at %s",
				m.Name, p.Length(e.Bottom), p.Length(e.Top), f.Name, p.Length(usable.Top))
			p.Report(finding)
		}
		if m.ZeroU.Side == estate.NoSide {
			p.MountUnchecked(m, "its side is missing")
			continue
		}
		known = append(known, estate.Placed{Mount: m, Extent: e})
	}
	abreast := lint.LimitFor[int](p, "abreast", r)
	for i, m := range known {
		var beside []estate.Placed
		for _, o := range known[:i] {
			if o.ZeroU.Side == m.ZeroU.Side && plane(o.ZeroU) == plane(m.ZeroU) && o.Meets(m.Extent) {
				beside = append(beside, o)
			}
		}
		if len(beside) < abreast {
			continue
		}
		finding := lint.AtMount(m.Mount, "from")
		var names []string
		for _, o := range beside {
			names = append(names, o.Name)
			finding.Others = append(finding.Others, o.Ref())
			finding.Related = append(finding.Related, lint.Related{At: o.Source.Attr("from"), Message: fmt.Sprintf("%s hangs here", o.Name)})
		}
		shared := m.Shared(beside[0].Extent)
		finding.Message = fmt.Sprintf("%s and %s hang at the %s of the %s posts of rack %s, both from %s to %s",
			m.Name, list(names), m.ZeroU.Side, plane(m.ZeroU), r.Name, p.Length(shared.Bottom), p.Length(shared.Top))
		p.Report(finding)
	}
}

// plane gives the posts beside which a piece hangs: the rear ones unless said.
func plane(z *estate.ZeroUPlace) estate.Face {
	if z.Plane == estate.FrontFace {
		return estate.FrontFace
	}
	return estate.RearFace
}
