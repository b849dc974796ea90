package parts

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

// What common practice assumes.
const (
	highPanel = 4 * quantity.RackUnit // up to here two screws a side, above three
	highBlank = 4 * quantity.RackUnit // the highest that is commonly made
	lowBlank  = 2 * quantity.RackUnit // up to here a blank has one screw a side, above two
)

func (c *counter) rack(r *estate.Rack) {
	f := r.Frame
	if f == nil {
		c.lacking("%s: its frame is not known", r.Ref())
		return
	}
	trays := map[estate.Extent]bool{}
	for _, m := range r.Mounts {
		q := m.Equipment
		if q == nil {
			c.lacking("%s: its equipment is not known", m.Ref())
			continue
		}
		c.cords(m)
		if m.ZeroU != nil {
			c.add(Bracket, "bracket pair for equipment."+q.Name, 1, m.Ref())
			continue
		}
		if m.Adapter != nil {
			c.add(Adapter, "adapter pair equipment."+m.Adapter.Name, 1, m.Ref())
			c.fix(f, m, m.Adapter, 2*c.aside(m, m.Adapter))
			c.assume("panels are fixed to adapters with what comes with the adapter")
			continue
		}
		if !m.Slot.Whole() {
			c.tray(f, m, trays)
			continue
		}
		switch q.Mounting {
		case estate.FixedRails, estate.Slides:
			c.add(RailKit, "rail kit of equipment."+q.Name, 1, m.Ref())
			c.assume("a rail kit brings what fixes its rails; one screw a side holds the front")
			c.fix(f, m, q, 2)
		case estate.Shelf:
			if r.StandsOn(m) != nil {
				continue // its shelf is a mount of its own
			}
			c.add(Shelf, fmt.Sprintf("shelf for equipment.%s", q.Name), 1, m.Ref())
			corners := 2
			if f.Kind == estate.TwoPost {
				corners = 1
			}
			c.assume("a shelf takes two screws at each post")
			c.fix(f, m, nil, corners*4)
		case estate.NoMounting:
			c.assume("what does not say how it is held hangs on its ears")
			c.fix(f, m, q, 2*c.aside(m, q))
		default:
			c.fix(f, m, q, 2*c.aside(m, q))
		}
	}
	for _, b := range r.Blanks {
		e, ok := b.Extent()
		if !ok {
			continue
		}
		name := r.Ref() + " blank " + f.Label(e)
		for _, panel := range panels(f, e) {
			c.add(Blank, "blank of "+heightOf(f, panel), 1, name)
			a := 1
			if panel.Height() > lowBlank {
				a = 2
			}
			c.assume("a blank takes one screw a side up to 2U, two above")
			c.fixIn(f, threadOf(f, nil, c), 2*a, name)
		}
		if len(panels(f, e)) > 1 {
			c.assume("a long run of blanks is made up of panels of 4U at most")
		}
	}
}

// cords counts the supply cords that the record tells of a mount.
func (c *counter) cords(m *estate.Mount) {
	for i := range m.Cords {
		cord := &m.Cords[i]
		name := "cord, length not declared"
		if length, ok := cord.Length.Get(); ok {
			name = "cord of " + length.String()
		}
		switch {
		case cord.Plug != "" && cord.Socket != "":
			name += ", " + cord.Plug + " to " + cord.Socket
		case cord.Plug != "":
			name += ", plug " + cord.Plug
		case cord.Socket != "":
			name += ", socket " + cord.Socket
		}
		if cord.Locking.Value {
			name += ", locking"
		}
		c.add(Cord, name, 1, m.Ref())
	}
}

// panels cuts a run of blanks into pieces that are made: of 4U at most (common
// practice), the rest on top.
func panels(f *estate.Frame, e estate.Extent) []estate.Extent {
	unit := f.UnitExtent(estate.Units(f.First)).Height()
	most := max(highBlank/unit, 1) * unit
	var out []estate.Extent
	for e.Height() > most+estate.Touch {
		out = append(out, estate.Extent{Bottom: e.Bottom, Top: e.Bottom + most})
		e.Bottom += most
	}
	return append(out, e)
}

func heightOf(f *estate.Frame, e estate.Extent) string {
	units := f.UnitsOf(e)
	n := units.To - units.From + estate.OneUnit
	if f.System == nil {
		return n.String() + "U"
	}
	return f.System.Count(n.String())
}

// aside gives how many screws one side of a mount takes.
func (c *counter) aside(m *estate.Mount, q *estate.Equipment) int {
	if len(q.Ears) > 0 {
		return len(q.Ears)
	}
	high := m.Equipment.Height.Length
	if m.Equipment.Height.State != estate.IsGiven {
		c.lacking("%s: the height of equipment.%s is %s, and the screws are counted as for 1U", m.Ref(), m.Equipment.Name, m.Equipment.Height.State)
		high = quantity.RackUnit
	}
	c.assume("a panel takes two screws a side up to 4U, three above, and one below a unit, unless its ears are declared")
	switch {
	case high < quantity.RackUnit-estate.Touch-quantity.Millimetre:
		return 1
	case high > highPanel+estate.Touch:
		return 3
	}
	return 2
}

// tray counts one tray, with its screws, for all that stands in it abreast.
func (c *counter) tray(f *estate.Frame, m *estate.Mount, seen map[estate.Extent]bool) {
	e, ok := m.ExtentIn(f)
	if !ok {
		c.lacking("%s: its units are not known", m.Ref())
		return
	}
	name := fmt.Sprintf("tray of %s for %d abreast", heightOf(f, e), m.Slot.Of)
	c.assume("narrow equipment stands abreast in a tray that takes two screws a side")
	if seen[e] {
		p := c.parts[key{Tray, name}]
		if p != nil {
			p.For = append(p.For, m.Ref())
			return
		}
	}
	seen[e] = true
	c.add(Tray, name, 1, m.Ref())
	c.fix(f, m, nil, 4)
}

// fix counts screws, nuts and washers of a mount; q says which thread its ears
// are made for, or is nil.
func (c *counter) fix(f *estate.Frame, m *estate.Mount, q *estate.Equipment, n int) {
	c.fixIn(f, threadOf(f, q, c), n, m.Ref())
}

func (c *counter) fixIn(f *estate.Frame, thread string, n int, of string) {
	c.add(Screw, titleOf(thread)+" screw", n, of)
	if t, ok := system.ThreadByName(thread); ok && t.MostTorque > 0 {
		c.moments[fmt.Sprintf("%s: %s to %s", t.Title, t.LeastTorque, t.MostTorque)] = true
	}
	c.add(Washer, titleOf(thread)+" cup washer", n, of)
	c.assume("one cup washer under each screw")
	switch f.Holes {
	case estate.SquareHoles:
		c.add(CageNut, titleOf(thread)+" cage nut", n, of)
	case estate.RoundHoles:
		c.add(ClipNut, titleOf(thread)+" clip nut", n, of)
	case estate.NoHoles:
		c.add(CageNut, titleOf(thread)+" cage nut", n, of)
		c.assume("frame.%s does not say what holes it has; square ones with cage nuts are assumed", f.Name)
	}
}

// threadOf gives the thread of the screws in a frame's posts: its own where
// they are tapped, else the one that the equipment is made for, else the usual.
func threadOf(f *estate.Frame, q *estate.Equipment, c *counter) string {
	if tapped(f.Holes) {
		return f.Holes.String()
	}
	if q != nil {
		for _, h := range q.Holes {
			if tapped(h) {
				return h.String()
			}
		}
	}
	c.assume("screws in posts that are not tapped are %s where nothing else is said", titleOf(c.options.Thread))
	return c.options.Thread
}

func tapped(h estate.Holes) bool {
	return h == estate.Tapped10_32 || h == estate.Tapped12_24 || h == estate.TappedM5 || h == estate.TappedM6
}
