package lang

import (
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// Nearly all of an estate is blocks of literals and names. A plainParser reads
// just that, some eight times quicker than the HCL library, whose scanner counts
// the columns of every sign; whatever else a file holds, a mistake above all, it
// leaves to the library, whole. It makes the library's own syntax tree, with
// offsets in bytes and no lines or columns; a test compares the two trees, and
// fuzzing looks for texts on which they differ.
type plainParser struct {
	src   []byte
	i     int // the next byte
	names map[string]string

	// Names that were seen before share the steps they consist of.
	traversals map[string]hcl.Traversal

	// Nodes are cut from slabs.
	attrs       []hclsyntax.Attribute
	blocks      []hclsyntax.Block
	bodies      []hclsyntax.Body
	literals    []hclsyntax.LiteralValueExpr
	templates   []hclsyntax.TemplateExpr
	nameNodes   []hclsyntax.ScopeTraversalExpr
	tuples      []hclsyntax.TupleConsExpr
	expressions []hclsyntax.Expression
	ranges      []hcl.Range
	labels      []string
}

// plainDepth is how deep blocks and values may be nested to be plain.
const plainDepth = 16

func newPlainParser(names map[string]string) *plainParser {
	return &plainParser{names: names, traversals: map[string]hcl.Traversal{}}
}

// parse gives the syntax tree of a file, or nil where it is not plain.
func (p *plainParser) parse(src []byte) *hclsyntax.Body {
	if !utf8.Valid(src) {
		return nil
	}
	p.src, p.i = src, 0
	body, ok := p.body(false, 0)
	p.src = nil
	if !ok {
		return nil
	}
	return body
}

// next gives the next byte, or 0 at the end: a text with zeros is not plain.
func (p *plainParser) next() byte {
	if p.i < len(p.src) {
		return p.src[p.i]
	}
	return 0
}

func (p *plainParser) spaces() {
	for p.i < len(p.src) && (p.src[p.i] == ' ' || p.src[p.i] == '\t') {
		p.i++
	}
}

// comment passes over a comment up to the end of its line, and reports whether
// there is one. It is false, too, where something odd is in it.
func (p *plainParser) comment() bool {
	switch {
	case p.next() == '#':
	case p.next() == '/' && p.i+1 < len(p.src) && p.src[p.i+1] == '/':
	default:
		return false
	}
	for p.i < len(p.src) && !p.atNewline() {
		if c := p.src[p.i]; c < ' ' && c != '\t' {
			return false
		}
		p.i++
	}
	return true
}

// endOfLine passes over the rest of a line that must hold nothing more than a
// comment.
func (p *plainParser) endOfLine() bool {
	p.spaces()
	p.comment()
	if p.i == len(p.src) {
		return true
	}
	return p.newline()
}

// atNewline reports whether a line ends here.
func (p *plainParser) atNewline() bool {
	c := p.next()
	return c == '\n' || c == '\r' && p.i+1 < len(p.src) && p.src[p.i+1] == '\n'
}

// newline passes over the end of a line, and reports whether it was one.
func (p *plainParser) newline() bool {
	if !p.atNewline() {
		return false
	}
	if p.src[p.i] == '\r' {
		p.i++
	}
	p.i++
	return true
}

// lines passes over spaces, ends of lines and comments.
func (p *plainParser) lines() {
	for p.i < len(p.src) {
		if c := p.src[p.i]; c == ' ' || c == '\t' {
			p.i++
		} else if !p.newline() && !p.comment() {
			return
		}
	}
}

// body reads attributes and blocks up to the end of the file, or to the brace
// that closes.
func (p *plainParser) body(closing bool, depth int) (*hclsyntax.Body, bool) {
	if depth > plainDepth {
		return nil, false
	}
	b := cut(&p.bodies)
	start := p.i
	for {
		p.lines()
		if p.i == len(p.src) {
			b.SrcRange, b.EndRange = p.span(start), p.span(p.i)
			return b, !closing
		}
		if p.src[p.i] == '}' {
			p.i++
			b.SrcRange, b.EndRange = p.span(start), p.span(p.i)
			return b, closing
		}
		at := p.i
		name, ok := p.word()
		if !ok {
			return nil, false
		}
		nameRange := p.span(at)
		p.spaces()
		if p.next() == '=' {
			if !p.attribute(b, name, nameRange) || !p.endOfLine() {
				return nil, false
			}
			continue
		}
		in, ok := p.block(name, nameRange, depth)
		if !ok || !p.endOfLine() {
			return nil, false
		}
		b.Blocks = append(b.Blocks, in)
	}
}

// attribute reads what follows the name of an attribute, from "=" on.
func (p *plainParser) attribute(b *hclsyntax.Body, name string, nameRange hcl.Range) bool {
	equals := p.i
	p.i++
	equalsRange := p.span(equals)
	p.spaces()
	x, ok := p.value(0)
	if !ok {
		return false
	}
	if b.Attributes == nil {
		b.Attributes = make(hclsyntax.Attributes, 8)
	} else if b.Attributes[name] != nil {
		return false
	}
	a := cut(&p.attrs)
	a.Name, a.Expr = name, x
	a.SrcRange, a.NameRange, a.EqualsRange = p.span(nameRange.Start.Byte), nameRange, equalsRange
	b.Attributes[name] = a
	return true
}

// block reads what follows the name of a block.
func (p *plainParser) block(name string, nameRange hcl.Range, depth int) (*hclsyntax.Block, bool) {
	in := cut(&p.blocks)
	in.Type, in.TypeRange = name, nameRange
	for p.next() == '"' {
		start := p.i
		text, ok := p.quoted()
		if !ok || len(in.Labels) > 0 {
			return nil, false
		}
		in.Labels, in.LabelRanges = cutSlice(&p.labels, 1), cutSlice(&p.ranges, 1)
		in.Labels[0], in.LabelRanges[0] = text, p.span(start)
		p.spaces()
	}
	if p.next() != '{' {
		return nil, false
	}
	open := p.i
	p.i++
	in.OpenBraceRange = p.span(open)
	start := p.i
	p.spaces()
	switch c := p.next(); {
	case p.atNewline() || c == '#' || c == '/':
		body, ok := p.body(true, depth+1)
		if !ok {
			return nil, false
		}
		in.Body = body
	case c == '}':
		p.i++
		in.Body = cut(&p.bodies)
	default: // one attribute on the block's own line
		at := p.i
		word, ok := p.word()
		nameRange := p.span(at)
		p.spaces()
		in.Body = cut(&p.bodies)
		if !ok || p.next() != '=' || !p.attribute(in.Body, word, nameRange) {
			return nil, false
		}
		p.spaces()
		if p.next() != '}' {
			return nil, false
		}
		p.i++
	}
	if in.Body.SrcRange.End.Byte == 0 {
		in.Body.SrcRange, in.Body.EndRange = p.span(start), p.span(p.i)
	}
	in.CloseBraceRange = p.span(p.i - 1)
	return in, true
}

// word reads a word of ASCII letters, digits, - and _ that begins with a letter.
func (p *plainParser) word() (string, bool) {
	start := p.i
	if c := p.next() | 0x20; c < 'a' || c > 'z' {
		return "", false
	}
	for isWordByte(p.next()) {
		p.i++
	}
	if p.next() >= utf8.RuneSelf {
		return "", false // the word goes on with other letters
	}
	return p.intern(p.src[start:p.i]), true
}

func isWordByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_'
}

// span gives the range from start to the next byte.
func (p *plainParser) span(start int) hcl.Range {
	return hcl.Range{Start: hcl.Pos{Byte: start}, End: hcl.Pos{Byte: p.i}}
}

// cut gives a new T from a slab.
func cut[T any](slab *[]T) *T {
	if len(*slab) == 0 {
		*slab = make([]T, 64)
	}
	t := &(*slab)[0]
	*slab = (*slab)[1:]
	return t
}

// cutSlice gives n new Ts from a slab.
func cutSlice[T any](slab *[]T, n int) []T {
	if len(*slab) < n {
		*slab = make([]T, max(64, n))
	}
	t := (*slab)[:n:n]
	*slab = (*slab)[n:]
	return t
}
