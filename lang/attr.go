package lang

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

// An attr is one line of a block's table. Its owner is what the block's open
// made, a pointer to a struct of the model.
type attr struct {
	name    string
	kind    string   // what it takes, for the reference: "length"
	words   []string // the words it may be, where it is one of some
	refers  string   // the kind of thing that it refers to
	doc     string   // one sentence
	example string   // a value, as HCL
	usual   string   // what holds where it is not written
	must    bool     // it must be written
	raw     bool     // it is read as text: nothing in it is computed
	below   bool     // its quantity may be less than nothing
	bare    bool     // names stand in it without quotes, other than references

	// read reads the value into the owner, or reports why it cannot.
	read func(r *reader, owner any, x hclsyntax.Expression)
	// copy takes the value over from another owner.
	copy func(to, from any)
	// link sets what a reference was resolved to: the pointers in the order
	// written, nil where there is no such thing.
	link func(owner any, l *refList)
}

// required says that the attribute must be written.
func (a attr) required() attr { a.must = true; return a }

// signed says that the quantity may be less than nothing.
func (a attr) signed() attr { a.below = true; return a }

// otherwise says what holds where the attribute is not written.
func (a attr) otherwise(usual string) attr { a.usual = usual; return a }

// field makes an attribute from where its value is kept and how it is read.
func field[T, V any](kind, name, example, doc string, at func(*T) *V, read func(*reader, hclsyntax.Expression) (V, bool)) attr {
	return attr{
		name: name, kind: kind, example: example, doc: doc,
		read: func(r *reader, owner any, x hclsyntax.Expression) {
			if v, ok := read(r, x); ok {
				*at(owner.(*T)) = v
			}
		},
		copy: func(to, from any) { *at(to.(*T)) = *at(from.(*T)) },
	}
}

// figure is a physical quantity with a basis: "740 mm", unknown, or
// { is = "740 mm", basis = "measured" }.
func figure[T any, Q quantity.Quantity](name, example, doc string, at func(*T) *estate.Figure[Q]) attr {
	return field(kindOf[Q](), name, example, doc, at, readFigure[Q])
}

// plain is a physical quantity without a basis.
func plain[T any, Q quantity.Quantity](name, example, doc string, at func(*T) *Q) attr {
	return field(kindOf[Q](), name, example, doc, at, readQuantity[Q])
}

// kindOf names a quantity without its article.
func kindOf[Q quantity.Quantity]() string {
	var q Q
	switch any(q).(type) {
	case quantity.Length:
		return "length"
	case quantity.Mass:
		return "mass"
	case quantity.Power:
		return "power"
	case quantity.Current:
		return "current"
	case quantity.Voltage:
		return "voltage"
	case quantity.Pressure:
		return "pressure"
	case quantity.Force:
		return "force"
	case quantity.Torque:
		return "moment"
	case quantity.Temperature:
		return "temperature"
	case quantity.Angle:
		return "angle"
	case quantity.Duration:
		return "span of time"
	case quantity.Flow:
		return "air flow"
	}
	return "area"
}

// freeText is free text.
func freeText[T any](name, example, doc string, at func(*T) *string) attr {
	return field("text", name, example, doc, at, (*reader).freeText)
}

// freeTexts is a list of texts.
func freeTexts[T any](name, example, doc string, at func(*T) *[]string) attr {
	return field("list of texts", name, example, doc, at, (*reader).texts)
}

// whole is a whole number from lo to hi.
func whole[T any](name, example, doc string, lo, hi int, at func(*T) *int) attr {
	return field("whole number", name, example, doc, at, func(r *reader, x hclsyntax.Expression) (int, bool) {
		return r.whole(x, lo, hi)
	})
}

// wholeFigure is a whole number from lo to hi that may be unknown or carry a
// basis.
func wholeFigure[T any](name, example, doc string, lo, hi int, at func(*T) *estate.Figure[int]) attr {
	return field("whole number", name, example, doc, at, func(r *reader, x hclsyntax.Expression) (estate.Figure[int], bool) {
		return readFigureAs(r, x, func(r *reader, x hclsyntax.Expression) (int, bool) { return r.whole(x, lo, hi) })
	})
}

// share is a number from lo to hi, such as a share of 1, that may be unknown
// or carry a basis.
func share[T any](name, example, doc string, lo, hi float64, at func(*T) *estate.Figure[float64]) attr {
	return field("number", name, example, doc, at, func(r *reader, x hclsyntax.Expression) (estate.Figure[float64], bool) {
		return readFigureAs(r, x, func(r *reader, x hclsyntax.Expression) (float64, bool) { return r.number(x, lo, hi) })
	})
}

// yesNo is true or false.
func yesNo[T any](name, example, doc string, at func(*T) *bool) attr {
	return field("true or false", name, example, doc, at, (*reader).yesNo)
}

// word is one of the words of an enumeration whose values number them.
func word[T any, E ~uint8](name, example, doc string, words []string, at func(*T) *E) attr {
	a := field("one of", name, example, doc, at, func(r *reader, x hclsyntax.Expression) (E, bool) {
		i, ok := r.word(x, words)
		return E(i), ok
	})
	a.words = nonEmpty(words)
	return a
}

// words is a list of words of an enumeration.
func words[T any, E ~uint8](name, example, doc string, known []string, at func(*T) *[]E) attr {
	a := field("list of", name, example, doc, at, func(r *reader, x hclsyntax.Expression) ([]E, bool) {
		var out []E
		ok := r.each(x, func(x hclsyntax.Expression) bool {
			i, ok := r.word(x, known)
			out = append(out, E(i))
			return ok
		})
		return out, ok
	})
	a.words = nonEmpty(known)
	return a
}

// oneOf is one of some words, kept as text.
func oneOf[T any](name, example, doc string, known []string, at func(*T) *string) attr {
	a := field("one of", name, example, doc, at, func(r *reader, x hclsyntax.Expression) (string, bool) {
		i, ok := r.word(x, known)
		if !ok {
			return "", false
		}
		return known[i], true
	})
	a.words = nonEmpty(known)
	return a
}

// someOf is a list of some words, or one of them alone, kept as texts.
func someOf[T any](name, example, doc string, known []string, at func(*T) *[]string) attr {
	a := field("list of", name, example, doc, at, func(r *reader, x hclsyntax.Expression) ([]string, bool) {
		var out []string
		ok := r.each(x, func(x hclsyntax.Expression) bool {
			i, ok := r.word(x, known)
			if ok {
				out = append(out, known[i])
			}
			return ok
		})
		return out, ok
	})
	a.words = nonEmpty(known)
	return a
}

func nonEmpty(words []string) []string {
	var out []string
	for _, w := range words {
		if w != "" {
			out = append(out, w)
		}
	}
	return out
}

// date is a day.
func date[T any](name, example, doc string, at func(*T) *estate.Date) attr {
	return field("date", name, example, doc, at, (*reader).date)
}

// clock is a time of day.
func clock[T any](name, example, doc string, at func(*T) *estate.Clock) attr {
	return field("time of day", name, example, doc, at, (*reader).clock)
}

// unitRanges is a list of units and runs of units.
func unitRanges[T any](name, example, doc string, at func(*T) *[]estate.UnitRange) attr {
	return field("list of units", name, example, doc, at, func(r *reader, x hclsyntax.Expression) ([]estate.UnitRange, bool) {
		var out []estate.UnitRange
		ok := r.each(x, func(x hclsyntax.Expression) bool {
			u, ok := r.units(x)
			out = append(out, u)
			return ok
		})
		return out, ok
	})
}

// units is one unit or a run of units.
func units[T any](name, example, doc string, at func(*T) *estate.UnitRange) attr {
	return field("units", name, example, doc, at, (*reader).units)
}

// panelSystem is the name of a panel system.
func panelSystem[T any](name, example, doc string, at func(*T) **system.System) attr {
	a := field("one of", name, example, doc, at, (*reader).system)
	a.words = systemNames
	return a
}

// ref refers to one thing of a kind.
func ref[T, R any](name, kind, example, doc string, at func(*T) **R) attr {
	return attr{
		name: name, kind: kind, refers: kind, example: example, doc: doc,
		read: func(r *reader, owner any, x hclsyntax.Expression) { r.refer(owner, kind, x, false) },
		copy: func(to, from any) { *at(to.(*T)) = *at(from.(*T)) },
		link: func(owner any, l *refList) {
			if t, ok := l.things[0].(*R); ok {
				*at(owner.(*T)) = t
			}
		},
	}
}

// refs refers to any number of things of a kind. Owners that write the same
// list share one slice.
func refs[T, R any](name, kind, example, doc string, at func(*T) *[]*R) attr {
	return attr{
		name: name, kind: kind + " list", refers: kind, example: example, doc: doc,
		read: func(r *reader, owner any, x hclsyntax.Expression) { r.refer(owner, kind, x, true) },
		copy: func(to, from any) { *at(to.(*T)) = *at(from.(*T)) },
		link: func(owner any, l *refList) {
			all, ok := l.slice.([]*R)
			if !ok {
				for _, t := range l.things {
					if t, ok := t.(*R); ok {
						all = append(all, t)
					}
				}
				l.slice = all
			}
			*at(owner.(*T)) = all
		},
	}
}

// expression is kept as text, for the compiler of policies.
func expression[T any](name, example, doc string, at func(*T) *estate.Expr) attr {
	a := field("expression", name, example, doc, at, (*reader).expression)
	a.raw = true
	return a
}

// bareWord is a word written without quotes, such as each = mount.
func bareWord[T any](name, example, doc string, known []string, at func(*T) *string) attr {
	a := field("one of", name, example, doc, at, func(r *reader, x hclsyntax.Expression) (string, bool) {
		return r.bareWord(x, known)
	})
	a.words, a.bare = known, true
	return a
}

// scopes is a list of things that a ruling is confined to.
func scopes[T any](name, example, doc string, at func(*T) *[]estate.Scope) attr {
	a := field("list of "+choice(scopeKinds)+" names", name, example, doc, at, (*reader).scopes)
	a.bare = true
	return a
}
