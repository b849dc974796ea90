package load

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// wayIn sets a rack, as it is brought in, beside the gates of the routes into
// its room.
func wayIn(r *estate.Rack) Section {
	s := Section{Name: "way in", Caution: cautionWay}
	room := r.Room()
	if room == nil || r.Frame == nil {
		return s
	}
	cargo := r.Cargo(cableShare)
	how := "empty"
	if r.ComesLoaded() {
		how = "loaded, cables added"
	}
	for _, route := range room.Routes {
		for _, at := range route.Passages(&cargo) {
			g := at.Gate
			name := fmt.Sprintf("%s, %s: ", route.Name, g.Name)
			for _, c := range at.Clear {
				from := fmt.Sprintf("%s of %s; %s to spare", c.Side, cargo.Of, mm(c.Spare()))
				if c.Clear.Basis != estate.Unstated {
					from += fmt.Sprintf("; the gate's basis is %q", c.Clear.Basis)
				}
				fig := within(length(name+c.Attr, c.Takes.Value, from), c.Clear.Value, quantity.Millimetre)
				fig.Limit = mm(c.Clear.Value)
				s.Figures = append(s.Figures, fig)
			}
			if rated, ok := g.Rated.Get(); ok {
				s.Figures = append(s.Figures, within(short(known(name+"mass", cargo.Mass, quantity.Kilogram, "kg", "it comes "+how), cargo.MassLacks), rated, quantity.Kilogram))
			}
			for _, why := range at.Lacks {
				if why != cargo.MassLacks {
					s.Figures = append(s.Figures, unknown(name[:len(name)-2], why))
				}
			}
		}
	}
	return s
}
