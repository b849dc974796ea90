package policy

import (
	"fmt"
	"maps"
	"slices"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
)

// A Function is one that expressions may call.
type Function struct {
	Name  string
	Usage string // how it is written: "kg(NUMBER)"
	Doc   string // what it gives, one sentence without full stop

	least, most int // how many arguments; most < 0: any number
	compile     func(c *compiler, call *call) *expr
}

// call is one call of a function, its arguments compiled.
type call struct {
	name string
	at   estate.Span
	args []*expr
}

func (k *call) konst() bool {
	for _, a := range k.args {
		if !a.konst {
			return false
		}
	}
	return true
}

// functions holds the functions by name.
var functions map[string]*Function

func init() {
	functions = map[string]*Function{}
	for _, group := range [][]*Function{unitFunctions, numberFunctions, listFunctions, textFunctions, dateFunctions, knowledgeFunctions} {
		for _, f := range group {
			if functions[f.Name] != nil {
				panic("policy: two functions named " + f.Name)
			}
			functions[f.Name] = f
		}
	}
}

// Functions lists the functions that expressions may call: units, numbers,
// lists, texts, dates and what is known, in that order.
func Functions() []*Function {
	return slices.Concat(unitFunctions, numberFunctions, listFunctions, textFunctions, dateFunctions, knowledgeFunctions)
}

func (c *compiler) call(n *hclsyntax.FunctionCallExpr) *expr {
	f := functions[n.Name]
	args, ok := c.compileAll(n.Args)
	if f == nil {
		c.wrong(span(n.NameRange), "there is no function %s%s", n.Name, nearest(n.Name, slices.Sorted(maps.Keys(functions))))
		return nil
	}
	if n.ExpandFinal {
		c.wrong(span(n.Args[len(n.Args)-1].Range()), "a list is given as it is, without ...")
		return nil
	}
	if !ok {
		return nil
	}
	if len(args) < f.least || (f.most >= 0 && len(args) > f.most) {
		c.wrong(span(n.Range()), "%s is written %s", f.Name, f.Usage)
		return nil
	}
	return f.compile(c, &call{name: n.Name, at: span(n.Range()), args: args})
}

// arg gives the i-th argument if it is of the kind.
func (c *compiler) arg(k *call, i int, kind Kind) *expr {
	if k.args[i].typ.Kind == kind {
		return k.args[i]
	}
	c.wrong(k.args[i].at, "%s is written %s, and %s is %s", k.name, functions[k.name].Usage, c.textOf(k.args[i].at), k.args[i].typ)
	return nil
}

// constant gives the text of an argument that must be written out.
func (c *compiler) constant(k *call, i int, what string) (string, bool) {
	e := c.arg(k, i, TextKind)
	if e == nil {
		return "", false
	}
	if e.konst {
		if s, u := e.text(nil); u == nil {
			return s, true
		}
	}
	c.wrong(e.at, "the %s of %s must be written out, so that it can be checked beforehand", what, k.name)
	return "", false
}

// unitFunction makes a number of a unit from a plain one.
func unitFunction(name string, unit Unit, factor Number, doc string) *Function {
	return &Function{Name: name, Usage: name + "(NUMBER)", Doc: doc, least: 1, most: 1, compile: func(c *compiler, k *call) *expr {
		e := c.arg(k, 0, NumberKind)
		if e == nil {
			return nil
		}
		if e.typ.Unit != Plain {
			c.wrong(e.at, "%s is in %s already; %s gives a unit to a plain number", c.textOf(e.at), e.typ.Unit, name)
			return nil
		}
		f := e.number
		if factor == Whole(1) {
			return numberExpr(unit, e.konst, f)
		}
		return numberExpr(unit, e.konst, func(env *Env) (Number, *Unknown) {
			v, u := f(env)
			return v.Mul(factor), u
		})
	}}
}

var unitFunctions = []*Function{
	unitFunction("kg", Kilogram, Whole(1), "a mass in kilograms"),
	unitFunction("lb", Kilogram, Fraction(45359237, 100_000_000), "a mass in avoirdupois pounds, 0.453 592 37 kg each"),
	unitFunction("mm", Millimetre, Whole(1), "a length in millimetres"),
	unitFunction("cm", Millimetre, Whole(10), "a length in centimetres"),
	unitFunction("m", Millimetre, Whole(1000), "a length in metres"),
	unitFunction("inch", Millimetre, Fraction(254, 10), "a length in inches, 25.4 mm each"),
	unitFunction("units", Plain, Whole(1), "a number of units of height: a plain number, named for the reader"),
	unitFunction("w", Watt, Whole(1), "a power in watts"),
	unitFunction("kw", Watt, Whole(1000), "a power in kilowatts"),
	unitFunction("a", Ampere, Whole(1), "a current in amperes"),
	unitFunction("v", Volt, Whole(1), "a voltage in volts"),
	unitFunction("c", Celsius, Whole(1), "a temperature in degrees Celsius"),
	unitFunction("kpa", Kilopascal, Whole(1), "a pressure, such as a floor load, in kilopascals"),
	unitFunction("n", Newton, Whole(1), "a force, such as a point load, in newtons"),
	unitFunction("kn", Newton, Whole(1000), "a force in kilonewtons"),
	unitFunction("minutes", Minute, Whole(1), "a time in minutes"),
	unitFunction("days", Days, Whole(1), "a number of days, to add to a date"),
}

// numberFunction keeps the unit of its argument.
func numberFunction(name, doc string, do func(Number) Number) *Function {
	return &Function{Name: name, Usage: name + "(NUMBER)", Doc: doc, least: 1, most: 1, compile: func(c *compiler, k *call) *expr {
		e := c.arg(k, 0, NumberKind)
		if e == nil {
			return nil
		}
		f := e.number
		return numberExpr(e.typ.Unit, e.konst, func(env *Env) (Number, *Unknown) {
			v, u := f(env)
			if u != nil {
				return v, u
			}
			return do(v), nil
		})
	}}
}

// mostDecimals bounds what round is asked for.
const mostDecimals = 9

var numberFunctions = []*Function{
	numberFunction("abs", "the number without its sign", func(v Number) Number {
		if v.Sign() < 0 {
			return v.Neg()
		}
		return v
	}),
	numberFunction("floor", "the greatest whole number that is not above it", Number.Floor),
	numberFunction("ceil", "the least whole number that is not below it", func(v Number) Number { return v.Neg().Floor().Neg() }),
	{Name: "round", Usage: "round(NUMBER, DECIMALS)", least: 2, most: 2,
		Doc: fmt.Sprintf("the number rounded to so many decimals (0 to %d), half away from zero", mostDecimals), compile: compileRound},
}

func compileRound(c *compiler, k *call) *expr {
	e, d := c.arg(k, 0, NumberKind), c.arg(k, 1, NumberKind)
	if e == nil || d == nil {
		return nil
	}
	decimals := int64(-1)
	if d.konst && d.typ.Unit == Plain {
		if v, u := d.number(nil); u == nil {
			if n, whole := v.Int(); whole {
				decimals = n
			}
		}
	}
	if decimals < 0 || decimals > mostDecimals {
		c.wrong(d.at, "round takes a number of decimals written out, 0 to %d", mostDecimals)
		return nil
	}
	f := e.number
	return numberExpr(e.typ.Unit, e.konst, func(env *Env) (Number, *Unknown) {
		v, u := f(env)
		if u != nil {
			return v, u
		}
		return v.Round(int(decimals)), nil
	})
}
