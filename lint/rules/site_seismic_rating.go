package rules

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// seismicRating reports a rack at a site in a seismic zone above 0 whose frame
// declares a lower zone or none, or whose frame is not anchored. Unknown
// figures are not checked. It compares declared zones and computes nothing.
var seismicRating = &lint.Rule{
	ID:      "site/seismic-rating",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "no evidence that the frame is made for the site's seismic zone",
	Why: `A frame that is not made and not anchored for its zone walks, tips or folds in an
earthquake, and a row goes over frame by frame. The paper must exist before the gear does.`,
	Source:  "GR-63-CORE for the zones 0 to 4; local building code for anchoring",
	Omits:   "forces, anchors, bracing and the building: the rule sees only that evidence is declared",
	Decides: "a structural engineer, under the local code",
	Bad: `site "cape" {
  seismic_zone = 3
}
room "hut" {
  site = site.cape
}
row "one" {
  room = room.hut
}
frame "open" {
  system = "19in"
  units  = 42
  fixed  = "none"
}
rack "a" {
  row   = row.one
  frame = frame.open
}
`,
	Good: `site "cape" {
  seismic_zone = 3
}
room "hut" {
  site = site.cape
}
row "one" {
  room = room.hut
}
frame "braced" {
  system       = "19in"
  units        = 42
  fixed        = "anchored"
  seismic_zone = 4
}
rack "a" {
  row   = row.one
  frame = frame.braced
}
`,
	Estate: func(pass *lint.Pass) {
		for _, site := range pass.Estate.Sites {
			if !site.SeismicZone.Known() {
				pass.NotChecked(lint.Unchecked{At: site.Source.At(), Thing: "site." + site.Name,
					Because: fmt.Sprintf("the seismic zone of site.%s is %s", site.Name, site.SeismicZone.State)})
			}
		}
		for _, r := range pass.Estate.Racks {
			site := r.Site()
			if site == nil || r.Frame == nil {
				continue
			}
			if zone, _ := site.SeismicZone.Get(); zone > 0 {
				judgeSeismic(pass, r, site, zone)
			}
		}
	},
}

func judgeSeismic(pass *lint.Pass, r *estate.Rack, site *estate.Site, zone int) {
	frame := r.Frame
	var lacks []string
	related := []lint.Related{{At: site.Source.Attr("seismic_zone"), Message: fmt.Sprintf("site.%s lies in zone %d", site.Name, zone)}}
	rated, ok := frame.SeismicZone.Get()
	switch {
	case frame.SeismicZone.State == estate.IsUnknown:
		pass.RackUnchecked(r, "the seismic zone of frame.%s is unknown", frame.Name)
	case !ok:
		lacks = append(lacks, "frame."+frame.Name+" declares no seismic_zone")
	case rated < zone:
		lacks = append(lacks, fmt.Sprintf("frame.%s is made for zone %d", frame.Name, rated))
	}
	switch frame.Fixed {
	case estate.Anchored:
	case estate.NoFixing:
		lacks = append(lacks, "it is not said whether it is anchored")
	default:
		lacks = append(lacks, fmt.Sprintf("it is not anchored (fixed = %q)", frame.Fixed))
	}
	if len(lacks) == 0 {
		return
	}
	f := lint.AtRack(r, "frame")
	f.Message = fmt.Sprintf("%s stands in seismic zone %d; %s; what holds it there is for a structural engineer to decide", r.Ref(), zone, strings.Join(lacks, ", and "))
	f.Related = append(related, lint.Related{At: frame.Source.At(), Message: "the frame is declared here"})
	pass.Report(f)
}
