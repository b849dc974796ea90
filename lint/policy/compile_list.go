package policy

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
)

// A list is walked, never stored: each calls visit once an element, until
// visit returns false, and elem reads the current element.
type list struct {
	each func(env *Env, visit func() bool) *Unknown
	elem *expr
	// sifted says that elements are left out by a condition. If that is
	// unknown of one element the whole list is, so it is walked to its end.
	sifted bool
}

func listExpr(elem *expr, sifted bool, each func(*Env, func() bool) *Unknown) *expr {
	t := elem.typ
	return &expr{typ: Type{Kind: ListKind, Elem: &t}, list: &list{each: each, elem: elem, sifted: sifted}}
}

// tuple compiles [a, b, c], whose elements are of one type.
func (c *compiler) tuple(n *hclsyntax.TupleConsExpr) *expr {
	elems, ok := c.compileAll(n.Exprs)
	if !ok {
		return nil
	}
	if len(elems) == 0 {
		c.wrong(span(n.SrcRange), "an empty list has no type; a policy has no use for it")
		return nil
	}
	for _, e := range elems {
		if !c.storable(e) {
			return nil
		}
		if !e.typ.Same(elems[0].typ) {
			c.wrong(e.at, "the elements of a list are of one type: %s is %s, and %s is %s", c.textOf(elems[0].at), elems[0].typ, c.textOf(e.at), e.typ)
			return nil
		}
	}
	slot := c.slot()
	elem := &expr{typ: elems[0].typ}
	switch elem.typ.Kind {
	case NumberKind:
		elem.number = pick(slot, elems, func(e *expr) func(*Env) (Number, *Unknown) { return e.number })
	case BoolKind:
		elem.truth = pick(slot, elems, func(e *expr) func(*Env) (bool, *Unknown) { return e.truth })
	case TextKind:
		elem.text = pick(slot, elems, func(e *expr) func(*Env) (string, *Unknown) { return e.text })
	case DateKind:
		elem.date = pick(slot, elems, func(e *expr) func(*Env) (estate.Date, *Unknown) { return e.date })
	case ObjectKind:
		elem.object = pick(slot, elems, func(e *expr) func(*Env) (any, *Unknown) { return e.object })
	}
	count := len(elems)
	return listExpr(elem, false, func(env *Env, visit func() bool) *Unknown {
		for i := range count {
			env.ints[slot] = int64(i)
			if !visit() {
				break
			}
		}
		return nil
	})
}

// storable refuses elements that a list cannot have.
func (c *compiler) storable(e *expr) bool {
	switch e.typ.Kind {
	case ListKind:
		c.wrong(e.at, "a list of lists is not possible in a policy")
		return false
	case NullKind:
		c.wrong(e.at, "null cannot stand in a list")
		return false
	}
	return true
}

func pick[T any](slot int, elems []*expr, of func(*expr) func(*Env) (T, *Unknown)) func(*Env) (T, *Unknown) {
	fs := make([]func(*Env) (T, *Unknown), len(elems))
	for i, e := range elems {
		fs[i] = of(e)
	}
	return func(env *Env) (T, *Unknown) { return fs[env.ints[slot]](env) }
}

// forList compiles [for x in LIST : VALUE if CONDITION].
func (c *compiler) forList(n *hclsyntax.ForExpr) *expr {
	if n.KeyExpr != nil {
		c.wrong(span(n.Range()), "a policy has no use for an object in braces; write [for ... : ...] in brackets")
		return nil
	}
	coll := c.compile(n.CollExpr)
	if coll == nil {
		return nil
	}
	if coll.typ.Kind != ListKind {
		c.wrong(coll.at, "for walks a list, and %s is %s", c.textOf(coll.at), coll.typ)
		return nil
	}
	depth := len(c.locals)
	position := -1
	if n.KeyVar != "" {
		position = c.slot()
		c.locals = append(c.locals, local{n.KeyVar, numberExpr(Plain, false, func(env *Env) (Number, *Unknown) {
			return Whole(env.ints[position]), nil
		})})
	}
	c.locals = append(c.locals, local{n.ValVar, coll.list.elem})
	value := c.compile(n.ValExpr)
	var cond *expr
	ok := value != nil
	if n.CondExpr != nil {
		if cond = c.compile(n.CondExpr); cond != nil {
			cond = c.need(cond, BoolKind, "if")
		}
		ok = ok && cond != nil
	}
	c.locals = c.locals[:depth]
	if !ok || !c.storable(value) {
		return nil
	}
	each := coll.list.each
	if position >= 0 {
		inner := each
		each = func(env *Env, visit func() bool) *Unknown {
			i := int64(-1)
			return inner(env, func() bool {
				i++
				env.ints[position] = i
				return visit()
			})
		}
	}
	if cond != nil {
		each = filtered(each, cond.truth)
	}
	return listExpr(value, cond != nil || coll.list.sifted, each)
}

// filtered leaves out the elements that do not satisfy a condition. One whose
// condition is unknown makes the whole list unknown.
func filtered(each func(*Env, func() bool) *Unknown, cond func(*Env) (bool, *Unknown)) func(*Env, func() bool) *Unknown {
	return func(env *Env, visit func() bool) *Unknown {
		var unsure *Unknown
		u := each(env, func() bool {
			ok, u := cond(env)
			if u != nil {
				unsure = u
				return false
			}
			return !ok || visit()
		})
		if u == nil {
			u = unsure
		}
		return u
	}
}

// splat compiles LIST[*].name.
func (c *compiler) splat(n *hclsyntax.SplatExpr) *expr {
	coll := c.compile(n.Source)
	if coll == nil {
		return nil
	}
	if coll.typ.Kind != ListKind {
		c.wrong(coll.at, "[*] walks a list, and %s is %s", c.textOf(coll.at), coll.typ)
		return nil
	}
	if c.anon == nil {
		c.anon = map[*hclsyntax.AnonSymbolExpr]*expr{}
	}
	c.anon[n.Item] = coll.list.elem
	value := c.compile(n.Each)
	if value == nil || !c.storable(value) {
		return nil
	}
	return listExpr(value, coll.list.sifted, coll.list.each)
}

func (c *compiler) index(n *hclsyntax.IndexExpr) *expr {
	coll, key := c.compile(n.Collection), c.compile(n.Key)
	if coll == nil || key == nil {
		return nil
	}
	return c.element(coll, key, span(n.Key.Range()))
}

// element compiles LIST[KEY], counted from 0.
func (c *compiler) element(coll, key *expr, at estate.Span) *expr {
	if coll.typ.Kind != ListKind {
		c.wrong(at, "only a list has elements by number, and this is %s", coll.typ)
		return nil
	}
	if key.typ.Kind != NumberKind || key.typ.Unit != Plain {
		c.wrong(at, "the number of an element is a plain number counted from 0, and %s is %s", c.textOf(at), key.typ)
		return nil
	}
	sifted := coll.list.sifted
	seek := func(env *Env) *Unknown {
		k, u := key.number(env)
		if u != nil {
			return u
		}
		want, whole := k.Int()
		if sifted {
			if u := coll.list.each(env, func() bool { return true }); u != nil {
				return u
			}
		}
		i, found := int64(-1), false
		u = coll.list.each(env, func() bool {
			i++
			found = whole && i == want
			return !found
		})
		if u == nil && !found {
			u = unknown("the list has no element %s", k)
		}
		return u
	}
	from := coll.list.elem
	e := &expr{typ: from.typ}
	switch from.typ.Kind {
	case NumberKind:
		e.number = after(seek, from.number)
	case BoolKind:
		e.truth = after(seek, from.truth)
	case TextKind:
		e.text = after(seek, from.text)
	case DateKind:
		e.date = after(seek, from.date)
	case ObjectKind:
		e.object = after(seek, from.object)
	}
	return e
}

// after reads an element once the list stands at it.
func after[T any](seek func(*Env) *Unknown, read func(*Env) (T, *Unknown)) func(*Env) (T, *Unknown) {
	return func(env *Env) (T, *Unknown) {
		if u := seek(env); u != nil {
			var none T
			return none, u
		}
		return read(env)
	}
}

// known gives a function that says why the value of e is unknown, or nil.
func (e *expr) known() func(*Env) *Unknown {
	switch e.typ.Kind {
	case NumberKind:
		return reason(e.number)
	case BoolKind:
		return reason(e.truth)
	case TextKind:
		return reason(e.text)
	case DateKind:
		return reason(e.date)
	case ListKind:
		elem := e.list.elem.known()
		return func(env *Env) *Unknown {
			var unsure *Unknown
			u := e.list.each(env, func() bool {
				unsure = elem(env)
				return unsure == nil
			})
			if u == nil {
				u = unsure
			}
			return u
		}
	}
	return reason(e.object)
}

func reason[T any](f func(*Env) (T, *Unknown)) func(*Env) *Unknown {
	return func(env *Env) *Unknown {
		_, u := f(env)
		return u
	}
}
