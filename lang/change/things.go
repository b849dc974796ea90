package change

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"cagenut/lang/estate"
)

// thingChanges gives what happens to all that stands in no rack, kind by kind
// in the order of the language, then by name.
func thingChanges(a, b *estate.Estate, s style) []ThingChange {
	var out []ThingChange
	if all := alterations(estateAttributes, a, b, s); len(all) > 0 {
		out = append(out, ThingChange{Kind: Altered, Type: "estate", Old: a, New: b, Alterations: all})
	}
	for _, k := range thingKinds {
		out = append(out, k.differ(a, b, s)...)
	}
	return out
}

// A thingKind is one kind of thing that stands in no rack, with what can be
// done with all of that kind.
type thingKind struct {
	name string
	// differ gives what happens to the things of this kind.
	differ func(a, b *estate.Estate, s style) []ThingChange
	// apply carries out one change on an estate whose things are its own.
	apply func(e *estate.Estate, c *ThingChange) error
	// own gives an estate copies of its things.
	own func(e *estate.Estate)
}

var thingKinds = []thingKind{
	kindOf("given", func(e *estate.Estate) *[]*estate.Given { return &e.Givens }, func(g *estate.Given) string { return g.Name }, givenAttributes),
	kindOf("site", func(e *estate.Estate) *[]*estate.Site { return &e.Sites }, siteName, siteAttributes),
	kindOf("room", func(e *estate.Estate) *[]*estate.Room { return &e.Rooms }, roomName, roomAttributes),
	kindOf("row", func(e *estate.Estate) *[]*estate.Row { return &e.Rows }, rowName, rowAttributes),
	kindOf("bar", func(e *estate.Estate) *[]*estate.Bar { return &e.Bars }, barName, barAttributes),
	kindOf("route", func(e *estate.Estate) *[]*estate.Route { return &e.Routes }, routeName, routeAttributes),
	kindOf("frame", func(e *estate.Estate) *[]*estate.Frame { return &e.Frames }, frameName, frameAttributes),
	kindOf("equipment", func(e *estate.Estate) *[]*estate.Equipment { return &e.Equipment }, equipmentName, equipmentAttributes),
	kindOf("source", func(e *estate.Estate) *[]*estate.PowerSource { return &e.PowerSources }, sourceName, sourceAttributes),
	kindOf("breaker", func(e *estate.Estate) *[]*estate.Breaker { return &e.Breakers }, breakerName, breakerAttributes),
	kindOf("feed", func(e *estate.Estate) *[]*estate.Feed { return &e.Feeds }, feedName, feedAttributes),
	kindOf("layout", func(e *estate.Estate) *[]*estate.Layout { return &e.Layouts }, layoutName, layoutAttributes),
	kindOf("group", func(e *estate.Estate) *[]*estate.Group { return &e.Groups }, func(g *estate.Group) string { return g.Name }, groupAttributes),
	kindOf("sequence", func(e *estate.Estate) *[]*estate.Sequence { return &e.Sequences }, func(s *estate.Sequence) string { return s.Name }, sequenceAttributes),
	kindOf("window", func(e *estate.Estate) *[]*estate.Window { return &e.Windows }, func(w *estate.Window) string { return w.Name }, windowAttributes),
	kindOf("freeze", func(e *estate.Estate) *[]*estate.Freeze { return &e.Freezes }, func(f *estate.Freeze) string { return f.Name }, freezeAttributes),
	kindOf("pace", func(e *estate.Estate) *[]*estate.Pace { return &e.Paces }, func(*estate.Pace) string { return "" }, paceAttributes),
	kindOf("bench", func(e *estate.Estate) *[]*estate.Bench { return &e.Benches }, func(b *estate.Bench) string { return b.Name }, benchAttributes),
	kindOf("policy", func(e *estate.Estate) *[]*estate.Policy { return &e.Rulings.Policies }, func(p *estate.Policy) string { return p.Name }, policyAttributes),
	kindOf("adjust", func(e *estate.Estate) *[]*estate.Adjustment { return &e.Rulings.Adjustments }, func(a *estate.Adjustment) string { return a.Rule }, adjustmentAttributes),
	kindOf("waive", func(e *estate.Estate) *[]*estate.Waiver { return &e.Rulings.Waivers }, func(w *estate.Waiver) string { return w.Rule + " on " + w.On }, waiverAttributes),
}

func kindOf[T any](kind string, all func(*estate.Estate) *[]*T, name func(*T) string, table []attribute[T]) thingKind {
	// Names found twice are a mistake that lint reports, except with pace,
	// adjust and waive, which may be written several times. The second one is
	// the second one on either side.
	numbered := func(things []*T) map[string]*T {
		at := make(map[string]*T, len(things))
		seen := map[string]int{}
		for _, t := range things {
			n := name(t)
			seen[n]++
			if seen[n] > 1 {
				n = fmt.Sprintf("%s #%d", n, seen[n])
			}
			at[n] = t
		}
		return at
	}
	differ := func(a, b *estate.Estate, s style) []ThingChange {
		// Mostly nothing differs, and no index is needed.
		if slices.EqualFunc(*all(a), *all(b), func(o, n *T) bool { return name(o) == name(n) && same(table, o, n) }) {
			return nil
		}
		olds, news := numbered(*all(a)), numbered(*all(b))
		var out []ThingChange
		for n, o := range olds {
			c := ThingChange{Kind: Removed, Type: kind, Name: n, Old: o}
			if to, ok := news[n]; ok {
				c.Kind, c.New, c.Alterations = Altered, to, alterations(table, o, to, s)
				if len(c.Alterations) == 0 {
					continue
				}
			}
			out = append(out, c)
		}
		for n, t := range news {
			if _, ok := olds[n]; !ok {
				out = append(out, ThingChange{Kind: Added, Type: kind, Name: n, New: t})
			}
		}
		slices.SortFunc(out, func(x, y ThingChange) int { return estate.CompareNames(x.Name, y.Name) })
		return out
	}
	apply := func(e *estate.Estate, c *ThingChange) error {
		things := all(e)
		if c.Kind == Added {
			if _, ok := numbered(*things)[c.Name]; ok {
				return fmt.Errorf("%s is there already; the change would add it", c.Ref())
			}
			t := *c.New.(*T)
			*things = append(*things, &t)
			return nil
		}
		t, ok := numbered(*things)[c.Name]
		if !ok || !same(table, c.Old.(*T), t) {
			return fmt.Errorf("%s is not as the change expects it", c.Ref())
		}
		if c.Kind == Removed {
			*things = slices.DeleteFunc(*things, func(u *T) bool { return u == t })
			return nil
		}
		carry(table, c.Alterations, t, c.New.(*T))
		return nil
	}
	own := func(e *estate.Estate) { *all(e) = owned(*all(e)) }
	return thingKind{kind, differ, apply, own}
}

// owned copies a slice and what it points to.
func owned[T any](all []*T) []*T {
	copies := make([]T, len(all))
	out := make([]*T, len(all))
	for i, t := range all {
		copies[i] = *t
		out[i] = &copies[i]
	}
	return out
}

// feel fills in which racks a change of a thing reaches.
func feel(c *Change, renamed map[string]string) {
	if len(c.Things) == 0 {
		return
	}
	type thing struct{ kind, name string }
	felt := map[thing]map[string]bool{}
	for i := range c.Things {
		felt[thing{c.Things[i].Type, c.Things[i].Name}] = map[string]bool{}
	}
	walk := func(e *estate.Estate, nameOf func(*estate.Rack) string) {
		for _, r := range e.Racks {
			reach := func(kind, name string) {
				if racks, ok := felt[thing{kind, name}]; ok {
					racks[nameOf(r)] = true
				}
			}
			if r.Frame != nil {
				reach("frame", r.Frame.Name)
			}
			if r.Row != nil {
				reach("row", r.Row.Name)
			}
			if room := r.Room(); room != nil {
				reach("room", room.Name)
			}
			if site := r.Site(); site != nil {
				reach("site", site.Name)
			}
			if r.Layout != nil {
				reach("layout", r.Layout.Name)
			}
			for _, f := range r.Feeds {
				reach("feed", feedName(f))
			}
			for _, m := range r.Mounts {
				if m.Equipment != nil {
					reach("equipment", m.Equipment.Name)
				}
				for _, f := range m.Feeds {
					if f != nil {
						reach("feed", f.Name)
					}
				}
			}
		}
		for _, g := range e.Groups {
			if racks, ok := felt[thing{"group", g.Name}]; ok {
				for _, m := range g.Of {
					if m != nil && m.Rack != nil {
						racks[nameOf(m.Rack)] = true
					}
				}
			}
		}
	}
	walk(c.Old, func(r *estate.Rack) string { return cmp.Or(renamed[r.Name], r.Name) })
	walk(c.New, func(r *estate.Rack) string { return r.Name })
	for i := range c.Things {
		t := &c.Things[i]
		t.Felt = slices.SortedFunc(maps.Keys(felt[thing{t.Type, t.Name}]), estate.CompareNames)
	}
}
