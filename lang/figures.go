package lang

import (
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// readQuantity reads a quantity with its unit.
func readQuantity[Q quantity.Quantity](r *reader, x hclsyntax.Expression) (Q, bool) {
	if n, ok := numberOf(x); ok {
		r.bad(x, "%v", quantity.Bare[Q](clip(written(n))))
		return 0, false
	}
	s, ok := textOf(x)
	if !ok {
		r.bad(x, "takes a %s in quotes, not %s%s", kindOf[Q](), describe(x), r.example())
		return 0, false
	}
	q, err := quantity.Parse[Q](s)
	if err != nil {
		r.bad(x, "%v", err)
		return 0, false
	}
	if q < 0 && !mayBeNegative(q) && (r.attr == nil || !r.attr.below) {
		r.bad(x, "%q is less than nothing; a %s has no sign here", clip(s), kindOf[Q]())
		return 0, false
	}
	if t, ok := any(q).(quantity.Temperature); ok && t < absoluteZero {
		r.bad(x, "%q is colder than anything can be", clip(s))
		return 0, false
	}
	return q, true
}

// absoluteZero is the lowest temperature, by the definition of the Celsius
// scale.
const absoluteZero = -273_150 * quantity.Celsius / 1000

// mayBeNegative reports whether a quantity of that kind has a sign everywhere:
// -48 V, -10 C.
func mayBeNegative[Q quantity.Quantity](q Q) bool {
	switch any(q).(type) {
	case quantity.Voltage, quantity.Temperature, quantity.Angle:
		return true
	}
	return false
}

// readFigure reads a quantity that may be unknown or carry its basis.
func readFigure[Q quantity.Quantity](r *reader, x hclsyntax.Expression) (estate.Figure[Q], bool) {
	return readFigureAs(r, x, readQuantity[Q])
}

// readFigureAs reads a value that may be unknown or carry its basis.
func readFigureAs[V any](r *reader, x hclsyntax.Expression, read func(*reader, hclsyntax.Expression) (V, bool)) (estate.Figure[V], bool) {
	f := estate.Figure[V]{At: span(x.Range())}
	if isUnknown(x) {
		f.State = estate.IsUnknown
		return f, true
	}
	o, ok := x.(*hclsyntax.ObjectConsExpr)
	if !ok {
		v, ok := read(r, x)
		f.Value, f.State = v, estate.IsGiven
		return f, ok
	}
	ok = r.object(o, figureKeys, func(key string, x hclsyntax.Expression) bool {
		switch key {
		case "is":
			f.At = span(x.Range())
			if isUnknown(x) {
				f.State = estate.IsUnknown
				return true
			}
			v, ok := read(r, x)
			f.Value, f.State = v, estate.IsGiven
			return ok
		case "basis":
			b, ok := r.basis(x)
			f.Basis = b
			return ok
		}
		d, ok := r.date(x)
		f.On = d
		return ok
	})
	if ok && f.State == estate.IsMissing {
		r.bad(x, "the value itself is missing; write { is = ..., basis = \"measured\" }")
		return f, false
	}
	return f, ok
}

// figureKeys are the parts of a figure with a basis.
var figureKeys = []string{"is", "basis", "on"}

// bases lists the bases as the language writes them.
var bases = []string{
	estate.Measured.String(), estate.DataSheet.String(), estate.Drawing.String(), estate.Estimated.String(),
}

func (r *reader) basis(x hclsyntax.Expression) (estate.Basis, bool) {
	i, ok := r.word(x, bases)
	if !ok {
		return estate.Unstated, false
	}
	b, err := estate.ParseBasis(bases[i])
	return b, err == nil
}

// object calls do for each part of { ... } whose key is known, and reports the
// others and those that stand twice.
func (r *reader) object(o *hclsyntax.ObjectConsExpr, keys []string, do func(key string, x hclsyntax.Expression) bool) bool {
	good := true
	seen := make([]string, 0, 4)
	for _, item := range o.Items {
		key := keyOf(item.KeyExpr)
		switch {
		case !contains(keys, key):
			n := perhaps(key, keys)
			r.report(item.KeyExpr.Range(), "", "%s: %q does not belong here; its parts are %s%s", r.attrName, clip(key), choice(keys), n)
			good = false
		case contains(seen, key):
			r.report(item.KeyExpr.Range(), "", "%s: %s stands here twice; keep one", r.attrName, key)
			good = false
		default:
			seen = append(seen, key)
			good = do(key, item.ValueExpr) && good
		}
	}
	return good
}

// keyOf gives the key of a part of an object, or "" where it must be computed.
func keyOf(x hclsyntax.Expression) string {
	if k, ok := x.(*hclsyntax.ObjectConsKeyExpr); ok {
		if w := hcl.ExprAsKeyword(k.Wrapped); w != "" {
			return w
		}
		x = k.Wrapped
	}
	s, _ := textOf(x)
	return s
}

func contains(all []string, s string) bool {
	for _, a := range all {
		if a == s {
			return true
		}
	}
	return false
}

// readHeight reads "2U", "1.5U", "3 OU", "4 SU", a length, or unknown.
func readHeight(r *reader, x hclsyntax.Expression) (estate.Height, bool) {
	h := estate.Height{At: span(x.Range())}
	if isUnknown(x) {
		h.State = estate.IsUnknown
		return h, true
	}
	if n, ok := numberOf(x); ok {
		t := clip(written(n))
		r.bad(x, "%s needs a unit; write \"%sU\" or \"%s mm\"", t, t, t)
		return h, false
	}
	s, ok := textOf(x)
	if !ok {
		r.bad(x, "takes a height such as \"2U\", \"3 OU\" or \"87 mm\", not %s", describe(x))
		return h, false
	}
	h.State = estate.IsGiven
	for _, m := range modules {
		number, ok := strings.CutSuffix(s, m.word)
		if !ok {
			continue
		}
		n, ok := unitNumber(strings.TrimSpace(number))
		if !ok || n <= 0 {
			r.bad(x, "%q is no height; write \"2%s\" or a length such as \"87 mm\"", clip(s), m.word)
			return h, false
		}
		h.Count, h.Word = n, m.word
		h.Length = quantity.Length(n) * m.pitch / quantity.Length(estate.OneUnit)
		return h, true
	}
	l, err := quantity.ParseLength(s)
	if err != nil || l <= 0 {
		r.bad(x, "%q is no height; write units as in \"2U\", \"3 OU\" or \"4 SU\", or a length such as \"87 mm\"", clip(s))
		return h, false
	}
	h.Length = l
	return h, true
}

// modules are the words for a module of height, longest first.
var modules = []struct {
	word  string
	pitch quantity.Length
}{
	{"OU", quantity.OpenUnit},
	{"SU", quantity.SystemUnit},
	{"U", quantity.RackUnit},
}

// unitNumber reads "40" or "40.5": up to four digits and three decimals.
func unitNumber(s string) (estate.UnitNumber, bool) {
	whole, part, point := strings.Cut(s, ".")
	n, ok := digits(whole, 4)
	if !ok {
		return 0, false
	}
	u := estate.Units(n)
	if !point {
		return u, true
	}
	p, ok := digits(part, 3)
	if !ok {
		return 0, false
	}
	for range 3 - len(part) {
		p *= 10
	}
	return u + estate.UnitNumber(p), true
}

// unitOf reads a unit number that is written as a number or as a text.
func (r *reader) unitOf(x hclsyntax.Expression) (estate.UnitNumber, bool) {
	if !r.evaluated && r.src != nil {
		if l, ok := x.(*hclsyntax.LiteralValueExpr); ok {
			g := l.SrcRange
			if u, ok := unitNumberBytes(r.src[g.Start.Byte:g.End.Byte]); ok {
				return u, true
			}
		}
	}
	if f, ok := numberOf(x); ok {
		return unitNumber(written(f))
	}
	if s, ok := textOf(x); ok {
		return unitNumber(s)
	}
	return 0, false
}

// unitNumberBytes is unitNumber for the common case of one or two digits,
// without making a string.
func unitNumberBytes(b []byte) (estate.UnitNumber, bool) {
	n := 0
	if len(b) == 0 || len(b) > 2 {
		return 0, false
	}
	for _, c := range b {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return estate.Units(n), true
}

// units reads one unit, such as 38 or 40.5, or a run such as "38-39".
func (r *reader) units(x hclsyntax.Expression) (estate.UnitRange, bool) {
	if u, ok := r.unitOf(x); ok {
		return estate.UnitRange{From: u, To: u}, true
	}
	s, ok := textOf(x)
	if !ok {
		if n, isNumber := numberOf(x); isNumber {
			r.bad(x, "%s is no unit number; units count from 0 to 9999, with at most three decimals", clip(written(n)))
		} else {
			r.bad(x, "takes a unit such as 38 or a run such as \"38-39\", not %s", describe(x))
		}
		return estate.UnitRange{}, false
	}
	return r.run(x, s)
}

// run reads a run of units such as "38-39".
func (r *reader) run(x hclsyntax.Expression, s string) (estate.UnitRange, bool) {
	from, to, found := cutRun(s)
	lo, ok1 := unitNumber(from)
	hi, ok2 := unitNumber(to)
	switch {
	case !found || !ok1 || !ok2:
		r.bad(x, "%q is no run of units; write a number such as 38, or a run such as \"38-39\"", clip(s))
		return estate.UnitRange{}, false
	case hi < lo:
		r.bad(x, "the run %q goes downwards; write \"%s-%s\"", s, hi, lo)
		return estate.UnitRange{}, false
	}
	return estate.UnitRange{From: lo, To: hi}, true
}

// cutRun splits "38-39" at its hyphen, or at a dash that was typed for one.
func cutRun(s string) (from, to string, ok bool) {
	for _, dash := range []string{"-", "–", "—"} {
		if a, b, found := strings.Cut(s, dash); found {
			return strings.TrimSpace(a), strings.TrimSpace(b), true
		}
	}
	return s, "", false
}

// readSlot reads whole, left, right or a part such as 1/3.
func readSlot(r *reader, x hclsyntax.Expression) (estate.Slot, bool) {
	s, ok := textOf(x)
	if !ok {
		r.bad(x, "takes \"whole\", \"left\", \"right\" or a part such as \"1/3\", not %s", describe(x))
		return estate.Slot{}, false
	}
	switch s {
	case "whole":
		return estate.Slot{}, true
	case "left":
		return estate.Slot{Part: 1, Of: 2}, true
	case "right":
		return estate.Slot{Part: 2, Of: 2}, true
	}
	p, o, found := strings.Cut(s, "/")
	part, ok1 := digits(p, 2)
	of, ok2 := digits(o, 2)
	if !found || !ok1 || !ok2 || part < 1 || of < 1 || part > of {
		r.bad(x, "%q is no part of a unit's width; write \"whole\", \"left\", \"right\" or a part such as \"1/3\"", clip(s))
		return estate.Slot{}, false
	}
	if of == 1 {
		return estate.Slot{}, true
	}
	return estate.Slot{Part: uint8(part), Of: uint8(of)}, true
}

// readShare reads how much of a unit's width equipment takes: whole or a part
// such as 1/2.
func readShare(r *reader, x hclsyntax.Expression) (estate.Slot, bool) {
	s, _ := textOf(x)
	if s == "whole" {
		return estate.Slot{}, true
	}
	of, found := strings.CutPrefix(s, "1/")
	n, ok := digits(of, 2)
	if !found || !ok || n < 1 {
		r.bad(x, "takes \"whole\", \"1/2\", \"1/3\" and so on, not %s", describe(x))
		return estate.Slot{}, false
	}
	if n == 1 {
		return estate.Slot{}, true
	}
	return estate.Slot{Part: 1, Of: uint8(n)}, true
}

var drawKeys = []string{"typical", "maximum", "nameplate"}

// readDraw reads what equipment draws: a power alone is the maximum.
func readDraw(r *reader, x hclsyntax.Expression) (estate.Draw, bool) {
	var d estate.Draw
	o, ok := x.(*hclsyntax.ObjectConsExpr)
	if !ok || hasKey(o, "is") {
		f, ok := readFigure[quantity.Power](r, x)
		d.Maximum = f
		if f.State == estate.IsUnknown {
			d.Typical, d.Nameplate = f, f
		}
		if inVoltAmperes(x) {
			d.Apparent = estate.OnMaximum.Of()
		}
		return d, ok
	}
	ok = r.object(o, drawKeys, func(key string, x hclsyntax.Expression) bool {
		f, ok := readFigure[quantity.Power](r, x)
		basis := estate.OnMaximum
		switch key {
		case "typical":
			d.Typical, basis = f, estate.OnTypical
		case "maximum":
			d.Maximum = f
		case "nameplate":
			d.Nameplate, basis = f, estate.OnNameplate
		}
		if inVoltAmperes(x) {
			d.Apparent |= basis.Of()
		}
		return ok
	})
	return d, ok
}

// inVoltAmperes reports whether a power is written in VA or kVA, with its basis
// or without.
func inVoltAmperes(x hclsyntax.Expression) bool {
	if o, ok := x.(*hclsyntax.ObjectConsExpr); ok {
		for _, item := range o.Items {
			if keyOf(item.KeyExpr) == "is" {
				return inVoltAmperes(item.ValueExpr)
			}
		}
		return false
	}
	s, ok := textOf(x)
	return ok && quantity.InVoltAmperes(s)
}

func hasKey(o *hclsyntax.ObjectConsExpr, key string) bool {
	for _, item := range o.Items {
		if keyOf(item.KeyExpr) == key {
			return true
		}
	}
	return false
}

// readLengths reads a list of lengths, or one of them alone.
func readLengths(r *reader, x hclsyntax.Expression) ([]quantity.Length, bool) {
	var out []quantity.Length
	ok := r.each(x, func(x hclsyntax.Expression) bool {
		l, ok := readQuantity[quantity.Length](r, x)
		out = append(out, l)
		return ok
	})
	return out, ok
}

var railKeys = []string{"from", "to", "basis", "on"}

// readSpan2 reads { from = LENGTH, to = LENGTH }.
func readSpan2(r *reader, x hclsyntax.Expression) (estate.Figure[estate.Span2], bool) {
	f := estate.Figure[estate.Span2]{At: span(x.Range())}
	if isUnknown(x) {
		f.State = estate.IsUnknown
		return f, true
	}
	o, ok := x.(*hclsyntax.ObjectConsExpr)
	if !ok {
		r.bad(x, "takes two lengths%s", r.example())
		return f, false
	}
	var has [2]bool
	ok = r.object(o, railKeys, func(key string, x hclsyntax.Expression) (ok bool) {
		switch key {
		case "from":
			has[0] = true
			f.Value.From, ok = readQuantity[quantity.Length](r, x)
		case "to":
			has[1] = true
			f.Value.To, ok = readQuantity[quantity.Length](r, x)
		case "basis":
			f.Basis, ok = r.basis(x)
		case "on":
			f.On, ok = r.date(x)
		}
		return ok
	})
	if !ok {
		return f, false
	}
	if !has[0] || !has[1] {
		r.bad(x, "both ends are needed%s", r.example())
		return f, false
	}
	if f.Value.To < f.Value.From {
		r.bad(x, "from %s to %s runs backwards; the smaller length comes first", f.Value.From, f.Value.To)
		return f, false
	}
	f.State = estate.IsGiven
	return f, true
}

var inletKeys = []string{"type", "count", "needs", "locking"}

// readInlets reads { type = "c14", count = 2, needs = 1 }, or a list of such.
func readInlets(r *reader, x hclsyntax.Expression) ([]estate.Inlet, bool) {
	var out []estate.Inlet
	ok := r.each(x, func(x hclsyntax.Expression) bool {
		o, ok := x.(*hclsyntax.ObjectConsExpr)
		if !ok {
			r.bad(x, "takes a group of values, not %s%s", describe(x), r.example())
			return false
		}
		in := estate.Inlet{Count: 1, Needs: 1}
		ok = r.object(o, inletKeys, func(key string, x hclsyntax.Expression) (ok bool) {
			switch key {
			case "type":
				in.Type, ok = r.freeText(x)
				in.Type = r.intern(in.Type)
			case "count":
				in.Count, ok = r.whole(x, 1, 64)
			case "needs":
				in.Needs, ok = r.whole(x, 0, 64)
			case "locking":
				in.Locking, ok = readFigureAs(r, x, (*reader).yesNo)
			}
			return ok
		})
		if ok && in.Needs > in.Count {
			r.bad(x, "%d inlets cannot need %d of themselves; needs is at most count", in.Count, in.Needs)
			return false
		}
		out = append(out, in)
		return ok
	})
	return out, ok
}
