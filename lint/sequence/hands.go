package sequence

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// lift fills in who lifts a thing at a place, by the table of the package
// physics: a starting point that the site's own handling assessment replaces.
func lift(s *Step, m *estate.Mount) {
	q := m.Equipment
	if q == nil {
		s.People = max(s.People, 2)
		return
	}
	s.lifted = m
	mass, ok := q.Mass.Get()
	if !ok {
		s.People = max(s.People, 2, q.Persons)
		if q.Persons > 0 {
			s.Cautions = append(s.Cautions, fmt.Sprintf("Its maker asks for %s to lift %s.", peopleText(q.Persons), m.Name))
		}
		s.Cautions = append(s.Cautions, fmt.Sprintf("The mass of %s is %s: weigh it or read its plate before anybody lifts it.", m.Name, q.Mass.State))
		return
	}
	s.Mass, s.MassStated = mass, true
	crew := physics.Propose(mass, middle(m))
	s.People = max(s.People, crew.People, q.Persons)
	if q.Persons > 0 {
		s.Cautions = append(s.Cautions, makersNote(m, mass, crew))
	}
	s.Lift = s.Lift || crew.Lift
	s.Watcher = s.Watcher || crew.Watcher
	if _, known := m.MiddleAboveFloor(); !known {
		s.Cautions = append(s.Cautions, "The frame's height above the floor is not declared: people and lift are reckoned from the lowest unit.")
	}
}

// heavy reports whether a thing is handled with a lift at a place.
func heavy(m *estate.Mount) bool {
	mass := massOf(m)
	return mass > 0 && physics.Propose(mass, middle(m)).Lift
}

// withdrawal gives the task by which a thing comes out of a place.
func withdrawal(m *estate.Mount) Task {
	if heavy(m) {
		return WithdrawBig
	}
	return Withdraw
}

// insertion gives the task by which a thing goes into a place.
func insertion(m *estate.Mount) Task {
	switch e, ok := m.Extent(); {
	case heavy(m):
		return InsertBig
	case ok && e.Height() > quantity.RackUnit+estate.Touch:
		return InsertTall
	}
	return Insert
}

// tools names what a lifting step takes.
func tools(s *Step) string {
	if s.Lift {
		return "lift"
	}
	return ""
}

// supplies gives how many supply cords a thing has where it is.
func supplies(m *estate.Mount) int {
	if len(m.Feeds) > 0 {
		return len(m.Feeds)
	}
	n := 0
	if m.Equipment != nil {
		for _, i := range m.Equipment.Inlets {
			n += i.Count
		}
	}
	return n
}
