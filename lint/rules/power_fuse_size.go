package rules

import (
	"cmp"
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// fuseSize reports a cord in a fuse panel whose drain at the lowest voltage is
// more than its fuse should carry, or whose fuse is far larger than the drain.
// Each fuse is judged on the whole drain, as with the other supply lost.
var fuseSize = &lint.Rule{
	ID:      "power/fuse-size",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a fuse is too small or too large for its drain",
	Why: `A direct current load draws most when the batteries are nearly empty, and all of it
from one side when the other fails. A fuse sized at the nominal voltage blows
in the last hour of an outage. One far too large protects nothing, and the
landlord counts it as ordered.`,
	Source:  "telecom practice: a fuse is 125 % of the highest drain at the lowest voltage; EN 300 132-2 for 40.5 V; landlords' limits of 2.5 times the drain",
	Omits:   "voltage drop of the cable; the fuse's own curve",
	Decides: electrician,
	Limits: []lint.Limit{
		{Name: "share", Default: physics.FuseShare, Doc: "share of a fuse that the drain may take (telecom practice)"},
		{Name: "most", Default: 2.5, Doc: "how many times the drain a fuse may be (landlords' practice)"},
	},
	Estate: checkFuseSize,
	Bad:    fuseExample("25 A"),
	Good:   fuseExample("35 A"),
}

func fuseExample(fuse string) string {
	return fmt.Sprintf(`
frame "relay" {
  system = "19in"
  units  = 45
}
feed "dc-a" {
  source  = "rectifier"
  voltage = "-48 V"
  phases  = 0
  rated   = "100 A"
}
equipment "fuses" {
  kind    = "fuse-panel"
  height  = "1U"
  inlets  = { type = "terminal", count = 1, needs = 1 }
  outlets = { type = "terminal", count = 10 }
}
equipment "mux" {
  height = "4U"
  draw   = "1000 W"
  inlets = { type = "terminal", count = 1, needs = 1 }
}
rack "r1" {
  frame = frame.relay
  mount "fuses-1" {
    at        = 44
    equipment = equipment.fuses
    feeds     = [feed.dc-a]
  }
  mount "mux-1" {
    at        = 1
    equipment = equipment.mux
    cords     = { to = "fuses-1", outlet = 1, fuse = %q }
  }
}
`, fuse)
}

func checkFuseSize(p *lint.Pass) {
	share, most := lint.LimitFor[float64](p, "share", nil), lint.LimitFor[float64](p, "most", nil)
	eachCord(p.Estate, func(m *estate.Mount, i int, c *estate.Cord, strip *estate.Mount) {
		if strip == nil || strip.Equipment == nil || m.Equipment == nil || strip.Equipment.Kind != "fuse-panel" && c.Fuse == 0 {
			return
		}
		if c.Fuse == 0 {
			p.MountUnchecked(m, "the fuse of cord %d of %s is missing", i+1, m.Name)
			return
		}
		if len(strip.Feeds) == 0 {
			return
		}
		feed := strip.Feeds[0]
		power, basis, why := m.Load(feed.Site())
		taken := m.Takes(power, basis, feed)
		drain, noVoltage := feed.Current(taken.Vector.Apparent())
		why = cmp.Or(why, noVoltage, taken.Unfactored)
		if why != "" {
			p.MountUnchecked(m, "%s", why)
			return
		}
		if drain == 0 {
			return
		}
		f := atCords(m)
		f.Others = []string{fmt.Sprintf("cord %d", i+1)}
		at := feed.Voltage.Value
		if lowest, ok := physics.LowestDC(at); ok {
			at = lowest
		}
		if limit := quantity.Of(share*c.Fuse.Amperes(), quantity.Ampere); drain > limit {
			f.Message = fmt.Sprintf("%s drains %s (%s %s at %s) through a fuse of %s; %s of it, %s, is the limit",
				m.Name, drain, power, basis, at, c.Fuse, quantity.Number(share, 2), limit)
			p.Report(f)
			return
		}
		if c.Fuse.Amperes() > most*drain.Amperes() {
			f.Message = fmt.Sprintf("the fuse of %s is %s and its drain %s (%s %s at %s); %s times the drain is the limit",
				m.Name, c.Fuse, drain, power, basis, at, quantity.Number(most, 1))
			p.Report(f)
			return
		}
		if _, ok := physics.LowestDC(feed.Voltage.Value); !ok && feed.Direct() {
			p.MountUnchecked(m, "the lowest voltage of %s is not known for %s, and the drain of %s is highest there", feed.Ref(), feed.Voltage.Value, m.Name)
		}
	})
}
