package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// noAnchor reports slides in a frame that is neither anchored nor has a
// stabiliser: once for each rack, at its first sliding mount. Slides of light
// equipment and in low frames are left out, as the product standard does.
var noAnchor = &lint.Rule{
	ID:      "load/no-anchor",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "slides in a frame that nothing keeps from tipping",
	Why: `Every sheet that comes with slide rails says so: stabilise the rack first,
pull out one unit at a time. Somebody will pull out two.`,
	Source:  "IEC 60950-1 Annex DD and IEC 62368-1 clause 8.11 (slide-mounted equipment above 7 kg); every slide rail sheet",
	Omits:   "how far the rack is from tipping (load/tip-over)",
	Decides: engineer,
	Limits: []lint.Limit{
		{Name: "limit", Default: 7 * quantity.Kilogram, Doc: "mass on slides up to which nothing is asked (IEC 60950-1 Annex DD)"},
		{Name: "height", Default: 1000 * quantity.Millimetre, Doc: "height of the frame up to which nothing is asked (IEC 60950-1 Annex DD)"},
	},
	Rack: checkNoAnchor,
	Bad: `
frame "cab" {
  system = "19in"
  kind   = "cabinet"
  units  = 42
  base   = "100 mm"
  fixed  = "none"
}
equipment "server" {
  height   = "2U"
  mass     = "28 kg"
  mounting = "slides"
}
rack "r1" {
  frame = frame.cab
  mount "server-1" {
    at        = 10
    equipment = equipment.server
  }
}
`,
	Good: `
frame "cab" {
  system = "19in"
  kind   = "cabinet"
  units  = 42
  base   = "100 mm"
  fixed  = "anchored"
}
equipment "server" {
  height   = "2U"
  mass     = "28 kg"
  mounting = "slides"
}
rack "r1" {
  frame = frame.cab
  mount "server-1" {
    at        = 10
    equipment = equipment.server
  }
}
`,
}

func checkNoAnchor(p *lint.Pass, rack *estate.Rack) {
	f := rack.Frame
	if f == nil || f.Fixed == estate.Stabilised {
		return
	}
	free, known := f.StandsFree()
	if !free || f.Base.Or(0)+f.Usable().Top <= lint.LimitFor[quantity.Length](p, "height", rack) {
		return
	}
	limit := lint.LimitFor[quantity.Mass](p, "limit", rack)
	var sliding []*estate.Mount
	for _, m := range rack.Mounts {
		if mass, why := m.Weighs(); m.Slides() && (why != "" || mass > limit) {
			sliding = append(sliding, m)
		}
	}
	if len(sliding) == 0 {
		return
	}
	if !known {
		p.RackUnchecked(rack, "%s", fixingUnknown(f))
		return
	}
	found := lint.AtMount(sliding[0], "equipment")
	found.Thing, found.Others = rack.Ref(), []string{"frame." + f.Name}
	others := ""
	if len(sliding) > 1 {
		others = fmt.Sprintf(" and %d more", len(sliding)-1)
	}
	found.Message = fmt.Sprintf("%s%s can be pulled out of %s, and %s is neither anchored nor has it a stabiliser", sliding[0].Name, others, rack.Name, f.Name)
	found.Related = []lint.Related{{At: f.Source.Attr("fixed"), Message: "its fixing is declared here"}}
	p.Report(found)
}
