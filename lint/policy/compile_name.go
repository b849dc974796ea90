package policy

import (
	"math/big"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"cagenut/lang/estate"
)

// mostExponent bounds the binary exponent of a literal number: an exact
// fraction of 1e1000000 would not fit the machine.
const mostExponent = 1024

func (c *compiler) literal(n *hclsyntax.LiteralValueExpr) *expr {
	at := span(n.SrcRange)
	switch {
	case n.Val.IsNull():
		return &expr{typ: Type{Kind: NullKind}, konst: true, object: func(*Env) (any, *Unknown) { return nil, nil }}
	case n.Val.Type() == cty.Bool:
		v := n.Val.True()
		return boolExpr(true, func(*Env) (bool, *Unknown) { return v, nil })
	case n.Val.Type() == cty.String:
		v := n.Val.AsString()
		return textExpr(true, func(*Env) (string, *Unknown) { return v, nil })
	case n.Val.Type() == cty.Number:
		f := n.Val.AsBigFloat()
		if exp := f.MantExp(nil); f.IsInf() || exp > mostExponent || exp < -mostExponent {
			c.wrong(at, "%s is too large or too small a number", c.textOf(at))
			return nil
		}
		// The text is read again: HCL has rounded it to binary already.
		r, ok := new(big.Rat).SetString(c.textOf(at))
		if !ok {
			r, _ = f.Rat(nil)
		}
		v := fromRat(r)
		return numberExpr(Plain, true, func(*Env) (Number, *Unknown) { return v, nil })
	}
	c.wrong(at, "a policy cannot use this kind of value")
	return nil
}

// reference compiles a name with what follows it: mount.rack.mounts[0].mass.
func (c *compiler) reference(n *hclsyntax.ScopeTraversalExpr) *expr {
	root := n.Traversal[0].(hcl.TraverseRoot)
	for i := len(c.locals) - 1; i >= 0; i-- {
		if c.locals[i].name == root.Name {
			e := *c.locals[i].e
			e.at = span(root.SrcRange)
			return c.traverse(&e, n.Traversal[1:])
		}
	}
	f := c.scope.Field(root.Name)
	if f == nil {
		known := c.scope.names()
		for _, l := range c.locals {
			known = append(known, l.name)
		}
		if functions[root.Name] != nil {
			c.wrong(span(root.SrcRange), "%q is a function: write %s", root.Name, functions[root.Name].Usage)
			return nil
		}
		c.wrong(span(root.SrcRange), "%q is nothing that a policy on %s can see%s", root.Name, c.scope.Plural(), nearest(root.Name, known))
		return nil
	}
	scope := &expr{at: span(root.SrcRange), object: func(env *Env) (any, *Unknown) { return env.root, nil }}
	e := c.field(scope, f, "")
	return c.traverse(e, n.Traversal[1:])
}

// traverse follows the steps behind a value.
func (c *compiler) traverse(e *expr, steps hcl.Traversal) *expr {
	for _, step := range steps {
		switch step := step.(type) {
		case hcl.TraverseAttr:
			at := span(step.SrcRange)
			at.Start = max(at.Start, at.End-int32(len(step.Name))) // HCL's range begins at the dot
			if e = c.attribute(e, step.Name, at); e == nil {
				return nil
			}
			e.at.End = at.End
		case hcl.TraverseIndex:
			at := span(step.SrcRange)
			if step.Key.Type() == cty.String { // mount["mass"]
				if e = c.attribute(e, step.Key.AsString(), at); e == nil {
					return nil
				}
				e.at.End = at.End
				continue
			}
			r, _ := step.Key.AsBigFloat().Rat(nil)
			k := fromRat(r)
			start := e.at.Start
			if e = c.element(e, numberExpr(Plain, true, func(*Env) (Number, *Unknown) { return k, nil }), at); e == nil {
				return nil
			}
			e.at = estate.Span{Start: start, End: at.End}
		default:
			c.wrong(span(step.SourceRange()), "a policy cannot use this kind of reference")
			return nil
		}
	}
	return e
}

func (c *compiler) attribute(of *expr, name string, at estate.Span) *expr {
	switch of.typ.Kind {
	case ObjectKind:
		f := of.typ.Class.Field(name)
		if f == nil {
			c.wrong(at, "%s has no %q%s", of.typ.Class.one(), name, nearest(name, of.typ.Class.names()))
			return nil
		}
		return c.field(of, f, c.textOf(of.at))
	case ListKind:
		c.wrong(at, "%s has no %q; write [for x in %s : x.%s]", of.typ, name, c.textOf(of.at), name)
		return nil
	}
	c.wrong(at, "%s has no %q", of.typ, name)
	return nil
}

// field compiles the reading of a field of an object that was written so.
func (c *compiler) field(of *expr, f *Field, written string) *expr {
	get := of.object
	none := &Unknown{Because: "there is no " + written}
	// The result begins where the object does, for messages further on.
	e := &expr{typ: f.Type, at: of.at}
	c.beyond = c.beyond || f.beyond
	c.estate = c.estate || f.estate
	switch {
	case f.number != nil:
		e.number = reading(get, none, f.number)
	case f.truth != nil:
		e.truth = reading(get, none, f.truth)
	case f.text != nil:
		e.text = reading(get, none, f.text)
	case f.date != nil:
		e.date = reading(get, none, f.date)
	case f.object != nil:
		read := f.object
		e.object = reading(get, none, func(o any) (any, *Unknown) { return read(o), nil })
	case f.each != nil:
		read, slot := f.each, c.slot()
		e.list = &list{each: func(env *Env, visit func() bool) *Unknown {
			o, u := get(env)
			if u != nil {
				return u
			}
			if o == nil {
				return none
			}
			read(o, func(element any) bool {
				env.objs[slot] = element
				return visit()
			})
			return nil
		}, elem: slotExpr(*f.Type.Elem, slot)}
	}
	if f.basis != nil {
		e.basis = reading(get, none, f.basis)
	}
	if f.always {
		e.konst = true
		switch {
		case f.number != nil:
			e.number = func(*Env) (Number, *Unknown) { return f.number(nil) }
		case f.text != nil:
			e.text = func(*Env) (string, *Unknown) { return f.text(nil) }
		case f.date != nil:
			e.date = func(*Env) (estate.Date, *Unknown) { return f.date(nil) }
		case f.truth != nil:
			e.truth = func(*Env) (bool, *Unknown) { return f.truth(nil) }
		default:
			e.konst = false
		}
	}
	return e
}

// reading reads a field of an object that may be unknown, or null.
func reading[T any](get func(*Env) (any, *Unknown), none *Unknown, read func(any) (T, *Unknown)) func(*Env) (T, *Unknown) {
	return func(env *Env) (T, *Unknown) {
		o, u := get(env)
		if u == nil && o == nil {
			u = none
		}
		if u != nil {
			var zero T
			return zero, u
		}
		return read(o)
	}
}

// slotExpr reads the current element of a list from its slot.
func slotExpr(t Type, slot int) *expr {
	e := &expr{typ: t}
	switch t.Kind {
	case NumberKind:
		e.number = func(env *Env) (Number, *Unknown) { return env.objs[slot].(Number), nil }
	case TextKind:
		e.text = func(env *Env) (string, *Unknown) { return env.objs[slot].(string), nil }
	case DateKind:
		e.date = func(env *Env) (estate.Date, *Unknown) { return env.objs[slot].(estate.Date), nil }
	case BoolKind:
		e.truth = func(env *Env) (bool, *Unknown) { return env.objs[slot].(bool), nil }
	case ObjectKind:
		e.object = func(env *Env) (any, *Unknown) { return env.objs[slot], nil }
	}
	return e
}
