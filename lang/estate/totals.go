package estate

import (
	"fmt"

	"cagenut/lang/quantity"
)

// A Sum is a total over mounts. Where a figure of a mount is missing or
// unknown the mount is left out and named, so the true total is at least Known.
type Sum[Q quantity.Quantity] struct {
	Known Q
	Lacks []Lack
}

// A Lack is a mount that a total leaves out, and why: "the mass of
// equipment.store is missing".
type Lack struct {
	Mount *Mount
	Why   string
}

// Whole reports whether nothing is left out.
func (s Sum[Q]) Whole() bool { return len(s.Lacks) == 0 }

// Because says in one phrase what is left out, or "".
func (s Sum[Q]) Because() string { return because(s.Lacks) }

func because(lacks []Lack) string {
	switch len(lacks) {
	case 0:
		return ""
	case 1:
		return lacks[0].Why
	case 2:
		return lacks[0].Why + ", and one more figure is not known"
	}
	return fmt.Sprintf("%s, and %d more figures are not known", lacks[0].Why, len(lacks)-1)
}

func (s *Sum[Q]) add(m *Mount, q Q, why string) {
	if why != "" {
		s.Lacks = append(s.Lacks, Lack{m, why})
		return
	}
	s.Known += q
}

// Weighs gives the mount's mass, or why it is not known.
func (m *Mount) Weighs() (quantity.Mass, string) {
	if m.Equipment == nil {
		return 0, "its equipment is not known"
	}
	mass, ok := m.Equipment.Mass.Get()
	if !ok {
		return 0, fmt.Sprintf("the mass of equipment.%s is %s", m.Equipment.Name, m.Equipment.Mass.State)
	}
	return mass, ""
}

// Mass gives what is mounted in the rack, pieces beside the posts included; not
// the frame, nor cables.
func (r *Rack) Mass() Sum[quantity.Mass] { return MassOf(r.Mounts) }

// MassOf is [Rack.Mass] for any mounts, such as those of a state on the way
// from one layout to another.
func MassOf(mounts []*Mount) Sum[quantity.Mass] {
	var s Sum[quantity.Mass]
	for _, m := range mounts {
		mass, why := m.Weighs()
		s.add(m, mass, why)
	}
	return s
}

// Heat gives the heat that the rack gives off, on the basis that its site
// chooses.
func (r *Rack) Heat() Sum[quantity.Power] { return HeatOf(r.Site(), r.Mounts) }

// HeatOf is [Rack.Heat] for any mounts at a site, which may be nil.
func HeatOf(site *Site, mounts []*Mount) Sum[quantity.Power] {
	var s Sum[quantity.Power]
	for _, m := range mounts {
		p, _, why := m.Heat(site)
		s.add(m, p, why)
	}
	return s
}

// RackFeeds gives the feeds that a rack's mounts draw on and those that reach
// it, each once, in the order first named.
func (r *Rack) RackFeeds() []*Feed {
	var out []*Feed
	add := func(feeds []*Feed) {
		for _, f := range feeds {
			if f == nil {
				continue
			}
			known := false
			for _, o := range out {
				known = known || o == f
			}
			if !known {
				out = append(out, f)
			}
		}
	}
	add(r.Feeds)
	for _, m := range r.Mounts {
		add(m.Feeds)
	}
	return out
}
