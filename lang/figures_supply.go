package lang

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// rating is what something can give, in W, in VA, or both.
func rating[T any](doc string, at func(*T) *estate.Rating) attr {
	return field("power, or active and apparent", "rated", `{ active = "2.7 kW", apparent = "3 kVA" }`, doc, at, readRating)
}

// runtimeCurve is a curve of runtimes.
func runtimeCurve[T any](doc string, at func(*T) *estate.Figure[[]physics.RuntimePoint]) attr {
	return field("list of load and lasts", "runtime", `[{ load = "500 W", lasts = "31 min" }, { load = "1000 W", lasts = "12 min" }]`, doc, at,
		func(r *reader, x hclsyntax.Expression) (estate.Figure[[]physics.RuntimePoint], bool) {
			if o, ok := x.(*hclsyntax.ObjectConsExpr); ok && (hasKey(o, "load") || hasKey(o, "lasts")) {
				points, ok := readRuntime(r, x) // one point alone
				return estate.Figure[[]physics.RuntimePoint]{Value: points, At: span(x.Range()), State: estate.IsGiven}, ok
			}
			return readFigureAs(r, x, readRuntime)
		})
}

var ratingKeys = []string{"active", "apparent"}

// readRating reads "20 kVA", "18 kW", or both as { active = ..., apparent = ... }.
func readRating(r *reader, x hclsyntax.Expression) (estate.Rating, bool) {
	var out estate.Rating
	o, ok := x.(*hclsyntax.ObjectConsExpr)
	if !ok || hasKey(o, "is") {
		f, ok := readFigure[quantity.Power](r, x)
		switch {
		case f.State == estate.IsUnknown:
			out.Active, out.Apparent = f, f
		case inVoltAmperes(x):
			out.Apparent = f
		default:
			out.Active = f
		}
		return out, ok
	}
	ok = r.object(o, ratingKeys, func(key string, x hclsyntax.Expression) bool {
		f, ok := readFigure[quantity.Power](r, x)
		if !ok {
			return false
		}
		if apparent := key == "apparent"; f.Known() && apparent != inVoltAmperes(x) {
			unit := "W or kW"
			if apparent {
				unit = "VA or kVA"
			}
			r.bad(x, "%s power is written in %s%s", key, unit, r.example())
			return false
		}
		if key == "active" {
			out.Active = f
		} else {
			out.Apparent = f
		}
		return true
	})
	if !ok {
		return out, false
	}
	a, okA := out.Active.Get()
	s, okS := out.Apparent.Get()
	switch {
	case out.State() == estate.IsMissing:
		r.bad(x, "says nothing%s", r.example())
		return out, false
	case okA && okS && a > s:
		r.bad(x, "an active power of %s is more than the apparent power of %s that it is a part of", a, estate.InVoltAmperes(s))
		return out, false
	}
	return out, true
}

var runtimeKeys = []string{"load", "lasts"}

// readRuntime reads points of a curve, in any order, and gives them lightest
// load first.
func readRuntime(r *reader, x hclsyntax.Expression) ([]physics.RuntimePoint, bool) {
	points, ok := groups(r, x, runtimeKeys, physics.RuntimePoint{}, func(p *physics.RuntimePoint, key string, x hclsyntax.Expression) (ok bool) {
		switch key {
		case "load":
			p.Load, ok = readQuantity[quantity.Power](r, x)
			p.Apparent = inVoltAmperes(x)
		case "lasts":
			p.Lasts, ok = readQuantity[quantity.Duration](r, x)
		}
		return ok
	}, func(p *physics.RuntimePoint, x hclsyntax.Expression) bool {
		if p.Load <= 0 || p.Lasts <= 0 {
			r.bad(x, "a point needs a load and how long it lasts, both more than nothing%s", r.example())
			return false
		}
		return true
	})
	if !ok {
		return nil, false
	}
	if len(points) == 0 {
		r.bad(x, "has no points%s", r.example())
		return nil, false
	}
	physics.SortRuntime(points)
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		switch {
		case a.Apparent != b.Apparent:
			r.bad(x, "some loads are in W and some in VA; write all of them in one")
			return nil, false
		case a.Load == b.Load:
			r.bad(x, "the load of %s stands here twice; keep one", b.LoadText())
			return nil, false
		case a.Lasts < b.Lasts:
			r.bad(x, "%s lasts %s and the heavier %s lasts longer, %s; a heavier load empties batteries sooner", a.LoadText(), a.Lasts, b.LoadText(), b.Lasts)
			return nil, false
		}
	}
	return points, true
}
