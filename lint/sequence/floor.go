package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// person is the mass reckoned for somebody with clothes and tools (common
// practice).
const person = 100 * quantity.Kilogram

const cautionFloor = "A screening sum that spreads nothing and adds nothing for a jolt: who answers for the floor, a structural engineer, decides."

// onTheFloor says at steps that take a lift what stands before the rack in them,
// against what the room's floor may carry: where the room declares a rating and
// the lift its mass. All of it is put on one tile, and half of lift and load
// under one of the two front wheels (common practice).
func (p *Plan) onTheFloor() {
	for i := range p.Steps {
		s := &p.Steps[i]
		if !s.Lift || s.lifted == nil || !lifting[s.Task] {
			continue
		}
		rack := p.rackNamed(s.At.Rack)
		if rack == nil || rack.Room() == nil {
			continue
		}
		room, w := rack.Room(), p.windowOf(s)
		if w == nil || w.LiftMass.State == estate.IsMissing || room.TileLoad.State == estate.IsMissing && room.PointLoad.State == estate.IsMissing {
			continue
		}
		s.Cautions = append(s.Cautions, floorText(s, room, w))
	}
}

// floorText writes the sums of one step, or what is missing for them.
func floorText(s *Step, room *estate.Room, w *estate.Window) string {
	own, ok := w.LiftMass.Get()
	switch {
	case !ok:
		return fmt.Sprintf("The floor before the rack is not checked: the mass of the lift of window.%s is %s. Ask who answers for the floor.", w.Name, w.LiftMass.State)
	case !s.MassStated:
		return fmt.Sprintf("The floor before the rack is not checked: the mass of %s is not known. Ask who answers for the floor.", s.lifted.Name)
	}
	var out []string
	held := func(sum quantity.Force, rated estate.Figure[quantity.Force], what string) string {
		limit, ok := rated.Get()
		switch {
		case !ok:
			return fmt.Sprintf("%s; what %s of room.%s may carry is %s: not checked", sum, what, room.Name, rated.State)
		case sum > limit:
			return fmt.Sprintf("%s, more than the %s that %s of room.%s may carry: not without an engineer's word", sum, limit, what, room.Name)
		}
		return fmt.Sprintf("%s of the %s that %s of room.%s may carry", sum, limit, what, room.Name)
	}
	if room.TileLoad.State != estate.IsMissing {
		n := s.People + boolInt(s.Watcher)
		sum := physics.OnTile(1, own, s.Mass, quantity.Mass(n)*person)
		out = append(out, fmt.Sprintf("lift %s, %s %s and %s at %s, all on one tile: %s", own, s.lifted.Name, s.Mass, peopleText(n), person, held(sum, room.TileLoad, "a tile")))
	}
	if room.PointLoad.State != estate.IsMissing {
		sum := physics.OnTile(physics.TileRolling, own, s.Mass)
		out = append(out, fmt.Sprintf("half of lift and load under one wheel: %s", held(sum, room.PointLoad, "a point")))
	}
	return "Before the rack: " + strings.Join(out, "; ") + ". " + cautionFloor
}

// windowOf gives the window in which a step is done, or before windows are
// chosen the one of its site with the heaviest lift; nil where there is none.
func (p *Plan) windowOf(s *Step) *estate.Window {
	for _, n := range p.Windows {
		if slices.Contains(n.Blocks, s.Block) {
			return n.Window
		}
	}
	var out *estate.Window
	site := p.Blocks[s.Block].Site
	for _, w := range p.after.Windows {
		if !w.Lift || w.Site != nil && site != nil && w.Site.Name != site.Name {
			continue
		}
		if out == nil || w.LiftMass.State != estate.IsMissing && (out.LiftMass.State == estate.IsMissing || w.LiftMass.Value > out.LiftMass.Value) {
			out = w
		}
	}
	return out
}
