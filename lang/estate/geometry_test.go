package estate_test

import (
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func sys(t testing.TB, name string) *system.System {
	t.Helper()
	s, ok := system.ByName(name)
	if !ok {
		t.Fatalf("no system %q", name)
	}
	return s
}

func mm(f float64) quantity.Length { return quantity.Of(f, quantity.Millimetre) }

// thing gives equipment of the 19-inch system that is n thousandths of a U high.
func thing(t testing.TB, n estate.UnitNumber) *estate.Equipment {
	return &estate.Equipment{
		Name: "thing", System: sys(t, "19in"),
		Height: estate.Height{Count: n, Word: "U", Length: quantity.Length(n) * quantity.RackUnit / 1000, State: estate.IsGiven},
	}
}

func TestExtentCountsBothWays(t *testing.T) {
	up := &estate.Frame{Name: "up", System: sys(t, "19in"), Units: 24, First: 1, Counted: estate.CountedUp}
	down := &estate.Frame{Name: "down", System: sys(t, "19in"), Units: 24, First: 1, Counted: estate.CountedDown}
	from50 := &estate.Frame{Name: "from50", System: sys(t, "19in"), Units: 10, First: 50, Counted: estate.CountedUp}
	metric := &estate.Frame{Name: "metric", System: sys(t, "25mm"), Clear: 2010 * quantity.Millimetre, First: 1, Counted: estate.CountedDown}
	tests := []struct {
		name        string
		frame       *estate.Frame
		at, height  estate.UnitNumber
		bottom, top float64 // mm above the lowest unit's lower edge
		label       string
	}{
		{"lowest", up, 1000, 1000, 0, 44.45, "U1"},
		{"highest", up, 23000, 2000, 977.9, 1066.8, "U23-24"},
		{"half up", up, 2500, 1500, 66.675, 133.35, "1.5U from U2.5"},
		{"one and a half", up, 2000, 1500, 44.45, 111.125, "1.5U from U2"},
		// The ship's frame: T3-T5 of 24 are U20-U22 counted from below.
		{"ship", down, 3000, 3000, 19 * 44.45, 22 * 44.45, "U3-5"},
		{"down half", down, 1000, 1500, 1000.125, 1066.8, "1.5U from U1"},
		{"first is 50", from50, 50000, 1000, 0, 44.45, "U50"},
		// 2010 mm are 80 units of 25 mm and 10 mm over, left below.
		{"panel in 25 mm", metric, 1000, 9000, 2010 - 400, 2010, "SU1-16"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := &estate.Mount{Name: "m", Rack: &estate.Rack{Name: "r", Frame: tt.frame}, Equipment: thing(t, tt.height), At: tt.at}
			got, ok := m.Extent()
			want := estate.Extent{Bottom: mm(tt.bottom), Top: mm(tt.top)}
			if !ok || got != want {
				t.Errorf("Extent() = %v, %v, want %v", got, ok, want)
			}
			if label := m.Label(); label != tt.label {
				t.Errorf("Label() = %q, want %q", label, tt.label)
			}
			if n := tt.frame.NumberAt(got); n != tt.at {
				t.Errorf("NumberAt(%v) = %v, want %v", got, n, tt.at)
			}
		})
	}
}

// Counting from the other end is the conversion t..t+h-1 to H+1-(t+h-1)..H+1-t.
func TestCountingDownMirrorsCountingUp(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		high := rapid.IntRange(1, 60).Draw(rt, "H")
		h := rapid.IntRange(1, high).Draw(rt, "h")
		at := rapid.IntRange(1, high-h+1).Draw(rt, "t")
		up := &estate.Frame{System: sys(t, "19in"), Units: high, First: 1, Counted: estate.CountedUp}
		down := &estate.Frame{System: sys(t, "19in"), Units: high, First: 1, Counted: estate.CountedDown}
		a := down.Extent(estate.UnitRange{From: estate.Units(at), To: estate.Units(at + h - 1)})
		b := up.Extent(estate.UnitRange{From: estate.Units(high + 1 - (at + h - 1)), To: estate.Units(high + 1 - at)})
		if a != b {
			rt.Fatalf("counted down %v, counted up %v", a, b)
		}
		if got := down.UnitsOf(a); got != (estate.UnitRange{From: estate.Units(at), To: estate.Units(at + h - 1)}) {
			rt.Fatalf("UnitsOf(%v) = %v", a, got)
		}
	})
}

func TestConflictsAndFacings(t *testing.T) {
	f := &estate.Frame{Name: "f", System: sys(t, "19in"), Units: 10, First: 1, Counted: estate.CountedUp}
	r := &estate.Rack{Name: "r", Frame: f}
	add := func(name string, at, height estate.UnitNumber, face estate.Face, slot estate.Slot) {
		r.Mounts = append(r.Mounts, &estate.Mount{Name: name, Rack: r, Equipment: thing(t, height), At: at, Face: face, Slot: slot})
	}
	add("b", 4000, 2000, estate.FrontFace, estate.Slot{})
	add("a", 3000, 2000, estate.NoFace, estate.Slot{}) // no face is the front
	add("c", 6000, 1000, estate.FrontFace, estate.Slot{})
	add("left", 8000, 1000, estate.FrontFace, estate.Slot{Part: 1, Of: 2})
	add("right", 8000, 1000, estate.FrontFace, estate.Slot{Part: 2, Of: 2})
	add("rear", 5000, 2000, estate.RearFace, estate.Slot{})

	var conflicts []string
	for _, c := range r.Conflicts() {
		conflicts = append(conflicts, c.Earlier.Name+" "+c.Later.Name+" "+f.Label(c.Shared))
	}
	if diff := cmp.Diff([]string{"b a U4"}, conflicts); diff != "" {
		t.Errorf("Conflicts (-want +got):\n%s", diff)
	}
	var facings []string
	for _, c := range r.Facings() {
		facings = append(facings, c.Front.Name+" "+c.Rear.Name+" "+f.Label(c.Shared))
	}
	if diff := cmp.Diff([]string{"b rear U5", "c rear U6"}, facings); diff != "" {
		t.Errorf("Facings (-want +got):\n%s", diff)
	}

	f.Unusable = []estate.UnitRange{{From: estate.Units(10), To: estate.Units(10)}}
	var free []string
	for _, face := range []estate.Face{estate.FrontFace, estate.RearFace, estate.NoFace} {
		for _, e := range r.Free(face) {
			free = append(free, face.String()+" "+f.Label(e))
		}
	}
	want := []string{"front U1-2", "front U7", "front U9", "rear U1-4", "rear U7-9", " U1-2", " U7", " U9"}
	if diff := cmp.Diff(want, free); diff != "" {
		t.Errorf("Free (-want +got):\n%s", diff)
	}
}

func TestDepthsFromBothPosts(t *testing.T) {
	f := &estate.Frame{Name: "f", System: sys(t, "19in"), Units: 10, First: 1, PostSpan: estate.Is(mm(740))}
	r := &estate.Rack{Name: "r", Frame: f}
	q := thing(t, 1000)
	q.Depth, q.Cords, q.Front = estate.Is(mm(460)), estate.Is(mm(60)), estate.Is(mm(40))
	run := func(a, b float64) estate.Run { return estate.Run{From: mm(a), To: mm(b)} }

	front := &estate.Mount{Rack: r, Equipment: q, Face: estate.FrontFace}
	rear := &estate.Mount{Rack: r, Equipment: q, Face: estate.RearFace}
	centred := *q
	centred.Mounting = estate.Centre
	centre := &estate.Mount{Rack: r, Equipment: &centred}
	for _, tt := range []struct {
		name string
		m    *estate.Mount
		want estate.Depths
	}{
		{"front", front, estate.Depths{Body: run(0, 460), Whole: run(-40, 520)}},
		{"rear", rear, estate.Depths{Body: run(280, 740), Whole: run(220, 780)}},
		{"centre", centre, estate.Depths{Body: run(-230, 230), Whole: run(-270, 290)}},
	} {
		if got, missing := tt.m.Depths(); got != tt.want || missing != "" {
			t.Errorf("%s: Depths() = %v, %q, want %v", tt.name, got, missing, tt.want)
		}
	}
	f.PostSpan = estate.Figure[quantity.Length]{State: estate.IsUnknown}
	if _, missing := rear.Depths(); missing != "the post span of frame.f is unknown" {
		t.Errorf("rear without a span: %q", missing)
	}
}
