package change

import (
	"errors"
	"fmt"
	"slices"

	"cagenut/lang/estate"
)

// Apply carries the change out on a, which is left as it is, and gives the
// estate that comes of it: for a = c.Old one that declares the same as c.New.
// A change of which some elements have been left out applies as well, as long
// as each of the others finds what it expects.
//
// The order in which mounts are listed, and the places in files, are not part
// of a change: what Apply gives may differ in them.
//
// The error names every element that did not find what it expects.
func (c *Change) Apply(a *estate.Estate) (*estate.Estate, error) {
	e := own(a)
	r := replay{
		renamed: map[string]string{},
		was:     map[string]*estate.Rack{},
		is:      map[string]*estate.Rack{},
	}
	for _, rack := range e.Racks {
		if r.was[rack.Name] == nil {
			r.was[rack.Name] = rack
		}
	}
	for _, rc := range c.Racks {
		if rc.Renamed() {
			r.renamed[rc.Old.Name] = rc.New.Name
		}
	}
	r.things(e, c)
	gone := r.racks(e, c)
	r.mounts(c)
	r.blanks(c)
	r.reserves(c)
	e.Racks = slices.DeleteFunc(e.Racks, func(rack *estate.Rack) bool { return gone[rack] })
	for _, rc := range c.Racks {
		if rc.Kind == Removed {
			if rack := r.was[rc.Old.Name]; rack != nil && len(rack.Mounts) > 0 {
				r.fail("%s is to be removed but still holds %s", rack.Ref(), rack.Mounts[0].Name)
			}
		}
	}
	if err := errors.Join(r.errs...); err != nil {
		return nil, err
	}
	link(e)
	return e, nil
}

// A replay is a change being carried out.
type replay struct {
	renamed map[string]string
	was, is map[string]*estate.Rack // the estate's own racks, by old and by new name
	errs    []error
}

func (r *replay) fail(format string, args ...any) {
	r.errs = append(r.errs, fmt.Errorf(format, args...))
}

func (r *replay) things(e *estate.Estate, c *Change) {
	// What is taken away is taken from the end, so that "#2" goes before "#1".
	for i := len(c.Things) - 1; i >= 0; i-- {
		if t := &c.Things[i]; t.Kind == Removed {
			r.thing(e, t)
		}
	}
	for i := range c.Things {
		if t := &c.Things[i]; t.Kind != Removed {
			r.thing(e, t)
		}
	}
}

func (r *replay) thing(e *estate.Estate, t *ThingChange) {
	if t.Type == "estate" {
		carry(estateAttributes, t.Alterations, e, t.New.(*estate.Estate))
		return
	}
	for _, k := range thingKinds {
		if k.name == t.Type {
			if err := k.apply(e, t); err != nil {
				r.errs = append(r.errs, err)
			}
			return
		}
	}
	r.fail("a change of %s: there is no such kind of thing", t.Ref())
}

// racks adds and alters racks, and gives those that are to go once they are
// empty.
func (r *replay) racks(e *estate.Estate, c *Change) map[*estate.Rack]bool {
	gone := map[*estate.Rack]bool{}
	for i := range c.Racks {
		rc := &c.Racks[i]
		if rc.Kind == Added {
			rack := *rc.New
			rack.Mounts, rack.Blanks, rack.Reserves = nil, nil, nil
			e.Racks = append(e.Racks, &rack)
			continue
		}
		rack := r.was[rc.Old.Name]
		if rack == nil || !same(rackAttributes, rc.Old, rack) {
			r.fail("%s is not as the change expects it", rc.Old.Ref())
			continue
		}
		if rc.Kind == Removed {
			gone[rack] = true
			continue
		}
		carry(rackAttributes, rc.Alterations, rack, rc.New)
	}
	for _, rack := range e.Racks {
		if !gone[rack] && r.is[rack.Name] == nil {
			r.is[rack.Name] = rack
		}
	}
	return gone
}

func (r *replay) mounts(c *Change) {
	table := mountAttributes(r.renamed)
	// All is looked up before anything is altered: in a swap of labels the
	// second mount would otherwise be taken for the first.
	found := make([]*estate.Mount, len(c.Mounts))
	for i := range c.Mounts {
		if old := c.Mounts[i].Old; old != nil {
			from := r.was[old.Rack.Name]
			if from != nil {
				for _, m := range from.Mounts {
					if m.Name == old.Name && !slices.Contains(found, m) && same(table[2:], old, m) {
						found[i] = m
						break
					}
				}
			}
			if found[i] == nil {
				r.fail("%s is not as the change expects it", old.Ref())
				continue
			}
			if c.Mounts[i].Kind == Removed || c.Mounts[i].BetweenRacks() {
				from.Mounts = slices.DeleteFunc(from.Mounts, func(m *estate.Mount) bool { return m == found[i] })
			}
		}
	}
	for i := range c.Mounts {
		mc := &c.Mounts[i]
		if mc.Kind == Removed || mc.Old != nil && found[i] == nil {
			continue
		}
		m := found[i]
		if mc.Old == nil {
			copied := *mc.New
			m = &copied
		} else {
			carry(table, mc.Alterations, m, mc.New)
			m.Source = mc.New.Source
		}
		if mc.Old == nil || mc.BetweenRacks() {
			to := r.is[mc.New.Rack.Name]
			if to == nil {
				r.fail("%s: there is no rack %s to put it in", mc.New.Ref(), mc.New.Rack.Name)
				continue
			}
			to.Mounts = append(to.Mounts, m)
		}
	}
}

func (r *replay) blanks(c *Change) {
	for i := range c.Blanks {
		if old := c.Blanks[i].Old; old != nil {
			rack := r.was[old.Rack.Name]
			at := -1
			if rack != nil {
				at = slices.IndexFunc(rack.Blanks, func(b *estate.Blank) bool { return b.Units == old.Units && b.Face == old.Face })
			}
			if at < 0 {
				r.fail("%s has no blank at %s", old.Rack.Ref(), unitRange(old.Units))
				continue
			}
			rack.Blanks = slices.Delete(rack.Blanks, at, at+1)
		}
	}
	for i := range c.Blanks {
		if is := c.Blanks[i].New; is != nil {
			rack := r.is[is.Rack.Name]
			if rack == nil {
				r.fail("blank at %s: there is no rack %s to fit it in", unitRange(is.Units), is.Rack.Name)
				continue
			}
			b := *is
			rack.Blanks = append(rack.Blanks, &b)
		}
	}
}

func (r *replay) reserves(c *Change) {
	table := reserveAttributes(nil)[1:] // all but the rack
	for i := range c.Reserves {
		if old := c.Reserves[i].Old; old != nil {
			rack := r.was[old.Rack.Name]
			at := -1
			if rack != nil {
				at = slices.IndexFunc(rack.Reserves, func(x *estate.Reserve) bool { return same(table, old, x) })
			}
			if at < 0 {
				r.fail("%s has no reserve %s at %s", old.Rack.Ref(), old.Name, unitRange(old.Units))
				continue
			}
			rack.Reserves = slices.Delete(rack.Reserves, at, at+1)
		}
	}
	for i := range c.Reserves {
		if is := c.Reserves[i].New; is != nil {
			rack := r.is[is.Rack.Name]
			if rack == nil {
				r.fail("reserve %s: there is no rack %s to hold it in", is.Name, is.Rack.Name)
				continue
			}
			x := *is
			rack.Reserves = append(rack.Reserves, &x)
		}
	}
}

// carry carries the altered attributes over.
func carry[T any](table []attribute[T], all []Alteration, to, from *T) {
	for _, a := range all {
		for i := range table {
			if table[i].name == a.Attr {
				table[i].carry(to, from)
			}
		}
	}
}

// own gives a copy of an estate whose things, racks and mounts are its own;
// what they refer to is still the old estate's until [link].
func own(a *estate.Estate) *estate.Estate {
	e := *a
	for _, k := range thingKinds {
		k.own(&e)
	}
	e.Racks = owned(e.Racks)
	for _, r := range e.Racks {
		r.Mounts, r.Blanks, r.Reserves = owned(r.Mounts), owned(r.Blanks), owned(r.Reserves)
	}
	return &e
}

// link makes every reference of e point to e's own things, by name. A
// reference to what e does not have becomes nil.
func link(e *estate.Estate) {
	sites := byName(e.Sites, siteName)
	rooms := byName(e.Rooms, roomName)
	rows := byName(e.Rows, rowName)
	frames := byName(e.Frames, frameName)
	equipment := byName(e.Equipment, equipmentName)
	feeds := byName(e.Feeds, feedName)
	sources := byName(e.PowerSources, sourceName)
	breakers := byName(e.Breakers, breakerName)
	layouts := byName(e.Layouts, layoutName)
	bars := byName(e.Bars, barName)
	routes := byName(e.Routes, routeName)
	racks := byName(e.Racks, rackName)

	for _, r := range e.Rooms {
		relink(&r.Site, sites, siteName)
		relinkAll(&r.Routes, routes, routeName)
	}
	for _, r := range e.Rows {
		relink(&r.Room, rooms, roomName)
		relink(&r.Across, rows, rowName)
	}
	for _, b := range e.Bars {
		relink(&b.Room, rooms, roomName)
	}
	for _, s := range e.PowerSources {
		relinkAll(&s.From, sources, sourceName)
	}
	for _, b := range e.Breakers {
		relink(&b.Supply, sources, sourceName)
		relink(&b.From, breakers, breakerName)
	}
	for _, f := range e.Feeds {
		relink(&f.Room, rooms, roomName)
		relink(&f.Breaker, breakers, breakerName)
	}
	for _, w := range e.Windows {
		relink(&w.Site, sites, siteName)
	}
	for _, f := range e.Freezes {
		relink(&f.Site, sites, siteName)
	}
	for _, b := range e.Benches {
		relink(&b.Room, rooms, roomName)
	}
	relinkMount := func(m *estate.Mount) {
		relink(&m.Equipment, equipment, equipmentName)
		relink(&m.Adapter, equipment, equipmentName)
		relinkAll(&m.Feeds, feeds, feedName)
	}
	for _, l := range e.Layouts {
		l.Mounts, l.Blanks, l.Reserves = owned(l.Mounts), owned(l.Blanks), owned(l.Reserves)
		for _, m := range l.Mounts {
			relinkMount(m)
		}
	}
	type place struct{ rack, label string }
	mounts := map[place]*estate.Mount{}
	for _, r := range e.Racks {
		relink(&r.Row, rows, rowName)
		relink(&r.Frame, frames, frameName)
		relink(&r.Layout, layouts, layoutName)
		relink(&r.Bond.Bar, bars, barName)
		relink(&r.Bond.Rack, racks, rackName)
		relinkAll(&r.Feeds, feeds, feedName)
		for _, m := range r.Mounts {
			m.Rack = r
			relinkMount(m)
			if _, ok := mounts[place{r.Name, m.Name}]; !ok {
				mounts[place{r.Name, m.Name}] = m
			}
		}
		for _, b := range r.Blanks {
			b.Rack = r
		}
		for _, x := range r.Reserves {
			x.Rack = r
		}
	}
	for _, s := range e.PowerSources {
		if m := s.Mount; m != nil && m.Rack != nil {
			s.Mount = mounts[place{m.Rack.Name, m.Name}]
		}
	}
	relinkMounts := func(refs *[]*estate.Mount) {
		*refs = slices.Clone(*refs)
		for i, m := range *refs {
			if m != nil && m.Rack != nil {
				(*refs)[i] = mounts[place{m.Rack.Name, m.Name}]
			}
		}
	}
	for _, g := range e.Groups {
		relinkMounts(&g.Of)
	}
	for _, s := range e.Sequences {
		s.Steps = owned(s.Steps)
		for _, step := range s.Steps {
			relinkMounts(&step.On)
		}
	}
}

func byName[T any](all []*T, name func(*T) string) map[string]*T {
	at := make(map[string]*T, len(all))
	for _, t := range all {
		if _, ok := at[name(t)]; !ok {
			at[name(t)] = t
		}
	}
	return at
}

func relink[T any](ref **T, at map[string]*T, name func(*T) string) {
	if *ref != nil {
		*ref = at[name(*ref)]
	}
}

func relinkAll[T any](refs *[]*T, at map[string]*T, name func(*T) string) {
	*refs = slices.Clone(*refs)
	for i, t := range *refs {
		if t != nil {
			(*refs)[i] = at[name(t)]
		}
	}
}
