package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// inletLimit reports equipment whose inlet air is warmer than its class allows
// at the site's altitude.
var inletLimit = &lint.Rule{
	ID:      "air/inlet-limit",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "inlet air is warmer than a class allows at this altitude",
	Why: `Thin air carries less heat away. Above 900 m the warmest inlet that equipment
may have falls with every step up, so that what is well inside its class at the
coast is outside it on the mountain with the same thermometer reading.`,
	Source: "ASHRAE TC 9.9, thermal guidelines (5th edition, 2021): classes A1 to A4; how they fall with altitude is from memory, unverified",
	Omits:  "humidity; how fast the temperature changes; air that comes round from the rear",
	Rack:   checkInletLimit,
	Bad:    inletExample("A1"),
	Good:   inletExample("A2"),
}

func inletExample(class string) string {
	return fmt.Sprintf(`
site "peak" { altitude = "2900 m" }
room "lab" {
  site       = site.peak
  supply_air = "22 C"
}
row "r" { room = room.lab }
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "correlator" {
  height = "4U"
  class  = %q
}
rack "c1" {
  row   = row.r
  frame = frame.cab
  inlet = "26 C"
  mount "correlator-1" {
    at        = 12
    equipment = equipment.correlator
  }
}
`, class)
}

func checkInletLimit(p *lint.Pass, rack *estate.Rack) {
	for _, m := range rack.Mounts {
		if m.Equipment == nil || m.Equipment.Class == "" {
			continue
		}
		class, ok := physics.InletClassNamed(m.Equipment.Class)
		if !ok {
			continue
		}
		inlet, where, why := inletAir(rack)
		if why != "" {
			p.RackUnchecked(rack, "%s", why)
			return
		}
		var altitude estate.Figure[quantity.Length]
		site := rack.Site()
		if site != nil {
			altitude = site.Altitude
		}
		limit := class.HighestAt(altitude.Or(0))
		if inlet <= limit {
			if !altitude.Known() {
				if site == nil {
					p.RackUnchecked(rack, "%s stands at no declared site, so its altitude is missing", rack.Name)
				} else {
					p.RackUnchecked(rack, "%s", lacks("altitude", "site."+site.Name, altitude.State))
				}
				return
			}
			continue
		}
		found := lint.AtMount(m, "equipment")
		at := "even at sea level"
		if altitude.Known() {
			at = fmt.Sprintf("at %s m", quantity.Number(quantity.In(altitude.Value, quantity.Metre), 0))
		}
		found.Message = fmt.Sprintf("%s draws in air of %s (%s); class %s allows %s %s", m.Name, inlet, where, class.Name, limit, at)
		found.Related = []lint.Related{{At: m.Equipment.Source.Attr("class"), Message: "its class is declared here"}}
		p.Report(found)
	}
}

// inletAir gives the temperature at a rack's fronts and where it is declared,
// or why it is not known.
func inletAir(rack *estate.Rack) (quantity.Temperature, string, string) {
	if t, ok := rack.Inlet.Get(); ok {
		return t, "inlet of " + rack.Name, ""
	}
	if rack.Inlet.State == estate.IsUnknown {
		return 0, "", "the inlet of " + rack.Ref() + " is unknown"
	}
	room := rack.Room()
	if room == nil {
		return 0, "", "the inlet of " + rack.Ref() + " is missing, and it stands in no declared room"
	}
	t, ok := room.SupplyAir.Get()
	if !ok {
		return 0, "", lacks("supply_air", "room."+room.Name, room.SupplyAir.State)
	}
	return t, "supply air of room." + room.Name, ""
}
