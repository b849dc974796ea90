package lang

import (
	"bytes"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/hashicorp/hcl/v2/hclwrite"

	"cagenut/lang/estate"
)

// Format lays the text of a file out: indents of two spaces, "=" in columns,
// one blank line where there are several, none behind an opening or before a
// closing brace. Order, values and comments stay as they are, and so do the
// way lines end and a byte order mark.
//
// A file that cannot be parsed comes back as it is, with what is wrong with
// it. The JSON form is not laid out: it comes back as it is.
func Format(path string, src []byte) ([]byte, []Diagnostic) {
	r := newReader()
	r.part = &part{path: path, size: len(src)}
	r.src = src
	if r.parse(src); r.part.broken {
		return src, sortDiagnostics(r.part.diags)
	}
	if isJSON(path) {
		return src, nil
	}
	text, mark := bytes.CutPrefix(src, byteOrderMark)
	carriage := bytes.Contains(firstLine(text), []byte{'\r'})
	in := bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	out := in
	// The library's layout settles in one step but for rare texts.
	for range 4 {
		next := blankLines(hclwrite.Format(out))
		if bytes.Equal(next, out) {
			break
		}
		out = next
	}
	if !sameTokens(in, out) {
		return src, []Diagnostic{{
			Range: estate.Range{File: path}, Severity: Error,
			Summary: cannotLayOut,
		}}
	}
	if carriage {
		out = bytes.ReplaceAll(out, []byte("\n"), []byte("\r\n"))
	}
	if mark {
		out = append(bytes.Clone(byteOrderMark), out...)
	}
	return out, nil
}

const cannotLayOut = "this file cannot be laid out without altering what it says, which is a mistake of this program: please report it with the file"

var byteOrderMark = []byte("\ufeff")

func firstLine(b []byte) []byte {
	if i := bytes.IndexByte(b, '\n'); i >= 0 {
		return b[:i]
	}
	return nil
}

// blankLines leaves one blank line where there are several, and none at the
// beginning, at the end, behind an opening and before a closing bracket. What
// is inside texts and comments is left alone, as it is no line of its own to
// the scanner.
func blankLines(src []byte) []byte {
	tokens, _ := hclsyntax.LexConfig(src, "", hcl.InitialPos)
	out := make([]byte, 0, len(src)+1)
	lineStart, opened, blank, copied := true, true, false, 0
	for _, t := range tokens {
		if t.Type == hclsyntax.TokenNewline && lineStart {
			blank = true
			copied = t.Range.End.Byte
			continue
		}
		closing := t.Type == hclsyntax.TokenEOF || t.Type == hclsyntax.TokenCBrace || t.Type == hclsyntax.TokenCBrack || t.Type == hclsyntax.TokenCParen
		if blank && lineStart && !opened && !closing {
			out = append(out, '\n')
		}
		blank = false
		if t.Type != hclsyntax.TokenNewline && t.Type != hclsyntax.TokenEOF {
			out = append(out, src[copied:t.Range.Start.Byte]...) // spaces before it
		}
		out = append(out, t.Bytes...)
		copied = t.Range.End.Byte
		beside := t.Type == hclsyntax.TokenComment && !lineStart
		lineStart = len(t.Bytes) > 0 && t.Bytes[len(t.Bytes)-1] == '\n' &&
			(t.Type == hclsyntax.TokenNewline || t.Type == hclsyntax.TokenComment)
		switch {
		case t.Type == hclsyntax.TokenOBrace || t.Type == hclsyntax.TokenOBrack || t.Type == hclsyntax.TokenOParen:
			opened = true
		case t.Type == hclsyntax.TokenNewline || beside:
		default:
			opened = false
		}
	}
	if n := len(out); n > 0 && out[n-1] != '\n' {
		out = append(out, '\n')
	}
	return out
}

// sameTokens reports whether two texts say the same: they differ in spaces and
// blank lines only.
func sameTokens(a, b []byte) bool {
	x, y := meaning(a), meaning(b)
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		if x[i].Type != y[i].Type || !bytes.Equal(bytes.TrimRight(x[i].Bytes, "\n"), bytes.TrimRight(y[i].Bytes, "\n")) {
			return false
		}
	}
	return true
}

// meaning gives the tokens of a text, of line ends one each.
func meaning(src []byte) hclsyntax.Tokens {
	tokens, _ := hclsyntax.LexConfig(src, "", hcl.InitialPos)
	var out hclsyntax.Tokens
	for _, t := range tokens {
		if t.Type == hclsyntax.TokenNewline && (len(out) == 0 || endsLine(out[len(out)-1])) || t.Type == hclsyntax.TokenEOF {
			continue
		}
		out = append(out, t)
	}
	if n := len(out); n > 0 && out[n-1].Type == hclsyntax.TokenNewline {
		out = out[:n-1] // the last line may lack its end
	}
	return out
}

func endsLine(t hclsyntax.Token) bool {
	return t.Type == hclsyntax.TokenNewline || t.Type == hclsyntax.TokenComment && bytes.HasSuffix(t.Bytes, []byte{'\n'})
}
