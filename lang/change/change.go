package change

import (
	"reflect"
	"slices"

	"cagenut/lang/estate"
)

// A Change is the difference of two estates. Its slices are sorted, so that
// the same estates give the same change.
type Change struct {
	Old, New *estate.Estate

	Mounts   []MountChange   // by rack, then upward
	Blanks   []BlankChange   // by rack, then upward
	Reserves []ReserveChange // by rack, then upward
	Racks    []RackChange    // by name
	Things   []ThingChange   // all else: frames, equipment, feeds, rooms, ...; by kind, then name

	pairs []rackPair // which racks are the same; found anew where a change was not made by Between
}

// Empty reports whether the estates declare the same.
func (c *Change) Empty() bool {
	return len(c.Mounts)+len(c.Blanks)+len(c.Reserves)+len(c.Racks)+len(c.Things) == 0
}

// In leaves of a change what happens in some racks: to the racks themselves, to
// what is or was in them, and to the things that they feel. A rack is wanted
// where it is on either side. The result applies as far as it goes.
func (c *Change) In(want func(*estate.Rack) bool) *Change {
	return c.reduce(want, func(*ThingChange) bool { return false })
}

// Below leaves of a change what happens in some files: to the racks that they
// declare on either side, as In does, and to whatever else they declare.
func (c *Change) Below(covers func(file string) bool) *Change {
	return c.reduce(
		func(r *estate.Rack) bool { return covers(r.Source.File) },
		func(t *ThingChange) bool { return covers(At(t.Old).File) || covers(At(t.New).File) },
	)
}

// At gives the place of the name of a thing that stands in no rack, such as an
// *estate.Frame, or of none for nil.
func At(thing any) estate.Range {
	v := reflect.Indirect(reflect.ValueOf(thing))
	if v.Kind() != reflect.Struct {
		return estate.Range{}
	}
	if f := v.FieldByName("Source"); f.IsValid() {
		src := f.Interface().(estate.Source)
		return src.At()
	}
	return estate.Range{}
}

// reduce leaves what happens in the wanted racks, and the wanted things whole.
func (c *Change) reduce(want func(*estate.Rack) bool, whole func(*ThingChange) bool) *Change {
	wanted := map[*estate.Rack]bool{}
	for _, p := range c.rackPairs() {
		if p.old != nil && want(p.old) || p.new != nil && want(p.new) {
			wanted[p.old], wanted[p.new] = true, true
		}
	}
	delete(wanted, nil)
	in := func(racks ...*estate.Rack) bool {
		return slices.ContainsFunc(racks, func(r *estate.Rack) bool { return wanted[r] })
	}
	out := &Change{Old: c.Old, New: c.New, pairs: c.pairs}
	for _, r := range c.Racks {
		if in(r.Old, r.New) {
			out.Racks = append(out.Racks, r)
		}
	}
	rackOf := func(m *estate.Mount) *estate.Rack {
		if m == nil {
			return nil
		}
		return m.Rack
	}
	for _, m := range c.Mounts {
		if in(rackOf(m.Old), rackOf(m.New)) {
			out.Mounts = append(out.Mounts, m)
		}
	}
	for _, b := range c.Blanks {
		if in(b.Blank().Rack) {
			out.Blanks = append(out.Blanks, b)
		}
	}
	for _, r := range c.Reserves {
		if r.Old != nil && in(r.Old.Rack) || r.New != nil && in(r.New.Rack) {
			out.Reserves = append(out.Reserves, r)
		}
	}
	for _, t := range c.Things {
		if whole(&t) {
			out.Things = append(out.Things, t)
			continue
		}
		t.Felt = slices.DeleteFunc(slices.Clone(t.Felt), func(name string) bool { return !in(c.Old.Rack(name), c.New.Rack(name)) })
		if len(t.Felt) > 0 {
			out.Things = append(out.Things, t)
		}
	}
	return out
}

// Kind says what happens to a thing.
type Kind uint8

// The kinds of change.
const (
	NoKind  Kind = iota
	Added        // it was not there before
	Removed      // it is not there any more
	Moved        // it is in another place; it may be altered as well
	Altered      // it stays in place, and what is said about it differs
)

var kinds = [...]string{"", "added", "removed", "moved", "altered"}

// String names the kind.
func (k Kind) String() string { return kinds[k] }

// Match says by what an old and a new declaration are seen to be one thing.
type Match uint8

// The ways of matching, in the order in which they are tried.
const (
	NoMatch    Match = iota // added or removed
	ByLabel                 // same label in the same rack
	BySerial                // same serial or asset number
	ByName                  // same label and equipment, in another rack
	ByLikeness              // same equipment, and the same place or a similar label
)

var matches = [...]string{"", "label", "serial", "label and equipment", "likeness"}

// String names what agreed: "matched by serial".
func (m Match) String() string { return matches[m] }

// An Alteration is one attribute whose value differs. A value that is not
// written is "".
type Alteration struct {
	Attr     string // as the language writes it: "depth", "draw.maximum"; "label" for a new label
	Old, New string // as the language writes them, without quotes: "812 mm (measured 2026-09-14)"
}

// A MountChange is what happens to one mount.
type MountChange struct {
	Kind        Kind
	Old         *estate.Mount // nil where added
	New         *estate.Mount // nil where removed
	Match       Match
	Alterations []Alteration // in the order of the language; places are among them ("rack", "at", "face", ...)

	called map[string]string // racks and strips that are called otherwise: old reference to new one
}

// Mount gives the mount as it is after the change, or as it was where it is
// removed.
func (c *MountChange) Mount() *estate.Mount {
	if c.New != nil {
		return c.New
	}
	return c.Old
}

// Has reports whether the named attribute is among the alterations.
func (c *MountChange) Has(attr string) bool {
	for i := range c.Alterations {
		if c.Alterations[i].Attr == attr {
			return true
		}
	}
	return false
}

// Renamed reports whether the mount has got a new label.
func (c *MountChange) Renamed() bool { return c.Old != nil && c.New != nil && c.Old.Name != c.New.Name }

// BetweenRacks reports whether the mount moves to another rack. A rack that is
// only renamed is the same rack.
func (c *MountChange) BetweenRacks() bool { return c.Kind == Moved && c.Has("rack") }

// Replaced reports whether one piece of hardware gives way to another under
// the same label: other equipment, or another serial or asset number.
func (c *MountChange) Replaced() bool {
	if c.Old == nil || c.New == nil {
		return false
	}
	return c.Has("equipment") || otherHardware(c.Old, c.New)
}

// RecordOnly reports whether the change needs no hand at the rack beyond a
// label: nothing comes, goes, moves, is replaced or is fed otherwise, and no
// cord is laid otherwise.
func (c *MountChange) RecordOnly() bool {
	return c.Kind == Altered && !c.Replaced() && !c.Has("feeds") && len(c.Cords()) == 0
}

// A BlankChange is a blank that is fitted, taken out, or changed to another
// run of units that shares some with the old one.
type BlankChange struct {
	Kind     Kind // Added, Removed or Altered
	Old, New *estate.Blank
}

// Blank gives the blank as it is after the change, or as it was.
func (c *BlankChange) Blank() *estate.Blank {
	if c.New != nil {
		return c.New
	}
	return c.Old
}

// A ReserveChange is units held, let go, or held otherwise.
type ReserveChange struct {
	Kind        Kind // Moved where the units or the rack differ
	Old, New    *estate.Reserve
	Alterations []Alteration
}

// Reserve gives the reserve as it is after the change, or as it was.
func (c *ReserveChange) Reserve() *estate.Reserve {
	if c.New != nil {
		return c.New
	}
	return c.Old
}

// A RackChange is a rack that comes, goes, gets a new name, or stands
// otherwise. What is in it is told by the changes of mounts, blanks and
// reserves: a rack that comes brings each of its mounts as Added, unless they
// come from elsewhere.
type RackChange struct {
	Kind        Kind // Moved where row or place differ
	Old, New    *estate.Rack
	Alterations []Alteration
}

// Rack gives the rack as it is after the change, or as it was.
func (c *RackChange) Rack() *estate.Rack {
	if c.New != nil {
		return c.New
	}
	return c.Old
}

// Renamed reports whether the rack has got a new name.
func (c *RackChange) Renamed() bool { return c.Old != nil && c.New != nil && c.Old.Name != c.New.Name }

// A ThingChange is a change of anything that stands in no rack: a frame, an
// equipment, a feed, a room, a policy, a waiver, or the estate itself.
type ThingChange struct {
	Kind        Kind   // Added, Removed or Altered
	Type        string // as the language calls it: "frame", "equipment", "feed", ...
	Name        string // "cab-42"; "" for the estate itself
	Old, New    any    // *estate.Frame and so on; nil where added or removed
	Alterations []Alteration
	Felt        []string // names of the racks that the change reaches, sorted; as they are called after it
}

// Ref gives the thing's name as the language refers to it: frame.cab-42, or
// waive fit/too-deep on rack.hq-a.store-1 for what nothing refers to.
func (c *ThingChange) Ref() string {
	switch {
	case c.Name == "":
		return c.Type
	case c.Type == "waive" || c.Type == "adjust":
		return c.Type + " " + c.Name
	}
	return c.Type + "." + c.Name
}
