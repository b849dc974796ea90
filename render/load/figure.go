package load

import (
	"cagenut/lang/quantity"
)

// printed is a quantity that prints itself.
type printed interface {
	quantity.Quantity
	String() string
}

// known makes a figure of a quantity in a unit.
func known[Q printed](name string, q, unit Q, sign, from string) Figure {
	n := rounded(quantity.In(q, unit))
	return Figure{Name: name, Value: q.String(), Number: &n, Unit: sign, From: from}
}

// plain makes a figure of a number with so many decimals.
func plain(name string, n float64, decimals int, sign, from string) Figure {
	f := Figure{Name: name, Value: quantity.Number(n, decimals), Unit: sign, From: from}
	if sign != "" {
		f.Value += " " + sign
	}
	n = rounded(n)
	f.Number = &n
	return f
}

// length makes a figure of a length, to the millimetre.
func length(name string, l quantity.Length, from string) Figure {
	f := plain(name, l.Millimetres(), 0, "mm", from)
	n := rounded(l.Millimetres())
	f.Number = &n
	return f
}

// mm writes a length to the millimetre.
func mm(l quantity.Length) string { return quantity.Number(l.Millimetres(), 0) + " mm" }

// unknown makes a figure that could not be reckoned.
func unknown(name, why string) Figure { return Figure{Name: name, Unknown: why} }

// within adds the limit that the figure should not pass.
func within[Q printed](f Figure, limit, unit Q) Figure {
	n := rounded(quantity.In(limit, unit))
	f.Limit, f.Most = limit.String(), &n
	return f
}

// atLeast adds the limit that the figure should reach.
func atLeast(f Figure, limit float64, text string) Figure {
	f.Limit, f.Most, f.AtLeast = text, &limit, true
	return f
}

// without adds what a figure leaves out.
func without(f Figure, why string) Figure {
	f.Unknown = why
	return f
}

// short adds what a sum lacks. Without it the sum is a lower bound, and with
// nothing in it no figure at all.
func short(f Figure, why string) Figure {
	f.Unknown = why
	switch {
	case why == "" || f.Value == "":
	case f.Number == nil || *f.Number == 0:
		f.Value, f.Number = "", nil
	default:
		f.Value = "at least " + f.Value
	}
	return f
}

// rounded keeps a number to six decimals, so that machines read no noise.
func rounded(n float64) float64 {
	return float64(quantity.Of(n, quantity.Length(1_000_000))) / 1_000_000
}
