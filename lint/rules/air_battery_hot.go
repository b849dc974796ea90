package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// batteryHot reports a battery in air warmer than the limit: that of its rack's
// fronts, or, above something that gives off heat, that behind the rack.
var batteryHot = &lint.Rule{
	ID:      "air/battery-hot",
	Since:   "2026.1",
	Level:   lint.Note,
	Summary: "a battery lives in warm air",
	Why: `A lead battery is rated at 25 C and is reckoned to last half as long for every 10 K
above. Nothing shows until the mains fail, and then the half hour on the label
is four minutes.`,
	Source:  "common practice: 25 C, and half of the life for each 10 K above it",
	Omits:   "how warm the cells themselves get; what rises between mounts is taken to be as warm as the air behind the rack",
	Decides: "the battery's maker; " + batteryCautions,
	Limits: []lint.Limit{
		{Name: "limit", Default: 25 * quantity.Celsius, Doc: "warmest air that batteries are rated for (common practice)"},
		{Name: "heat", Default: 100 * quantity.Watt, Doc: "heat of what hangs below a battery, from which it counts (common practice)"},
	},
	Rack: checkBatteryHot,
	Bad:  batteryHotExample("22 C", 10),
	Good: batteryHotExample("22 C", 1),
}

func batteryHotExample(air string, at int) string {
	return fmt.Sprintf(`
room "hq" {
  supply_air = %q
  return_air = "36 C"
}
row "r" { room = room.hq }
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "server" {
  height = "2U"
  draw   = { typical = "400 W" }
}
equipment "pack" {
  kind    = "battery"
  height  = "3U"
  battery = "sealed-lead"
}
rack "r1" {
  row   = row.r
  frame = frame.cab
  mount "server-1" {
    at        = 5
    equipment = equipment.server
  }
  mount "pack-1" {
    at        = %d
    equipment = equipment.pack
  }
}
`, air, at)
}

func checkBatteryHot(p *lint.Pass, rack *estate.Rack) {
	if !withBattery(rack) {
		return
	}
	limit, least := lint.LimitFor[quantity.Temperature](p, "limit", rack), lint.LimitFor[quantity.Power](p, "heat", rack)
	placed := rack.Placed()
	for _, m := range placed {
		if m.Equipment == nil || m.Equipment.Battery == estate.NoBattery {
			continue
		}
		air, where, why := inletAir(rack)
		hot, unknown := hottestBelow(placed, m, rack.Site(), least)
		if hot != nil && (why != "" || air <= limit) {
			air, where, why = rearAir(rack)
		}
		switch {
		case why != "":
			p.MountUnchecked(m.Mount, "%s", why)
		case air > limit:
			f := lint.AtMount(m.Mount, "at")
			above := ""
			if hot != nil {
				heat, _, _ := hot.Heat(rack.Site())
				above = fmt.Sprintf(" above %s, which gives off %s,", hot.Name, heat)
				f.Related = append(f.Related, lint.Related{At: hot.Source.Attr("at"), Message: hot.Name + " is mounted below it"})
			}
			f.Message = fmt.Sprintf("%s (%s) hangs%s in air of about %s C (%s); batteries are rated at %s", m.Name, m.Equipment.Battery, above, quantity.Number(air.Degrees(), 1), where, limit)
			f.Related = append(f.Related, lint.Related{At: m.Equipment.Source.Attr("battery"), Message: "its cells are declared here"})
			p.Report(f)
		case unknown != "":
			p.MountUnchecked(m.Mount, "%s", unknown)
		}
	}
}

// hottestBelow gives the mount below another that gives off most heat, of at
// least some, and which heat below it is not known.
func hottestBelow(placed []estate.Placed, m estate.Placed, site *estate.Site, least quantity.Power) (hot *estate.Mount, unknown string) {
	most := least
	for _, o := range placed {
		if o.Top > m.Bottom+estate.Touch || o.Mount == m.Mount {
			continue
		}
		heat, _, why := o.Heat(site)
		switch {
		case why != "" && unknown == "":
			unknown = why
		case why == "" && heat >= most && (hot == nil || heat > most):
			hot, most = o.Mount, heat
		}
	}
	return hot, unknown
}
