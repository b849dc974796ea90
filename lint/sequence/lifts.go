package sequence

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

func peopleText(n int) string {
	if n == 1 {
		return "1 person"
	}
	return fmt.Sprintf("%d people", n)
}

func crewText(c physics.Crew) string {
	text := peopleText(c.People)
	if c.Lift {
		text = "a lift and " + text
	}
	if c.Watcher {
		text += " and one who watches"
	}
	return text
}

// makersNote says how many people the maker asks for, what the table asks for,
// and which of them holds: the stricter.
func makersNote(m *estate.Mount, mass quantity.Mass, crew physics.Crew) string {
	persons := m.Equipment.Persons
	own := fmt.Sprintf("Its maker asks for %s to lift %s, the table for %s at this height for %s", peopleText(persons), m.Name, mass, crewText(crew))
	switch {
	case persons > crew.People && crew.Lift:
		return own + ": both hold, a lift and " + peopleText(persons) + "."
	case persons > crew.People:
		return own + ": the maker's holds."
	case persons < crew.People || crew.Lift:
		return own + ": the table's holds."
	}
	return own + "."
}

// proposeStripping proposes at a step that lifts something to strip it first,
// where whole it takes more than stripped, and where those at hand (0 where
// their number is not known) are enough for it stripped and no lift is needed.
// It gives the proposal for a finding, or "".
func (p *Plan) proposeStripping(s *Step, people int) string {
	m := s.lifted
	if m == nil || !s.MassStated {
		return ""
	}
	mass, ok := m.Equipment.Stripped.Get()
	if !ok || mass >= s.Mass {
		return ""
	}
	whole, bare := physics.Propose(s.Mass, middle(m)), physics.Propose(mass, middle(m))
	bare.People = max(bare.People, m.Equipment.Persons)
	whole.People = max(whole.People, m.Equipment.Persons)
	hands := bare.People + boolInt(bare.Watcher)
	if bare.Lift || people > 0 && hands > people || !whole.Lift && hands >= whole.People+boolInt(whole.Watcher) {
		return ""
	}
	s.Cautions = append(s.Cautions, fmt.Sprintf("Whole, %s is %s and takes %s at this height; stripped of its supplies, disks and modules it is %s and takes %s. Strip it first if its maker allows, and mark what comes from where.",
		m.Name, s.Mass, crewText(whole), mass, crewText(bare)))
	return fmt.Sprintf("strip it first, to %s from %s (%s then) if its maker allows", mass, s.Mass, crewText(bare))
}

// lifting are the tasks in which a thing is lifted into or out of its place.
var lifting = map[Task]bool{Withdraw: true, WithdrawBig: true, Insert: true, InsertTall: true, InsertBig: true, Shift: true}

// edgeAbove gives how high the lower edge of what a step lifts is above the
// floor.
func (s *Step) edgeAbove() (quantity.Length, bool) {
	e, ok := s.lifted.Extent()
	at, known := s.lifted.MiddleAboveFloor()
	return at - e.Height()/2, ok && known
}

// beforePosts gives how far the posts that a thing hangs on are behind the
// place where a lift's feet end: the room before them, and the stabiliser that
// stands out at the front. Where it is not known, why says what is missing.
func beforePosts(m *estate.Mount) (need quantity.Length, why string) {
	f := m.Rack.Frame
	room, name := f.FrontRoom, "front_room"
	if m.Posts() == estate.RearFace {
		room, name = f.RearRoom, "rear_room"
	}
	need, ok := room.Get()
	if !ok {
		return 0, fmt.Sprintf("the %s of frame.%s is %s", name, f.Name, room.State)
	}
	if m.Posts() == estate.FrontFace && f.Fixed == estate.Stabilised {
		out, ok := f.Reach.Get()
		if !ok {
			return 0, fmt.Sprintf("the reach of the stabiliser of frame.%s is %s", f.Name, f.Reach.State)
		}
		need += out
	}
	return need, ""
}

// liftUnfit says why the lift of a window does not do for a step, as far as that
// is declared: what it carries, how high it rises and how far forward it holds a
// load.
func (p *Plan) liftUnfit(w *estate.Window, s *Step) (why []string) {
	if rated, ok := w.LiftRated.Get(); ok && s.MassStated && s.Mass > rated {
		why = append(why, fmt.Sprintf("that of window.%s carries %s", w.Name, rated))
	}
	if s.lifted == nil || !lifting[s.Task] || s.lifted.Rack == nil || s.lifted.Rack.Frame == nil {
		return why
	}
	edge, known := s.edgeAbove()
	if most, ok := w.LiftHeight.Get(); ok && known && edge > most {
		why = append(why, fmt.Sprintf("that of window.%s rises to %s and the lower edge is at %s", w.Name, p.length(most), p.length(edge)))
	}
	need, lacks := beforePosts(s.lifted)
	if most, ok := w.LiftReach.Get(); ok && lacks == "" && need > most {
		why = append(why, fmt.Sprintf("that of window.%s reaches %s forward and the posts are %s behind its feet", w.Name, p.length(most), p.length(need)))
	}
	return why
}

// liftFits reports whether the lift of a window does for all steps of blocks
// that take one.
func (p *Plan) liftFits(b *Block, w *estate.Window) bool {
	for _, i := range b.lifts {
		if len(p.liftUnfit(w, &p.Steps[i])) > 0 {
			return false
		}
	}
	return true
}
