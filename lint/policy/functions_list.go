package policy

import (
	"cagenut/lang/estate"
)

var listFunctions = []*Function{
	{Name: "count", Usage: "count(LIST)", Doc: "how many elements the list has", least: 1, most: 1, compile: compileCount},
	{Name: "sum", Usage: "sum(LIST)", Doc: "the sum of a list of numbers of one unit; 0 for an empty list", least: 1, most: 1, compile: compileSum},
	{Name: "max", Usage: "max(LIST) or max(A, B, ...)", Doc: "the greatest number or latest date; not known for an empty list", least: 1, most: -1, compile: extreme(1)},
	{Name: "min", Usage: "min(LIST) or min(A, B, ...)", Doc: "the least number or earliest date; not known for an empty list", least: 1, most: -1, compile: extreme(-1)},
	{Name: "any", Usage: "any(LIST)", Doc: "whether one of a list of conditions holds; false for an empty list", least: 1, most: 1, compile: quantified(true)},
	{Name: "all", Usage: "all(LIST)", Doc: "whether every one of a list of conditions holds; true for an empty list", least: 1, most: 1, compile: quantified(false)},
	{Name: "among", Usage: "among(VALUE, LIST)", Doc: "whether the value is an element of the list", least: 2, most: 2, compile: compileAmong},
	{Name: "distinct", Usage: "distinct(LIST)", Doc: "the list with each value once, in the order of first appearance", least: 1, most: 1, compile: compileDistinct},
	{Name: "joined", Usage: "joined(LIST, BETWEEN)", Doc: "the texts of a list in one text, with another between them", least: 2, most: 2, compile: compileJoined},
}

func compileCount(c *compiler, k *call) *expr {
	e := c.arg(k, 0, ListKind)
	if e == nil {
		return nil
	}
	each := e.list.each
	return numberExpr(Plain, false, func(env *Env) (Number, *Unknown) {
		n := int64(0)
		u := each(env, func() bool { n++; return true })
		return Whole(n), u
	})
}

func compileSum(c *compiler, k *call) *expr {
	e := c.arg(k, 0, ListKind)
	if e == nil {
		return nil
	}
	if e.typ.Elem.Kind != NumberKind {
		c.wrong(e.at, "sum adds numbers, and %s is %s", c.textOf(e.at), e.typ)
		return nil
	}
	each, elem := e.list.each, e.list.elem.number
	return numberExpr(e.typ.Elem.Unit, false, func(env *Env) (Number, *Unknown) {
		total := Number{}
		var unsure *Unknown
		u := each(env, func() bool {
			v, u := elem(env)
			total, unsure = total.Add(v), u
			return u == nil
		})
		if u == nil {
			u = unsure
		}
		return total, u
	})
}

// gathered gives the arguments of max and min as one list.
func (c *compiler) gathered(k *call) *expr {
	if len(k.args) == 1 && k.args[0].typ.Kind == ListKind {
		return k.args[0]
	}
	first := k.args[0]
	for _, e := range k.args {
		if e.typ.Kind == ListKind || e.typ.Kind != first.typ.Kind {
			c.wrong(e.at, "%s is written %s, and %s is %s", k.name, functions[k.name].Usage, c.textOf(e.at), e.typ)
			return nil
		}
		if e.typ.Kind == NumberKind && !c.sameUnit(first, e) {
			return nil
		}
	}
	slot := c.slot()
	elem := &expr{typ: first.typ}
	switch first.typ.Kind {
	case NumberKind:
		elem.number = pick(slot, k.args, func(e *expr) func(*Env) (Number, *Unknown) { return e.number })
	case DateKind:
		elem.date = pick(slot, k.args, func(e *expr) func(*Env) (estate.Date, *Unknown) { return e.date })
	default:
		c.wrong(first.at, "%s compares numbers or dates, and %s is %s", k.name, c.textOf(first.at), first.typ)
		return nil
	}
	count := int64(len(k.args))
	return listExpr(elem, false, func(env *Env, visit func() bool) *Unknown {
		for i := range count {
			env.ints[slot] = i
			if !visit() {
				break
			}
		}
		return nil
	})
}

func extreme(sign int) func(*compiler, *call) *expr {
	return func(c *compiler, k *call) *expr {
		e := c.gathered(k)
		if e == nil {
			return nil
		}
		none := &Unknown{Because: "the list in " + c.textOf(k.at) + " is empty"}
		each := e.list.each
		switch e.typ.Elem.Kind {
		case NumberKind:
			return numberExpr(e.typ.Elem.Unit, false, furthest(each, e.list.elem.number, none, func(a, b Number) bool { return a.Cmp(b)*sign > 0 }))
		case DateKind:
			return dateExpr(false, furthest(each, e.list.elem.date, none, func(a, b estate.Date) bool { return int(a-b)*sign > 0 }))
		}
		c.wrong(e.at, "%s compares numbers or dates, and %s is %s", k.name, c.textOf(e.at), e.typ)
		return nil
	}
}

func furthest[T any](each func(*Env, func() bool) *Unknown, elem func(*Env) (T, *Unknown), none *Unknown, beyond func(a, b T) bool) func(*Env) (T, *Unknown) {
	return func(env *Env) (T, *Unknown) {
		var best T
		found := false
		var unsure *Unknown
		u := each(env, func() bool {
			v, u := elem(env)
			if unsure = u; u != nil {
				return false
			}
			if !found || beyond(v, best) {
				best, found = v, true
			}
			return true
		})
		switch {
		case u != nil:
		case unsure != nil:
			u = unsure
		case !found:
			u = none
		}
		return best, u
	}
}

// quantified compiles any (decides is true) and all (false): three-state, so
// that one element that decides outweighs those that are unknown.
func quantified(decides bool) func(*compiler, *call) *expr {
	return func(c *compiler, k *call) *expr {
		e := c.arg(k, 0, ListKind)
		if e == nil {
			return nil
		}
		if e.typ.Elem.Kind != BoolKind {
			c.wrong(e.at, "%s takes a list of conditions, as in %s([for m in rack.mounts : m.mass < kg(20)]); %s is %s", k.name, k.name, c.textOf(e.at), e.typ)
			return nil
		}
		each, elem, sifted := e.list.each, e.list.elem.truth, e.list.sifted
		return boolExpr(false, func(env *Env) (bool, *Unknown) {
			var unsure *Unknown
			decided := false
			u := each(env, func() bool {
				v, u := elem(env)
				switch {
				case u != nil:
					unsure = u
				case v == decides:
					decided = true
				}
				return sifted || !decided
			})
			switch {
			case u != nil:
				return !decides, u
			case decided:
				return decides, nil
			}
			return !decides, unsure
		})
	}
}

func compileAmong(c *compiler, k *call) *expr {
	l := c.arg(k, 1, ListKind)
	if l == nil {
		return nil
	}
	e := k.args[0]
	same := c.equality(e, &expr{typ: *l.typ.Elem, at: l.at, number: l.list.elem.number, truth: l.list.elem.truth, text: l.list.elem.text,
		date: l.list.elem.date, object: l.list.elem.object, list: l.list.elem.list}, true, k.at)
	if same == nil {
		return nil
	}
	if e.typ.Kind == NullKind {
		c.wrong(e.at, "null is never in a list")
		return nil
	}
	return quantified(true)(c, &call{name: k.name, at: k.at, args: []*expr{listExpr(same, l.list.sifted, l.list.each)}})
}

func compileDistinct(c *compiler, k *call) *expr {
	e := c.arg(k, 0, ListKind)
	if e == nil {
		return nil
	}
	elem := e.list.elem
	var key func(*Env) (any, *Unknown)
	switch elem.typ.Kind {
	case TextKind:
		key = keyed(elem.text, func(s string) any { return s })
	case ObjectKind:
		key = elem.object
	case DateKind:
		key = keyed(elem.date, func(d estate.Date) any { return d })
	case NumberKind:
		key = keyed(elem.number, func(n Number) any {
			if n.r != nil {
				return n.r.RatString()
			}
			return n.n
		})
	default:
		c.wrong(e.at, "distinct takes texts, numbers, dates or objects, and %s is %s", c.textOf(e.at), e.typ)
		return nil
	}
	each := e.list.each
	return listExpr(elem, e.list.sifted, func(env *Env, visit func() bool) *Unknown {
		seen := map[any]bool{}
		var unsure *Unknown
		u := each(env, func() bool {
			v, u := key(env)
			if unsure = u; u != nil {
				return false
			}
			if seen[v] {
				return true
			}
			seen[v] = true
			return visit()
		})
		if u == nil {
			u = unsure
		}
		return u
	})
}

func keyed[T any](f func(*Env) (T, *Unknown), key func(T) any) func(*Env) (any, *Unknown) {
	return func(env *Env) (any, *Unknown) {
		v, u := f(env)
		return key(v), u
	}
}
