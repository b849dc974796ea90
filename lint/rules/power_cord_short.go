package rules

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// cordShort reports a cord whose declared length is less than its way takes. It
// is an error where that follows from declared figures alone: the measured way
// is longer, or the ends are further apart in height than the cord is long. An
// estimate of the way gives a warning.
var cordShort = &lint.Rule{
	ID:      "power/cord-short",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a supply cord is shorter than its way",
	Why: `A cord that hangs taut is pulled out by the next hand in the rack, and one that
does not reach stops the night. The way is what somebody has measured (needed), else
an estimate: the height between inlet and outlet, the depth between the end of the
body and the posts of the strip, the ways to the rack's side, and a loop at each
end. A cord shorter than an estimate alone is a warning: the site knows better how
it runs its cords.`,
	Source:  "common practice: 150 to 350 mm from a connector to the side of the rack, 100 to 150 mm of loop at each end",
	Omits:   "cords to other racks, unless needed is written; inlets that are not at the rear; arms that carry cords",
	Decides: "whoever lays the cord",
	Limits:  cordLimits,
	Rack:    checkCordShort,
	Bad:     cordExample("900 mm"),
	Good:    cordExample("1.5 m"),
}

// cordLimits are how a site runs its cords.
var cordLimits = []lint.Limit{
	{Name: "side", Default: estate.UsualCordHabit.Side, Doc: "the way from a connector between the posts to the side of the rack, where cords run; a strip beside the posts is there already (common practice: 150 to 350 mm)"},
	{Name: "loop", Default: estate.UsualCordHabit.Loop, Doc: "the slack that is left at each end (common practice: 100 to 150 mm)"},
	{Name: "pull_out", Default: estate.UsualCordHabit.PullOut, Doc: "whether what hangs on slides is pulled out with its cords on: its extension is then added"},
}

// cordHabit gives how cords are run at a mount.
func cordHabit(p *lint.Pass, m *estate.Mount) estate.CordHabit {
	return estate.CordHabit{
		Side:    lint.LimitFor[quantity.Length](p, "side", m),
		Loop:    lint.LimitFor[quantity.Length](p, "loop", m),
		PullOut: lint.LimitFor[bool](p, "pull_out", m),
	}
}

// cordExample is a server at U30 on an outlet 0.6 m above the lowest unit.
func cordExample(length string) string {
	return cordRoom("") + fmt.Sprintf(cordRack, fmt.Sprintf(`{ to = "strip-a", outlet = 14, length = %q }`, length))
}

// cordRoom is a room with one more attribute, and what stands in it.
func cordRoom(more string) string {
	return fmt.Sprintf(`room "hall" {
%s}
row "h" { room = room.hall }
frame "cab" {
  system    = "19in"
  units     = 42
  post_span = "740 mm"
}
feed "a" {
  source  = "ups"
  voltage = "230 V"
  rated   = "16 A"
}
equipment "strip-20" {
  kind    = "strip"
  height  = "1750 mm"
  inlets  = { type = "c20", count = 1, needs = 1 }
  outlets = { type = "c13", count = 20, from = "80 mm", pitch = "40 mm" }
}
equipment "server" {
  height = "1U"
  depth  = "700 mm"
  draw   = "400 W"
  inlets = { type = "c14", count = 1, needs = 1 }
}
`, more)
}

const cordRack = `rack "r1" {
  row   = row.h
  frame = frame.cab
  zero_u "strip-a" {
    equipment = equipment.strip-20
    side      = "left"
    from      = "0 mm"
    feeds     = [feed.a]
  }
  mount "server-1" {
    at        = 30
    equipment = equipment.server
    cords     = %s
  }
}
`

// eachLaidCord calls do with every cord of a rack whose length is declared, and
// with the strip of the same rack that it runs to; cords to strips that are
// declared nowhere are another rule's business. What is written as unknown is
// not checked.
func eachLaidCord(p *lint.Pass, rack *estate.Rack, do func(m *estate.Mount, i int, c *estate.Cord, strip *estate.Mount)) {
	for _, m := range rack.Mounts {
		for i := range m.Cords {
			c := &m.Cords[i]
			strip, foreign := ownStrip(m, c)
			switch {
			case strip == nil && !foreign || c.Length.State == estate.IsMissing:
			case c.Length.State == estate.IsUnknown:
				p.MountUnchecked(m, "the length of cord %d of %s is unknown", i+1, m.Name)
			default:
				do(m, i, c, strip)
			}
		}
	}
}

// ownStrip gives the strip of the same rack that a cord runs to, or nil and
// whether it runs to another rack.
func ownStrip(m *estate.Mount, c *estate.Cord) (strip *estate.Mount, foreign bool) {
	var none *estate.Estate // other racks are not looked at
	strip = none.StripOf(m, c)
	return strip, strip == nil && strings.HasPrefix(c.To, "rack.")
}

func checkCordShort(p *lint.Pass, rack *estate.Rack) {
	eachLaidCord(p, rack, func(m *estate.Mount, i int, c *estate.Cord, strip *estate.Mount) {
		way, why := m.CordWay(c, strip, cordHabit(p, m))
		f := atCord(m, i, c.Length)
		says, sure, vague := way.Short(c, p.Length)
		switch {
		case says != "":
			f.Message = fmt.Sprintf("cord %d of %s, to %s, %s", i+1, m.Name, c.Goes(), says)
			if !sure {
				f.Level = lint.Warning
			}
			if strip != nil {
				f.Related = []lint.Related{{At: strip.Source.At(), Message: "the strip is declared here"}}
			}
			p.Report(f)
		case why != "":
			p.MountUnchecked(m, "the way of cord %d of %s is not known: %s", i+1, m.Name, why)
		case vague != "":
			p.MountUnchecked(m, "whether cord %d of %s reaches is not known: %s", i+1, m.Name, vague)
		}
	})
}
