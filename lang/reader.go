package lang

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
	"golang.org/x/text/unicode/norm"

	"cagenut/lang/estate"
	"cagenut/lang/near"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
	"cagenut/lang/system"
	"cagenut/lang/text"
)

// A reader turns the text of files into parts of a model, one file after the
// other. Each worker has its own: what it keeps between files are names seen
// before, so that a name that stands in ten thousand files is held once.
type reader struct {
	names   map[string]string
	lists   map[string]*refList
	plain   *plainParser
	scratch []byte
	spans   []estate.Span     // unused rest of a slab, see span
	attrs   []estate.AttrSpan // the same
	mounts  []estate.Mount    // the same

	// Of the file being read:
	part      *part
	src       []byte // nil once the file is read and only expressions are left
	evaluated bool   // what is read was computed: ranges do not show its text
	attr      *attr  // the attribute being read
	attrName  string // its name as written
	owner     any    // whose attribute it is
	foreign   []int  // lines, counted from 0, with bytes that are not UTF-8
}

// A part is what one file declares, with the names of other things not yet
// looked up.
type part struct {
	path     string
	estate   estate.Estate
	givens   []givenExpr
	links    []link
	deferred []deferred
	stacks   []*stack
	diags    []Diagnostic
	more     int  // mistakes beyond those in diags
	size     int  // bytes in the file
	headers  int  // how many estate blocks
	broken   bool // could not be read whole
}

// A link is a reference that waits to be looked up.
type link struct {
	owner any
	attr  *attr
	list  *refList
	spans []estate.Span // one for each name in the list
}

// asWritten gives an expression as it is written in the file being read, or ""
// where the file is in the JSON form.
func (r *reader) asWritten(x hclsyntax.Expression) string {
	if r.evaluated || r.src == nil {
		return ""
	}
	at := x.Range()
	return string(r.src[at.Start.Byte:at.End.Byte])
}

// A refList is a list of references, shared by all who write the same one.
type refList struct {
	kind   string
	names  []string // as written: "feed.a"
	things []any    // what they refer to, once looked up; nil where it does not exist
	slice  any      // things as a typed slice, once somebody asked
}

// deferred is an attribute whose value needs the named figures of other files.
type deferred struct {
	owner any
	attr  *attr
	name  string
	x     hclsyntax.Expression
	text  string // the expression as written; "" in the JSON form
	block *block // whose other reads it, where it has no line in the table
	raw   *hclsyntax.Attribute
}

func newReader() *reader {
	names := map[string]string{}
	return &reader{names: names, lists: map[string]*refList{}, plain: newPlainParser(names)}
}

// intern gives the one copy of a name, in Unicode's composed form, so that a
// reference finds its target however either was typed.
func (r *reader) intern(s string) string {
	if kept, ok := r.names[s]; ok {
		return kept
	}
	kept := strings.Clone(norm.NFC.String(s))
	r.names[strings.Clone(s)] = kept
	return kept
}

// span gives a range of HCL as the model keeps it.
func span(g hcl.Range) estate.Span {
	return estate.Span{Start: int32(g.Start.Byte), End: int32(g.End.Byte)}
}

// at gives a range of HCL in the file being read.
func (r *reader) at(g hcl.Range) estate.Range {
	return estate.Range{File: r.part.path, Span: span(r.within(g))}
}

// within brings a range inside the file: the parser of the JSON form places
// what is missing at the end of a file behind it.
func (r *reader) within(g hcl.Range) hcl.Range {
	g.Start.Byte = min(max(g.Start.Byte, 0), r.part.size)
	g.End.Byte = min(max(g.End.Byte, g.Start.Byte), r.part.size)
	return g
}

// report adds a diagnostic of the file being read.
func (r *reader) report(g hcl.Range, detail string, format string, args ...any) {
	if len(r.part.diags) >= maxMistakes {
		r.part.more++
		return
	}
	r.part.diags = append(r.part.diags, Diagnostic{
		Range: r.at(g), Severity: Error, Summary: text.Printable(fmt.Sprintf(format, args...)), Detail: printableLines(detail),
	})
}

// printableLines makes each line of s fit for a terminal.
func printableLines(s string) string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = text.Printable(lines[i])
	}
	return strings.Join(lines, "\n")
}

// bad reports that the attribute being read has a value it cannot have.
func (r *reader) bad(x hclsyntax.Expression, format string, args ...any) {
	r.report(x.Range(), "", "%s: %s", r.attrName, fmt.Sprintf(format, args...))
}

// example shows how the attribute being read is written.
func (r *reader) example() string {
	if r.attr == nil || r.attr.example == "" {
		return ""
	}
	return "; write " + r.attr.name + " = " + r.attr.example
}

// What an expression is, as far as it can be told without computing.

// literal gives the value of a literal: a number, a text without ${...}, true,
// false or null.
func literal(x hclsyntax.Expression) (cty.Value, bool) {
	switch x := x.(type) {
	case *hclsyntax.LiteralValueExpr:
		return x.Val, x.Val.IsKnown()
	case *hclsyntax.TemplateExpr:
		if len(x.Parts) == 1 {
			if isLiteralText(x.Parts[0]) {
				return x.Parts[0].(*hclsyntax.LiteralValueExpr).Val, true
			}
			return cty.NilVal, false
		}
		for _, p := range x.Parts {
			if !isLiteralText(p) {
				return cty.NilVal, false
			}
		}
		v, diags := x.Value(nil)
		return v, !diags.HasErrors() && v.IsKnown()
	}
	return cty.NilVal, false
}

// isLiteralText reports whether a part of a template is text and no ${...}.
func isLiteralText(p hclsyntax.Expression) bool {
	l, ok := p.(*hclsyntax.LiteralValueExpr)
	return ok && l.Val.Type() == cty.String && l.Val.IsKnown() && !l.Val.IsNull()
}

// keyword gives the word where the expression is a single bare word.
func keyword(x hclsyntax.Expression) string {
	if t, ok := x.(*hclsyntax.ScopeTraversalExpr); ok && len(t.Traversal) == 1 {
		return t.Traversal.RootName()
	}
	return ""
}

// isUnknown reports whether the expression is the word unknown.
func isUnknown(x hclsyntax.Expression) bool { return keyword(x) == "unknown" }

// textOf gives the text where the expression is a literal one.
func textOf(x hclsyntax.Expression) (string, bool) {
	v, ok := literal(x)
	if !ok || v.IsNull() || v.Type() != cty.String {
		return "", false
	}
	return v.AsString(), true
}

// numberOf gives the number where the expression is a literal one.
func numberOf(x hclsyntax.Expression) (*big.Float, bool) {
	v, ok := literal(x)
	if !ok || v.IsNull() || v.Type() != cty.Number {
		return nil, false
	}
	return v.AsBigFloat(), true
}

// written gives a number as it would be written, without needless digits.
func written(f *big.Float) string {
	if f.IsInf() {
		return "beyond all bounds"
	}
	if e := f.MantExp(nil); e > 256 || e < -256 {
		// Printing the digits of 1e999999999 would take a gigabyte.
		return fmt.Sprintf("1e%.0f", float64(e)*math.Log10(2))
	}
	return f.Text('f', -1)
}

// describe names what an expression is, for a message.
func describe(x hclsyntax.Expression) string {
	if v, ok := literal(x); ok {
		switch {
		case v.IsNull():
			return "null"
		case v.Type() == cty.String:
			return fmt.Sprintf("the text %q", clip(v.AsString()))
		case v.Type() == cty.Number:
			return "the number " + clip(written(v.AsBigFloat()))
		case v.Type() == cty.Bool:
			return fmt.Sprintf("%t", v.True())
		}
	}
	switch x := x.(type) {
	case *hclsyntax.ScopeTraversalExpr:
		if s, ok := dotted(x); ok {
			return "the name " + clip(s)
		}
	case *hclsyntax.TupleConsExpr:
		return "a list"
	case *hclsyntax.ObjectConsExpr:
		return "a group of values in { }"
	}
	return "an expression"
}

// clip keeps a message readable where a file holds a monster.
func clip(s string) string {
	const most = 60
	if len(s) <= most {
		return s
	}
	cut := most
	for cut > 0 && s[cut]&0xc0 == 0x80 {
		cut--
	}
	return s[:cut] + "..."
}

// The readers of plain values. Each reports what it cannot read.

func (r *reader) freeText(x hclsyntax.Expression) (string, bool) {
	s, ok := textOf(x)
	if !ok {
		switch w := keyword(x); {
		case isUnknown(x):
			r.bad(x, "unknown stands only for figures; leave the line out")
		case w != "":
			r.bad(x, "a text stands in quotes; write %s = %q", r.attrName, clip(w))
		default:
			if n, isNumber := numberOf(x); isNumber {
				r.bad(x, "a text stands in quotes; write %s = \"%s\"", r.attrName, clip(written(n)))
				return "", false
			}
			r.bad(x, "takes a text, not %s%s", describe(x), r.example())
		}
		return "", false
	}
	if i := strings.IndexFunc(s, hidden); i >= 0 {
		c, _ := utf8.DecodeRuneInString(s[i:])
		r.bad(x, "the text holds the character %U, which cannot be seen; take it out", c)
		return "", false
	}
	return s, true
}

// hidden reports whether a character of a text would act on a terminal or
// turn the order of what stands around it.
func hidden(c rune) bool {
	return c != '\n' && c != '\t' && unicode.IsControl(c) || c >= 0x202a && c <= 0x202e || c >= 0x2066 && c <= 0x2069
}

func (r *reader) texts(x hclsyntax.Expression) ([]string, bool) {
	var out []string
	ok := r.each(x, func(x hclsyntax.Expression) bool {
		s, ok := r.freeText(x)
		out = append(out, s)
		return ok
	})
	return out, ok
}

// each calls do with each element of a list, or with a value that stands alone,
// and reports whether all went well.
func (r *reader) each(x hclsyntax.Expression, do func(hclsyntax.Expression) bool) bool {
	list, ok := x.(*hclsyntax.TupleConsExpr)
	if !ok {
		return do(x)
	}
	ok = true
	for _, e := range list.Exprs {
		ok = do(e) && ok
	}
	return ok
}

func (r *reader) yesNo(x hclsyntax.Expression) (bool, bool) {
	v, ok := literal(x)
	if ok && !v.IsNull() && v.Type() == cty.Bool {
		return v.True(), true
	}
	r.bad(x, "takes true or false, not %s", describe(x))
	return false, false
}

func (r *reader) whole(x hclsyntax.Expression, lo, hi int) (int, bool) {
	f, ok := numberOf(x)
	if !ok {
		r.bad(x, "takes a whole number, not %s%s", describe(x), r.example())
		return 0, false
	}
	n, acc := f.Int64()
	if acc != big.Exact {
		r.bad(x, "takes a whole number, not %s", clip(written(f)))
		return 0, false
	}
	if n < int64(lo) || n > int64(hi) {
		r.bad(x, "%d is outside %d to %d", n, lo, hi)
		return 0, false
	}
	return int(n), true
}

func (r *reader) number(x hclsyntax.Expression, lo, hi float64) (float64, bool) {
	f, ok := numberOf(x)
	if !ok {
		r.bad(x, "takes a number, not %s%s", describe(x), r.example())
		return 0, false
	}
	n, _ := f.Float64()
	if n < lo || n > hi {
		r.bad(x, "%s is outside %s to %s", clip(written(f)), quantity.Number(lo, 3), quantity.Number(hi, 3))
		return 0, false
	}
	return n, true
}

// word gives the place of a word in a list whose empty words stand for
// nothing.
func (r *reader) word(x hclsyntax.Expression, words []string) (int, bool) {
	s, isText := textOf(x)
	w := s
	if !isText {
		w = keyword(x)
	}
	if w == "" {
		r.bad(x, "takes one of %s, not %s", quoted(words), describe(x))
		return 0, false
	}
	for i, known := range words {
		if known != w {
			continue
		}
		if !isText {
			r.bad(x, "the word stands in quotes; write %s = %q", r.attrName, w)
			return 0, false
		}
		return i, true
	}
	if n := near.Name(w, words); n != "" {
		r.bad(x, "%q is none of %s; perhaps %q is meant", clip(w), quoted(words), n)
	} else {
		r.bad(x, "%q is none of %s", clip(w), quoted(words))
	}
	return 0, false
}

func (r *reader) bareWord(x hclsyntax.Expression, words []string) (string, bool) {
	w := keyword(x)
	if s, ok := textOf(x); ok {
		w = s
	}
	for _, known := range words {
		if known == w {
			return known, true
		}
	}
	r.bad(x, "takes one of the words %s, not %s%s", choice(words), describe(x), perhaps(w, words))
	return "", false
}

func (r *reader) date(x hclsyntax.Expression) (estate.Date, bool) {
	s, ok := r.freeText(x)
	if !ok {
		return 0, false
	}
	d, err := estate.ParseDate(s)
	if err != nil {
		r.bad(x, "%v", err)
		return 0, false
	}
	return d, true
}

// tagPattern reads a pattern of tags, as git tag --list takes it.
func (r *reader) tagPattern(x hclsyntax.Expression) (string, bool) {
	s, ok := r.freeText(x)
	if !ok {
		return "", false
	}
	if err := source.CheckTagPattern(s); err != nil {
		r.bad(x, "%q is no pattern of tags: %v; write one as git tag --list takes it, such as \"as-built/*\"", clip(s), err)
		return "", false
	}
	return s, true
}

func (r *reader) clock(x hclsyntax.Expression) (estate.Clock, bool) {
	s, ok := r.freeText(x)
	if !ok {
		return 0, false
	}
	h, m, found := strings.Cut(s, ":")
	hour, ok1 := digits(h, 2)
	minute, ok2 := digits(m, 2)
	if !found || len(m) != 2 || !ok1 || !ok2 || hour > 24 || minute > 59 || hour == 24 && minute > 0 {
		r.bad(x, "%q is no time of day; write hours and minutes as in \"22:00\"", clip(s))
		return 0, false
	}
	return estate.Clock(hour*60 + minute), true
}

// digits reads a number of one to most decimal digits and nothing else.
func digits(s string, most int) (int, bool) {
	if s == "" || len(s) > most {
		return 0, false
	}
	n := 0
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, true
}

// system looks a panel system up by its name.
func (r *reader) system(x hclsyntax.Expression) (*system.System, bool) {
	i, ok := r.word(x, systemNames)
	if !ok {
		return nil, false
	}
	return findSystem(systemNames[i]), true
}

// expression keeps an expression as its text.
func (r *reader) expression(x hclsyntax.Expression) (estate.Expr, bool) {
	g := x.Range()
	if r.src == nil || r.evaluated {
		s, _ := textOf(x)
		return estate.Expr{Text: s, At: r.at(g)}, true
	}
	return estate.Expr{Text: string(r.src[g.Start.Byte:g.End.Byte]), At: r.at(g)}, true
}
