package policy

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
)

func (c *compiler) unary(n *hclsyntax.UnaryOpExpr) *expr {
	e := c.compile(n.Val)
	if e == nil {
		return nil
	}
	if n.Op == hclsyntax.OpLogicalNot {
		if e = c.need(e, BoolKind, "!"); e == nil {
			return nil
		}
		f := e.truth
		return boolExpr(e.konst, func(env *Env) (bool, *Unknown) {
			v, u := f(env)
			return !v, u
		})
	}
	if e = c.need(e, NumberKind, "-"); e == nil {
		return nil
	}
	f := e.number
	return numberExpr(e.typ.Unit, e.konst, func(env *Env) (Number, *Unknown) {
		v, u := f(env)
		return v.Neg(), u
	})
}

// need refuses an operand of another kind.
func (c *compiler) need(e *expr, kind Kind, operator string) *expr {
	if e.typ.Kind == kind {
		return e
	}
	hint := ""
	if e.typ.Kind == TextKind && kind == NumberKind {
		hint = "; write a number without quotes, or number(TEXT)"
	}
	c.wrong(e.at, "%s takes %s, and %s is %s%s", operator, Type{Kind: kind}.noun(), c.textOf(e.at), e.typ, hint)
	return nil
}

func (t Type) noun() string {
	if t.Kind == NumberKind {
		return "numbers"
	}
	return t.String()
}

var operators = map[*hclsyntax.Operation]string{
	hclsyntax.OpLogicalOr: "||", hclsyntax.OpLogicalAnd: "&&",
	hclsyntax.OpEqual: "==", hclsyntax.OpNotEqual: "!=",
	hclsyntax.OpGreaterThan: ">", hclsyntax.OpGreaterThanOrEqual: ">=",
	hclsyntax.OpLessThan: "<", hclsyntax.OpLessThanOrEqual: "<=",
	hclsyntax.OpAdd: "+", hclsyntax.OpSubtract: "-", hclsyntax.OpMultiply: "*",
	hclsyntax.OpDivide: "/", hclsyntax.OpModulo: "%",
}

func (c *compiler) binary(n *hclsyntax.BinaryOpExpr) *expr {
	a, b := c.compile(n.LHS), c.compile(n.RHS)
	if a == nil || b == nil {
		return nil
	}
	op, at := operators[n.Op], span(n.SrcRange)
	switch op {
	case "||", "&&":
		a, b = c.need(a, BoolKind, op), c.need(b, BoolKind, op)
		if a == nil || b == nil {
			return nil
		}
		return logic(a, b, op == "||")
	case "==", "!=":
		return c.equality(a, b, op == "==", at)
	case "<", "<=", ">", ">=":
		return c.order(a, b, op)
	}
	return c.arithmetic(a, b, op, at)
}

// logic is && and ||, three-state: what decides on one side decides, whatever
// is unknown on the other.
func logic(a, b *expr, decides bool) *expr {
	f, g := a.truth, b.truth
	return boolExpr(a.konst && b.konst, func(env *Env) (bool, *Unknown) {
		v, u := f(env)
		if u == nil && v == decides {
			return decides, nil
		}
		w, t := g(env)
		if t == nil && w == decides {
			return decides, nil
		}
		if u == nil {
			u = t
		}
		return !decides, u
	})
}

// sameUnit checks that two numbers can be added or compared.
func (c *compiler) sameUnit(a, b *expr) bool {
	if a.typ.Unit == b.typ.Unit {
		return true
	}
	plain, other := a, b
	if b.typ.Unit == Plain {
		plain, other = b, a
	}
	if plain.typ.Unit != Plain {
		c.wrong(b.at, "%s is in %s, and %s is in %s", c.textOf(a.at), a.typ.Unit, c.textOf(b.at), b.typ.Unit)
		return false
	}
	write := ""
	if maker := other.typ.Unit.maker(); maker != "" {
		write = "; write " + maker + "(" + c.textOf(plain.at) + ")"
	}
	c.wrong(plain.at, "%s is in %s, and %s has no unit%s", c.textOf(other.at), other.typ.Unit, c.textOf(plain.at), write)
	return false
}

func (c *compiler) equality(a, b *expr, wanted bool, at estate.Span) *expr {
	konst := a.konst && b.konst
	switch ka, kb := a.typ.Kind, b.typ.Kind; {
	case ka == NullKind && kb == NullKind:
		return boolExpr(true, func(*Env) (bool, *Unknown) { return wanted, nil })
	case ka == NullKind, kb == NullKind:
		e := a
		if ka == NullKind {
			e = b
		}
		if e.typ.Kind != ObjectKind {
			c.wrong(at, "%s is never null; known(%s) says whether its value is known", c.textOf(e.at), c.textOf(e.at))
			return nil
		}
		f := e.object
		return boolExpr(false, func(env *Env) (bool, *Unknown) {
			v, u := f(env)
			return (v == nil) == wanted, u
		})
	case ka == ListKind || kb == ListKind:
		c.wrong(at, "lists are not compared as a whole; compare count(LIST), or every element with all([for x in LIST : ...])")
		return nil
	case ka == DateKind && kb == TextKind:
		c.wrong(b.at, "%s is a date, and %s a text; write date(%s)", c.textOf(a.at), c.textOf(b.at), c.textOf(b.at))
		return nil
	case ka == TextKind && kb == DateKind:
		c.wrong(a.at, "%s is a date, and %s a text; write date(%s)", c.textOf(b.at), c.textOf(a.at), c.textOf(a.at))
		return nil
	case ka != kb, ka == ObjectKind && a.typ.Class != b.typ.Class:
		if ka == ObjectKind || kb == ObjectKind {
			c.wrong(at, "%s is %s, and %s is %s: they are never the same", c.textOf(a.at), a.typ, c.textOf(b.at), b.typ)
			return nil
		}
		// HCL compares values of different types as different. So do we, and
		// say it, for it is hardly what was meant.
		c.doubtful(at, "%s is %s, and %s is %s: they are never equal", c.textOf(a.at), a.typ, c.textOf(b.at), b.typ)
		return c.never(a, b, !wanted)
	case ka == NumberKind:
		if !c.sameUnit(a, b) {
			return nil
		}
		f, g := a.number, b.number
		return boolExpr(konst, func(env *Env) (bool, *Unknown) {
			v, u := f(env)
			w, t := g(env)
			if u == nil {
				u = t
			}
			return (v.Cmp(w) == 0) == wanted, u
		})
	case ka == BoolKind:
		return compared(konst, a.truth, b.truth, wanted)
	case ka == TextKind:
		return compared(konst, a.text, b.text, wanted)
	case ka == DateKind:
		return compared(konst, a.date, b.date, wanted)
	}
	return compared(konst, a.object, b.object, wanted)
}

// never compares two values of different types, which are unequal if both are
// known.
func (c *compiler) never(a, b *expr, result bool) *expr {
	f, g := a.known(), b.known()
	return boolExpr(a.konst && b.konst, func(env *Env) (bool, *Unknown) {
		u := f(env)
		if u == nil {
			u = g(env)
		}
		return result, u
	})
}

func compared[T comparable](konst bool, f, g func(*Env) (T, *Unknown), wanted bool) *expr {
	return boolExpr(konst, func(env *Env) (bool, *Unknown) {
		v, u := f(env)
		w, t := g(env)
		if u == nil {
			u = t
		}
		return (v == w) == wanted, u
	})
}

func (c *compiler) order(a, b *expr, op string) *expr {
	if a.typ.Kind == DateKind && b.typ.Kind == DateKind {
		f, g := a.date, b.date
		return boolExpr(a.konst && b.konst, func(env *Env) (bool, *Unknown) {
			v, u := f(env)
			w, t := g(env)
			if u == nil {
				u = t
			}
			return holds(int(v)-int(w), op), u
		})
	}
	if a.typ.Kind == DateKind || b.typ.Kind == DateKind {
		e := b
		if b.typ.Kind == DateKind {
			e = a
		}
		c.wrong(e.at, "%s compares a date with a date, and %s is %s; write date(\"2027-01-31\")", op, c.textOf(e.at), e.typ)
		return nil
	}
	a, b = c.need(a, NumberKind, op), c.need(b, NumberKind, op)
	if a == nil || b == nil || !c.sameUnit(a, b) {
		return nil
	}
	f, g := a.number, b.number
	if b.konst {
		if k, u := g(nil); u == nil && k.r == nil {
			return boolExpr(a.konst, orderConst(f, k, op))
		}
	}
	return boolExpr(a.konst && b.konst, func(env *Env) (bool, *Unknown) {
		v, u := f(env)
		w, t := g(env)
		if u == nil {
			u = t
		}
		return holds(v.Cmp(w), op), u
	})
}

// orderConst compares with a number that is known beforehand: the commonest
// condition of a policy, and worth a short way.
func orderConst(f func(*Env) (Number, *Unknown), k Number, op string) func(*Env) (bool, *Unknown) {
	slow := func(v Number) bool { return holds(v.Cmp(k), op) }
	switch op {
	case "<":
		return func(env *Env) (bool, *Unknown) {
			v, u := f(env)
			if v.r != nil {
				return slow(v), u
			}
			return v.n < k.n, u
		}
	case "<=":
		return func(env *Env) (bool, *Unknown) {
			v, u := f(env)
			if v.r != nil {
				return slow(v), u
			}
			return v.n <= k.n, u
		}
	case ">":
		return func(env *Env) (bool, *Unknown) {
			v, u := f(env)
			if v.r != nil {
				return slow(v), u
			}
			return v.n > k.n, u
		}
	}
	return func(env *Env) (bool, *Unknown) {
		v, u := f(env)
		if v.r != nil {
			return slow(v), u
		}
		return v.n >= k.n, u
	}
}

func holds(cmp int, op string) bool {
	switch op {
	case "<":
		return cmp < 0
	case "<=":
		return cmp <= 0
	case ">":
		return cmp > 0
	}
	return cmp >= 0
}

func (c *compiler) arithmetic(a, b *expr, op string, at estate.Span) *expr {
	konst := a.konst && b.konst
	if a.typ.Kind == DateKind {
		return c.dateArithmetic(a, b, op)
	}
	if op == "+" && (a.typ.Kind == TextKind || b.typ.Kind == TextKind) {
		c.wrong(at, "+ adds numbers; join texts as \"${A}${B}\"")
		return nil
	}
	a, b = c.need(a, NumberKind, op), c.need(b, NumberKind, op)
	if a == nil || b == nil {
		return nil
	}
	unit, ok := a.typ.Unit, true
	switch op {
	case "+", "-", "%":
		if !c.sameUnit(a, b) {
			return nil
		}
	case "*":
		unit, ok = unit.times(b.typ.Unit, 1)
	case "/":
		unit, ok = unit.times(b.typ.Unit, -1)
	}
	if !ok {
		c.wrong(at, "%s has too high a power of a unit", c.textOf(at))
		return nil
	}
	f, g := a.number, b.number
	both := func(do func(v, w Number) Number) *expr {
		return numberExpr(unit, konst, func(env *Env) (Number, *Unknown) {
			v, u := f(env)
			if u != nil {
				return v, u
			}
			w, u := g(env)
			if u != nil {
				return w, u
			}
			return do(v, w), nil
		})
	}
	switch op {
	case "+":
		return both(Number.Add)
	case "-":
		return both(Number.Sub)
	case "*":
		return both(Number.Mul)
	}
	do := Number.Div
	if op == "%" {
		do = Number.Rem
	}
	zero := &Unknown{Because: c.textOf(at) + " divides by zero"}
	if b.konst {
		if k, u := g(nil); u == nil && k.Sign() == 0 {
			c.wrong(b.at, "%s divides by zero", c.textOf(at))
			return nil
		}
	}
	return numberExpr(unit, konst, func(env *Env) (Number, *Unknown) {
		v, u := f(env)
		if u != nil {
			return v, u
		}
		w, u := g(env)
		if u != nil {
			return w, u
		}
		if w.Sign() == 0 {
			return w, zero
		}
		return do(v, w), nil
	})
}

// farthest bounds the days that are added to a date.
const farthest = 1 << 24

func (c *compiler) dateArithmetic(a, b *expr, op string) *expr {
	konst := a.konst && b.konst
	f := a.date
	switch {
	case op == "-" && b.typ.Kind == DateKind:
		g := b.date
		return numberExpr(Days, konst, func(env *Env) (Number, *Unknown) {
			v, u := f(env)
			w, t := g(env)
			if u == nil {
				u = t
			}
			return Whole(int64(v) - int64(w)), u
		})
	case (op == "+" || op == "-") && b.typ.Kind == NumberKind && b.typ.Unit == Days:
		g := b.number
		return dateExpr(konst, func(env *Env) (estate.Date, *Unknown) {
			v, u := f(env)
			if u != nil {
				return v, u
			}
			n, u := g(env)
			if u != nil {
				return v, u
			}
			days, whole := n.Int()
			if !whole || days > farthest || days < -farthest {
				return v, unknown("%s is no number of days to add to a date", n)
			}
			if op == "-" {
				days = -days
			}
			return v + estate.Date(days), nil
		})
	}
	c.wrong(b.at, "a date takes + or - a number of days, as in days(30), or - another date; %s is %s", c.textOf(b.at), b.typ)
	return nil
}

func (c *compiler) conditional(n *hclsyntax.ConditionalExpr) *expr {
	q, a, b := c.compile(n.Condition), c.compile(n.TrueResult), c.compile(n.FalseResult)
	if q == nil || a == nil || b == nil {
		return nil
	}
	if q = c.need(q, BoolKind, "?"); q == nil {
		return nil
	}
	if !a.typ.Same(b.typ) {
		c.wrong(b.at, "the two results are of different types: %s is %s, and %s is %s", c.textOf(a.at), a.typ, c.textOf(b.at), b.typ)
		return nil
	}
	e := &expr{typ: a.typ, konst: q.konst && a.konst && b.konst}
	switch a.typ.Kind {
	case NumberKind:
		e.number = choose(q.truth, a.number, b.number)
	case BoolKind:
		e.truth = choose(q.truth, a.truth, b.truth)
	case TextKind:
		e.text = choose(q.truth, a.text, b.text)
	case DateKind:
		e.date = choose(q.truth, a.date, b.date)
	case ObjectKind, NullKind:
		e.object = choose(q.truth, a.object, b.object)
	case ListKind:
		c.wrong(b.at, "a choice between two lists is not possible; choose inside the list, with if")
		return nil
	}
	return e
}

func choose[T any](q func(*Env) (bool, *Unknown), a, b func(*Env) (T, *Unknown)) func(*Env) (T, *Unknown) {
	return func(env *Env) (T, *Unknown) {
		yes, u := q(env)
		if u != nil {
			var none T
			return none, u
		}
		if yes {
			return a(env)
		}
		return b(env)
	}
}
