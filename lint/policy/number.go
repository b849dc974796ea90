package policy

import (
	"math"
	"math/big"
	"math/bits"
	"strings"
)

// A Number is an exact fraction. It is a whole number of billionths as long as
// that fits 64 bits, which every figure of a rack does, and a big.Rat beyond.
// The zero value is 0.
type Number struct {
	n int64    // billionths
	r *big.Rat // the value where it is no whole number of billionths, else nil
}

const billion = 1_000_000_000

var billionRat = big.NewRat(billion, 1)

// Whole gives the number n.
func Whole(n int64) Number { return scaled(n, billion) }

// Billionths gives the number n/10^9.
func Billionths(n int64) Number { return Number{n: n} }

// scaled gives n*by/10^9.
func scaled(n, by int64) Number {
	if p := n * by; n == 0 || (p/n == by && !(n == -1 && by == math.MinInt64)) {
		return Number{n: p}
	}
	r := new(big.Rat).SetInt64(n)
	return fromRat(r.Mul(r, big.NewRat(by, billion)))
}

// Fraction gives a/b; b is not zero.
func Fraction(a, b int64) Number { return fromRat(big.NewRat(a, b)) }

// mostDenominator bounds how fine a fraction is kept, in bits: the precision
// of HCL's own numbers, with room to spare. Without it the sum of a thousand
// unlike fractions would grow without end.
const mostDenominator = 640

func fromRat(r *big.Rat) Number {
	if r.Denom().BitLen() > mostDenominator {
		fine := new(big.Int).Lsh(big.NewInt(1), mostDenominator-1)
		num := new(big.Int).Mul(r.Num(), fine)
		num.Quo(num, r.Denom())
		r = new(big.Rat).SetFrac(num, fine)
	}
	if r.Denom().BitLen() <= 30 {
		s := new(big.Rat).Mul(r, billionRat)
		if s.IsInt() && s.Num().IsInt64() {
			return Number{n: s.Num().Int64()}
		}
	}
	return Number{r: r}
}

// Rat gives the number as a fraction that the caller may keep but not change.
func (a Number) Rat() *big.Rat {
	if a.r != nil {
		return a.r
	}
	return big.NewRat(a.n, billion)
}

// Float gives the nearest float.
func (a Number) Float() float64 {
	if a.r != nil {
		f, _ := a.r.Float64()
		return f
	}
	return float64(a.n) / billion
}

// Int gives the number if it is whole and fits.
func (a Number) Int() (int64, bool) {
	if a.r != nil {
		if a.r.IsInt() && a.r.Num().IsInt64() {
			return a.r.Num().Int64(), true
		}
		return 0, false
	}
	return a.n / billion, a.n%billion == 0
}

// Sign gives -1, 0 or 1.
func (a Number) Sign() int {
	if a.r != nil {
		return a.r.Sign()
	}
	switch {
	case a.n < 0:
		return -1
	case a.n > 0:
		return 1
	}
	return 0
}

// Cmp compares as a fraction does: -1, 0 or 1.
func (a Number) Cmp(b Number) int {
	if a.r == nil && b.r == nil {
		switch {
		case a.n < b.n:
			return -1
		case a.n > b.n:
			return 1
		}
		return 0
	}
	return a.Rat().Cmp(b.Rat())
}

// Add gives a+b.
func (a Number) Add(b Number) Number {
	if a.r == nil && b.r == nil {
		if s := a.n + b.n; (a.n^s)&(b.n^s) >= 0 {
			return Number{n: s}
		}
	}
	return fromRat(new(big.Rat).Add(a.Rat(), b.Rat()))
}

// Neg gives -a.
func (a Number) Neg() Number {
	if a.r == nil && a.n != math.MinInt64 {
		return Number{n: -a.n}
	}
	return fromRat(new(big.Rat).Neg(a.Rat()))
}

// Sub gives a-b.
func (a Number) Sub(b Number) Number { return a.Add(b.Neg()) }

// Mul gives a*b.
func (a Number) Mul(b Number) Number {
	if a.r == nil && b.r == nil {
		hi, lo := bits.Mul64(magnitude(a.n), magnitude(b.n))
		if hi < billion {
			if q, rem := bits.Div64(hi, lo, billion); rem == 0 && q <= math.MaxInt64 {
				return signed(q, (a.n < 0) != (b.n < 0))
			}
		}
	}
	return fromRat(new(big.Rat).Mul(a.Rat(), b.Rat()))
}

// Div gives a/b; b is not zero.
func (a Number) Div(b Number) Number {
	if a.r == nil && b.r == nil {
		hi, lo := bits.Mul64(magnitude(a.n), billion)
		if by := magnitude(b.n); hi < by {
			if q, rem := bits.Div64(hi, lo, by); rem == 0 && q <= math.MaxInt64 {
				return signed(q, (a.n < 0) != (b.n < 0))
			}
		}
	}
	return fromRat(new(big.Rat).Quo(a.Rat(), b.Rat()))
}

// Rem gives a - b*trunc(a/b), as HCL's % does; b is not zero.
func (a Number) Rem(b Number) Number {
	if a.r == nil && b.r == nil && b.n != -1 {
		return Number{n: a.n % b.n}
	}
	q := new(big.Rat).Quo(a.Rat(), b.Rat())
	whole := new(big.Rat).SetInt(new(big.Int).Quo(q.Num(), q.Denom()))
	return fromRat(whole.Sub(a.Rat(), whole.Mul(whole, b.Rat())))
}

// Floor gives the greatest whole number that is not above a.
func (a Number) Floor() Number {
	r := a.Rat()
	q := new(big.Int)
	q.DivMod(r.Num(), r.Denom(), new(big.Int)) // Euclidean: downward, as the denominator is positive
	return fromRat(new(big.Rat).SetInt(q))
}

// Round gives a rounded to that many decimals, half away from zero.
func (a Number) Round(decimals int) Number {
	scale := fromRat(new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals)), nil)))
	half := Number{n: billion / 2}
	if a.Sign() < 0 {
		return a.Neg().Mul(scale).Add(half).Floor().Div(scale).Neg()
	}
	return a.Mul(scale).Add(half).Floor().Div(scale)
}

func magnitude(n int64) uint64 {
	if n < 0 {
		return uint64(-(n + 1)) + 1
	}
	return uint64(n)
}

func signed(q uint64, negative bool) Number {
	if negative {
		return Number{n: -int64(q)}
	}
	return Number{n: int64(q)}
}

// endlessDecimals is how many decimals of a fraction without end are printed.
const endlessDecimals = 6

// String prints the number in full, without an exponent. A fraction that no
// decimal can express, such as 1/3, is printed to six decimals.
func (a Number) String() string {
	r := a.Rat()
	decimals, ends := decimalsOf(r)
	if !ends {
		decimals = endlessDecimals
	}
	s := r.FloatString(decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// decimalsOf gives how many decimals r has, or false where they do not end.
func decimalsOf(r *big.Rat) (int, bool) {
	d := new(big.Int).Set(r.Denom())
	twos := int(d.TrailingZeroBits())
	d.Rsh(d, uint(twos))
	five, rem, q := big.NewInt(5), new(big.Int), new(big.Int)
	fives := 0
	for d.Cmp(five) >= 0 {
		q.QuoRem(d, five, rem)
		if rem.Sign() != 0 {
			return 0, false
		}
		d, q = q, d
		fives++
	}
	return max(twos, fives), d.IsInt64() && d.Int64() == 1
}
