package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// stripHot reports a strip, UPS or the like in air warmer than its maker allows.
// What hangs at the rear stands in what the rack blows out; what hangs at the
// front in what it draws in. Only equipment that declares its highest ambient
// is looked at.
var stripHot = &lint.Rule{
	ID:      "air/strip-hot",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "something hangs in air warmer than its maker allows",
	Why: `A strip at the rear posts hangs in the exhaust of everything before it. Its rating
holds up to the ambient on its sheet, commonly 45 to 60 degrees; above it the
breakers trip early, and the electronics of metered strips do not last.`,
	Source:  "the maker's sheet (ambient); the rise is heat / (density x specific heat x flow) (physics)",
	Omits:   "hot spots, and air that comes round to the front; air is taken to leave the rack mixed. Flows count where all that gives off heat declares one; else return_air of the room does",
	Decides: "the maker, and who answers for the room's cooling",
	Rack:    checkStripHot,
	Bad:     stripHotExample("14 l/s"),
	Good:    stripHotExample("40 l/s"),
}

func stripHotExample(flow string) string {
	return fmt.Sprintf(`
site "quay" { altitude = "0 m" }
room "hq" {
  site       = site.quay
  supply_air = "24 C"
}
row "r" { room = room.hq }
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "server" {
  height = "2U"
  draw   = { typical = "400 W" }
  flow   = %q
}
equipment "strip" {
  kind    = "strip"
  ambient = "45 C"
}
rack "r1" {
  row   = row.r
  frame = frame.cab
  stack "server" {
    from      = 1
    count     = 4
    equipment = equipment.server
  }
  zero_u "strip-a" {
    equipment = equipment.strip
    side      = "left"
    plane     = "rear"
  }
}
`, flow)
}

func checkStripHot(p *lint.Pass, rack *estate.Rack) {
	for _, m := range rack.Mounts {
		if m.Equipment == nil || m.Equipment.Ambient.State == estate.IsMissing {
			continue
		}
		limit, ok := m.Equipment.Ambient.Get()
		if !ok {
			p.MountUnchecked(m, "%s", lacks("ambient", ofEquipment(m.Equipment), m.Equipment.Ambient.State))
			continue
		}
		var air quantity.Temperature
		var where, why string
		rear := mountedAt(m) == estate.RearFace
		if m.ZeroU != nil {
			rear = m.ZeroU.Plane != estate.FrontFace
		}
		if rear {
			air, where, why = rearAir(rack)
		} else {
			air, where, why = inletAir(rack)
		}
		if why != "" {
			p.MountUnchecked(m, "%s", why)
			continue
		}
		if air <= limit {
			continue
		}
		f := lint.AtMount(m, "equipment")
		f.Message = fmt.Sprintf("%s hangs in air of about %s C (%s); its maker allows %s%s",
			m.Name, quantity.Number(air.Degrees(), 1), where, limit, basis(m.Equipment.Ambient))
		f.Related = []lint.Related{{At: m.Equipment.Source.Attr("ambient"), Message: "its highest ambient is declared here"}}
		p.Report(f)
	}
}

// rearAir gives the temperature behind a rack and how it was come by, or why it
// is not known: reckoned from heat and flow where both are known of all that
// gives off heat, else the room's.
func rearAir(rack *estate.Rack) (quantity.Temperature, string, string) {
	flow, missing := rackFlow(rack)
	heat := rack.Heat()
	if missing == "" {
		missing = heat.Because()
	}
	room := rack.Room()
	if missing == "" && heat.Known > 0 {
		inlet, where, why := inletAir(rack)
		if why != "" {
			return 0, "", why
		}
		site := rack.Site()
		if site == nil || !site.Altitude.Known() {
			// The rise grows with altitude, so without it nothing is cleared.
			return 0, "", "the altitude of " + rack.Ref() + " is not known, which the rise of its air depends on"
		}
		rise := physics.AirRise(heat.Known, flow, physics.AirDensity(site.Altitude.Value, inlet))
		return inlet + quantity.Of(rise, quantity.Celsius),
			fmt.Sprintf("%s, %s, and %s K from %s in %s", where, inlet, quantity.Number(rise, 1), heat.Known, flow), ""
	}
	if room != nil {
		if t, ok := room.ReturnAir.Get(); ok {
			return t, "return_air of room." + room.Name, ""
		}
		if missing == "" {
			return 0, "", lacks("return_air", "room."+room.Name, room.ReturnAir.State)
		}
		return 0, "", missing + ", and so is the return_air of room." + room.Name
	}
	if missing == "" {
		missing = "the rack gives off no heat that is declared"
	}
	return 0, "", missing + ", and it stands in no declared room"
}

// rackFlow gives the air that a rack's equipment moves, or which flow is
// missing.
func rackFlow(rack *estate.Rack) (quantity.Flow, string) {
	var sum quantity.Flow
	for _, m := range rack.Mounts {
		if p, _, why := m.Heat(rack.Site()); why != "" || p == 0 {
			continue
		}
		flow, ok := m.Equipment.Flow.Get()
		if !ok {
			return 0, lacks("flow", ofEquipment(m.Equipment), m.Equipment.Flow.State)
		}
		sum += flow
	}
	return sum, ""
}
