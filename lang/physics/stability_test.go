package physics

import (
	"fmt"
	"testing"

	"cagenut/lang/quantity"
)

// A frame of 120 kg with its centre 0.50 m back and 1.00 m up holds five
// devices of 20 kg, 0.40 m back and from 0.30 m up two units apart; feet at
// 0.05 and 0.95 m; each device comes out by 0.75 m. Worked by hand.
func testRack(extended int) []Body {
	bodies := []Body{{120 * kg, Point{300 * mm, 500 * mm, 1000 * mm}}}
	for i := range 5 {
		back := 400 * mm
		if i < extended {
			back -= 750 * mm
		}
		up := 300*mm + quantity.Of(88.9*float64(i), mm)
		bodies = append(bodies, Body{20 * kg, Point{300 * mm, back, up}})
	}
	return bodies
}

func TestTiltOfTheTestRack(t *testing.T) {
	tests := []struct {
		extended                   int
		arm, forward, holding      float64
		standsTilted, standsPushed bool
	}{
		{0, 0.4045, 27.94, 872.7, true, true},
		{1, 0.3364, 23.80, 0, true, true},
		{2, 0.2682, 19.37, 0, true, true},
		{3, 0.2000, 14.69, 431.5, true, true},
		{4, 0.1318, 9.81, 284.4, false, false},
		{5, 0.0636, 4.77, 0, false, false},
	}
	feet := Feet{Left: 50 * mm, Right: 550 * mm, Front: 50 * mm, Rear: 950 * mm}
	for _, tt := range tests {
		name := fmt.Sprintf("%d extended", tt.extended)
		total, centre := Centre(testRack(tt.extended))
		if total != 220*kg {
			t.Fatalf("the rack weighs %v", total)
		}
		near(t, name+": centre up", quantity.In(centre.Up, metre), 0.7626, 0.00006)
		near(t, name+": arm", quantity.In(centre.Back-feet.Front, metre), tt.arm, 0.00006)
		tilts := TiltsOf(centre, feet)
		near(t, name+": forward", tilts.Forward.Degrees(), tt.forward, 0.006)
		push := PushTest(total, centre.Back-feet.Front, 2000*mm, 0)
		near(t, name+": push", quantity.In(push.Tipping, quantity.NewtonMetre), 375, 0.001)
		if tt.holding > 0 {
			near(t, name+": holding", quantity.In(push.Holding, quantity.NewtonMetre), tt.holding, 0.11) // worked with the arm rounded
		}
		if got := tilts.Forward >= TestTilt; got != tt.standsTilted {
			t.Errorf("%s: stands at 10 deg = %v", name, got)
		}
		if push.Stands() != tt.standsPushed {
			t.Errorf("%s: stands the push = %v", name, push.Stands())
		}
	}
}

func TestTiltsInAllDirections(t *testing.T) {
	tilts := TiltsOf(Point{200 * mm, 500 * mm, 1000 * mm}, Feet{0, 600 * mm, 0, 1000 * mm})
	near(t, "left", tilts.Left.Degrees(), 11.31, 0.005)
	near(t, "right", tilts.Right.Degrees(), 21.80, 0.005)
	near(t, "forward", tilts.Forward.Degrees(), 26.57, 0.005)
	if tilts.Least() != tilts.Left {
		t.Errorf("least of %v is %v", tilts, tilts.Least())
	}
	// A centre before its feet has fallen already.
	if Tilt(-10*mm, 500*mm) >= 0 {
		t.Error("a centre outside its feet must have a negative angle")
	}
	if m, p := Centre(nil); m != 0 || p != (Point{}) {
		t.Errorf("Centre(nothing) = %v, %v", m, p)
	}
}

// A light rack is pushed with 13 % of its weight, a low one at its own height,
// and half the weight presses on what it overhangs by.
func TestPushIsLimited(t *testing.T) {
	push := PushTest(40*kg, 200*mm, 600*mm, 100*mm)
	// 0.13 × 392.27 N × 0.6 m + 100 N × 0.1 m
	near(t, "tipping", quantity.In(push.Tipping, quantity.NewtonMetre), 30.597+10, 0.001)
	near(t, "holding", quantity.In(push.Holding, quantity.NewtonMetre), 78.453, 0.001)
}

// Common practice: a 65 kg unit out of a cabinet of 420 kg, and of a nearly
// empty one of 95 kg, with arms of 0.50 m and 0.42 m.
func TestPullOut(t *testing.T) {
	for rest, want := range map[quantity.Mass]float64{420 * kg: 7.7, 95 * kg: 1.74} {
		got, ok := PullOut(rest, 500*mm, 65*kg, 420*mm)
		if !ok {
			t.Fatal("no factor")
		}
		near(t, "factor", got, want, 0.01)
	}
	if _, ok := PullOut(100*kg, 500*mm, 0, 400*mm); ok {
		t.Error("nothing pulled out has no factor")
	}
	if _, ok := PullOut(100*kg, 500*mm, 10*kg, -100*mm); ok {
		t.Error("what stays behind the feet has no factor")
	}
}

func TestTwoPostMoment(t *testing.T) {
	near(t, "20 kg, 600 mm", quantity.In(TwoPostMoment(20*kg, 600*mm), quantity.NewtonMetre), 58.8, 0.05)
}

func TestFloor(t *testing.T) {
	near(t, "footprint", quantity.In(FloorPressure(1000*kg, AreaOf(600*mm, 1200*mm)), quantity.Kilopascal), 13.62, 0.005)
	near(t, "with half of each aisle", quantity.In(FloorPressure(1000*kg, AreaOf(600*mm, 2250*mm)), quantity.Kilopascal), 7.26, 0.005)
	// A press release on raised floors: 4500 lb on four feet are 1125 lb each.
	perFoot := PerFoot(4500*lb, 4, 1)
	near(t, "per foot", quantity.In(perFoot, Weight(1*lb)), 1125, 0.2)
	near(t, "per foot of an uneven floor", quantity.In(PerFoot(4500*lb, 4, 1.5), Weight(1*lb)), 1687.5, 0.3)
	// A third of both racks on a shared tile, a half of one while it rolls.
	near(t, "shared tile", quantity.In(OnTile(TileStanding, 900*kg, 600*kg), Weight(1*kg)), 500, 0.03)
	near(t, "rolling", quantity.In(OnTile(TileRolling, 900*kg), Weight(1*kg)), 450, 0.03)
	// 12 kPa is printed as 250 lb/ft2.
	near(t, "12 kPa", quantity.In(12*quantity.Kilopascal, quantity.Of(47.88025898, quantity.Pascal)), 250.6, 0.05)
	if FloorPressure(1000*kg, 0) != 0 || PerFoot(1000*kg, 0, 1) != 0 {
		t.Error("without area or feet there is no figure")
	}
}

// A maker's site planning formula: 2000 lb on 7 ft2 with 14 ft2 kept clear are
// 110.24 lb/ft2.
func TestBuildingPressure(t *testing.T) {
	foot2 := quantity.Of(0.09290304, quantity.SquareMetre)
	got := BuildingPressure(2000*lb, 7*foot2, 14*foot2)
	near(t, "lb/ft2", quantity.In(got, quantity.Of(47.88025898, quantity.Pascal)), 110.24, 0.005)
	if BuildingPressure(2000*lb, 0, 0) != 0 {
		t.Error("without area there is no pressure")
	}
}

func TestOnFeet(t *testing.T) {
	feet := Feet{0, 600 * mm, 0, 1000 * mm}
	even := OnFeet(400*kg, Point{300 * mm, 500 * mm, 900 * mm}, feet)
	for i, f := range even {
		near(t, fmt.Sprintf("foot %d", i), quantity.In(f, Weight(1*kg)), 100, 0.01)
	}
	front := OnFeet(400*kg, Point{300 * mm, 250 * mm, 900 * mm}, feet)
	near(t, "front left", quantity.In(front[0], Weight(1*kg)), 150, 0.01)
	near(t, "rear right", quantity.In(front[3], Weight(1*kg)), 50, 0.01)
	if lifted := OnFeet(400*kg, Point{300 * mm, -50 * mm, 900 * mm}, feet); lifted[2] >= 0 {
		t.Errorf("rear feet of a rack that tips forward carry %v", lifted[2])
	}
}

func TestScreeningForce(t *testing.T) {
	tests := []struct {
		name               string
		in                 Anchorage
		formula, most, min float64
		governs, weight    float64
		want               float64
	}{
		// A city's permit calculation for equipment on a roof, in lb/ft2.
		{"permit", Anchorage{1, 2.5, 1, 1.027, 11.4583 / 20}, 0.9520 / 2.7, 4.4366 / 2.7, 0.8319 / 2.7, 0.9520 / 2.7, 2.7, 0.95},
		// A structural calculation page, in lb.
		{"page", Anchorage{1, 1, 1, 0.85, 0}, 85. / 250, 340. / 250, 63.75 / 250, 85. / 250, 250, 85},
		{"rack at half height", Anchorage{2.5, 6, 1.5, 1, 0.5}, 0.5, 2.4, 0.45, 0.5, 1, 0.5},
		{"rack at grade: the least governs", Anchorage{2.5, 6, 1.5, 1, 0}, 0.25, 2.4, 0.45, 0.45, 1, 0.45},
		{"the most governs", Anchorage{2.5, 1, 1, 1, 1}, 3, 1.6, 0.3, 1.6, 1, 1.6},
	}
	for _, tt := range tests {
		f := tt.in.Force()
		near(t, tt.name+": formula", f.Formula, tt.formula, 0.0001)
		near(t, tt.name+": most", f.Most, tt.most, 0.0001)
		near(t, tt.name+": least", f.Least, tt.min, 0.0001)
		near(t, tt.name+": governs", f.Governs, tt.governs, 0.0001)
		near(t, tt.name+": force", f.Governs*tt.weight, tt.want, 0.005)
		if f.Edition != "ASCE 7-16" {
			t.Errorf("edition %q", f.Edition)
		}
	}
}
