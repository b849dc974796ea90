package change

import (
	"cmp"
	"slices"

	"cagenut/lang/estate"
)

// A Clash is one thing that two changes of the same estate both want.
type Clash struct {
	Kind ClashKind
	// Mine and Theirs are what the two changes do: a *MountChange or a
	// *ReserveChange; for [SameRack] a *RackChange.
	Mine, Theirs any
	Rack         string        // in which
	Units        estate.Extent // which heights, for SameUnits
}

// ClashKind says what is wanted twice.
type ClashKind uint8

// The kinds of clash.
const (
	NoClash    ClashKind = iota
	SameUnits            // both put something into the same units
	SameMount            // both change one mount, and not alike
	SameSerial           // both bring the same piece of hardware
	SameRack             // one takes away or renames a rack in which the other does something
)

// Clashes gives what two changes from the same base both want, by rack, then
// upward. Changes that do the very same are no clash.
func Clashes(mine, theirs *Change) []Clash {
	var out []Clash
	for i := range mine.Mounts {
		m := &mine.Mounts[i]
		for k := range theirs.Mounts {
			if c, ok := mountClash(m, &theirs.Mounts[k]); ok {
				out = append(out, c)
			}
		}
		for k := range theirs.Reserves {
			if c, ok := unitClash(m, &theirs.Reserves[k]); ok {
				out = append(out, c)
			}
		}
	}
	for i := range mine.Reserves {
		m := &mine.Reserves[i]
		for k := range theirs.Mounts {
			if c, ok := unitClash(m, &theirs.Mounts[k]); ok {
				out = append(out, c)
			}
		}
		for k := range theirs.Reserves {
			t := &theirs.Reserves[k]
			if m.New != nil && t.New != nil && m.New.Name == t.New.Name && m.New.Units == t.New.Units {
				continue
			}
			if c, ok := unitClash(m, t); ok {
				out = append(out, c)
			}
		}
	}
	out = append(out, rackClashes(mine, theirs, false)...)
	out = append(out, rackClashes(theirs, mine, true)...)
	slices.SortStableFunc(out, func(a, b Clash) int {
		return cmp.Or(estate.CompareNames(a.Rack, b.Rack), cmp.Compare(a.Units.Bottom, b.Units.Bottom), cmp.Compare(a.Kind, b.Kind))
	})
	return out
}

func mountClash(m, t *MountChange) (Clash, bool) {
	c := Clash{Mine: m, Theirs: t, Rack: m.Mount().Rack.Name}
	if m.Old != nil && t.Old != nil && m.Old.Name == t.Old.Name && m.Old.Rack.Name == t.Old.Rack.Name {
		c.Kind = SameMount
		return c, !alike(m, t)
	}
	if m.New == nil || t.New == nil {
		return c, false
	}
	if m.Old == nil && t.Old == nil && m.New.Name == t.New.Name && m.New.Rack.Name == t.New.Rack.Name {
		c.Kind = SameMount
		return c, !alike(m, t)
	}
	if m.New.Serial != "" && m.New.Serial == t.New.Serial && comes(m) && comes(t) {
		c.Kind = SameSerial
		return c, true
	}
	return unitClash(m, t)
}

// comes reports whether a serial number is new where the change has it.
func comes(m *MountChange) bool { return m.Old == nil || m.Kind == Moved || m.Has("serial") }

// alike reports whether two changes leave a mount in the same state.
func alike(m, t *MountChange) bool {
	if m.New == nil || t.New == nil {
		return m.New == t.New
	}
	return same(mountAttributes(nil), m.New, t.New)
}

// A claim is space that a change takes.
type claim struct {
	rack  string
	at    estate.Extent
	posts estate.Face
	slot  estate.Slot
}

// claimOf gives the space that a change of a mount or a reserve takes anew.
func claimOf(x any) (claim, bool) {
	switch c := x.(type) {
	case *MountChange:
		if c.New == nil || c.New.ZeroU != nil || c.Kind == Altered && !c.Has("equipment") {
			return claim{}, false
		}
		e, ok := c.New.Extent()
		return claim{c.New.Rack.Name, e, c.New.Posts(), c.New.Slot}, ok
	case *ReserveChange:
		if c.New == nil || c.Kind == Altered {
			return claim{}, false
		}
		e, ok := c.New.Extent()
		return claim{c.New.Rack.Name, e, c.New.Face, estate.Slot{}}, ok
	}
	return claim{}, false
}

func unitClash(mine, theirs any) (Clash, bool) {
	a, ok1 := claimOf(mine)
	b, ok2 := claimOf(theirs)
	if !ok1 || !ok2 || a.rack != b.rack || !a.at.Meets(b.at) || !a.slot.Overlaps(b.slot) {
		return Clash{}, false
	}
	if a.posts != b.posts && a.posts != estate.NoFace && b.posts != estate.NoFace {
		return Clash{}, false
	}
	return Clash{Kind: SameUnits, Mine: mine, Theirs: theirs, Rack: a.rack, Units: a.at.Shared(b.at)}, true
}

// rackClashes gives the racks that one change takes away or renames while the
// other does something in them. The sides are exchanged in the result where
// swap is set.
func rackClashes(one, other *Change, swap bool) []Clash {
	var out []Clash
	for i := range one.Racks {
		r := &one.Racks[i]
		if r.Kind != Removed && !r.Renamed() {
			continue
		}
		for k := range other.Mounts {
			m := &other.Mounts[k]
			if m.New == nil || m.New.Rack.Name != r.Old.Name {
				continue
			}
			c := Clash{Kind: SameRack, Mine: r, Theirs: m, Rack: r.Old.Name}
			if swap {
				c.Mine, c.Theirs = c.Theirs, c.Mine
			}
			out = append(out, c)
			break
		}
	}
	return out
}
