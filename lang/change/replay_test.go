package change

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// TestReplay draws an estate and what people might do to it, and asks that the
// change between the two, replayed on the first, declares what the second does.
func TestReplay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawEstate(t)
		b := own(a)
		link(b)
		for range rapid.IntRange(0, 12).Draw(t, "edits") {
			edit(t, b)
		}
		before := dump(a)
		c := Between(a, b)
		got, err := c.Apply(a)
		if err != nil {
			t.Fatalf("Apply: %v\nchange: %s", err, describe(c))
		}
		if diff := cmp.Diff(dump(b), dump(got)); diff != "" {
			t.Fatalf("replayed estate differs (-want +got):\n%s\nchange: %s", diff, describe(c))
		}
		if diff := cmp.Diff(before, dump(a)); diff != "" {
			t.Fatalf("Apply altered its argument:\n%s", diff)
		}
		if again := Between(b, got); !again.Empty() {
			t.Fatalf("a difference is left: %s", describe(again))
		}
		if (dump(a) == dump(b)) != c.Empty() {
			t.Fatalf("Empty() = %v for estates of which equality is %v", c.Empty(), dump(a) == dump(b))
		}
		if diff := cmp.Diff(describe(c), describe(Between(a, b))); diff != "" {
			t.Fatalf("the same estates gave two changes:\n%s", diff)
		}
	})
}

// TestApplyRefersToItsOwn fills every reference that the model has, and asks
// that none in the estate that Apply gives leads back to the old one.
func TestApplyRefersToItsOwn(t *testing.T) {
	a := &estate.Estate{}
	// One thing of each kind, then every reference set to the one of its kind.
	one := map[reflect.Type]reflect.Value{}
	lists := func(e *estate.Estate, visit func(list reflect.Value)) {
		for _, v := range []reflect.Value{reflect.ValueOf(e).Elem(), reflect.ValueOf(&e.Rulings).Elem()} {
			for i := range v.NumField() {
				if f := v.Field(i); f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Pointer {
					visit(f)
				}
			}
		}
	}
	lists(a, func(list reflect.Value) {
		thing := reflect.New(list.Type().Elem().Elem())
		if name := thing.Elem().FieldByName("Name"); name.IsValid() {
			name.SetString("x")
		}
		list.Set(reflect.Append(list, thing))
		one[list.Type().Elem()] = thing
	})
	mount := &estate.Mount{Name: "m", Rack: a.Racks[0]}
	a.Racks[0].Mounts = []*estate.Mount{mount}
	one[reflect.TypeFor[*estate.Mount]()] = reflect.ValueOf(mount)
	references := 0
	walk := func(things []reflect.Value, visit func(where string, ref reflect.Value)) {
		for _, thing := range things {
			for i := range thing.Elem().NumField() {
				f, where := thing.Elem().Field(i), thing.Elem().Type().Name()+"."+thing.Elem().Type().Field(i).Name
				switch {
				case f.Kind() == reflect.Pointer && one[f.Type()].IsValid():
					visit(where, f)
				case f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Pointer && one[f.Type().Elem()].IsValid() && where != "Rack.Mounts" && where != "Layout.Mounts":
					if f.Len() == 0 {
						f.Set(reflect.Append(f, reflect.Zero(f.Type().Elem())))
					}
					visit(where, f.Index(0))
				}
			}
		}
	}
	all := func(e *estate.Estate) []reflect.Value {
		things := []reflect.Value{reflect.ValueOf(e.Racks[0].Mounts[0])}
		lists(e, func(list reflect.Value) { things = append(things, list.Index(0)) })
		return things
	}
	walk(all(a), func(where string, ref reflect.Value) {
		ref.Set(one[ref.Type()])
		references++
	})
	if references < 15 {
		t.Fatalf("only %d references were found in the model", references)
	}
	got, err := Between(a, a).Apply(a)
	if err != nil {
		t.Fatal(err)
	}
	walk(all(got), func(where string, ref reflect.Value) {
		if ref.IsNil() || ref.Pointer() == one[ref.Type()].Pointer() {
			t.Errorf("%s leads nowhere, or back to the old estate", where)
		}
	})
}

// describe prints a change for a failing test.
func describe(c *Change) string {
	var b strings.Builder
	for _, r := range c.Racks {
		fmt.Fprintf(&b, "\nrack %s %s %v", r.Kind, r.Rack().Name, r.Alterations)
	}
	for _, m := range c.Mounts {
		fmt.Fprintf(&b, "\nmount %s %s by %q %v", m.Kind, m.Mount().Ref(), m.Match, m.Alterations)
	}
	for _, x := range c.Blanks {
		fmt.Fprintf(&b, "\nblank %s %s %s", x.Kind, x.Blank().Rack.Name, unitRange(x.Blank().Units))
	}
	for _, x := range c.Reserves {
		fmt.Fprintf(&b, "\nreserve %s %s.%s %v", x.Kind, x.Reserve().Rack.Name, x.Reserve().Name, x.Alterations)
	}
	for _, x := range c.Things {
		fmt.Fprintf(&b, "\n%s %s %v felt by %v", x.Kind, x.Ref(), x.Alterations, x.Felt)
	}
	return b.String()
}

// dump prints what an estate declares, by reflection over its fields and so
// independently of the tables under test. Places in files and the order of
// declarations do not show.
func dump(e *estate.Estate) string {
	v := reflect.ValueOf(*e)
	var lines []string
	var things func(v reflect.Value)
	things = func(v reflect.Value) {
		for i := range v.NumField() {
			field, name := v.Field(i), v.Type().Field(i).Name
			switch {
			case name == "Unresolved" || name == "Broken" || name == "Source":
			case name == "Rulings":
				things(field)
			case field.Kind() == reflect.Slice && field.Type().Elem().Kind() == reflect.Pointer:
				var part []string
				for j := range field.Len() {
					part = append(part, name+" "+print(field.Index(j).Elem(), true))
				}
				slices.Sort(part)
				lines = append(lines, part...)
			default:
				lines = append(lines, name+" "+print(field, false))
			}
		}
	}
	things(v)
	return strings.Join(lines, "\n")
}

func print(v reflect.Value, whole bool) string {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return "-"
		}
		if v.Type() == reflect.TypeFor[*estate.ZeroUPlace]() {
			return print(v.Elem(), true)
		}
		if m, ok := v.Interface().(*estate.Mount); ok {
			return "mount:" + m.Ref()
		}
		return v.Elem().FieldByName("Name").String()
	case reflect.Slice:
		var parts []string
		for i := range v.Len() {
			x := v.Index(i)
			if x.Kind() == reflect.Pointer && whole && slices.Contains([]string{"Mount", "Blank", "Reserve"}, x.Type().Elem().Name()) {
				parts = append(parts, "\n  "+print(x.Elem(), true))
				continue
			}
			parts = append(parts, print(x, whole))
		}
		if len(parts) > 0 && strings.HasPrefix(parts[0], "\n") {
			slices.Sort(parts)
		}
		return "[" + strings.Join(parts, " ") + "]"
	case reflect.Struct:
		var parts []string
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if f.Name == "Source" || f.Type == reflect.TypeFor[estate.Span]() || f.Type == reflect.TypeFor[estate.Range]() {
				continue
			}
			parts = append(parts, f.Name+"="+print(v.Field(i), f.Name != "Of"))
		}
		return "{" + strings.Join(parts, " ") + "}"
	case reflect.Map:
		return fmt.Sprint(v.Interface()) // fmt sorts by key
	case reflect.String:
		return fmt.Sprintf("%q", v.String())
	}
	return fmt.Sprintf("%v", v.Interface())
}

func drawEstate(t *rapid.T) *estate.Estate {
	e := &estate.Estate{Name: "brackwater", Language: 1, Rules: "2026.1", Lengths: "mm"}
	site := &estate.Site{Name: "quay", Zone: "Europe/Tallinn"}
	e.Sites = []*estate.Site{site}
	room := &estate.Room{Name: "hq", Site: site}
	e.Rooms = []*estate.Room{room}
	row := &estate.Row{Name: "hq-1", Room: room}
	e.Rows = []*estate.Row{row}
	for i := range 2 {
		e.Frames = append(e.Frames, &estate.Frame{Name: fmt.Sprintf("cab-%d", i), Units: 42, PostSpan: estate.Is(740 * quantity.Millimetre)})
		e.Feeds = append(e.Feeds, &estate.Feed{Name: string(rune('a' + i)), Room: room, Rated: estate.Is(16 * quantity.Ampere)})
	}
	for i := range 3 {
		e.Equipment = append(e.Equipment, &estate.Equipment{Name: fmt.Sprintf("kind-%d", i), Kind: "server", Mass: estate.Is(9 * quantity.Kilogram)})
	}
	for i := range rapid.IntRange(1, 4).Draw(t, "racks") {
		e.Racks = append(e.Racks, drawRack(t, e, fmt.Sprintf("r%d", i), i+1))
	}
	if r := e.Racks[0]; len(r.Mounts) > 1 {
		e.Groups = []*estate.Group{{Name: "core", Of: r.Mounts[:2:2], Up: 1, Apart: []string{"rack"}}}
	}
	e.Rulings.Waivers = []*estate.Waiver{{Rule: "fit/too-deep", On: "rack.r0.m1", Reason: "door off", By: "facilities"}}
	return e
}

func drawRack(t *rapid.T, e *estate.Estate, name string, place int) *estate.Rack {
	r := &estate.Rack{Name: name, Place: place, Row: e.Rows[0], Frame: rapid.SampledFrom(e.Frames).Draw(t, "frame"), Feeds: e.Feeds}
	for range rapid.IntRange(0, 6).Draw(t, "mounts") {
		r.Mounts = append(r.Mounts, drawMount(t, e, r))
	}
	for range rapid.IntRange(0, 2).Draw(t, "blanks") {
		r.Blanks = append(r.Blanks, drawBlank(t, r))
	}
	if rapid.Bool().Draw(t, "reserve") {
		r.Reserves = append(r.Reserves, drawReserve(t, r))
	}
	return r
}

func drawMount(t *rapid.T, e *estate.Estate, r *estate.Rack) *estate.Mount {
	m := &estate.Mount{
		// Few labels and serial numbers, so that they meet and repeat.
		Name:      fmt.Sprintf("m%d", rapid.IntRange(0, 5).Draw(t, "label")),
		Rack:      r,
		Equipment: rapid.SampledFrom(append(slices.Clone(e.Equipment), nil)).Draw(t, "equipment"),
		At:        estate.Units(rapid.IntRange(1, 12).Draw(t, "at")),
		Face:      rapid.SampledFrom([]estate.Face{estate.FrontFace, estate.RearFace}).Draw(t, "face"),
		Serial:    rapid.SampledFrom([]string{"", "", "S1", "S2", "S3", "S4"}).Draw(t, "serial"),
		Asset:     rapid.SampledFrom([]string{"", "", "", "A1", "A2"}).Draw(t, "asset"),
		Owner:     rapid.SampledFrom([]string{"", "network"}).Draw(t, "owner"),
		Feeds:     rapid.SampledFrom([][]*estate.Feed{nil, e.Feeds[:1], e.Feeds}).Draw(t, "feeds"),
	}
	if rapid.IntRange(0, 9).Draw(t, "zero-u") == 0 {
		m.At, m.Face = 0, estate.NoFace
		m.ZeroU = &estate.ZeroUPlace{Side: estate.LeftSide, Plane: estate.RearFace}
	}
	return m
}

func drawBlank(t *rapid.T, r *estate.Rack) *estate.Blank {
	from := rapid.IntRange(20, 30).Draw(t, "from")
	return &estate.Blank{Rack: r, Face: estate.FrontFace, Units: estate.UnitRange{
		From: estate.Units(from), To: estate.Units(from + rapid.IntRange(0, 3).Draw(t, "units")),
	}}
}

func drawReserve(t *rapid.T, r *estate.Rack) *estate.Reserve {
	return &estate.Reserve{Rack: r, Name: rapid.SampledFrom([]string{"growth", "spare"}).Draw(t, "reserve label"),
		Units: estate.UnitRange{From: estate.Units(rapid.IntRange(30, 35).Draw(t, "from")), To: estate.Units(36)}}
}

// edit does to e one thing that people do.
func edit(t *rapid.T, e *estate.Estate) {
	if len(e.Racks) == 0 {
		e.Racks = append(e.Racks, drawRack(t, e, "r0", 1))
		return
	}
	r := rapid.SampledFrom(e.Racks).Draw(t, "rack")
	mount := func() *estate.Mount {
		if len(r.Mounts) == 0 {
			r.Mounts = append(r.Mounts, drawMount(t, e, r))
		}
		return rapid.SampledFrom(r.Mounts).Draw(t, "mount")
	}
	ungroup := func(gone func(*estate.Mount) bool) {
		for _, g := range e.Groups {
			g.Of = slices.DeleteFunc(g.Of, gone)
		}
	}
	edits := []func(){
		func() { r.Mounts = append(r.Mounts, drawMount(t, e, r)) },
		func() {
			m := mount()
			r.Mounts = slices.DeleteFunc(r.Mounts, func(x *estate.Mount) bool { return x == m })
			ungroup(func(x *estate.Mount) bool { return x == m })
		},
		func() { mount().At = estate.Units(rapid.IntRange(1, 12).Draw(t, "new at")) },
		func() { mount().Name = fmt.Sprintf("m%d", rapid.IntRange(0, 7).Draw(t, "new label")) },
		func() { mount().Serial = rapid.SampledFrom([]string{"", "S1", "S2", "S9"}).Draw(t, "new serial") },
		func() { mount().Equipment = rapid.SampledFrom(e.Equipment).Draw(t, "new equipment") },
		func() {
			m, n := mount(), mount()
			m.At, n.At = n.At, m.At
		},
		func() {
			m, n := mount(), mount()
			m.Serial, n.Serial = n.Serial, m.Serial
		},
		func() {
			m, to := mount(), rapid.SampledFrom(e.Racks).Draw(t, "to")
			r.Mounts = slices.DeleteFunc(r.Mounts, func(x *estate.Mount) bool { return x == m })
			to.Mounts = append(to.Mounts, m)
			m.Rack = to
		},
		func() { r.Name = fmt.Sprintf("r%d", rapid.IntRange(5, 9).Draw(t, "new rack name")) },
		func() { r.Place = rapid.IntRange(1, 9).Draw(t, "new place") },
		func() {
			e.Racks = slices.DeleteFunc(e.Racks, func(x *estate.Rack) bool { return x == r })
			ungroup(func(x *estate.Mount) bool { return x.Rack == r })
		},
		func() {
			e.Racks = append(e.Racks, drawRack(t, e, fmt.Sprintf("r%d", rapid.IntRange(5, 9).Draw(t, "rack name")), 9))
		},
		func() { r.Blanks = append(r.Blanks, drawBlank(t, r)) },
		func() { r.Blanks = nil },
		func() { r.Reserves = append(r.Reserves, drawReserve(t, r)) },
		func() { r.Reserves = nil },
		func() { e.Frames[0].PostSpan = estate.Is(quantity.Length(rapid.Int64Range(1, 5).Draw(t, "span"))) },
		func() { e.Equipment[0].Mass.Basis = estate.Measured },
		func() { e.Feeds[1].Origin = "mains" },
		func() { e.Lengths = "in" },
		func() { e.Rulings.Waivers = append(e.Rulings.Waivers, e.Rulings.Waivers...) },
		func() { e.Rulings.Waivers = nil },
		func() { slices.Reverse(r.Mounts) },
	}
	rapid.SampledFrom(edits).Draw(t, "edit")()
	// Two racks of one name are refused by the language.
	seen := map[string]bool{}
	e.Racks = slices.DeleteFunc(e.Racks, func(x *estate.Rack) bool {
		again := seen[x.Name]
		seen[x.Name] = true
		if again {
			ungroup(func(m *estate.Mount) bool { return m.Rack == x })
		}
		return again
	})
}
