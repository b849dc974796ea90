package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// A unitRun is some whole units at one face of a rack, in the frame's own
// counting.
type unitRun struct {
	rack  string
	face  estate.Face
	units []int // ascending
}

func (u unitRun) String() string {
	return fmt.Sprintf("%s %s U%s", u.rack, u.face, runsOf(u.units))
}

// runsOf prints ascending numbers as runs: "1-3, 7".
func runsOf(units []int) string {
	var parts []string
	for i := 0; i < len(units); {
		j := i
		for j+1 < len(units) && units[j+1] == units[j]+1 {
			j++
		}
		if i == j {
			parts = append(parts, fmt.Sprint(units[i]))
		} else {
			parts = append(parts, fmt.Sprintf("%d-%d", units[i], units[j]))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

func postsOf(f estate.Face) estate.Face {
	if f == estate.RearFace {
		return f
	}
	return estate.FrontFace
}

// blanked gives the units of a face that blanks cover.
func blanked(blanks []*estate.Blank, face estate.Face) map[int]bool {
	on := map[int]bool{}
	for _, b := range blanks {
		if postsOf(b.Face) != face {
			continue
		}
		lo, hi := b.Units.From/estate.OneUnit, b.Units.To/estate.OneUnit
		for u := min(lo, hi); u <= max(lo, hi); u++ {
			on[int(u)] = true
		}
	}
	return on
}

// unitsUnder gives the whole units that a mount touches.
func unitsUnder(m *estate.Mount) []int {
	e, ok := m.Extent()
	if !ok || m.ZeroU != nil {
		return nil
	}
	r := m.Rack.Frame.UnitsOf(e)
	var units []int
	for u := r.From / estate.OneUnit; u <= r.To/estate.OneUnit; u++ {
		units = append(units, int(u))
	}
	return units
}

// covered gives the units at a face that mounts touch.
func covered(r *estate.Rack, face estate.Face) map[int]bool {
	on := map[int]bool{}
	for _, m := range r.Mounts {
		if m.Posts() == face {
			for _, u := range unitsUnder(m) {
				on[u] = true
			}
		}
	}
	return on
}

// setBlanks takes blanks off some units of a rack and puts them on others.
func (w *world) setBlanks(rack string, face estate.Face, off, on []int) {
	w.edit(rack, func(r *estate.Rack) {
		var out []*estate.Blank
		for _, b := range r.Blanks {
			if postsOf(b.Face) != face {
				out = append(out, b)
				continue
			}
			lo, hi := min(b.Units.From, b.Units.To), max(b.Units.From, b.Units.To)
			var left []int
			for u := int(lo / estate.OneUnit); u <= int(hi/estate.OneUnit); u++ {
				if !slices.Contains(off, u) {
					left = append(left, u)
				}
			}
			out = append(out, blanksOver(left, b)...)
		}
		out = append(out, blanksOver(on, &estate.Blank{Face: face, Rack: r})...)
		r.Blanks = out
	})
}

// blanksOver gives blanks over runs of units, each like a given one.
func blanksOver(units []int, like *estate.Blank) []*estate.Blank {
	var out []*estate.Blank
	for i := 0; i < len(units); {
		j := i
		for j+1 < len(units) && units[j+1] == units[j]+1 {
			j++
		}
		b := *like
		b.Units = estate.UnitRange{From: estate.Units(units[i]), To: estate.Units(units[j])}
		out = append(out, &b)
		i = j + 1
	}
	return out
}

// minutesFor gives the minutes of a task done once a unit.
func (c *clockwork) minutesFor(t Task, units []int) quantity.Duration { return c.times(t, len(units)) }

// covered gives, for a face of a rack, the units that mounts cover in the end.
func (w *world) covered(name string, face estate.Face) map[int]bool {
	for _, r := range w.end.Racks {
		if r.Name == name {
			return covered(r, face)
		}
	}
	return nil
}

// wanted gives, for a face of a rack, the units that are blanked in the end.
func (w *world) wanted(name string, face estate.Face) map[int]bool {
	for _, r := range w.end.Racks {
		if r.Name == name {
			return blanked(r.Blanks, face)
		}
	}
	return nil
}
