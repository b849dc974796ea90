package load

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// Room works out the sheet of a room: its feeds, its heat against its cooling,
// and what each rack in it weighs, gives off and presses with.
func Room(e *estate.Estate, supply *estate.Supply, room *estate.Room) Sheet {
	var racks []*estate.Rack
	for _, r := range e.Racks {
		if r.Room() == room {
			racks = append(racks, r)
		}
	}
	var feeds []*estate.Feed
	for _, f := range supply.Feeds() {
		if f.Room == room {
			feeds = append(feeds, f)
		}
	}
	var sum estate.Sum[quantity.Power]
	masses := Section{Name: "racks", Caution: cautionMass}
	for _, r := range racks {
		h, m := r.Heat(), r.Mass()
		sum.Known += h.Known
		sum.Lacks = append(sum.Lacks, h.Lacks...)
		masses.Figures = append(masses.Figures, short(known(r.Name+", heat", h.Known, quantity.Watt, "W", mounts(len(r.Mounts))), h.Because()))
		fig := short(known(r.Name+", with cables", withCables(m.Known), quantity.Kilogram, "kg", "without the frame; 5 % added for cables and cage nuts (common practice)"), m.Because())
		if r.Frame != nil {
			if rated, ok := r.Frame.Rated.Get(); ok {
				fig = within(fig, rated, quantity.Kilogram)
			}
		}
		masses.Figures = append(masses.Figures, fig)
		if r.Frame == nil || r.Frame.Kind == estate.WallFrame {
			continue
		}
		for _, f := range floor(r).Figures {
			if f.Name == "with half of the aisles" {
				f.Name = fmt.Sprintf("%s, floor %s", r.Name, f.Name)
				masses.Figures = append(masses.Figures, f)
			}
		}
	}
	var limit *quantity.Power
	if l, ok := room.HeatLimit.Get(); ok {
		limit = &l
	}
	return Sheet{Kind: "room", Name: room.Name, Sections: []Section{
		power(e, supply, feeds),
		leakage(e, supply, feeds),
		backup(e, supply, feeds, func(o *estate.Rack) bool { return o != nil && o.Room() == room }),
		heat(room.Site, room, sum, limit),
		masses,
	}}.trim()
}
