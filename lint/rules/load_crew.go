package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// tooHeavyForCrew reports a road case that weighs more than the people who move
// it can handle.
var tooHeavyForCrew = &lint.Rule{
	ID:      "load/crew",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a road case is too heavy for its crew",
	Why: `A case rolls on the flat; at every step, kerb and tail lift it is carried. What
each pair of hands takes there is its mass over the number of people, and the
day has forty cases.`,
	Source:  "common practice; HSE INDG143 reads 25 kg for one man close to the body between knuckle and elbow, and less for every other hold",
	Omits:   "ramps and lifts on the way; grip and height of the handles",
	Decides: "the site's own handling assessment",
	Limits: []lint.Limit{
		{Name: "each", Default: 35 * quantity.Kilogram, Doc: "mass for each of the crew over a short carry by handles (common practice)"},
		cablesLimit,
	},
	Rack: checkCrew,
	Bad:  crewExample(2),
	Good: crewExample(4),
}

func crewExample(n int) string {
	return fmt.Sprintf(`
frame "amp-case" {
  system = "19in"
  kind   = "case"
  units  = 16
  mass   = "62 kg"
  crew   = %d
}
equipment "amplifier" {
  height = "2U"
  mass   = "14.5 kg"
}
rack "k1" {
  frame = frame.amp-case
  stack "amp" {
    from      = 1
    count     = 4
    equipment = equipment.amplifier
  }
}
`, n)
}

func checkCrew(p *lint.Pass, rack *estate.Rack) {
	f := rack.Frame
	if f == nil || f.Kind != estate.RoadCase {
		return
	}
	if f.Crew == 0 {
		p.RackUnchecked(rack, "the crew of frame.%s is missing", f.Name)
		return
	}
	why := weighed(rack)
	total := grossMass(p, rack)
	each := total / quantity.Mass(f.Crew)
	if limit := lint.LimitFor[quantity.Mass](p, "each", rack); each > limit {
		found := lint.AtRack(rack, "frame")
		found.Message = fmt.Sprintf("%s weighs %s (cables added%s): %s for each of %d people; %s is the limit", rack.Name, total, atLeast(why == ""), each, f.Crew, limit)
		found.Others = []string{"frame." + f.Name}
		found.Related = []lint.Related{{At: f.Source.Attr("crew"), Message: "its crew is declared here"}}
		p.Report(found)
		return
	}
	if why != "" {
		p.RackUnchecked(rack, "%s", why)
	}
}
