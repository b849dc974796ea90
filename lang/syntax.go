package lang

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2"
)

// syntax reports what the HCL parser found wrong, in our words where a mistake
// is common.
func (r *reader) syntax(diags hcl.Diagnostics) {
	for _, d := range diags {
		if d.Severity != hcl.DiagError {
			continue
		}
		at := hcl.Range{}
		if d.Subject != nil {
			at = *d.Subject
		}
		r.report(at, "", "%s", r.explain(d, at))
	}
}

// explain says what is wrong and what to write.
func (r *reader) explain(d *hcl.Diagnostic, at hcl.Range) string {
	switch d.Summary {
	case "Invalid single-argument block definition", "Missing newline after argument", "Missing newline after block definition":
		if s := r.oneLine(at); s != "" {
			return s
		}
	case "Attribute redefined":
		return strings.TrimSuffix(strings.Split(d.Detail, ". ")[0], ".") + "; keep one of the two"
	case "Invalid character":
		switch {
		case strings.Contains(d.Detail, "Single quotes"):
			return "text stands in double quotes (\"), not single ones"
		case strings.Contains(d.Detail, "Curly quotes"):
			return "text stands in straight double quotes (\"), not curly ones"
		case strings.Contains(d.Detail, "\";\""):
			return "lines need no semicolon; take it out, or begin a new line"
		}
	case "Invalid character encoding":
		return "the file is not in UTF-8; save it as UTF-8"
	case "Unclosed configuration block", "Unclosed configuration body":
		return "this block is not closed; a } is missing, here or in a block inside"
	case "Invalid multi-line string", "Unterminated string literal", "Unterminated template string":
		return "this text is not closed on its line; a \" is missing"
	case "Invalid block definition":
		if strings.Contains(d.Detail, "equals sign") {
			return "a block has no \"=\"; write NAME { with its attributes on lines of their own, or take the label out where an attribute is meant"
		}
		if strings.Contains(d.Detail, "same line") {
			return "the { of a block stands on the line of its name"
		}
	}
	detail := plainSentence(strings.Split(d.Detail, ". ")[0])
	if detail == "" {
		detail = plainSentence(d.Summary)
	}
	return detail
}

// oneLine explains a block that was written on one line with several
// attributes in it, and shows how that line is written.
func (r *reader) oneLine(at hcl.Range) string {
	start := bytes.LastIndexByte(r.src[:min(at.Start.Byte, len(r.src))], '\n') + 1
	end := len(r.src)
	if i := bytes.IndexByte(r.src[start:], '\n'); i >= 0 {
		end = start + i
	}
	line := strings.TrimSpace(string(r.src[start:end]))
	open := strings.IndexByte(line, '{')
	if open < 0 || open > at.Start.Byte-start+1 {
		return ""
	}
	head := strings.TrimSpace(line[:open])
	if head == "" || strings.ContainsAny(head, "=#") || strings.HasPrefix(head, "//") {
		return ""
	}
	rest := strings.TrimSpace(line[open+1:])
	if i := strings.LastIndexByte(rest, '}'); i >= 0 {
		rest = strings.TrimSpace(rest[:i])
	}
	return fmt.Sprintf("a block on one line holds one attribute; write %s {, each attribute on a line of its own, and } on the last%s", clip(head), respell(rest))
}

// respell shows attributes that stood on one line as lines, where they can be
// told apart.
func respell(s string) string {
	var lines []string
	for _, a := range splitOutside(s) {
		if a = strings.TrimSpace(a); a != "" {
			lines = append(lines, a)
		}
	}
	if len(lines) < 2 || len(s) > 200 {
		return ""
	}
	return ": " + strings.Join(lines, " / ")
}

// splitOutside splits at commas and semicolons that stand in no brackets and
// no text.
func splitOutside(s string) []string {
	var out []string
	depth, quoted, start := 0, false, 0
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '\\' && quoted:
			i++
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '[' || c == '{' || c == '(':
			depth++
		case c == ']' || c == '}' || c == ')':
			depth--
		case (c == ',' || c == ';') && depth == 0:
			out = append(out, s[start:i])
			start = i + 1
		}
	}
	return append(out, s[start:])
}

const (
	// maxFile bounds the size of one file, as places are kept in 31 bits and
	// the parser needs many times the size of the text.
	maxFile = 64 << 20
	// maxNesting bounds how deep brackets may be nested: the parser calls
	// itself for each.
	maxNesting = 100
)

// tooDeep finds the first bracket that is nested more than maxNesting deep.
// Brackets in texts and comments count, too: they only make it stricter.
func tooDeep(src []byte) (int, bool) {
	depth := 0
	for i, c := range src {
		switch c {
		case '(', '[', '{':
			if depth++; depth > maxNesting {
				return i, true
			}
		case ')', ']', '}':
			if depth > 0 {
				depth--
			}
		}
	}
	return 0, false
}
