package estate

import (
	"testing"

	"pgregory.net/rapid"

	"cagenut/lang/quantity"
)

const mm = quantity.Millimetre

// cordRack is a rack of 42U with a strip beside its rear posts and a thing of 1U
// and 700 mm at a unit.
func cordRack(unit int) (strip, m *Mount) {
	rack := &Rack{Name: "r", Frame: &Frame{Name: "f", Units: 42, First: 1, Counted: CountedUp, PostSpan: Is(740 * mm)}}
	strip = &Mount{Name: "s", Rack: rack, ZeroU: &ZeroUPlace{Side: LeftSide, Plane: RearFace, From: Is(0 * mm), Length: Is(1750 * mm)},
		Equipment: &Equipment{Name: "strip", Outlets: []OutletSet{{Count: 10, From: Is(100 * mm), Pitch: Is(50 * mm)}, {Count: 4, From: Is(1000 * mm), Pitch: Is(60 * mm)}, {Count: 2}}}}
	m = &Mount{Name: "m", Rack: rack, At: Units(unit), Equipment: &Equipment{Name: "q", Height: Height{Length: quantity.RackUnit, State: IsGiven}, Depth: Is(700 * mm)}}
	rack.Mounts = []*Mount{strip, m}
	return strip, m
}

// The estimate is that of common practice: the height, twice the way to the
// side (once where the strip is there already), the depth where it is another
// one, and a loop at each end.
func TestCordWay(t *testing.T) {
	none := CordHabit{}
	tests := []struct {
		name     string
		unit     int
		cord     Cord
		inverted bool
		habit    CordHabit
		want     CordWay
		why      string
	}{
		{name: "straight up", unit: 21, cord: Cord{To: "s", Outlet: 1}, habit: none, want: CordWay{Apart: 789 * mm, From: 852 * mm, To: 852 * mm, Rise: 812 * mm, Run: 40 * mm}},
		{name: "as usual", unit: 21, cord: Cord{To: "s", Outlet: 1}, habit: UsualCordHabit,
			want: CordWay{Apart: 789 * mm, From: 1302 * mm, To: 1302 * mm, Rise: 812 * mm, Run: 40 * mm, Side: 250 * mm, Loops: 200 * mm}},
		{name: "the second set of outlets", unit: 21, cord: Cord{To: "s", Outlet: 12}, habit: none, want: CordWay{Apart: 126 * mm, From: 189 * mm, To: 189 * mm, Rise: 149 * mm, Run: 40 * mm}},
		{name: "the other way up", unit: 21, cord: Cord{To: "s", Outlet: 1}, inverted: true, habit: none, want: CordWay{Apart: 716 * mm, From: 779 * mm, To: 779 * mm, Rise: 739 * mm, Run: 40 * mm}},
		{name: "a set that does not say where it is", unit: 21, cord: Cord{To: "s", Outlet: 15}, habit: none,
			want: CordWay{From: 40 * mm, To: 952 * mm, Run: 40 * mm, Vague: "where outlet 15 is along s"}},
		{name: "no outlet", unit: 1, cord: Cord{To: "s"}, habit: none,
			want: CordWay{From: 40 * mm, To: 1768 * mm, Run: 40 * mm, Vague: "which outlet of s it goes to"}},
		{name: "measured", unit: 21, cord: Cord{To: "s", Outlet: 1, Needed: Is(900 * mm)}, habit: UsualCordHabit, want: CordWay{Apart: 789 * mm, From: 900 * mm, To: 900 * mm, Measured: true}},
		{name: "no such strip", unit: 21, cord: Cord{To: "z", Outlet: 1}, why: "there is no strip z in its rack"},
		{name: "another rack", unit: 21, cord: Cord{To: "rack.q.s", Outlet: 1}, why: "the way to rack.q.s in another rack is not reckoned; measure it and write needed"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			strip, m := cordRack(tt.unit)
			strip.Inverted = tt.inverted
			var to *Mount
			if tt.cord.To == "s" {
				to = strip
			}
			got, why := m.CordWay(&tt.cord, to, tt.habit)
			if got != tt.want || why != tt.why {
				t.Errorf("CordWay(%+v) = %+v, %q, want %+v, %q", tt.cord, got, why, tt.want, tt.why)
			}
		})
	}
}

// A cord never needs less than its ends are apart; more loop needs more; and a
// cord that is as long as the most that it may need is never short, one that is
// shorter than its ends are apart always is.
func TestCordWayNeverLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strip, m := cordRack(rapid.IntRange(1, 42).Draw(t, "unit"))
		strip.Inverted = rapid.Bool().Draw(t, "inverted")
		strip.ZeroU.From = Is(quantity.Length(rapid.IntRange(-100, 600).Draw(t, "from")) * mm)
		cord := Cord{To: "s", Outlet: rapid.IntRange(0, 16).Draw(t, "outlet")}
		habit := CordHabit{Side: quantity.Length(rapid.IntRange(0, 400).Draw(t, "side")) * mm, Loop: quantity.Length(rapid.IntRange(0, 300).Draw(t, "loop")) * mm}
		way, why := m.CordWay(&cord, strip, habit)
		if why != "" || way.From < way.Apart || way.To < way.From || (way.From < way.To) != (way.Vague != "") {
			t.Fatalf("%+v, %q", way, why)
		}
		habit.Loop += 10 * mm
		if more, _ := m.CordWay(&cord, strip, habit); more.From != way.From+20*mm {
			t.Fatalf("10 mm more of loop at each end: %s, was %s", more.From, way.From)
		}
		print := quantity.Length.String
		cord.Length = Is(way.To)
		if says, _, vague := way.Short(&cord, print); says != "" || vague != "" {
			t.Fatalf("a cord of %s: %s%s", way.To, says, vague)
		}
		cord.Length = Is(way.Apart - mm)
		if says, sure, _ := way.Short(&cord, print); says == "" || !sure {
			t.Fatalf("a cord of %s: %q, sure %v", cord.Length.Value, says, sure)
		}
	})
}

func TestStockedCord(t *testing.T) {
	for _, tt := range []struct{ least, want quantity.Length }{
		{1, 500 * mm}, {500 * mm, 500 * mm}, {500*mm + 1, 1000 * mm}, {1202 * mm, 1500 * mm}, {3000 * mm, 3000 * mm}, {3001 * mm, 0},
	} {
		if got, ok := StockedCord(tt.least); got != tt.want || ok != (tt.want > 0) {
			t.Errorf("StockedCord(%s) = %s, %v, want %s", tt.least, got, ok, tt.want)
		}
	}
}

// The outlets of a UPS are behind it, those of a strip at the posts.
func TestOutletsBehindAUPS(t *testing.T) {
	_, m := cordRack(21)
	other := &Mount{Name: "u", Rack: m.Rack, At: Units(1), Equipment: &Equipment{Name: "u", Kind: "ups", Height: Height{Length: 2 * quantity.RackUnit, State: IsGiven}, Depth: Is(600 * mm), Outlets: []OutletSet{{Count: 4}}}}
	way, why := m.CordWay(&Cord{To: "u", Outlet: 2}, other, CordHabit{Side: 150 * mm})
	if want := (CordWay{Apart: 800 * mm, From: 1267 * mm, To: 1267 * mm, Rise: 867 * mm, Run: 100 * mm, Side: 300 * mm}); way != want || why != "" {
		t.Errorf("to a UPS: %+v, %q, want %+v", way, why, want)
	}
	other.Equipment.Kind = "strip"
	if way, _ := m.CordWay(&Cord{To: "u", Outlet: 2}, other, CordHabit{}); way.Run != 700*mm {
		t.Errorf("to a strip at the front posts: %s in depth", way.Run)
	}
}
