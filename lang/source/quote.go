package source

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Quote gives a path for people. Names in a repository are bytes of any kind:
// control characters, and bytes that are not UTF-8, are shown as \xHH, so that
// a hostile name cannot write to the terminal.
func Quote(path string) string {
	plain := true
	for _, r := range path {
		if r == utf8.RuneError || !unicode.IsPrint(r) {
			plain = false
			break
		}
	}
	if plain {
		return path
	}
	const digits = "0123456789abcdef"
	var b strings.Builder
	for i := 0; i < len(path); {
		r, n := utf8.DecodeRuneInString(path[i:])
		if r == utf8.RuneError && n == 1 || !unicode.IsPrint(r) {
			for _, c := range []byte(path[i : i+n]) {
				b.WriteString(`\x`)
				b.WriteByte(digits[c>>4])
				b.WriteByte(digits[c&15])
			}
		} else {
			b.WriteString(path[i : i+n])
		}
		i += n
	}
	return b.String()
}
