package physics

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"

	"cagenut/lang/quantity"
)

// A textbook sum of alternating loads (circuit theory, as worked in any handbook
// of electrical installation): 1000 W at unity and 1000 VA at 0.6 lagging are
// 1600 W and 800 var, 1789 VA, where the volt-amperes as they stand make 2000.
func TestVectorAddsAsTriangles(t *testing.T) {
	v := Factored(1000*w, 1).Plus(Factored(600*w, 0.6))
	near(t, "active", v.Active.Watts(), 1600, 0.001)
	near(t, "nonactive", v.Nonactive/float64(w), 800, 0.001)
	near(t, "apparent", v.Apparent().Watts(), 1788.854, 0.001)
	near(t, "what is taken away again", v.Minus(Factored(600*w, 0.6)).Apparent().Watts(), 1000, 0.001)
	v.Loose = 500 * w
	near(t, "with volt-amperes of no known factor", v.Apparent().Watts(), 2288.854, 0.001)
	near(t, "the most that is active", v.Most().Watts(), 2100, 0.001)
	near(t, "current", CurrentVector(v, 230*quantity.Volt).Apparent().Amperes(), 2288.854/230, 0.001)
	near(t, "current of three phases", CurrentVectorThreePhase(v, -400*quantity.Volt).Apparent().Amperes(), 2288.854/400/math.Sqrt(3), 0.001)
	if i := CurrentVector(v, 0); i.Apparent() != 0 {
		t.Errorf("at no voltage %v flows", i)
	}
}

// The sum is never less than that of the currents as they lead, lag or are
// distorted in truth, and never more than the volt-amperes as they stand.
func TestVectorBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var sum Vector[quantity.Power]
		var truth complex128
		distortion, arithmetic := 0.0, 0.0
		for range rapid.IntRange(1, 8).Draw(t, "loads") {
			p := quantity.Power(rapid.IntRange(1, 3000).Draw(t, "watts")) * w
			factor := rapid.Float64Range(0.3, 1).Draw(t, "factor")
			one := Factored(p, factor)
			sum = sum.Plus(one)
			arithmetic += p.Watts() / factor
			// What is not active is split between displacement, either way, and
			// harmonics, which add up at most.
			part := rapid.Float64Range(-1, 1).Draw(t, "displaced")
			truth += complex(p.Watts(), part*one.Nonactive/float64(w))
			distortion += math.Sqrt(1-part*part) * one.Nonactive / float64(w)
		}
		got := sum.Apparent().Watts()
		if least := math.Hypot(cmplx.Abs(truth), distortion); got < least-0.01 && got < least*(1-1e-9) {
			t.Fatalf("%g VA are reckoned, and %g VA may flow", got, least)
		}
		if got > arithmetic+0.01 {
			t.Fatalf("%g VA are reckoned, more than the %g VA as they stand", got, arithmetic)
		}
	})
}

// Lines of unlike power factor, worked outside this program as I = (S/V)* with
// complex numbers: 2200 W between lines of 400 V, the second bank lagging at 0.9;
// the first lagging; both; and a star of 2300 W each at 1, 0.9 and 0.8.
func TestLinesOfUnlikePowerFactor(t *testing.T) {
	bank := func(watts quantity.Power, factor float64, volts float64) Vector[quantity.Current] {
		return CurrentVector(Factored(watts, factor), quantity.Of(volts, quantity.Volt))
	}
	type banks = [3]Vector[quantity.Current]
	phase := 400 / math.Sqrt(3)
	tests := []struct {
		name        string
		star, delta banks
		want        [3]float64
		neutral     float64
	}{
		{name: "second lags", delta: banks{bank(2200*w, 1, 400), bank(2200*w, 0.9, 400)}, want: [3]float64{5.5, 11.1005, 6.1111}},
		{name: "first lags", delta: banks{bank(2200*w, 0.9, 400), bank(2200*w, 1, 400)}, want: [3]float64{6.1111, 8.5129, 5.5}},
		{name: "both lag", delta: banks{bank(2200*w, 0.9, 400), bank(2200*w, 0.9, 400)}, want: [3]float64{6.1111, 10.5848, 6.1111}},
		{name: "three banks", delta: banks{bank(2200*w, 1, 400), bank(2200*w, 0.7, 400), bank(2200*w, 1, 400)}, want: [3]float64{9.5263, 13.2547, 8.2935}},
		{name: "star", star: banks{bank(2300*w, 1, phase), bank(2300*w, 0.9, phase), bank(2300*w, 0.8, phase)}, want: [3]float64{9.9593, 11.0659, 12.4491}, neutral: 6.5597},
	}
	for _, tt := range tests {
		lines, neutral := Lines(tt.star, tt.delta)
		for i, want := range tt.want {
			near(t, tt.name, lines[i].Amperes(), want, 0.0005)
		}
		near(t, tt.name+", neutral", neutral.Amperes(), tt.neutral, 0.0005)
	}
}
