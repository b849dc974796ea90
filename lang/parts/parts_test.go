package parts_test

import (
	"fmt"
	"slices"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/parts"
	"cagenut/lang/quantity"
	"cagenut/lang/system"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func thing(name string, units int, mounting estate.Mounting, holes ...estate.Holes) *estate.Equipment {
	s, _ := system.ByName("19in")
	return &estate.Equipment{
		Name: name, System: s, Mounting: mounting, Holes: holes,
		Height: estate.Height{Count: estate.Units(units), Word: "U", Length: quantity.Length(units) * quantity.RackUnit, State: estate.IsGiven},
	}
}

func rack(holes estate.Holes, kind estate.FrameKind) *estate.Rack {
	s, _ := system.ByName("19in")
	return &estate.Rack{Name: "r", Frame: &estate.Frame{Name: "f", System: s, Units: 42, First: 1, Counted: estate.CountedUp, Holes: holes, Kind: kind}}
}

func add(r *estate.Rack, name string, at int, q *estate.Equipment) *estate.Mount {
	m := &estate.Mount{Name: name, Rack: r, Equipment: q, At: estate.Units(at)}
	r.Mounts = append(r.Mounts, m)
	return m
}

func counts(l *parts.List) []string {
	var out []string
	for _, p := range l.Parts {
		out = append(out, fmt.Sprintf("%d %s", p.Count, p.Name))
	}
	return out
}

func TestCounts(t *testing.T) {
	tests := []struct {
		name string
		rack func() *estate.Rack
		want []string
	}{
		{"ears in square holes", func() *estate.Rack {
			r := rack(estate.SquareHoles, estate.Cabinet)
			add(r, "panel", 1, thing("panel", 1, estate.Ears))
			add(r, "chassis", 2, thing("chassis", 6, estate.Ears))
			return r
		}, []string{"10 M6 x 1 screw", "10 M6 x 1 cage nut", "10 M6 x 1 cup washer"}},
		{"tapped posts need no nuts and have their own thread", func() *estate.Rack {
			r := rack(estate.Tapped12_24, estate.TwoPost)
			add(r, "panel", 1, thing("panel", 1, estate.Ears, estate.TappedM6))
			return r
		}, []string{"4 12-24 UNC screw", "4 12-24 UNC cup washer"}},
		{"ears that are made for one thread", func() *estate.Rack {
			r := rack(estate.RoundHoles, estate.FourPost)
			add(r, "panel", 1, thing("panel", 1, estate.Ears, estate.Tapped10_32))
			return r
		}, []string{"4 10-32 UNF screw", "4 10-32 UNF clip nut", "4 10-32 UNF cup washer"}},
		{"declared ears count", func() *estate.Rack {
			r := rack(estate.SquareHoles, estate.Cabinet)
			q := thing("switch", 1, estate.Ears)
			q.Ears = []quantity.Length{22_225_000}
			add(r, "switch", 1, q)
			return r
		}, []string{"2 M6 x 1 screw", "2 M6 x 1 cage nut", "2 M6 x 1 cup washer"}},
		{"rails, a shelf on four posts", func() *estate.Rack {
			r := rack(estate.SquareHoles, estate.Cabinet)
			add(r, "server", 1, thing("server", 2, estate.Slides))
			add(r, "box", 5, thing("box", 2, estate.Shelf))
			return r
		}, []string{"10 M6 x 1 screw", "10 M6 x 1 cage nut", "10 M6 x 1 cup washer", "1 rail kit of equipment.server", "1 shelf for equipment.box"}},
		{"two abreast share a tray", func() *estate.Rack {
			r := rack(estate.TappedM5, estate.Cabinet)
			q := thing("receiver", 1, estate.Ears)
			add(r, "a", 1, q).Slot = estate.Slot{Part: 1, Of: 2}
			add(r, "b", 1, q).Slot = estate.Slot{Part: 2, Of: 2}
			return r
		}, []string{"4 M5 x 0.8 screw", "4 M5 x 0.8 cup washer", "1 tray of 1U for 2 abreast"}},
		{"an adapter, a strip, blanks", func() *estate.Rack {
			r := rack(estate.TappedM6, estate.Cabinet)
			add(r, "radio", 1, thing("radio", 2, estate.Ears)).Adapter = thing("flange", 2, estate.NoMounting)
			add(r, "strip", 0, thing("strip", 40, estate.ZeroU)).ZeroU = &estate.ZeroUPlace{}
			r.Blanks = []*estate.Blank{
				{Units: estate.UnitRange{From: estate.Units(10), To: estate.Units(11)}, Rack: r},
				{Units: estate.UnitRange{From: estate.Units(20), To: estate.Units(22)}, Rack: r},
			}
			return r
		}, []string{"10 M6 x 1 screw", "10 M6 x 1 cup washer", "1 adapter pair equipment.flange", "1 bracket pair for equipment.strip", "1 blank of 2U", "1 blank of 3U"}},
		{"supply cords by length and ends", func() *estate.Rack {
			r := rack(estate.TappedM6, estate.Cabinet)
			long := func(mm int) estate.Figure[quantity.Length] {
				return estate.Is(quantity.Length(mm) * quantity.Millimetre)
			}
			add(r, "a", 1, thing("server", 1, estate.Ears)).Cords = []estate.Cord{{To: "s", Length: long(500), Plug: "c14", Socket: "c13"}, {To: "t", Length: long(1500), Plug: "c14", Socket: "c13"}}
			add(r, "b", 2, thing("server", 1, estate.Ears)).Cords = []estate.Cord{{To: "s", Length: long(1500), Plug: "c14", Socket: "c13"}, {To: "t", Length: long(1500), Locking: estate.Is(true)}, {To: "t", Locking: estate.Is(false)}}
			return r
		}, []string{"8 M6 x 1 screw", "8 M6 x 1 cup washer", "1 cord of 500 mm, c14 to c13", "2 cord of 1500 mm, c14 to c13", "1 cord of 1500 mm, locking", "1 cord, length not declared"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := parts.Of([]*estate.Rack{tt.rack()}, parts.Options{})
			if diff := cmp.Diff(tt.want, counts(l)); diff != "" {
				t.Errorf("Of (-want +got):\n%s", diff)
			}
			if tt.name == "ears in square holes" {
				if diff := cmp.Diff([]string{"M6 x 1: 4 N m to 6 N m"}, l.Moments); diff != "" {
					t.Errorf("Moments (-want +got):\n%s", diff)
				}
			}
			if len(l.Assumed) == 0 || !slices.IsSorted(l.Assumed) {
				t.Errorf("assumed: %q", l.Assumed)
			}
		})
	}
}

func TestWhatCannotBeCounted(t *testing.T) {
	r := rack(estate.SquareHoles, estate.Cabinet)
	q := thing("mystery", 1, estate.Ears)
	q.Height = estate.Height{State: estate.IsUnknown}
	add(r, "mystery", 1, q)
	add(r, "nothing", 2, nil)
	l := parts.Of([]*estate.Rack{r, {Name: "homeless"}}, parts.Options{Thread: "10-32"})
	want := []string{
		"rack.homeless: its frame is not known",
		"rack.r.mystery: the height of equipment.mystery is unknown, and the screws are counted as for 1U",
		"rack.r.nothing: its equipment is not known",
	}
	if diff := cmp.Diff(want, l.Missing); diff != "" {
		t.Errorf("Missing (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]string{"4 10-32 UNF screw", "4 10-32 UNF cage nut", "4 10-32 UNF cup washer"}, counts(l)); diff != "" {
		t.Errorf("Of (-want +got):\n%s", diff)
	}
}

func TestCompare(t *testing.T) {
	before, after := rack(estate.SquareHoles, estate.Cabinet), rack(estate.SquareHoles, estate.Cabinet)
	panel, server := thing("panel", 1, estate.Ears), thing("server", 2, estate.Slides)
	add(before, "p", 1, panel)
	add(before, "s", 5, server)
	add(after, "s", 10, server) // moved: takes its kit along
	add(after, "s2", 12, server)
	got := parts.Compare(parts.Of([]*estate.Rack{before}, parts.Options{}), parts.Of([]*estate.Rack{after}, parts.Options{}))
	want := []parts.Difference{
		{Kind: parts.Screw, Name: "M6 x 1 screw", Before: 6, After: 4, For: []string{"rack.r.p"}},
		{Kind: parts.CageNut, Name: "M6 x 1 cage nut", Before: 6, After: 4, For: []string{"rack.r.p"}},
		{Kind: parts.Washer, Name: "M6 x 1 cup washer", Before: 6, After: 4, For: []string{"rack.r.p"}},
		{Kind: parts.RailKit, Name: "rail kit of equipment.server", Before: 1, After: 2, For: []string{"rack.r.s2"}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Fatalf("Compare (-want +got):\n%s", diff)
	}
	if got[0].ToGet() != 0 || got[0].SetFree() != 2 || got[3].ToGet() != 1 || got[3].SetFree() != 0 {
		t.Errorf("to get and set free: %v", got)
	}
}

// What two racks need together is what each needs.
func TestCountsAddUp(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		kinds := []estate.Holes{estate.SquareHoles, estate.RoundHoles, estate.TappedM6, estate.Tapped10_32}
		random := func(name string) *estate.Rack {
			r := rack(rapid.SampledFrom(kinds).Draw(rt, "holes"), estate.Cabinet)
			r.Name = name
			for i := range rapid.IntRange(0, 6).Draw(rt, "mounts") {
				mounting := rapid.SampledFrom([]estate.Mounting{estate.Ears, estate.Slides, estate.Shelf}).Draw(rt, "mounting")
				add(r, fmt.Sprint("m", i), 1+5*i, thing(fmt.Sprint("q", i), rapid.IntRange(1, 5).Draw(rt, "units"), mounting))
			}
			return r
		}
		a, b := random("a"), random("b")
		both := parts.Of([]*estate.Rack{a, b}, parts.Options{})
		sum := map[string]int{}
		for _, r := range []*estate.Rack{a, b} {
			for _, p := range parts.Of([]*estate.Rack{r}, parts.Options{}).Parts {
				sum[p.Name] += p.Count
			}
		}
		for _, p := range both.Parts {
			if sum[p.Name] != p.Count {
				rt.Fatalf("%s: together %d, apart %d", p.Name, p.Count, sum[p.Name])
			}
			delete(sum, p.Name)
		}
		if len(sum) > 0 {
			rt.Fatalf("missing from the whole: %v", sum)
		}
	})
}
