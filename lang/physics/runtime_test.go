package physics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"cagenut/lang/quantity"
)

const minute = quantity.Minute

var curve = []RuntimePoint{
	{Load: 500 * w, Lasts: 40 * minute},
	{Load: 1000 * w, Lasts: 10 * minute},
	{Load: 2000 * w, Lasts: 3 * minute},
}

func TestRuntime(t *testing.T) {
	tests := []struct {
		load  quantity.Power
		want  float64 // minutes
		reach Reach
		place string
	}{
		{500 * w, 40, Within, "a point of its curve"},
		{750 * w, 16, Within, "between 500 W for 40 min and 1000 W for 10 min of its curve"},
		{1000 * w, 10, Within, "a point of its curve"},
		{1500 * w, 60. / 13, Within, "between 1000 W for 10 min and 2000 W for 3 min of its curve"},
		{2000 * w, 3, Within, "a point of its curve"},
		{499 * w, 40, Lighter, "lighter than the lightest point of its curve, 500 W for 40 min"},
		{2001 * w, 3, Heavier, "heavier than the heaviest point of its curve, 2000 W for 3 min"},
	}
	for _, tt := range tests {
		got, reach := Runtime(curve, tt.load)
		near(t, tt.load.String(), got.Minutes(), tt.want, 0.0005)
		if place := CurvePlace(curve, tt.load); reach != tt.reach || place != tt.place {
			t.Errorf("%v is %d, %q, want %d, %q", tt.load, reach, place, tt.reach, tt.place)
		}
	}
	if d, reach := Runtime(nil, 500*w); d != 0 || reach != NoReach {
		t.Errorf("no curve lasts %v, %d", d, reach)
	}
	if got := (RuntimePoint{Load: 500 * w, Apparent: true, Lasts: 90 * quantity.Second}).String(); got != "500 VA for 1.5 min" {
		t.Errorf("a point is written %q", got)
	}
}

// peukert gives the runtime of a battery by Peukert's law, t = H (C / (I H))^k,
// which handbooks of batteries print with this example: 100 Ah at the rate of 20
// hours and an exponent of 1.2 give 10 A for 8.7 hours, not 10.
func peukert(amperes, capacity, hours, exponent float64) float64 {
	return hours * math.Pow(capacity/(amperes*hours), exponent)
}

// Read from a curve that a battery of Peukert's law gives, a runtime is never
// longer than the law's.
func TestRuntimeIsShortOfPeukert(t *testing.T) {
	near(t, "the example of the handbooks, in hours", peukert(10, 100, 20, 1.2), 8.7, 0.05)
	rapid.Check(t, func(t *rapid.T) {
		exponent := rapid.Float64Range(1, 1.5).Draw(t, "exponent")
		lasts := func(watts float64) quantity.Duration {
			return quantity.Of(60*peukert(watts/48, 100, 20, exponent), minute)
		}
		light := rapid.IntRange(100, 1000).Draw(t, "light")
		heavy := light + rapid.IntRange(50, 3000).Draw(t, "more")
		at := rapid.IntRange(light, heavy).Draw(t, "at")
		two := []RuntimePoint{
			{Load: quantity.Power(light) * w, Lasts: lasts(float64(light))},
			{Load: quantity.Power(heavy) * w, Lasts: lasts(float64(heavy))},
		}
		got, reach := Runtime(two, quantity.Power(at)*w)
		truth := lasts(float64(at))
		if reach != Within || got > truth+5*quantity.Millisecond {
			t.Fatalf("%d W are said to last %v, and last %v", at, got, truth)
		}
	})
}

// At an exponent of 1 a battery gives the same energy at any load.
func TestRuntimeOfSameEnergyIsExact(t *testing.T) {
	two := []RuntimePoint{{Load: 500 * w, Lasts: 48 * minute}, {Load: 2000 * w, Lasts: 12 * minute}}
	for load := 500 * w; load <= 2000*w; load += 50 * w {
		got, _ := Runtime(two, load)
		near(t, load.String(), got.Minutes(), 24_000/load.Watts(), 0.0001)
	}
}
