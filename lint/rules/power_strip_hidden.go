package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// stripHidden reports a strip beside the posts whose outlets and breakers no
// hand gets at: they look across the rack at something that reaches behind the
// rear posts, or at the side of a cabinet. Only strips that say where they face
// are looked at. As elsewhere, a strip is taken to hang against the frame's
// side.
var stripHidden = &lint.Rule{
	ID:      "power/strip-hidden",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "outlets or breakers of a strip cannot be reached",
	Why: `A breaker that trips behind a server is put back by taking out the server, which hangs on
that breaker. Plugs that point inward stand in the way of what is drawn out of the
rear; turned to the door they are in nobody's.`,
	Source:  "common practice and makers' warnings: breakers of strips that are reached only after servers are removed",
	Omits:   "strips in units; what stands before the front posts; neighbours of frames without sides; cords, which a hand can push aside",
	Decides: "the site's electrician: breakers are put back by whoever may",
	Limits: []lint.Limit{
		{Name: "path", Default: 100 * quantity.Millimetre, Doc: "clear room before the face of a strip, for a hand and a plug (common practice)"},
	},
	Rack: checkStripHidden,
	Bad:  hiddenExample("inward"),
	Good: hiddenExample("door"),
}

func hiddenExample(facing string) string {
	return fmt.Sprintf(`
frame "cab" {
  system    = "19in"
  kind      = "cabinet"
  units     = 42
  width     = "600 mm"
  post_span = "740 mm"
}
equipment "strip" {
  kind    = "strip"
  body    = "56 mm"
  outlets = { type = "c13", count = 24 }
}
equipment "server" {
  height = "2U"
  body   = "440 mm"
  depth  = "800 mm"
}
rack "r1" {
  frame = frame.cab
  mount "server-1" {
    at        = 10
    equipment = equipment.server
  }
  zero_u "strip-a" {
    equipment = equipment.strip
    side      = "left"
    plane     = "rear"
    from      = "0 mm"
    length    = "1750 mm"
    facing    = %q
  }
}
`, facing)
}

func checkStripHidden(p *lint.Pass, rack *estate.Rack) {
	if rack.Frame == nil {
		return
	}
	path := lint.LimitFor[quantity.Length](p, "path", rack)
	for _, z := range rack.Mounts {
		if z.ZeroU == nil || z.Equipment == nil {
			continue
		}
		switch z.ZeroU.Facing {
		case estate.FacingSide:
			if k := rack.Frame.Kind; k == estate.Cabinet || k == estate.RoadCase || k == estate.WallFrame {
				f := hidden(z)
				f.Message = fmt.Sprintf("%s faces the side of %s, a %s, against which it hangs; %s are needed before it", z.Name, ofFrame(rack.Frame), k, p.Length(path))
				f.Related = append(f.Related, lint.Related{At: rack.Frame.Source.Attr("kind"), Message: "the frame is declared here"})
				p.Report(f)
			}
		case estate.FacingInward:
			if plane(z.ZeroU) == estate.RearFace {
				judgeInward(p, rack, z, path)
			}
		case estate.NoFacing, estate.FacingDoor:
		}
	}
}

// hidden begins a finding on a strip.
func hidden(z *estate.Mount) lint.Finding {
	f := lint.AtMount(z, "facing")
	f.Others = []string{ofFrame(z.Rack.Frame)}
	return f
}

// judgeInward looks for what stands close before a strip that faces across the
// rack behind its rear posts.
func judgeInward(p *lint.Pass, rack *estate.Rack, z *estate.Mount, path quantity.Length) {
	inner, missing := clearBetween(rack.Frame, z.Equipment)
	along, known := z.Extent()
	span, ok := rack.Frame.PostSpan.Get()
	switch {
	case missing != "":
		p.MountUnchecked(z, "%s", missing)
		return
	case !known:
		p.MountUnchecked(z, "its place beside the posts is not known")
		return
	case !ok:
		p.MountUnchecked(z, "%s", lacks("post span", ofFrame(rack.Frame), rack.Frame.PostSpan.State))
		return
	}
	var near []*estate.Mount
	least, unknown := path, ""
	for m, q := range inPlace(rack) {
		at, ok := m.Extent()
		if ok && !at.Meets(along) {
			continue
		}
		reach, missing := m.Depths()
		body, wide := q.Body.Get()
		switch {
		case !ok:
			missing = "the units of " + m.Name + " are not known"
		case missing == "" && reach.Body.To <= span:
			continue // it ends before the posts
		case missing == "" && !wide:
			missing = lacks("body width", ofEquipment(q), q.Body.State)
		}
		if missing != "" {
			if unknown == "" {
				unknown = missing
			}
			continue
		}
		if room := inner - body/2; room < path {
			near, least = append(near, m), min(least, room)
		}
	}
	if len(near) == 0 {
		if unknown != "" {
			p.MountUnchecked(z, "%s", unknown)
		}
		return
	}
	f := hidden(z)
	var names []string
	for _, m := range near[:min(len(near), 4)] {
		names = append(names, m.Name+" at "+m.Label())
		f.Related = append(f.Related, lint.Related{At: m.Source.Attr("at"), Message: m.Name + " is mounted here"})
	}
	if n := len(near) - len(names); n > 0 {
		names = append(names, fmt.Sprintf("%d more", n))
	}
	f.Message = fmt.Sprintf("%s faces inward behind the rear posts, and %s %s %s before it; %s are needed",
		z.Name, list(names), verb(len(near), "leaves", "leave"), p.Length(max(least, 0)), p.Length(path))
	p.Report(f)
}

// verb agrees with how many things do something.
func verb(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}
