package policy

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// drawNumber favours the edges at which the short form overflows.
func drawNumber(t *rapid.T, name string) Number {
	switch rapid.IntRange(0, 3).Draw(t, name+" kind") {
	case 0:
		return Billionths(rapid.SampledFrom([]int64{0, 1, -1, billion, -billion, math.MaxInt64, math.MinInt64, math.MaxInt64 - 1, math.MinInt64 + 1}).Draw(t, name))
	case 1:
		return Billionths(rapid.Int64().Draw(t, name))
	case 2:
		return Whole(rapid.Int64().Draw(t, name))
	}
	return Fraction(rapid.Int64().Draw(t, name+" over"), rapid.Int64Range(1, math.MaxInt64).Draw(t, name+" under"))
}

// TestNumbersAreFractions holds every operation against math/big.
func TestNumbersAreFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawNumber(t, "a"), drawNumber(t, "b")
		x, y := new(big.Rat).Set(a.Rat()), new(big.Rat).Set(b.Rat())
		check := func(op string, got Number, want *big.Rat) {
			t.Helper()
			if got.Rat().Cmp(want) != 0 {
				t.Fatalf("%s %s %s = %s, want %s", x.RatString(), op, y.RatString(), got.Rat().RatString(), want.RatString())
			}
			if got.r != nil {
				if short := fromRat(got.r); short.r == nil {
					t.Fatalf("%s %s %s is kept long", x.RatString(), op, y.RatString())
				}
			}
		}
		check("+", a.Add(b), new(big.Rat).Add(x, y))
		check("-", a.Sub(b), new(big.Rat).Sub(x, y))
		check("*", a.Mul(b), new(big.Rat).Mul(x, y))
		check("neg", a.Neg(), new(big.Rat).Neg(x))
		if b.Sign() != 0 {
			q := new(big.Rat).Quo(x, y)
			check("/", a.Div(b), q)
			whole := new(big.Rat).SetInt(new(big.Int).Quo(q.Num(), q.Denom()))
			check("%", a.Rem(b), new(big.Rat).Sub(x, whole.Mul(whole, y)))
		}
		if a.Cmp(b) != x.Cmp(y) || a.Sign() != x.Sign() {
			t.Fatalf("%s against %s: Cmp %d, Sign %d", x.RatString(), y.RatString(), a.Cmp(b), a.Sign())
		}
		floor := a.Floor()
		if n, ok := floor.Rat(), floor.Rat().IsInt(); !ok || n.Cmp(x) > 0 || new(big.Rat).Add(n, big.NewRat(1, 1)).Cmp(x) <= 0 {
			t.Fatalf("floor of %s is %s", x.RatString(), floor)
		}
		if decimals, ends := decimalsOf(x); ends && decimals < 100 {
			if back, ok := new(big.Rat).SetString(a.String()); !ok || back.Cmp(x) != 0 {
				t.Fatalf("%s is printed as %s", x.RatString(), a)
			}
		}
	})
}

// TestManyUnlikeFractions sums fractions whose exact sum would have thousands
// of digits: it stays bounded, and close.
func TestManyUnlikeFractions(t *testing.T) {
	sum, want := Number{}, 0.0
	for n := int64(1); n <= 2000; n++ {
		sum = sum.Add(Fraction(1, n))
		want += 1 / float64(n)
	}
	if bits := sum.Rat().Denom().BitLen(); bits > mostDenominator {
		t.Errorf("the denominator has %d bits", bits)
	}
	if math.Abs(sum.Float()-want) > 1e-9 {
		t.Errorf("the sum is %v, want %v", sum.Float(), want)
	}
}

func TestRounding(t *testing.T) {
	tests := []struct {
		in       string
		decimals int
		want     string
	}{
		{"2.5", 0, "3"}, {"-2.5", 0, "-3"}, {"2.4999999999", 0, "2"}, {"0.045", 2, "0.05"}, {"1.005", 2, "1.01"}, {"-0.004", 2, "0"},
		{"123456789012345678901234567890.5", 0, "123456789012345678901234567891"},
	}
	for _, tt := range tests {
		if got := mustNumber(tt.in).Round(tt.decimals).String(); got != tt.want {
			t.Errorf("%s to %d decimals is %s, want %s", tt.in, tt.decimals, got, tt.want)
		}
	}
}
