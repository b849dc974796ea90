package change

import (
	"cmp"
	"slices"

	"cagenut/lang/estate"
)

// Between gives the difference of two estates. Neither is changed, and the
// result shares their mounts and racks.
//
// What the estates do not hold is not compared: a caller that reads only part
// of two trees must read the same part of both.
func Between(a, b *estate.Estate) *Change {
	c := &Change{Old: a, New: b}
	s := style{inches: b.Lengths == "in"}
	pairs := pairRacks(a.Racks, b.Racks)
	c.pairs = pairs

	renamed := map[string]string{} // old name to new one
	for _, p := range pairs {
		if p.old != nil && p.new != nil && p.old.Name != p.new.Name {
			renamed[p.old.Name] = p.new.Name
		}
	}

	c.Mounts = mountChanges(pairs, mountAttributes(renamed), s)
	called := calledOtherwise(c.Mounts, renamed)
	for i := range c.Mounts {
		c.Mounts[i].called = called
	}
	c.Reserves = reserveChanges(pairs, reserveAttributes(renamed), s)
	for _, p := range pairs {
		c.Blanks = append(c.Blanks, blankChanges(p)...)
		if r, ok := rackChange(p, s); ok {
			c.Racks = append(c.Racks, r)
		}
	}
	slices.SortStableFunc(c.Blanks, func(x, y BlankChange) int {
		p, q := x.Blank(), y.Blank()
		return cmp.Or(compareRacks(p.Rack, q.Rack), cmp.Compare(p.Units.From, q.Units.From))
	})
	slices.SortStableFunc(c.Racks, func(x, y RackChange) int { return compareRacks(x.Rack(), y.Rack()) })
	c.Things = thingChanges(a, b, s)
	feel(c, renamed)
	return c
}

// mountChanges gives what happens to mounts, sorted.
func mountChanges(pairs []rackPair, table []attribute[estate.Mount], s style) []MountChange {
	var out []MountChange
	for _, m := range matchMounts(pairs, table) {
		c := MountChange{Old: m.old, New: m.new, Match: m.by}
		switch {
		case m.old == nil:
			c.Kind = Added
		case m.new == nil:
			c.Kind = Removed
		default:
			c.Alterations = alterations(table, m.old, m.new, s)
			if len(c.Alterations) == 0 {
				continue
			}
			c.Kind = Altered
			if c.Has("rack") || !samePlace(m.old, m.new) {
				c.Kind = Moved
			}
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(x, y MountChange) int {
		m, n := x.Mount(), y.Mount()
		return cmp.Or(
			compareRacks(m.Rack, n.Rack),
			compareBools(m.ZeroU != nil, n.ZeroU != nil),
			cmp.Compare(m.At, n.At),
			cmp.Compare(m.Raised.Value, n.Raised.Value),
			estate.CompareNames(m.Name, n.Name),
			cmp.Compare(x.Kind, y.Kind),
		)
	})
	return out
}

// samePlace reports whether two mounts of one rack take the same place in it.
// How high they are is not part of the place, so "38" and "38-39" are the same.
func samePlace(a, b *estate.Mount) bool {
	if (a.ZeroU == nil) != (b.ZeroU == nil) {
		return false
	}
	if a.ZeroU != nil {
		p, q := a.ZeroU, b.ZeroU
		return p.Side == q.Side && p.Plane == q.Plane && p.From.Value == q.From.Value
	}
	return a.At == b.At && a.Raised.Value == b.Raised.Value && a.Face == b.Face && a.Slot == b.Slot
}

func rackChange(p rackPair, s style) (RackChange, bool) {
	c := RackChange{Old: p.old, New: p.new}
	switch {
	case p.old == nil:
		c.Kind = Added
	case p.new == nil:
		c.Kind = Removed
	default:
		c.Alterations = alterations(rackAttributes, p.old, p.new, s)
		if len(c.Alterations) == 0 {
			return c, false
		}
		c.Kind = Altered
		for _, a := range c.Alterations {
			if a.Attr == "row" || a.Attr == "place" {
				c.Kind = Moved
			}
		}
	}
	return c, true
}

// blankChanges gives what happens to the blanks of one rack. Blanks have no
// label: those with the same units and face are the same, and of the others
// those that share units are one that was altered.
func blankChanges(p rackPair) []BlankChange {
	var olds, news []*estate.Blank
	if p.old != nil {
		olds = slices.Clone(p.old.Blanks)
	}
	if p.new != nil {
		news = slices.Clone(p.new.Blanks)
	}
	take := func(agree func(o, n *estate.Blank) bool, found func(o, n *estate.Blank)) {
		olds = slices.DeleteFunc(olds, func(o *estate.Blank) bool {
			i := slices.IndexFunc(news, func(n *estate.Blank) bool { return agree(o, n) })
			if i < 0 {
				return false
			}
			found(o, news[i])
			news = slices.Delete(news, i, i+1)
			return true
		})
	}
	var out []BlankChange
	take(func(o, n *estate.Blank) bool { return o.Units == n.Units && o.Face == n.Face },
		func(o, n *estate.Blank) {})
	take(func(o, n *estate.Blank) bool {
		return o.Face == n.Face && o.Units.From <= n.Units.To && n.Units.From <= o.Units.To
	}, func(o, n *estate.Blank) {
		out = append(out, BlankChange{Kind: Altered, Old: o, New: n})
	})
	for _, o := range olds {
		out = append(out, BlankChange{Kind: Removed, Old: o})
	}
	for _, n := range news {
		out = append(out, BlankChange{Kind: Added, New: n})
	}
	return out
}

// reserveChanges gives what happens to reserves: matched by label in the same
// rack, then by a label that is found once on either side.
func reserveChanges(pairs []rackPair, table []attribute[estate.Reserve], s style) []ReserveChange {
	type M = match[estate.Reserve]
	name := func(r *estate.Reserve) string { return r.Name }
	var found []M
	var olds, news []*estate.Reserve
	for _, p := range pairs {
		var o, n []*estate.Reserve
		if p.old != nil {
			o = p.old.Reserves
		}
		if p.new != nil {
			n = p.new.Reserves
		}
		matched, restOld, restNew := byKey(o, n, name, func(o, n *estate.Reserve) bool { return same(table, o, n) })
		found = append(found, matched...)
		olds, news = append(olds, restOld...), append(news, restNew...)
	}
	matched, olds, news := byUnique(olds, news, name, nil)
	found = append(found, matched...)

	var out []ReserveChange
	for _, m := range found {
		c := ReserveChange{Old: m.old, New: m.new, Kind: Altered}
		c.Alterations = alterations(table, m.old, m.new, s)
		if len(c.Alterations) == 0 {
			continue
		}
		for _, a := range c.Alterations {
			if a.Attr == "rack" || a.Attr == "at" {
				c.Kind = Moved
			}
		}
		out = append(out, c)
	}
	for _, o := range olds {
		out = append(out, ReserveChange{Kind: Removed, Old: o})
	}
	for _, n := range news {
		out = append(out, ReserveChange{Kind: Added, New: n})
	}
	slices.SortStableFunc(out, func(x, y ReserveChange) int {
		p, q := x.Reserve(), y.Reserve()
		return cmp.Or(compareRacks(p.Rack, q.Rack), cmp.Compare(p.Units.From, q.Units.From), estate.CompareNames(p.Name, q.Name))
	})
	return out
}

func compareRacks(a, b *estate.Rack) int {
	if a == nil || b == nil {
		return compareBools(a == nil, b == nil)
	}
	return estate.CompareNames(a.Name, b.Name)
}

func compareBools(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}
