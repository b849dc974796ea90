package lang

import (
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
)

// value reads a literal, a name, a list or a group. What follows it is looked
// at by whoever asked for it.
func (p *plainParser) value(depth int) (hclsyntax.Expression, bool) {
	start := p.i
	switch c := p.next(); {
	case depth > plainDepth:
		return nil, false
	case c == '"':
		return p.text()
	case c >= '0' && c <= '9':
		return p.number()
	case c == '[':
		return p.tuple(start, depth)
	case c == '{':
		return p.group(start, depth)
	}
	return p.name()
}

func (p *plainParser) text() (hclsyntax.Expression, bool) {
	start := p.i
	s, ok := p.quoted()
	if !ok {
		return nil, false
	}
	l := cut(&p.literals)
	l.Val = cty.StringVal(s)
	l.SrcRange = p.span(start + 1)
	l.SrcRange.End.Byte--
	if s == "" { // the library places nothing behind its quotes
		l.SrcRange = p.span(p.i)
	}
	t := cut(&p.templates)
	t.Parts = cutSlice(&p.expressions, 1)
	t.Parts[0], t.SrcRange = l, p.span(start)
	return t, true
}

// quoted reads a text in quotes that holds no escapes and no ${...}.
func (p *plainParser) quoted() (string, bool) {
	start := p.i + 1
	for i := start; i < len(p.src); i++ {
		switch c := p.src[i]; {
		case c == '"':
			p.i = i + 1
			return p.intern(p.src[start:i]), true
		case c < ' ' || c == '\\':
			return "", false
		case (c == '$' || c == '%') && i+1 < len(p.src) && p.src[i+1] == '{':
			return "", false
		}
	}
	return "", false
}

// intern gives the one copy of a short text; long ones are seldom said twice.
func (p *plainParser) intern(b []byte) string {
	if len(b) > 32 {
		return string(b)
	}
	if s, ok := p.names[string(b)]; ok {
		return s
	}
	return string(b)
}

func (p *plainParser) number() (hclsyntax.Expression, bool) {
	start := p.i
	digits := func() bool {
		from := p.i
		for p.i < len(p.src) && p.src[p.i] >= '0' && p.src[p.i] <= '9' {
			p.i++
		}
		return p.i > from
	}
	digits()
	whole := true
	if p.next() == '.' {
		p.i++
		if whole = false; !digits() {
			return nil, false
		}
	}
	if c := p.next(); c == '.' || isWordByte(c) || c >= utf8.RuneSelf {
		return nil, false
	}
	l := cut(&p.literals)
	l.SrcRange = p.span(start)
	if n := p.src[start:p.i]; whole && len(n) <= 9 {
		v := int64(0)
		for _, c := range n {
			v = v*10 + int64(c-'0')
		}
		l.Val = cty.NumberIntVal(v)
		return l, true
	}
	v, err := cty.ParseNumberVal(string(p.src[start:p.i]))
	l.Val = v
	return l, err == nil
}

// name reads a word, or words with dots between.
func (p *plainParser) name() (hclsyntax.Expression, bool) {
	start := p.i
	first, ok := p.word()
	if !ok {
		return nil, false
	}
	for p.next() == '.' {
		p.i++
		if _, ok := p.word(); !ok {
			return nil, false
		}
	}
	whole := p.src[start:p.i]
	if len(whole) == len(first) {
		switch first {
		case "true", "false", "null":
			l := cut(&p.literals)
			l.SrcRange = p.span(start)
			l.Val = map[string]cty.Value{"true": cty.True, "false": cty.False, "null": cty.NullVal(cty.DynamicPseudoType)}[first]
			return l, true
		}
	}
	if first == "true" || first == "false" || first == "null" {
		return nil, false
	}
	if first == "given" { // it waits, so that it must not keep a slab alive
		return &hclsyntax.ScopeTraversalExpr{Traversal: p.placed(start), SrcRange: p.span(start)}, true
	}
	t, ok := p.traversals[string(whole)]
	if !ok {
		t = traversalOf(string(whole))
		p.traversals[string(whole)] = t
	}
	x := cut(&p.nameNodes)
	x.Traversal, x.SrcRange = t, p.span(start)
	return x, true
}

// placed gives the steps of the name from start to the next byte, each with its
// place.
func (p *plainParser) placed(start int) hcl.Traversal {
	t := traversalOf(string(p.src[start:p.i]))
	at := start
	for i, step := range t {
		switch step := step.(type) {
		case hcl.TraverseRoot:
			step.SrcRange = hcl.Range{Start: hcl.Pos{Byte: at}, End: hcl.Pos{Byte: at + len(step.Name)}}
			at += len(step.Name)
			t[i] = step
		case hcl.TraverseAttr: // with its dot
			step.SrcRange = hcl.Range{Start: hcl.Pos{Byte: at}, End: hcl.Pos{Byte: at + 1 + len(step.Name)}}
			at += 1 + len(step.Name)
			t[i] = step
		}
	}
	return t
}

func traversalOf(s string) hcl.Traversal {
	var t hcl.Traversal
	start := 0
	for i := 0; i <= len(s); i++ {
		if i < len(s) && s[i] != '.' {
			continue
		}
		if start == 0 {
			t = append(t, hcl.TraverseRoot{Name: s[:i]})
		} else {
			t = append(t, hcl.TraverseAttr{Name: s[start:i]})
		}
		start = i + 1
	}
	return t
}

func (p *plainParser) tuple(start, depth int) (hclsyntax.Expression, bool) {
	p.i++
	x := cut(&p.tuples)
	x.OpenRange = p.span(start)
	var room [8]hclsyntax.Expression
	all := room[:0]
	for {
		p.gap()
		if p.next() == ']' {
			break
		}
		e, ok := p.value(depth + 1)
		if !ok {
			return nil, false
		}
		all = append(all, e)
		p.gap()
		if p.next() == ',' {
			p.i++
			continue
		}
		if p.next() != ']' {
			return nil, false
		}
		break
	}
	p.i++
	x.Exprs = cutSlice(&p.expressions, len(all))
	copy(x.Exprs, all)
	x.SrcRange = p.span(start)
	return x, true
}

// gap passes over spaces and ends of lines.
func (p *plainParser) gap() {
	for {
		p.spaces()
		if !p.newline() {
			return
		}
	}
}

// group reads { NAME = value, ... }.
func (p *plainParser) group(start, depth int) (hclsyntax.Expression, bool) {
	p.i++
	x := &hclsyntax.ObjectConsExpr{OpenRange: p.span(start)}
	for {
		p.gap()
		if p.next() == '}' {
			break
		}
		at := p.i
		key, ok := p.word()
		if !ok || key == "for" || key == "true" || key == "false" || key == "null" || key == "given" {
			return nil, false
		}
		keyRange := p.span(at)
		p.spaces()
		if p.next() != '=' || p.i+1 < len(p.src) && (p.src[p.i+1] == '=' || p.src[p.i+1] == '>') {
			return nil, false
		}
		p.i++
		p.spaces()
		v, ok := p.value(depth + 1)
		if !ok {
			return nil, false
		}
		x.Items = append(x.Items, hclsyntax.ObjectConsItem{
			KeyExpr: &hclsyntax.ObjectConsKeyExpr{Wrapped: &hclsyntax.ScopeTraversalExpr{
				Traversal: hcl.Traversal{hcl.TraverseRoot{Name: key, SrcRange: keyRange}}, SrcRange: keyRange,
			}},
			ValueExpr: v,
		})
		p.spaces()
		switch {
		case p.next() == ',':
			p.i++
		case p.newline() || p.next() == '}':
		default:
			return nil, false
		}
	}
	p.i++
	x.SrcRange = p.span(start)
	return x, true
}
