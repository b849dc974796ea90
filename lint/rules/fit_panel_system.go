package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/system"
	"cagenut/lint"
)

// PanelSystem reports a mount made for another panel system than its frame's
// without an adapter between them, and an adapter that does not bridge the two.
//
// Systems that differ only in their holes take the same panels; whether a hole
// is where a screw needs it is another rule's business. What stands on a shelf
// or hangs beside the posts has no panel.
var PanelSystem = &lint.Rule{
	ID:      "fit/panel-system",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "made for another panel system, and nothing bridges the two",
	Why: `A 19-inch panel falls through a 23-inch frame, and a 25 mm one does not
go between 19-inch posts. Flanges exist that bridge most pairs; they cost depth
at the front, carry less than the frame, and must be ordered.`,
	Source: "EIA-310-D; ETS 300 119; IEC 60917-2-4",
	Bad:    panelSystemThings + fmt.Sprintf(panelSystemRack, ""),
	Good:   panelSystemThings + fmt.Sprintf(panelSystemRack, "    adapter   = equipment.flange-19\n"),
	Rack:   panelSystem,
}

const (
	panelSystemThings = `frame "exchange" {
  system    = "25mm"
  kind      = "four-post"
  clear     = "2000 mm"
  post_span = "240 mm"
}

equipment "router" {
  system = "19in"
  height = "2U"
}

equipment "flange-19" {
  kind    = "adapter"
  system  = "25mm"
  takes   = "19in"
  forward = "10 mm"
}

`
	panelSystemRack = `rack "x-1" {
  frame = frame.exchange

  mount "router-1" {
    at        = 12
    equipment = equipment.router
%s  }
}
`
)

func panelSystem(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	for m, q := range inPlace(r) {
		if m.Adapter == nil && (q.Mounting == estate.Shelf || m.Source.Has("adapter")) {
			continue // stands on something, or names an adapter that there is not
		}
		if q.System == nil {
			p.MountUnchecked(m, "%s", lacks("panel system", ofEquipment(q), estate.IsMissing))
			continue
		}
		if f.System == nil {
			p.MountUnchecked(m, "%s", lacks("panel system", ofFrame(f), estate.IsMissing))
			continue
		}
		a := m.Adapter
		switch {
		case a == nil && f.System.SamePanels(q.System):
		case a == nil:
			finding := lint.AtMount(m, "equipment")
			finding.Message = fmt.Sprintf("%s is made for %s; %s has the posts of %s, and no adapter is declared to bridge them",
				m.Name, widths(p, q.System), f.Name, widths(p, f.System))
			finding.Related = attrAt(&q.Source, "system", "%s is made for it", q.Name)
			p.Report(finding)
		case a.System == nil || a.Takes == nil:
			p.MountUnchecked(m, "the adapter %s does not say which systems it bridges", a.Name)
		case !a.System.SamePanels(f.System) || !a.Takes.SamePanels(q.System):
			finding := lint.AtMount(m, "adapter")
			finding.Message = fmt.Sprintf("%s holds panels of %s on posts of %s; %s is made for %s and %s has posts of %s",
				a.Name, a.Takes.Name, a.System.Name, m.Name, q.System.Name, f.Name, f.System.Name)
			finding.Related = attrAt(&a.Source, "takes", "what %s takes", a.Name)
			p.Report(finding)
		}
	}
}

func widths(p *lint.Pass, s *system.System) string {
	return fmt.Sprintf("%s (panels %s wide)", s.Name, p.Length(s.Panel))
}

// attrAt is a related place at an attribute, or none where it is not written.
func attrAt(src *estate.Source, attr, format string, args ...any) []lint.Related {
	if !src.Has(attr) {
		return nil
	}
	return []lint.Related{{At: src.Attr(attr), Message: fmt.Sprintf(format, args...)}}
}
