package merge

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// A body is a text, or the inside of a block, cut into items. Written one
// after the other, with end behind them, they give the text again.
type body struct {
	keys  []string
	items map[string]*item
	end   string // what follows the last item
}

func (b *body) get(key string) *item {
	if b == nil {
		return nil
	}
	return b.items[key]
}

// An item is an attribute or a block. Its pieces in order are lead, head,
// inner (of a block that spans lines), foot and trail.
type item struct {
	name  string // as a conflict names it
	attr  bool
	lead  string // comments and blank lines in front, and the indentation
	head  string // the whole of an attribute or of a block on one line; else up to the line's end behind the brace
	inner *body  // nil for an attribute, and for a block on one line
	foot  string // the closing brace, with its indentation
	trail string // the rest of the line, with the comment on it
}

func (it *item) write(out *bytes.Buffer) {
	out.WriteString(it.lead)
	out.WriteString(it.head)
	if it.inner != nil {
		it.inner.write(out)
	}
	out.WriteString(it.foot)
	out.WriteString(it.trail)
}

func (b *body) write(out *bytes.Buffer) {
	for _, key := range b.keys {
		b.items[key].write(out)
	}
	out.WriteString(b.end)
}

// same reports whether two items are the same text, or both are missing.
func same(a, b *item) bool {
	if a == nil || b == nil {
		return a == b
	}
	var x, y bytes.Buffer
	a.write(&x)
	b.write(&y)
	return bytes.Equal(x.Bytes(), y.Bytes())
}

// alike reports whether two items say the same, whatever their comments and
// spaces.
func alike(a, b *item) bool {
	var x, y bytes.Buffer
	a.write(&x)
	b.write(&y)
	return normal(x.String()) == normal(y.String())
}

// cut cuts a text into items.
func cut(text []byte) (*body, error) {
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	file, diags := hclsyntax.ParseConfig(text, "merge", hcl.InitialPos)
	if diags.HasErrors() {
		d := diags.Errs()[0].(*hcl.Diagnostic)
		line := 1
		if d.Subject != nil {
			line = d.Subject.Start.Line
		}
		return nil, fmt.Errorf("line %d: %s: %w", line, strings.ToLower(d.Summary), ErrSyntax)
	}
	c := cutter{text: text}
	return c.body(file.Body.(*hclsyntax.Body), 0, len(text)), nil
}

type cutter struct{ text []byte }

// piece is an attribute or a block as the parser found it.
type piece struct {
	from, to int
	attr     *hclsyntax.Attribute
	block    *hclsyntax.Block
}

// body cuts the text between two bytes.
func (c *cutter) body(syntax *hclsyntax.Body, from, to int) *body {
	var pieces []piece
	for _, a := range syntax.Attributes {
		pieces = append(pieces, piece{from: a.SrcRange.Start.Byte, to: a.SrcRange.End.Byte, attr: a})
	}
	for _, b := range syntax.Blocks {
		pieces = append(pieces, piece{from: b.TypeRange.Start.Byte, to: b.CloseBraceRange.End.Byte, block: b})
	}
	slices.SortFunc(pieces, func(a, b piece) int { return a.from - b.from })
	out := &body{items: map[string]*item{}}
	at := from
	for i, p := range pieces {
		limit := to
		if i+1 < len(pieces) {
			limit = pieces[i+1].from
		}
		it := &item{lead: string(c.text[at:p.from])}
		at = c.lineEnd(p.to, limit)
		it.trail = string(c.text[p.to:at])
		key := ""
		if p.attr != nil {
			it.attr, it.name = true, p.attr.Name
			it.head = string(c.text[p.from:p.to])
			key = "attribute " + p.attr.Name
		} else {
			c.block(it, p.block)
			key = c.key(p.block, it, syntax)
		}
		for n := 2; out.items[key] != nil; n++ { // the same name twice is a mistake, but must not get lost
			key = fmt.Sprintf("%s #%d", strings.TrimSuffix(key, fmt.Sprintf(" #%d", n-1)), n)
		}
		out.keys = append(out.keys, key)
		out.items[key] = it
	}
	out.end = string(c.text[at:to])
	return out
}

// lineEnd gives the end of the line that an item ends on, but not beyond the
// next item.
func (c *cutter) lineEnd(at, limit int) int {
	if i := bytes.IndexByte(c.text[at:limit], '\n'); i >= 0 {
		return at + i + 1
	}
	return limit
}

// name names a block as references do: rack.hq-a, and rack.hq-a.core-1 for a
// mount in it.
func name(it *item, b *hclsyntax.Block) {
	it.name = strings.Join(append([]string{b.Type}, b.Labels...), ".")
	if b.Type == "mount" || b.Type == "zero_u" || b.Type == "stack" {
		it.name = strings.Join(b.Labels, ".")
	}
}

// block cuts a block that spans lines inside as well.
func (c *cutter) block(it *item, b *hclsyntax.Block) {
	name(it, b)
	open, shut := b.OpenBraceRange.End.Byte, b.CloseBraceRange.Start.Byte
	if b.OpenBraceRange.Start.Line == b.CloseBraceRange.Start.Line {
		it.head = string(c.text[b.TypeRange.Start.Byte:b.CloseBraceRange.End.Byte])
		return
	}
	inside := c.lineEnd(open, shut)
	foot := shut
	for foot > inside && (c.text[foot-1] == ' ' || c.text[foot-1] == '\t') {
		foot--
	}
	it.head = string(c.text[b.TypeRange.Start.Byte:inside])
	it.inner = c.body(b.Body, inside, foot)
	it.foot = string(c.text[foot:b.CloseBraceRange.End.Byte])
}

// key names a block among those of its body: by type and labels, or, where
// several have none, by what they say.
func (c *cutter) key(b *hclsyntax.Block, it *item, among *hclsyntax.Body) string {
	if len(b.Labels) > 0 {
		return b.Type + " " + strings.Join(b.Labels, " ")
	}
	alike := 0
	for _, other := range among.Blocks {
		if other.Type == b.Type && len(other.Labels) == 0 {
			alike++
		}
	}
	if alike == 1 && !placed[b.Type] {
		return b.Type
	}
	var text bytes.Buffer
	it.write(&text)
	return b.Type + " " + normal(strings.TrimPrefix(text.String(), it.lead))
}

// placed are the blocks without a name of which a rack may have any number, so
// that two sides which each add one do not mean the same one.
var placed = map[string]bool{"blank": true}

// normal gives the tokens of a text without space and comments between them,
// so that what is written otherwise and says the same is equal.
func normal(text string) string {
	tokens, diags := hclsyntax.LexConfig([]byte(text), "", hcl.InitialPos)
	if diags.HasErrors() {
		return strings.TrimSpace(text)
	}
	var b strings.Builder
	for _, t := range tokens {
		switch t.Type {
		case hclsyntax.TokenComment, hclsyntax.TokenEOF:
		case hclsyntax.TokenNewline:
			b.WriteByte('\n')
		default:
			b.Write(t.Bytes)
			b.WriteByte(0)
		}
	}
	return strings.Trim(b.String(), "\n")
}
