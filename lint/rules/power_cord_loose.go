package rules

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// cordLoose reports a cord that can be pulled out by accident where that
// matters: of something important that hangs on one cord, and of anything in a
// rack that is moved with what is in it. Mounts that only say their feeds are
// not its business.
var cordLoose = &lint.Rule{
	ID:      "power/cord-loose",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a cord that is not held can come out where that matters",
	Why: `A plug without a lock comes out with the sleeve of a jacket, and creeps out under
vibration. Where one cord is all that something important has, or where the rack is
rolled, carried or at sea with everything in it, both ends want a lock, a clip or a
locking outlet.`,
	Source:  "common practice",
	Omits:   "how well a lock holds; cords that are tied down otherwise, unless they are declared as locking",
	Decides: electrician,
	Rack:    checkCordLoose,
	Bad:     looseExample("locking = false"),
	Good:    looseExample("locking = true"),
}

func looseExample(locking string) string {
	return strings.Replace(cordRoom("")+fmt.Sprintf(cordRack, `{ to = "strip-a", outlet = 14, `+locking+" }"),
		"    equipment = equipment.server\n", "    equipment   = equipment.server\n    criticality = \"critical\"\n", 1)
}

func checkCordLoose(p *lint.Pass, rack *estate.Rack) {
	moves := underWay(rack)
	for _, m := range rack.Mounts {
		why := moves
		if len(m.Cords) == 1 && m.Criticality >= estate.Important {
			why = fmt.Sprintf("%s is %s and hangs on this cord alone", m.Name, m.Criticality)
			if moves != "" {
				why += ", and " + moves
			}
		}
		if why == "" {
			continue
		}
		var unsure []string
		for i := range m.Cords {
			c := &m.Cords[i]
			strip, _ := ownStrip(m, c)
			ends := []string{}
			known := true
			for _, end := range []struct {
				what   string
				device estate.Figure[bool]
			}{
				{"at " + m.Name, inletLocking(m, i)},
				{"at " + c.Goes(), outletLocking(strip, c)},
			} {
				switch held(c.Locking, end.device) {
				case estate.Is(false):
					ends = append(ends, end.what)
				case estate.Is(true):
				default:
					known = false
				}
			}
			switch {
			case len(ends) > 0:
				f := atCord(m, i, c.Locking)
				held := "is not held " + ends[0]
				if len(ends) > 1 {
					held = "is held neither " + strings.Join(ends, " nor ")
				}
				f.Message = fmt.Sprintf("cord %d of %s %s: %s", i+1, m.Name, held, why)
				p.Report(f)
			case !known:
				unsure = append(unsure, fmt.Sprint(i+1))
			}
		}
		if len(unsure) > 0 {
			cords := "cord " + unsure[0] + " of " + m.Name + " is"
			if len(unsure) > 1 {
				cords = "cords " + list(unsure) + " of " + m.Name + " are"
			}
			p.MountUnchecked(m, "whether %s locking is not known", cords)
		}
	}
}

// underWay says why what is in a rack is shaken or rolled with it, or "".
func underWay(r *estate.Rack) string {
	site := r.Site()
	switch {
	case site != nil && site.Mobile:
		return fmt.Sprintf("site.%s is under way with it", site.Name)
	case r.Frame == nil:
	case r.Frame.Kind == estate.RoadCase:
		return fmt.Sprintf("%s is a road case", r.Frame.Name)
	case r.Frame.Standing == estate.Castors:
		return fmt.Sprintf("%s stands on castors", r.Frame.Name)
	}
	return ""
}

// held tells whether one end of a cord is held: by the cord itself or by what it
// goes into. One that is declared as not locking is held by nothing unless the
// other half says so; where the cord says nothing, it is not known.
func held(cord, device estate.Figure[bool]) estate.Figure[bool] {
	switch {
	case cord.Known() && cord.Value, device.Known() && device.Value:
		return estate.Is(true)
	case !cord.Known() || device.State == estate.IsUnknown:
		return estate.Figure[bool]{}
	}
	return estate.Is(false)
}

// inletLocking gives whether an inlet of a mount, counted from 0, holds a cord.
func inletLocking(m *estate.Mount, i int) estate.Figure[bool] {
	if m.Equipment == nil {
		return estate.Figure[bool]{}
	}
	for _, in := range m.Equipment.Inlets {
		if i < in.Count {
			return in.Locking
		}
		i -= in.Count
	}
	return estate.Figure[bool]{}
}

// outletLocking gives whether the outlet that a cord goes to holds it; of a
// cord that does not say its outlet, whether all of the strip's do.
func outletLocking(strip *estate.Mount, c *estate.Cord) estate.Figure[bool] {
	if strip == nil || strip.Equipment == nil {
		return estate.Figure[bool]{}
	}
	if set := strip.Equipment.Outlet(c.Outlet); set != nil {
		return set.Locking
	}
	all := strip.Equipment.Outlets
	if len(all) == 0 || c.Outlet != 0 {
		return estate.Figure[bool]{}
	}
	for i := range all {
		if !all[i].Locking.Value {
			return estate.Figure[bool]{}
		}
	}
	return estate.Is(true)
}
