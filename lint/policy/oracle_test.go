package policy

import (
	"math/big"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
	"github.com/zclconf/go-cty/cty/function"
	"pgregory.net/rapid"

	"cagenut/lang/estate"
)

// The oracle is HCL's own evaluator over the same values. Where it gives a
// value, the compiled form gives the same one; where it gives an error or
// unknown, so does the compiled form.

// world is what random expressions can see.
type world struct {
	X, Y, Z Number // Z is not zero
	S, T    string
	P, Q    bool
	Things  []*thing
	Nothing *thing
}

type thing struct {
	N Number
	S string
	B bool
}

// worldClass describes the world; what is named there is unknown.
func worldClass(unknowns bool) *Class {
	things := NewClass("thing", "", "one of the things")
	AddNumber(things, "n", Plain, "a number", func(t *thing) (Number, *Unknown) { return t.N, nil })
	AddText(things, "s", "a text", func(t *thing) (string, *Unknown) { return t.S, nil })
	AddBool(things, "b", "a truth", func(t *thing) (bool, *Unknown) { return t.B, nil })
	c := NewClass("world", "", "a world")
	AddNumber(c, "x", Plain, "x", func(w *world) (Number, *Unknown) { return w.X, nil })
	AddNumber(c, "y", Plain, "y", func(w *world) (Number, *Unknown) { return w.Y, nil })
	AddNumber(c, "z", Plain, "z", func(w *world) (Number, *Unknown) { return w.Z, nil })
	AddText(c, "s", "s", func(w *world) (string, *Unknown) { return w.S, nil })
	AddText(c, "t", "t", func(w *world) (string, *Unknown) { return w.T, nil })
	AddBool(c, "p", "p", func(w *world) (bool, *Unknown) { return w.P, nil })
	AddBool(c, "q", "q", func(w *world) (bool, *Unknown) { return w.Q, nil })
	AddObjects(c, "things", things, "things", func(w *world) []*thing { return w.Things })
	AddObject(c, "nothing", things, "nothing", func(w *world) *thing { return w.Nothing })
	if unknowns {
		AddNumber(c, "un", Plain, "unknown", func(w *world) (Number, *Unknown) { return Number{}, unknown("un is unknown") })
		AddBool(c, "ub", "unknown", func(w *world) (bool, *Unknown) { return false, unknown("ub is unknown") })
	}
	return c
}

func ctyNumber(n Number) cty.Value {
	f, _, err := big.ParseFloat(n.String(), 10, 512, big.ToNearestEven)
	if err != nil {
		panic(err)
	}
	return cty.NumberVal(f)
}

func (w *world) context() *hcl.EvalContext {
	things := cty.EmptyTupleVal
	if len(w.Things) > 0 {
		var all []cty.Value
		for _, t := range w.Things {
			all = append(all, cty.ObjectVal(map[string]cty.Value{"n": ctyNumber(t.N), "s": cty.StringVal(t.S), "b": cty.BoolVal(t.B)}))
		}
		things = cty.TupleVal(all)
	}
	return &hcl.EvalContext{Variables: map[string]cty.Value{
		"x": ctyNumber(w.X), "y": ctyNumber(w.Y), "z": ctyNumber(w.Z), "s": cty.StringVal(w.S), "t": cty.StringVal(w.T),
		"p": cty.BoolVal(w.P), "q": cty.BoolVal(w.Q), "things": things,
		"nothing": cty.NullVal(cty.Object(map[string]cty.Type{"n": cty.Number, "s": cty.String, "b": cty.Bool})),
		"un":      cty.UnknownVal(cty.Number), "ub": cty.UnknownVal(cty.Bool),
	}, Functions: oracleFunctions}
}

// folding makes a function over one list from a step over known elements and a
// result for the case that an element is unknown and no step stopped.
func folding(result cty.Type, start cty.Value, step func(acc, v cty.Value) (cty.Value, bool), unknownIfEmpty bool) function.Function {
	return function.New(&function.Spec{
		Params: []function.Parameter{{Name: "list", Type: cty.DynamicPseudoType, AllowDynamicType: true}},
		Type:   function.StaticReturnType(result),
		Impl: func(args []cty.Value, t cty.Type) (cty.Value, error) {
			acc, unsure, none := start, false, true
			for it := args[0].ElementIterator(); it.Next(); {
				_, v := it.Element()
				none = false
				if !v.IsKnown() {
					unsure = true
					continue
				}
				var stop bool
				if acc, stop = step(acc, v); stop {
					return acc, nil
				}
			}
			switch {
			case unsure:
				return cty.UnknownVal(t), nil
			case none && unknownIfEmpty:
				return cty.UnknownVal(t), nil
			}
			return acc, nil
		},
	})
}

var oracleFunctions = map[string]function.Function{
	"sum": folding(cty.Number, cty.Zero, func(acc, v cty.Value) (cty.Value, bool) { return acc.Add(v), false }, false),
	"count": function.New(&function.Spec{
		Params: []function.Parameter{{Name: "list", Type: cty.DynamicPseudoType}},
		Type:   function.StaticReturnType(cty.Number),
		Impl: func(args []cty.Value, _ cty.Type) (cty.Value, error) {
			return cty.NumberIntVal(int64(args[0].LengthInt())), nil
		},
	}),
	"any": folding(cty.Bool, cty.False, func(acc, v cty.Value) (cty.Value, bool) { return v, v.True() }, false),
	"all": folding(cty.Bool, cty.True, func(acc, v cty.Value) (cty.Value, bool) { return v, v.False() }, false),
	"max": folding(cty.Number, cty.NegativeInfinity, func(acc, v cty.Value) (cty.Value, bool) {
		if v.GreaterThan(acc).True() {
			return v, false
		}
		return acc, false
	}, true),
	"min": folding(cty.Number, cty.PositiveInfinity, func(acc, v cty.Value) (cty.Value, bool) {
		if v.LessThan(acc).True() {
			return v, false
		}
		return acc, false
	}, true),
}

// Literals are whole numbers and binary fractions: HCL rounds decimals to 512
// bits, and its remainders and comparisons then see the rounding. Decimals are
// in the table of TestMeaning.
var literals = []string{"0", "1", "2", "3", "7", "42", "0.5", "0.25", "1.125", "1000000", "12345678901234567890", "1e3", "0.000030517578125"}

type maker struct {
	t        *rapid.T
	unknowns bool
	truths   bool   // no arithmetic on unknown numbers, of which HCL knows more than we do
	element  string // the name of a thing in scope, or ""
}

func (m *maker) pick(words ...string) string { return rapid.SampledFrom(words).Draw(m.t, "pick") }
func (m *maker) roll(n int) int              { return rapid.IntRange(0, n-1).Draw(m.t, "roll") }

func (m *maker) number(depth int) string {
	if depth == 0 || m.roll(5) == 0 {
		words := append([]string{"x", "y", "z"}, literals...)
		if m.element != "" {
			words = append(words, m.element+".n", m.element+".n")
		}
		if m.unknowns {
			words = append(words, "un", "un", "un")
		}
		return m.pick(words...)
	}
	d := depth - 1
	switch m.roll(9) {
	case 0:
		return "(" + m.number(d) + " + " + m.number(d) + ")"
	case 1:
		return "(" + m.number(d) + " - " + m.number(d) + ")"
	case 2:
		return m.number(d) + " * " + m.number(min(d, 1))
	case 3:
		return "(" + m.number(d) + " / " + m.pick("2", "4", "0.5", "z") + ")"
	case 4:
		return m.number(d) + " % " + m.pick("2", "3", "0.25", "7")
	case 5:
		return "-" + m.number(d)
	case 6:
		return "(" + m.condition(d) + " ? " + m.number(d) + " : " + m.number(d) + ")"
	case 7:
		return m.pick("sum", "max", "min") + "(" + m.numbers(d) + ")"
	}
	return "count(" + m.list(d) + ")"
}

func (m *maker) list(depth int) string {
	if m.roll(2) == 0 {
		return "things"
	}
	return m.numbers(depth)
}

func (m *maker) numbers(depth int) string {
	switch m.roll(4) {
	case 0:
		return "things[*].n"
	case 1:
		return "[" + m.number(depth) + ", " + m.number(depth) + "]"
	case 2:
		return m.each(depth, func() string { return m.number(min(depth, 1)) })
	}
	return m.walk("i, e", m.number(min(depth, 1))+" + i", "", depth)
}

// each writes a for expression over the things.
func (m *maker) each(depth int, value func() string) string {
	outer := m.element
	m.element = "e"
	v, cond := value(), ""
	if m.roll(2) == 0 {
		cond = m.condition(min(depth, 1))
	}
	m.element = outer
	return m.walk("e", v, cond, depth)
}

func (m *maker) walk(names, value, cond string, depth int) string {
	if cond != "" {
		cond = " if " + cond
	}
	return "[for " + names + " in things : " + value + cond + "]"
}

func (m *maker) condition(depth int) string {
	if depth == 0 || m.roll(6) == 0 {
		words := []string{"p", "q", "true", "false"}
		if m.element != "" {
			words = append(words, m.element+".b", m.element+".b")
		}
		if m.unknowns {
			words = append(words, "ub", "ub")
		}
		return m.pick(words...)
	}
	d := depth - 1
	number := m.number
	if m.truths {
		number = func(int) string { return m.pick("x", "y", "un", "3") }
	}
	switch m.roll(10) {
	case 0, 1:
		return "(" + m.condition(d) + " && " + m.condition(d) + ")"
	case 2, 3:
		return "(" + m.condition(d) + " || " + m.condition(d) + ")"
	case 4:
		return "!" + m.condition(d)
	case 5:
		return "(" + number(d) + " " + m.pick("<", "<=", ">", ">=", "==", "!=") + " " + number(d) + ")"
	case 6:
		return "(" + m.text(min(d, 1)) + " " + m.pick("==", "!=") + " " + m.text(min(d, 1)) + ")"
	case 7:
		return "(" + m.condition(d) + " " + m.pick("==", "!=") + " " + m.condition(d) + ")"
	case 8:
		return m.pick("any", "all") + "(" + m.each(d, func() string { return m.condition(min(d, 1)) }) + ")"
	}
	return m.pick("any", "all") + "([" + m.condition(d) + ", " + m.condition(d) + "])"
}

func (m *maker) text(depth int) string {
	if depth == 0 || m.roll(4) == 0 {
		words := []string{"s", "t", `""`, `"a"`, `"10"`, `"Süd \"7\""`}
		if m.element != "" {
			words = append(words, m.element+".s")
		}
		return m.pick(words...)
	}
	d := depth - 1
	number := m.number
	if m.truths {
		number = func(int) string { return m.pick("x", "42") }
	}
	switch m.roll(4) {
	case 0:
		return `"${` + m.text(d) + `}/${` + m.text(d) + `}"`
	case 1:
		return `"n=${` + number(d) + ` + 0}"` // HCL prints a negative zero
	case 2:
		return `"${` + m.condition(d) + `}!"`
	}
	return `"%{ if ` + m.condition(d) + ` }yes%{ else }no%{ endif }%{ for e in things }<${e.s}>%{ endfor }"`
}

func drawWorld(t *rapid.T) *world {
	number := rapid.Custom(func(t *rapid.T) Number {
		return Fraction(rapid.Int64Range(-1000, 1000).Draw(t, "n"), rapid.SampledFrom([]int64{1, 1, 2, 8}).Draw(t, "d"))
	})
	text := rapid.SampledFrom([]string{"", "a", "10", "hq-a", "S\u00fcd"})
	w := &world{X: number.Draw(t, "x"), Y: number.Draw(t, "y"), Z: Fraction(rapid.SampledFrom([]int64{1, 4, 16}).Draw(t, "z"), 2),
		S: text.Draw(t, "s"), T: text.Draw(t, "t"), P: rapid.Bool().Draw(t, "p"), Q: rapid.Bool().Draw(t, "q")}
	for range rapid.IntRange(0, 4).Draw(t, "things") {
		w.Things = append(w.Things, &thing{N: number.Draw(t, "n"), S: text.Draw(t, "s"), B: rapid.Bool().Draw(t, "b")})
	}
	return w
}

// agree evaluates one expression both ways. With loose, the compiled form may
// call unknown what the oracle can tell, but never the other way round: HCL
// knows the range of some unknown numbers, so that (unknown ? x : x) < x is
// false to it. The greatest of an empty list is such a number.
func agree(t *rapid.T, w *world, class *Class, ctx *hcl.EvalContext, src string, loose bool) {
	loose = loose || strings.Contains(src, "max(") || strings.Contains(src, "min(")
	tree, diags := hclsyntax.ParseExpression([]byte(src), "p.hcl", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatalf("%s: the test made an expression that HCL cannot parse: %v", src, diags)
	}
	want, diags := tree.Value(ctx)
	p, mistakes := Compile(estate.Expr{Text: src, At: estate.Range{File: "p.hcl", Span: estate.Span{End: int32(len(src))}}}, class, NoKind)
	if p == nil {
		// Only a division by the literal zero is refused beforehand.
		for _, m := range mistakes {
			if !strings.Contains(m.Message, "divides by zero") {
				t.Fatalf("%s: refused: %v", src, mistakes)
			}
		}
		return
	}
	env := p.Env()
	env.root = w
	got, u := cty.NilVal, (*Unknown)(nil)
	switch p.Type().Kind {
	case NumberKind:
		var n Number
		if n, u = p.Number(env, w); u == nil {
			if want.IsKnown() && !diags.HasErrors() {
				exact, _ := want.AsBigFloat().Rat(nil)
				if exact.Cmp(n.Rat()) != 0 {
					t.Fatalf("%s = %s, want %s", src, n, want.AsBigFloat().Text('f', -1))
				}
				return
			}
			got = ctyNumber(n)
		}
	case BoolKind:
		var b bool
		if b, u = p.Bool(env, w); u == nil {
			got = cty.BoolVal(b)
		}
	case TextKind:
		var s string
		if s, u = p.Text(env, w); u == nil {
			got = cty.StringVal(s)
		}
	}
	switch sure := !diags.HasErrors() && want.IsWhollyKnown(); {
	case !sure && u == nil:
		t.Fatalf("%s = %#v, want it unknown (oracle: %#v, %v)", src, got, want, diags)
	case sure && u != nil && !loose:
		t.Fatalf("%s is unknown because %s, want %#v", src, u.Because, want)
	case sure && u == nil && !got.RawEquals(want):
		t.Fatalf("%s = %#v, want %#v", src, got, want)
	}
}

// HCL gives infinity for 1/0 and an error for 0/0; we call both unknown, so that
// no divisor here is zero.
const expressionsACheck = 20

// TestOracle compares thousands of random expressions with HCL's evaluator.
func TestOracle(t *testing.T) {
	tests := []struct {
		name                     string
		unknowns, truths, loose  bool
		number, text, conditions bool
	}{
		{name: "numbers", number: true},
		{name: "texts", text: true},
		{name: "conditions", conditions: true},
		{name: "unknown truths", unknowns: true, truths: true, conditions: true},
		{name: "unknown numbers", unknowns: true, loose: true, number: true, conditions: true},
	}
	for _, tt := range tests {
		class := worldClass(tt.unknowns)
		t.Run(tt.name, rapid.MakeCheck(func(t *rapid.T) {
			w := drawWorld(t)
			ctx := w.context()
			m := &maker{t: t, unknowns: tt.unknowns, truths: tt.truths}
			for range expressionsACheck {
				if tt.number {
					agree(t, w, class, ctx, m.number(3), tt.loose)
				}
				if tt.text {
					agree(t, w, class, ctx, m.text(3), tt.loose)
				}
				if tt.conditions {
					agree(t, w, class, ctx, m.condition(4), tt.loose)
				}
			}
		}))
	}
}
