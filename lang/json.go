package lang

import (
	stdjson "encoding/json"
	"strings"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/hashicorp/hcl/v2/json"
	"github.com/zclconf/go-cty/cty"
)

// parseJSON reads the JSON form of HCL into the syntax tree of the native form,
// so that everything after it is the same.
func (r *reader) parseJSON(src []byte) *hclsyntax.Body {
	if !utf8.Valid(src) && !inUTF16(src) {
		src = r.encoding(src)
		r.src, r.part.broken = src, true
	}
	file, diags := json.Parse(src, r.part.path)
	if diags.HasErrors() {
		r.part.broken = true
		r.syntax(innermost(diags))
		return nil
	}
	r.evaluated = true
	return r.nativeBody(root, file.Body)
}

// nativeBody turns a body of the JSON form into one of the native form. The
// JSON form does not say what is a block; the table does.
func (r *reader) nativeBody(b *block, body hcl.Body) *hclsyntax.Body {
	out := &hclsyntax.Body{Attributes: hclsyntax.Attributes{}}
	schema := &hcl.BodySchema{}
	for _, in := range b.blocks {
		h := hcl.BlockHeaderSchema{Type: in.name}
		if in.label != "" {
			h.LabelNames = []string{"name"}
		}
		schema.Blocks = append(schema.Blocks, h)
	}
	content, rest, diags := body.PartialContent(schema)
	r.syntaxOf(diags)
	if content != nil {
		for _, in := range content.Blocks {
			kind := b.inner[in.Type]
			end := r.within(in.Body.MissingItemRange())
			out.Blocks = append(out.Blocks, &hclsyntax.Block{
				Type: in.Type, Labels: in.Labels,
				TypeRange: r.within(in.TypeRange), LabelRanges: in.LabelRanges,
				OpenBraceRange: in.DefRange, CloseBraceRange: end,
				Body: r.nativeBody(kind, in.Body),
			})
		}
	}
	attrs, diags := rest.JustAttributes()
	r.syntaxOf(diags)
	for name, a := range attrs {
		if b == root && name == "//" {
			continue
		}
		out.Attributes[name] = &hclsyntax.Attribute{
			Name: name, Expr: r.nativeExpr(b.index[name], a.Expr),
			SrcRange: r.within(a.Range), NameRange: r.within(a.NameRange),
		}
	}
	return out
}

func (r *reader) syntaxOf(diags hcl.Diagnostics) {
	if diags.HasErrors() {
		r.part.broken = true
		r.syntax(diags)
	}
}

// nativeExpr turns an expression of the JSON form into one of the native form.
// Names stand in quotes there: "frame.cab-42".
func (r *reader) nativeExpr(line *attr, x hcl.Expression) hclsyntax.Expression {
	at := r.within(x.Range())
	if list, diags := hcl.ExprList(x); !diags.HasErrors() {
		out := &hclsyntax.TupleConsExpr{SrcRange: at, OpenRange: at}
		for _, e := range list {
			out.Exprs = append(out.Exprs, r.nativeExpr(line, e))
		}
		return out
	}
	if pairs, diags := hcl.ExprMap(x); !diags.HasErrors() {
		out := &hclsyntax.ObjectConsExpr{SrcRange: at, OpenRange: at}
		for _, p := range pairs {
			key, _ := p.Key.Value(nil)
			out.Items = append(out.Items, hclsyntax.ObjectConsItem{
				KeyExpr:   &hclsyntax.ObjectConsKeyExpr{Wrapped: &hclsyntax.LiteralValueExpr{Val: key, SrcRange: r.within(p.Key.Range())}},
				ValueExpr: r.nativeExpr(nil, p.Value),
			})
		}
		return out
	}
	names := line != nil && (line.refers != "" || line.bare)
	if t, diags := hcl.AbsTraversalForExpr(x); !diags.HasErrors() && (names || t.RootName() == "unknown" && len(t) == 1) {
		return &hclsyntax.ScopeTraversalExpr{Traversal: t, SrcRange: at}
	}
	// A text with ${...} in it is read as the native form reads it.
	if text, ok := jsonText(x, r.src); ok && (line == nil || !line.raw) && strings.Contains(text, "{") {
		native, diags := hclsyntax.ParseTemplate([]byte(text), r.part.path, at.Start)
		if diags.HasErrors() {
			r.syntaxOf(diags)
			return &hclsyntax.LiteralValueExpr{Val: cty.DynamicVal, SrcRange: at}
		}
		if w, ok := native.(*hclsyntax.TemplateWrapExpr); ok {
			return w.Wrapped
		}
		return native
	}
	v, _ := x.Value(nil)
	return &hclsyntax.LiteralValueExpr{Val: v, SrcRange: at}
}

// jsonText gives the text of a JSON string with its escapes read.
func jsonText(x hcl.Expression, src []byte) (string, bool) {
	at := x.Range()
	if at.Start.Byte < 0 || at.End.Byte > len(src) || at.Start.Byte >= at.End.Byte {
		return "", false
	}
	var s string
	err := stdjson.Unmarshal(src[at.Start.Byte:at.End.Byte], &s)
	return s, err == nil
}

// innermost leaves the diagnostics that stand last in the text: an error in a
// JSON value is reported again for everything around it.
func innermost(diags hcl.Diagnostics) hcl.Diagnostics {
	last := -1
	for _, d := range diags {
		if d.Subject != nil {
			last = max(last, d.Subject.Start.Byte)
		}
	}
	var out hcl.Diagnostics
	for _, d := range diags {
		if d.Subject != nil && d.Subject.Start.Byte == last {
			out = append(out, d)
		}
	}
	return out
}
