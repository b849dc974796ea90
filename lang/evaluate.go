package lang

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
	"github.com/zclconf/go-cty/cty/function"
	"github.com/zclconf/go-cty/cty/function/stdlib"

	"cagenut/lang/estate"
)

// Most values are literals and names and are read without computing. What is
// left waits until all files are read, as the named figures it may use can
// stand in any of them.

// ready reports whether an expression can be read as it is.
func ready(x hclsyntax.Expression) bool {
	switch x := x.(type) {
	case *hclsyntax.LiteralValueExpr:
		return true
	case *hclsyntax.TemplateExpr:
		for _, p := range x.Parts {
			if !isLiteralText(p) {
				return false
			}
		}
		return true
	case *hclsyntax.ScopeTraversalExpr:
		return x.Traversal.RootName() != "given"
	case *hclsyntax.TupleConsExpr:
		for _, e := range x.Exprs {
			if !ready(e) {
				return false
			}
		}
		return true
	case *hclsyntax.ObjectConsExpr:
		for _, item := range x.Items {
			if !ready(item.ValueExpr) {
				return false
			}
		}
		return true
	}
	return false
}

// functions are those that a value may call.
var functions = map[string]function.Function{
	"min": stdlib.MinFunc,
	"max": stdlib.MaxFunc,
}

// compute gives an expression with everything that needs computing replaced by
// its value. What is wrong is reported, once.
func (r *reader) compute(x hclsyntax.Expression, ctx *hcl.EvalContext) (hclsyntax.Expression, bool) {
	if ready(x) {
		return x, true
	}
	switch x := x.(type) {
	case *hclsyntax.TupleConsExpr:
		out := *x
		out.Exprs = make([]hclsyntax.Expression, len(x.Exprs))
		good := true
		for i, e := range x.Exprs {
			var ok bool
			out.Exprs[i], ok = r.compute(e, ctx)
			good = good && ok
		}
		return &out, good
	case *hclsyntax.ObjectConsExpr:
		out := *x
		out.Items = make([]hclsyntax.ObjectConsItem, len(x.Items))
		good := true
		for i, item := range x.Items {
			v, ok := r.compute(item.ValueExpr, ctx)
			out.Items[i] = hclsyntax.ObjectConsItem{KeyExpr: item.KeyExpr, ValueExpr: v}
			good = good && ok
		}
		return &out, good
	}
	if r.isRun(x) || !r.namesGood(x, ctx) {
		return nil, false
	}
	if n, huge := hugeNumber(x); huge {
		r.bad(n, "nothing in an estate has a number of this size")
		return nil, false
	}
	v, diags := x.Value(ctx)
	if diags.HasErrors() {
		r.cannotCompute(x, diags)
		return nil, false
	}
	if v.IsMarked() || !v.IsWhollyKnown() {
		if !r.part.broken { // else something in it could not be read
			r.bad(x, "this cannot be computed")
		}
		return nil, false
	}
	if v.Type() == cty.Number && !v.IsNull() && v.AsBigFloat().IsInf() {
		r.bad(x, "this cannot be computed: it divides by nothing")
		return nil, false
	}
	return constant(v, x.Range()), true
}

// isRun reports a run of units that stands without quotes, and would be taken
// for a subtraction.
func (r *reader) isRun(x hclsyntax.Expression) bool {
	b, ok := x.(*hclsyntax.BinaryOpExpr)
	if !ok || b.Op != hclsyntax.OpSubtract || r.attr == nil || !strings.Contains(r.attr.kind, "units") {
		return false
	}
	lo, ok1 := numberOf(b.LHS)
	hi, ok2 := numberOf(b.RHS)
	if !ok1 || !ok2 {
		return false
	}
	r.bad(x, "a run of units stands in quotes; write %s = \"%s-%s\"", r.attrName, clip(written(lo)), clip(written(hi)))
	return true
}

// constant gives an expression that is the value.
func constant(v cty.Value, at hcl.Range) hclsyntax.Expression {
	t := v.Type()
	switch {
	case !v.IsNull() && t.Equals(unknownValue.Type()):
		return &hclsyntax.ScopeTraversalExpr{Traversal: hcl.Traversal{hcl.TraverseRoot{Name: "unknown", SrcRange: at}}, SrcRange: at}
	case !v.IsNull() && (t.IsTupleType() || t.IsListType()):
		out := &hclsyntax.TupleConsExpr{SrcRange: at, OpenRange: at}
		for it := v.ElementIterator(); it.Next(); {
			_, e := it.Element()
			out.Exprs = append(out.Exprs, constant(e, at))
		}
		return out
	case !v.IsNull() && (t.IsObjectType() || t.IsMapType()):
		out := &hclsyntax.ObjectConsExpr{SrcRange: at, OpenRange: at}
		for it := v.ElementIterator(); it.Next(); {
			k, e := it.Element()
			out.Items = append(out.Items, hclsyntax.ObjectConsItem{
				KeyExpr:   &hclsyntax.ObjectConsKeyExpr{Wrapped: &hclsyntax.LiteralValueExpr{Val: k, SrcRange: at}},
				ValueExpr: constant(e, at),
			})
		}
		return out
	}
	return &hclsyntax.LiteralValueExpr{Val: v, SrcRange: at}
}

// unknownValue stands for a figure that nobody has looked up yet.
var unknownValue = cty.CapsuleVal(cty.Capsule("unknown", reflect.TypeFor[struct{}]()), new(struct{}))

// namesGood reports whether every name in an expression may be computed with.
func (r *reader) namesGood(x hclsyntax.Expression, ctx *hcl.EvalContext) bool {
	good := true
	for _, t := range x.Variables() {
		at := t.SourceRange()
		if t.RootName() != "given" {
			if r.attr != nil && r.attr.refers != "" && strings.HasPrefix(traversalText(t), r.attr.refers+".") {
				r.report(at, "", "%s: a name stands alone, without \"${\" and quotes; write %s", r.attrName, clip(traversalText(t)))
				good = false
				continue
			}
			r.report(at, "", "%s: %s cannot be computed with; only the figures of given can, as given.NAME", r.attrName, clip(traversalText(t)))
			good = false
			continue
		}
		name := ""
		if len(t) > 1 {
			if a, ok := t[1].(hcl.TraverseAttr); ok {
				name = a.Name
			}
		}
		known := ctx.Variables["given"]
		if name == "" || !known.Type().HasAttribute(name) {
			r.report(at, "", "%s: no given block has %s%s", r.attrName, clip(name), perhaps(name, attributeNames(known)))
			good = false
			continue
		}
		if known.GetAttr(name).IsNull() { // reported where it is declared
			good = false
		}
	}
	return good
}

func traversalText(t hcl.Traversal) string {
	s, ok := dotted(&hclsyntax.ScopeTraversalExpr{Traversal: t})
	if !ok {
		return t.RootName()
	}
	return s
}

// cannotCompute reports why an expression has no value.
func (r *reader) cannotCompute(x hclsyntax.Expression, diags hcl.Diagnostics) {
	if len(diags) == 0 {
		return
	}
	d, at := diags[0], x.Range() // what follows the first is mostly its consequence
	if d.Subject != nil {
		at = *d.Subject
	}
	why := plainSentence(d.Detail)
	if call, ok := d.Extra.(hclsyntax.FunctionCallUnknownDiagExtra); ok {
		why = fmt.Sprintf("there is no function %s; there are min and max", clip(call.CalledFunctionName()))
	}
	r.report(at, "", "%s: this cannot be computed: %s", r.attrName, why)
}

// A givenExpr is a named figure before it is computed.
type givenExpr struct {
	part *part
	name string
	at   hcl.Range
	x    hclsyntax.Expression
	text string // the expression as written; "" in the JSON form
}

// given keeps a named figure.
func (r *reader) given(g *givens, a *hclsyntax.Attribute) {
	at := a.Expr.Range()
	text := ""
	if r.src != nil {
		text = string(r.src[at.Start.Byte:min(at.End.Byte, len(r.src))])
	}
	g.of.Givens = append(g.of.Givens, &estate.Given{
		Name: r.intern(a.Name),
		Text: text,
		Source: estate.Source{
			File: r.part.path, Name: span(a.NameRange),
			Block: estate.Span{Start: int32(a.NameRange.Start.Byte), End: int32(at.End.Byte)},
		},
	})
	r.part.givens = append(r.part.givens, givenExpr{part: r.part, name: r.intern(a.Name), at: at, x: a.Expr, text: r.asWritten(a.Expr)})
}

// errCircle is why a named figure has no value when it is made of itself.
var errCircle = errors.New("circle")

// givenContext computes the named figures of all files, each once, and gives
// the context in which other values are computed. Of several figures of one
// name the first holds.
func (r *reader) givenContext(all []givenExpr) *hcl.EvalContext {
	exprs := map[string]*givenExpr{}
	for i := range all {
		if exprs[all[i].name] == nil {
			exprs[all[i].name] = &all[i]
		}
	}
	values := map[string]cty.Value{}
	busy := map[string]bool{}
	var value func(name string) error
	value = func(name string) error {
		g := exprs[name]
		if _, done := values[name]; done || g == nil {
			return nil
		}
		if busy[name] {
			return errCircle
		}
		busy[name] = true
		for _, t := range g.x.Variables() {
			if t.RootName() != "given" || len(t) < 2 {
				continue
			}
			if a, ok := t[1].(hcl.TraverseAttr); ok && value(a.Name) != nil {
				r.part, r.attrName = g.part, g.name
				r.report(t.SourceRange(), "", "%s: given.%s is made of itself; break the circle", g.name, a.Name)
				values[name] = cty.NullVal(cty.DynamicPseudoType)
				return nil
			}
		}
		r.part, r.attr, r.attrName, r.evaluated = g.part, nil, g.name, true
		values[name] = r.givenValue(g, &hcl.EvalContext{
			Variables: map[string]cty.Value{"given": placeholders(values, exprs)},
			Functions: functions,
		})
		return nil
	}
	for i := range all {
		_ = value(all[i].name)
	}
	return &hcl.EvalContext{
		Variables: map[string]cty.Value{"given": cty.ObjectVal(values)},
		Functions: functions,
	}
}

// placeholders gives the figures known so far, and null for those that are not.
func placeholders(values map[string]cty.Value, exprs map[string]*givenExpr) cty.Value {
	all := make(map[string]cty.Value, len(exprs))
	for name := range exprs {
		all[name] = cty.NullVal(cty.DynamicPseudoType)
	}
	for name, v := range values {
		all[name] = v
	}
	return cty.ObjectVal(all)
}

// givenValue computes one named figure; null where it cannot be.
func (r *reader) givenValue(g *givenExpr, ctx *hcl.EvalContext) cty.Value {
	none := cty.NullVal(cty.DynamicPseudoType)
	if isUnknown(g.x) {
		return unknownValue
	}
	x, ok := r.compute(g.x, ctx)
	if !ok {
		return none
	}
	v, ok := valueOf(x)
	if !ok {
		r.bad(g.x, "a named figure is a text, a number, true, false or a group of such, not %s", describe(x))
		return none
	}
	return v
}

// valueOf turns what needs no more computing into a value.
func valueOf(x hclsyntax.Expression) (cty.Value, bool) {
	if isUnknown(x) {
		return unknownValue, true
	}
	switch x := x.(type) {
	case *hclsyntax.TupleConsExpr:
		var all []cty.Value
		for _, e := range x.Exprs {
			v, ok := valueOf(e)
			if !ok {
				return cty.NilVal, false
			}
			all = append(all, v)
		}
		return cty.TupleVal(all), true
	case *hclsyntax.ObjectConsExpr:
		all := map[string]cty.Value{}
		for _, item := range x.Items {
			v, ok := valueOf(item.ValueExpr)
			key := keyOf(item.KeyExpr)
			if !ok || key == "" {
				return cty.NilVal, false
			}
			all[key] = v
		}
		return cty.ObjectVal(all), true
	}
	v, ok := literal(x)
	if ok && v.IsNull() {
		return cty.NilVal, false
	}
	return v, ok
}

// readDeferred reads the attributes of a part that had to wait.
func (r *reader) readDeferred(p *part, ctx *hcl.EvalContext) {
	r.part, r.src, r.evaluated = p, nil, true
	for _, d := range p.deferred {
		r.attr, r.attrName = d.attr, d.name
		x, ok := r.compute(d.x, ctx)
		if !ok {
			continue
		}
		r.attr, r.attrName, r.owner = d.attr, d.name, d.owner
		if d.block != nil {
			a := *d.raw
			a.Expr = x
			d.block.other(r, d.owner, &a)
			continue
		}
		d.attr.read(r, d.owner, x)
	}
	p.deferred = nil
}

// plainSentence makes a message of the HCL library fit ours: no full stop, and
// a small letter at the beginning.
func plainSentence(s string) string {
	s = strings.TrimSuffix(strings.TrimSpace(s), ".")
	if len(s) > 1 && s[0] >= 'A' && s[0] <= 'Z' && !(s[1] >= 'A' && s[1] <= 'Z') {
		s = strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

// attributeNames lists the attributes of an object, sorted.
func attributeNames(v cty.Value) []string {
	var names []string
	for name := range v.Type().AttributeTypes() {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
