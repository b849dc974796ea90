package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// RailSpan reports rails or slides whose shortest or longest setting does not
// meet the frame's post span, and rails in a frame that has no rear posts.
var RailSpan = &lint.Rule{
	ID:      "fit/rail-span",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "the rails do not reach from the front posts to the rear ones",
	Why: `A rail kit fits a range of depths, and once a rack is loaded its rear
posts cannot be moved. The kit that came with the machine stays in its box
until somebody orders another.`,
	Source: "makers' sheets",
	Bad:    exampleCabinet + fmt.Sprintf(railThings, 760),
	Good:   exampleCabinet + fmt.Sprintf(railThings, 600),
	Rack:   railSpan,
}

const railThings = `equipment "server" {
  system   = "19in"
  height   = "2U"
  mounting = "slides"
  rails    = { from = "%d mm", to = "900 mm" }
}

rack "hq-a" {
  frame = frame.cab-42

  mount "server-1" {
    at        = 3
    equipment = equipment.server
  }
}
`

func railSpan(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	for m, q := range inPlace(r) {
		if q.Mounting != estate.FixedRails && q.Mounting != estate.Slides && !q.Rails.Known() {
			continue
		}
		if f.Kind == estate.TwoPost {
			finding := lint.AtMount(m, "equipment")
			finding.Message = fmt.Sprintf("%s hangs on rails%s; %s has no rear posts to carry them", m.Name, reach(p, q), f.Name)
			p.Report(finding)
			continue
		}
		rails, ok := q.Rails.Get()
		switch {
		case !ok:
			p.MountUnchecked(m, "%s", lacks("span of the rails", ofEquipment(q), q.Rails.State))
			continue
		case !f.PostSpan.Known():
			p.MountUnchecked(m, "%s", lacks("post span", ofFrame(f), f.PostSpan.State))
			continue
		}
		span := f.PostSpan.Value
		if rails.From <= span && span <= rails.To {
			continue
		}
		by, what := rails.From-span, "too long at their shortest"
		if span > rails.To {
			by, what = span-rails.To, "too short at their longest"
		}
		finding := lint.AtMount(m, "equipment")
		finding.Message = fmt.Sprintf("the rails of %s reach %s to %s%s; the posts of %s are %s apart: %s %s",
			m.Name, p.Length(rails.From), p.Length(rails.To), basis(q.Rails), f.Name, told(p, f.PostSpan), p.Length(by), what)
		finding.Related = append(figureAt(&q.Source, q.Rails, "the rails of %s", q.Name),
			figureAt(&f.Source, f.PostSpan, "the posts of %s", f.Name)...)
		p.Report(finding)
	}
}

// reach tells which spans rails reach, after a space, or nothing.
func reach(p *lint.Pass, q *estate.Equipment) string {
	rails, ok := q.Rails.Get()
	if !ok {
		return ""
	}
	return fmt.Sprintf(" for %s to %s", p.Length(rails.From), p.Length(rails.To))
}
