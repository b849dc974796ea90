package policy

import (
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang"
	"cagenut/lang/estate"
)

// A Mistake is what is wrong with a policy as written.
type Mistake struct {
	At      estate.Range // the smallest text to look at
	Message string
	Mild    bool // the policy can still be judged
}

// longest bounds the text of an expression; HCL's parser recurses.
const longest = 1 << 16

// An Env holds the state of one evaluation. It may be used again and again,
// by one goroutine at a time.
type Env struct {
	root any
	objs []any   // current elements of the lists being walked
	ints []int64 // and their positions
}

// expr is a compiled expression. Exactly the function of its kind is set.
type expr struct {
	typ   Type
	at    estate.Span
	konst bool // the same in every environment

	number func(*Env) (Number, *Unknown)
	truth  func(*Env) (bool, *Unknown)
	text   func(*Env) (string, *Unknown)
	date   func(*Env) (estate.Date, *Unknown)
	object func(*Env) (any, *Unknown) // nil for null
	list   *list

	basis func(*Env) (string, *Unknown) // of a figure
}

// A Program is a compiled expression.
type Program struct {
	e      *expr
	slots  int
	beyond bool
	estate bool // racks anywhere are read
}

// Type gives the type of the program's value.
func (p *Program) Type() Type { return p.e.typ }

// Env makes an environment for the program. One made for a program with more
// lists in it would do as well.
func (p *Program) Env() *Env { return &Env{objs: make([]any, p.slots), ints: make([]int64, p.slots)} }

// Bool evaluates a program of kind [BoolKind] on a value of its scope's type.
func (p *Program) Bool(env *Env, root any) (bool, *Unknown) {
	env.root = root
	return p.e.truth(env)
}

// Text evaluates a program of kind [TextKind].
func (p *Program) Text(env *Env, root any) (string, *Unknown) {
	env.root = root
	return p.e.text(env)
}

// Number evaluates a program of kind [NumberKind].
func (p *Program) Number(env *Env, root any) (Number, *Unknown) {
	env.root = root
	return p.e.number(env)
}

// Compile compiles an expression over the names of a scope. With want other
// than NoKind the value must be of that kind; what can be printed is turned to
// text where text is wanted. The program is nil if a mistake is not mild.
func Compile(x estate.Expr, scope *Class, want Kind) (*Program, []Mistake) {
	c := &compiler{scope: scope, src: x.Text, file: x.At.File, base: int(x.At.Start)}
	switch int(x.At.End - x.At.Start) {
	case len(x.Text):
	case len(x.Text) + 2: // a text of the JSON form, with its quotes
		c.base++
	default: // one with escapes: places inside it cannot be told
		c.whole = x.At.Span
	}
	if len(x.Text) > longest {
		c.wrong(x.At.Span, "an expression of %d bytes; the longest that is read has %d", len(x.Text), longest)
		return nil, c.mistakes
	}
	parse := hclsyntax.ParseExpression
	// In HCL's JSON form a text is a template without quotes, and an expression
	// may be written as a template that is nothing else.
	if strings.HasSuffix(x.At.File, ".json") && (want == TextKind || strings.HasPrefix(x.Text, "${")) {
		parse = hclsyntax.ParseTemplate
	}
	tree, diags := parse([]byte(x.Text), x.At.File, hcl.Pos{Line: 1, Column: 1, Byte: c.base})
	for _, d := range diags {
		at := x.At.Span
		if d.Subject != nil {
			at = span(*d.Subject)
		}
		c.wrong(at, "%s", parserMessage(d))
	}
	var e *expr
	if !diags.HasErrors() {
		if e = c.compile(tree); e != nil {
			e = c.wanted(e, want)
		}
	}
	slices.SortStableFunc(c.mistakes, func(a, b Mistake) int { return int(a.At.Start - b.At.Start) })
	if e == nil {
		return nil, c.mistakes
	}
	return &Program{e: e, slots: c.slots, beyond: c.beyond, estate: c.estate}, c.mistakes
}

// parserMessage puts a message of HCL's parser in the shape of ours.
func parserMessage(d *hcl.Diagnostic) string {
	s := d.Detail
	if s == "" {
		s = d.Summary
	}
	s = strings.TrimSuffix(s, ".")
	if len(s) > 1 && s[1] >= 'a' {
		s = strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

func span(r hcl.Range) estate.Span {
	return estate.Span{Start: int32(r.Start.Byte), End: int32(r.End.Byte)}
}

type compiler struct {
	scope    *Class
	src      string
	file     string
	base     int // where src begins in the file
	locals   []local
	anon     map[*hclsyntax.AnonSymbolExpr]*expr
	slots    int
	whole    estate.Span // where mistakes are placed, if not at their own place
	beyond   bool        // something outside the rack is read
	estate   bool        // racks anywhere are read
	mistakes []Mistake
}

// local is a name bound by a for expression.
type local struct {
	name string
	e    *expr
}

func (c *compiler) wrong(at estate.Span, format string, args ...any) {
	if c.whole != (estate.Span{}) {
		at = c.whole
	}
	c.mistakes = append(c.mistakes, Mistake{At: estate.Range{File: c.file, Span: at}, Message: fmt.Sprintf(format, args...)})
}

func (c *compiler) doubtful(at estate.Span, format string, args ...any) {
	c.wrong(at, format, args...)
	c.mistakes[len(c.mistakes)-1].Mild = true
}

// textOf gives the source of an expression, on one line and not too long.
func (c *compiler) textOf(at estate.Span) string {
	lo, hi := int(at.Start)-c.base, int(at.End)-c.base
	if lo < 0 || hi > len(c.src) || lo > hi {
		return "this"
	}
	s := strings.Join(strings.Fields(c.src[lo:hi]), " ")
	if r := []rune(s); len(r) > 60 {
		s = string(r[:57]) + "..."
	}
	return s
}

func (c *compiler) slot() int {
	c.slots++
	return c.slots - 1
}

// wanted checks that e has the kind that its place needs.
func (c *compiler) wanted(e *expr, want Kind) *expr {
	switch {
	case want == NoKind || e.typ.Kind == want:
		return e
	case want == TextKind:
		return c.asText(e)
	}
	c.wrong(e.at, "%s is %s; %s is needed here", c.textOf(e.at), e.typ, Type{Kind: want})
	return nil
}

// compile compiles one node; nil says that a mistake was recorded.
func (c *compiler) compile(n hclsyntax.Expression) *expr {
	var e *expr
	switch n := n.(type) {
	case *hclsyntax.LiteralValueExpr:
		e = c.literal(n)
	case *hclsyntax.ParenthesesExpr:
		e = c.compile(n.Expression)
	case *hclsyntax.ScopeTraversalExpr:
		e = c.reference(n)
	case *hclsyntax.RelativeTraversalExpr:
		if e = c.compile(n.Source); e != nil {
			e = c.traverse(e, n.Traversal)
		}
	case *hclsyntax.AnonSymbolExpr:
		e = c.anon[n]
	case *hclsyntax.IndexExpr:
		e = c.index(n)
	case *hclsyntax.UnaryOpExpr:
		e = c.unary(n)
	case *hclsyntax.BinaryOpExpr:
		e = c.binary(n)
	case *hclsyntax.ConditionalExpr:
		e = c.conditional(n)
	case *hclsyntax.FunctionCallExpr:
		e = c.call(n)
	case *hclsyntax.TemplateExpr:
		e = c.template(n)
	case *hclsyntax.TemplateWrapExpr:
		e = c.compile(n.Wrapped)
	case *hclsyntax.TemplateJoinExpr:
		e = c.join(n)
	case *hclsyntax.TupleConsExpr:
		e = c.tuple(n)
	case *hclsyntax.ForExpr:
		e = c.forList(n)
	case *hclsyntax.SplatExpr:
		e = c.splat(n)
	case *hclsyntax.ObjectConsExpr:
		c.wrong(span(n.Range()), "a policy has no use for an object in braces; write a list in brackets")
	default:
		c.wrong(span(n.Range()), "a policy cannot use this kind of expression")
	}
	if e == nil {
		return nil
	}
	// The place is that of the node just compiled, whatever e was made from.
	moved := *e
	moved.at = span(n.Range())
	return c.fold(&moved)
}

// compileAll compiles several nodes, all of them even if one is wrong.
func (c *compiler) compileAll(nodes []hclsyntax.Expression) ([]*expr, bool) {
	out, ok := make([]*expr, len(nodes)), true
	for i, n := range nodes {
		if out[i] = c.compile(n); out[i] == nil {
			ok = false
		}
	}
	return out, ok
}

// fold evaluates what is the same in every environment once and for all. What
// comes out unknown, such as a division by zero, is left as it is.
func (c *compiler) fold(e *expr) *expr {
	if !e.konst {
		return e
	}
	switch e.typ.Kind {
	case NumberKind:
		e.number = folded(e.number)
	case BoolKind:
		e.truth = folded(e.truth)
	case TextKind:
		e.text = folded(e.text)
	case DateKind:
		e.date = folded(e.date)
	}
	return e
}

func folded[T any](f func(*Env) (T, *Unknown)) func(*Env) (T, *Unknown) {
	v, u := f(nil)
	if u != nil {
		return f
	}
	return func(*Env) (T, *Unknown) { return v, nil }
}

func numberExpr(u Unit, konst bool, get func(*Env) (Number, *Unknown)) *expr {
	return &expr{typ: Type{Kind: NumberKind, Unit: u}, konst: konst, number: get}
}

func boolExpr(konst bool, get func(*Env) (bool, *Unknown)) *expr {
	return &expr{typ: Type{Kind: BoolKind}, konst: konst, truth: get}
}

func textExpr(konst bool, get func(*Env) (string, *Unknown)) *expr {
	return &expr{typ: Type{Kind: TextKind}, konst: konst, text: get}
}

func dateExpr(konst bool, get func(*Env) (estate.Date, *Unknown)) *expr {
	return &expr{typ: Type{Kind: DateKind}, konst: konst, date: get}
}

// nearest gives "; perhaps NAME is meant" for the known name that is closest to
// the one written, or nothing where none is close.
func nearest(written string, known []string) string {
	if n := lang.Near(written, known); n != "" {
		return "; perhaps " + n + " is meant"
	}
	return ""
}
