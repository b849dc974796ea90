package lang

import (
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

type quantityLength = quantity.Length

// atAttr is the place of a mount: a unit number, a run of units, or a length.
var atAttr = attr{
	name: "at", kind: "unit, run of units, or length", example: "38",
	doc: "the smallest unit number it takes; \"38-39\" states its height too, and \"120 mm\" is a height above the lower edge of the lowest unit",
	read: func(r *reader, owner any, x hclsyntax.Expression) {
		if p, ok := r.place(x); ok {
			m := owner.(*estate.Mount)
			m.At, m.Through, m.Raised = p.at, p.through, p.raised
		}
	},
	copy: func(to, from any) {
		a, b := to.(*estate.Mount), from.(*estate.Mount)
		a.At, a.Through, a.Raised = b.At, b.Through, b.Raised
	},
}

// isUnitWord reports whether a bare word is a unit with its letter, as in U5.
func isUnitWord(s string) bool {
	if s == "" || s[0] != 'U' && s[0] != 'u' {
		return false
	}
	_, ok := unitNumber(s[1:])
	return ok
}

// place reads where a mount is.
func (r *reader) place(x hclsyntax.Expression) (mountPlace, bool) {
	if u, ok := r.unitOf(x); ok {
		return mountPlace{at: u}, true
	}
	s, ok := textOf(x)
	if !ok {
		switch n, isNumber := numberOf(x); {
		case isNumber:
			r.bad(x, "%s is no unit number; units count from 0 to 9999, with at most three decimals", clip(written(n)))
		case isUnknown(x):
			r.bad(x, "unknown is no place; hold the units with a reserve until the place is known")
		case isUnitWord(keyword(x)):
			r.bad(x, "a unit is written by its number alone; write at = %s in place of %s", keyword(x)[1:], keyword(x))
		default:
			r.bad(x, "takes a unit such as 38, a run such as \"38-39\" or a length such as \"120 mm\", not %s", describe(x))
		}
		return mountPlace{}, false
	}
	if l, err := quantity.ParseLength(s); err == nil {
		return mountPlace{raised: estate.Figure[quantity.Length]{Value: l, At: span(x.Range()), State: estate.IsGiven}}, true
	}
	if n := strings.Trim(s, "Uu "); n != s {
		if _, ok := unitNumber(n); ok {
			r.bad(x, "a unit is written by its number alone; write at = %s in place of %q", n, clip(s))
			return mountPlace{}, false
		}
	}
	run, ok := r.run(x, s)
	if !ok {
		return mountPlace{}, false
	}
	return mountPlace{at: run.From, through: run.To}, true
}

// unit reads one unit number.
func (r *reader) unit(x hclsyntax.Expression) (estate.UnitNumber, bool) {
	u, ok := r.unitOf(x)
	if !ok {
		r.bad(x, "takes a unit number such as 2, not %s", describe(x))
	}
	return u, ok
}
