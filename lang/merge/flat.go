package merge

import (
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// Flat gives a text of the language with one attribute a line, each with the
// blocks that it stands in: rack.hq-a.core-1: at = 38. Comments, spaces and the
// order of attributes are left out, so that two texts which say the same are
// the same. A text that cannot be parsed is an error.
func Flat(text []byte) ([]byte, error) {
	file, diags := hclsyntax.ParseConfig(text, "flat", hcl.InitialPos)
	if diags.HasErrors() {
		return nil, ErrSyntax
	}
	f := flattener{text: text}
	f.body(file.Body.(*hclsyntax.Body), "")
	return []byte(f.out.String()), nil
}

type flattener struct {
	text []byte
	out  strings.Builder
}

func (f *flattener) body(b *hclsyntax.Body, within string) {
	var names []string
	for n := range b.Attributes {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		r := b.Attributes[n].Expr.Range()
		fmt.Fprintf(&f.out, "%s: %s = %s\n", within, n, spaced(f.text[r.Start.Byte:r.End.Byte]))
	}
	for _, in := range b.Blocks {
		it := item{}
		name(&it, in)
		inner := strings.TrimPrefix(within+"."+it.name, ".")
		if len(in.Body.Attributes)+len(in.Body.Blocks) == 0 {
			fmt.Fprintf(&f.out, "%s:\n", inner)
		}
		f.body(in.Body, inner)
	}
}

// spaced gives the tokens of an expression on one line, with one space where
// any stood.
func spaced(text []byte) string {
	tokens, _ := hclsyntax.LexExpression(text, "", hcl.InitialPos)
	var b strings.Builder
	end := 0
	for _, t := range tokens {
		switch t.Type {
		case hclsyntax.TokenComment, hclsyntax.TokenEOF, hclsyntax.TokenNewline:
			continue
		}
		if t.Range.Start.Byte > end && b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.Write(t.Bytes)
		end = t.Range.End.Byte
	}
	return b.String()
}
