package policy

import (
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// template compiles "text ${value} text".
func (c *compiler) template(n *hclsyntax.TemplateExpr) *expr {
	parts, ok := c.compileAll(n.Parts)
	konst := true
	for i, p := range parts {
		if p == nil {
			continue
		}
		if parts[i] = c.asText(p); parts[i] == nil {
			ok = false
			continue
		}
		konst = konst && p.konst
	}
	if !ok {
		return nil
	}
	fs := make([]func(*Env) (string, *Unknown), len(parts))
	for i, p := range parts {
		fs[i] = p.text
	}
	return textExpr(konst, func(env *Env) (string, *Unknown) {
		var b strings.Builder
		for _, f := range fs {
			s, u := f(env)
			if u != nil {
				return "", u
			}
			b.WriteString(s)
		}
		return b.String(), nil
	})
}

// join compiles the text of %{ for } ... %{ endfor }.
func (c *compiler) join(n *hclsyntax.TemplateJoinExpr) *expr {
	e := c.compile(n.Tuple)
	if e == nil {
		return nil
	}
	if e.typ.Kind != ListKind || e.list.elem.typ.Kind != TextKind {
		c.wrong(e.at, "only texts can be joined, and this is %s", e.typ)
		return nil
	}
	l := e.list
	return textExpr(false, func(env *Env) (string, *Unknown) {
		var b strings.Builder
		var unsure *Unknown
		u := l.each(env, func() bool {
			s, u := l.elem.text(env)
			unsure = u
			b.WriteString(s)
			return u == nil
		})
		if u == nil {
			u = unsure
		}
		return b.String(), u
	})
}

// asText turns a value to text as a template prints it.
func (c *compiler) asText(e *expr) *expr {
	var t *expr
	switch e.typ.Kind {
	case TextKind:
		return e
	case NumberKind:
		f := e.number
		t = textExpr(e.konst, func(env *Env) (string, *Unknown) {
			v, u := f(env)
			if u != nil {
				return "", u
			}
			return v.String(), nil
		})
	case BoolKind:
		f := e.truth
		t = textExpr(e.konst, func(env *Env) (string, *Unknown) {
			v, u := f(env)
			if v {
				return "true", u
			}
			return "false", u
		})
	case DateKind:
		f := e.date
		t = textExpr(e.konst, func(env *Env) (string, *Unknown) {
			v, u := f(env)
			return v.String(), u
		})
	case ObjectKind:
		hint := ""
		if e.typ.Class.Field("name") != nil {
			hint = "; write " + c.textOf(e.at) + ".name"
		}
		c.wrong(e.at, "%s is %s and cannot be printed%s", c.textOf(e.at), e.typ, hint)
		return nil
	default:
		c.wrong(e.at, "%s is %s and cannot be printed", c.textOf(e.at), e.typ)
		return nil
	}
	t.at = e.at
	return t
}
