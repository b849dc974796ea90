package sequence

import (
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

const (
	// heavyCargo is the mass from which equipment on its way is worth a line of
	// its own (common practice).
	heavyCargo = 25 * quantity.Kilogram
	// cargoCables is the share of cables in what is mounted in a rack that comes
	// loaded (common practice).
	cargoCables = 0.05
)

// A Way is what a change brings along one route, or takes away along it.
type Way struct {
	Things []string // as the language refers to them, of like racks or equipment
	Room   *estate.Room
	Route  *estate.Route
	Out    bool // it is taken away
	Cargo  estate.Cargo
}

// Ways gives the ways of racks and heavy things that the change brings or takes
// away, by every route of the room in question, in the order of the jobs.
func (p *Plan) Ways() []Way {
	type like struct {
		of    any // the frame or the equipment
		route *estate.Route
		room  *estate.Room
		out   bool
	}
	var out []Way
	seen := map[like]int{}
	loaded := map[string]bool{} // racks that bring what is in them
	add := func(of any, rack *estate.Rack, cargo estate.Cargo, thing string, leaves bool) {
		room := rack.Room()
		if room == nil {
			return
		}
		for _, route := range room.Routes {
			key := like{of, route, room, leaves}
			if i, ok := seen[key]; ok && out[i].Cargo.Mass == cargo.Mass {
				out[i].Things = append(out[i].Things, thing)
				continue
			}
			seen[key] = len(out)
			out = append(out, Way{[]string{thing}, room, route, leaves, cargo})
		}
	}
	for _, j := range p.Jobs {
		if j.Kind != NewRack && j.Kind != OldRack || j.rack.Frame == nil {
			continue
		}
		rack := j.rack
		if j.Kind == OldRack {
			// Its step says that it is empty by then.
			empty := *rack
			empty.Mounts = nil
			rack = &empty
		} else if rack.ComesLoaded() {
			loaded[rack.Name] = true
		}
		add(rack.Frame, j.rack, rack.Cargo(cargoCables), j.Thing, j.Kind == OldRack)
	}
	for _, j := range p.Jobs {
		m := j.Mount()
		if j.Kind != Fit && j.Kind != TakeOut || m.Equipment == nil || m.ZeroU != nil || loaded[m.Rack.Name] {
			continue
		}
		if cargo := m.Cargo(); cargo.Mass >= heavyCargo {
			add(m.Equipment, m.Rack, cargo, j.Thing, j.Kind == TakeOut)
		}
	}
	return out
}
