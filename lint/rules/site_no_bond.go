package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// noBond reports a rack that does not say what its bonding conductor goes to,
// at a site that keeps a bonding record. Road cases are earthed by their cords
// and left alone.
var noBond = &lint.Rule{
	ID:      "site/no-bond",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a rack without a bond on record",
	Why: `A frame that is earthed only through the strip that happens to hang in it is not
earthed on the day the strip is changed. What leaks from twenty supplies then
looks for another way, and a hand on the next rack is one.`,
	Source:  "TIA-607 and EN 50310, as practised: every rack has a bonding conductor of its own",
	Omits:   "cross-section, lugs, bared paint, straps of doors and panels, and whether the conductor is there: the rule sees that it is on record",
	Decides: bondDecides,
	Bad:     bondExample(""),
	Good:    bondExample("  bond  = bar.hq\n"),
	Rack: func(p *lint.Pass, r *estate.Rack) {
		site := r.Site()
		if site == nil || !site.Bonding || r.Frame == nil || r.Frame.Kind == estate.RoadCase {
			return
		}
		switch r.Bond.State {
		case estate.IsUnknown:
			p.RackUnchecked(r, "what the bond of %s goes to is unknown", r.Ref())
		case estate.IsMissing:
			f := lint.AtRack(r, "")
			f.Message = fmt.Sprintf("%s declares no bond, and site.%s keeps a bonding record; write bond = bar.NAME, or bond = unknown until somebody has looked", r.Ref(), site.Name)
			f.Related = []lint.Related{{At: site.Source.Attr("bonding_record"), Message: "the bonding record is declared here"}}
			p.Report(f)
		}
	},
}

const bondDecides = "an electrician, under the local code; a bond is not taken off while supplies are connected, and is refitted before power"

func bondExample(bond string) string {
	return `
site "quay" { bonding_record = true }
room "hq" { site = site.quay }
row "hq-1" { room = room.hq }
bar "hq" { room = room.hq }
frame "cab-42" {
  system = "19in"
  units  = 42
}
rack "hq-a" {
  row   = row.hq-1
  frame = frame.cab-42
` + bond + `}
`
}
