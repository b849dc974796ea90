package lang

import (
	"bytes"
	"slices"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
)

// encoding reports the first byte of a file that is not UTF-8, and gives the
// text with a letter in the place of each such byte. The parser takes what
// follows such a byte for something else, so that it would find mistakes that
// are none; read again with letters there, a text keeps its places, and only
// what is wrong beside is found. Lines with such bytes are left to this one
// mistake.
func (r *reader) encoding(src []byte) []byte {
	out := slices.Clone(src)
	first := -1
	r.foreign = nil
	eachForeign(src, func(at, line int) {
		if first < 0 {
			first = at
		}
		if n := len(r.foreign); n == 0 || r.foreign[n-1] != line {
			r.foreign = append(r.foreign, line)
		}
		out[at] = 'x'
	})
	r.report(hcl.Range{Start: hcl.Pos{Byte: first}, End: hcl.Pos{Byte: first + 1}}, "", "the file is not in UTF-8; save it as UTF-8")
	return out
}

// eachForeign calls f with the place and the line, counted from 0, of each byte
// that is not UTF-8.
func eachForeign(src []byte, f func(at, line int)) {
	line := 0
	for i := 0; i < len(src); {
		c, size := utf8.DecodeRune(src[i:])
		switch {
		case c == utf8.RuneError && size == 1:
			f(i, line)
		case c == '\n':
			line++
		}
		i += size
	}
}

// misread reports whether the parser found a mistake on a line with bytes that
// are not UTF-8. In a comment such bytes do no harm. A file in UTF-16 is a
// mistake of its own.
func misread(src []byte, diags hcl.Diagnostics) bool {
	if !diags.HasErrors() || utf8.Valid(src) || inUTF16(src) {
		return false
	}
	foreign := map[int]bool{}
	eachForeign(src, func(_, line int) { foreign[line] = true })
	return slices.ContainsFunc(diags, func(d *hcl.Diagnostic) bool {
		return d.Subject != nil && foreign[d.Subject.Start.Line-1]
	})
}

// inUTF16 reports whether a text begins as text in UTF-16 does.
func inUTF16(src []byte) bool {
	return bytes.HasPrefix(src, []byte("\xff\xfe")) || bytes.HasPrefix(src, []byte("\xfe\xff"))
}
