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
	var ways []Way
	seen := map[like]int{}
	loaded := map[string]bool{} // racks that bring what is in them
	add := func(of any, rack *estate.Rack, cargo estate.Cargo, thing string, leaves bool) {
		room := rack.Room()
		if room == nil {
			return
		}
		for _, route := range room.Routes {
			key := like{of, route, room, leaves}
			if i, ok := seen[key]; ok && ways[i].Cargo.Mass == cargo.Mass {
				ways[i].Things = append(ways[i].Things, thing)
				continue
			}
			seen[key] = len(ways)
			ways = append(ways, Way{[]string{thing}, room, route, leaves, cargo})
		}
	}
	in := func(rack *estate.Rack, cargo estate.Cargo) { add(rack.Frame, rack, cargo, rack.Ref(), false) }
	out := func(rack *estate.Rack) { add(rack.Frame, rack, bare(rack).Cargo(cargoCables), rack.Ref(), true) }
	for _, j := range p.Jobs {
		if j.rack == nil || j.rack.Frame == nil || j.was != nil && j.was.Frame == nil {
			continue
		}
		switch j.Kind {
		case NewRack:
			loaded[j.rack.Name] = j.rack.ComesLoaded()
			in(j.rack, j.rack.Cargo(cargoCables))
		case OldRack:
			out(j.rack)
		case NewFrame: // it is empty then
			out(j.was)
			empty := *j.rack
			empty.Mounts = nil
			in(j.rack, empty.Cargo(cargoCables))
		case MoveRack:
			if was, is := j.was.Room(), j.rack.Room(); was == nil || is == nil || was.Name != is.Name {
				out(j.was)
				in(j.rack, bare(j.rack).Cargo(cargoCables))
			}
		}
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
	return ways
}

// bare gives a rack as it leaves its room: empty, and in no crate.
func bare(rack *estate.Rack) *estate.Rack {
	r, f := *rack, *rack.Frame
	f.Crate = estate.Crate{}
	r.Frame, r.Mounts = &f, nil
	return &r
}
