package lang

import (
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"
	"golang.org/x/text/unicode/norm"
)

// Label gives the label that a name from elsewhere becomes: whatever cannot
// stand in a label becomes "-", and a letter is put before a digit. It is ""
// where nothing is left.
func Label(name string) string {
	var b strings.Builder
	gap := false
	for _, c := range norm.NFC.String(name) {
		if !hclsyntax.ValidIdentifier("a" + string(c)) {
			gap = b.Len() > 0
			continue
		}
		if gap && c != '-' && !strings.HasSuffix(b.String(), "-") {
			b.WriteByte('-')
		}
		gap = false
		b.WriteRune(c)
	}
	s := strings.Trim(b.String(), "-_")
	switch {
	case s == "" || goodLabel(s):
		return s
	case goodLabel("r" + s):
		return "r" + s
	}
	return ""
}

// Hidden gives the first character of a text that would act on a terminal or
// turn the order of what stands around it, or 0. No text of an estate may hold
// one.
func Hidden(s string) rune {
	for _, c := range s {
		if hidden(c) {
			return c
		}
	}
	return 0
}
