package main

import (
	"fmt"
	"io"
	"unicode/utf16"
	"unicode/utf8"
)

// An escaper writes what a format can write in ASCII without loss, in ASCII:
// every character beyond becomes what stands for it in that format.
type escaper struct {
	to   io.Writer
	code func([]byte, rune) []byte // appends what stands for a character; nil passes all on
	rest []byte                    // the beginning of a character whose end is yet to come
}

// escapes are the formats that can.
var escapes = map[string]func([]byte, rune) []byte{
	"json": jsonEscape, "sarif": jsonEscape, "gitlab": jsonEscape,
	"html": markupEscape, "svg": markupEscape, "junit": markupEscape,
}

// jsonEscape writes a character as in a string of JSON.
func jsonEscape(b []byte, c rune) []byte {
	if hi, lo := utf16.EncodeRune(c); hi != utf8.RuneError {
		return fmt.Appendf(b, `\u%04x\u%04x`, hi, lo)
	}
	return fmt.Appendf(b, `\u%04x`, c)
}

// markupEscape writes a character as in the text of HTML or XML.
func markupEscape(b []byte, c rune) []byte { return fmt.Appendf(b, "&#%d;", c) }

func (e *escaper) Write(b []byte) (int, error) {
	if e.code == nil {
		return e.to.Write(b)
	}
	in := append(e.rest, b...)
	out := make([]byte, 0, len(in))
	for len(in) > 0 {
		if in[0] < utf8.RuneSelf {
			out, in = append(out, in[0]), in[1:]
			continue
		}
		if !utf8.FullRune(in) {
			break
		}
		c, size := utf8.DecodeRune(in)
		out, in = e.code(out, c), in[size:]
	}
	e.rest = append([]byte(nil), in...)
	if _, err := e.to.Write(out); err != nil {
		return 0, err
	}
	return len(b), nil
}
