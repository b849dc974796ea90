package lang

import (
	"bytes"
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/hashicorp/hcl/v2"
)

// syntax reports what the HCL parser found wrong, in our words where a mistake
// is common. Of what follows from one mistake only the mistake is reported.
func (r *reader) syntax(diags hcl.Diagnostics) {
	var all []*hcl.Diagnostic
	for _, d := range diags {
		if d.Severity == hcl.DiagError && d.Subject != nil {
			all = append(all, d)
		}
	}
	slices.SortStableFunc(all, func(a, b *hcl.Diagnostic) int {
		return cmp.Compare(a.Subject.Start.Byte, b.Subject.Start.Byte)
	})
	if len(all) > 0 && inUTF16(r.src) {
		r.report(*all[0].Subject, "", "the file is in UTF-16; save it as UTF-8")
		return // every letter of it would be a mistake
	}
	badLetters := map[int]bool{} // lines with a character that does not belong there
	for _, d := range all {
		if d.Summary == "Invalid character" {
			badLetters[d.Subject.Start.Line] = true
		}
	}
	told := map[int]bool{}
	for _, d := range all {
		line := d.Subject.Start.Line
		if _, foreign := slices.BinarySearch(r.foreign, line-1); foreign {
			continue
		}
		if badLetters[line] && (d.Summary != "Invalid character" || told[line]) {
			continue
		}
		told[line] = true
		summary, detail := r.explain(d, *d.Subject)
		r.report(*d.Subject, detail, "%s", summary)
		if textOpen[d.Summary] {
			return // the rest of the file was read with text and code the wrong way round
		}
	}
}

// textOpen are the summaries of the parser for a text that is not closed.
var textOpen = map[string]bool{
	"Invalid multi-line string":    true,
	"Unterminated string literal":  true,
	"Unterminated template string": true,
}

// explain says what is wrong and what to write, and perhaps shows it.
func (r *reader) explain(d *hcl.Diagnostic, at hcl.Range) (summary, detail string) {
	if s, shown := r.oneLine(d, at); s != "" {
		return s, shown
	}
	if s := r.valueOnLine(d, at); s != "" {
		return s, ""
	}
	if conflictMark(r.src[min(max(at.Start.Byte, 0), len(r.src)):]) {
		return "this is left of a merge that was not finished; choose what holds and take the marks out", ""
	}
	if textOpen[d.Summary] {
		return "this text is not closed on its line; a \" is missing", ""
	}
	switch d.Summary {
	case "Attribute redefined":
		return r.twice(d, at), ""
	case "Invalid character":
		switch {
		case strings.Contains(d.Detail, "Single quotes"):
			return "text stands in double quotes (\"), not single ones", ""
		case strings.Contains(d.Detail, "Curly quotes"):
			return "text stands in straight double quotes (\"), not curly ones", ""
		case strings.Contains(d.Detail, "\";\""):
			return "lines need no semicolon; take it out, or begin a new line", ""
		case strings.Contains(d.Detail, "\"`\""):
			return "text stands in double quotes (\"), not backward ones", ""
		case strings.Contains(d.Detail, "not used within"):
			return fmt.Sprintf("the character %q has no meaning here", r.textAt(at)), ""
		}
	case "Unclosed configuration block", "Unclosed configuration body":
		return "this block is not closed; a } is missing, here or in a block inside", ""
	case "Invalid block definition":
		switch {
		case strings.Contains(d.Detail, "equals sign"):
			return "a block has no \"=\"; take it out", ""
		case strings.Contains(d.Detail, "same line"):
			return "the { of a block stands on the line of its name", ""
		default:
			if m := noEquals().FindStringSubmatch(r.lineAt(at.Start.Byte)); m != nil {
				return fmt.Sprintf("an attribute is written with \"=\"; write %s = %s", clip(m[1]), clip(m[2])), ""
			}
			return "a block is written NAME \"label\" {, an attribute NAME = value", ""
		}
	case "Argument or block definition required":
		return r.notABlock(at), ""
	case "Invalid expression", "Missing expression":
		return "a value is missing here", ""
	case "Invalid number literal":
		return "this number cannot be read; write digits, and a point before decimals", ""
	case "Missing newline after argument":
		return "a new line must begin here: each attribute stands on a line of its own", ""
	case "Missing newline after block definition":
		if r.textAt(at) == "}" {
			return "this } closes nothing; take it out", ""
		}
		return "a new line must begin here, after the } of the block", ""
	case "Missing item separator", "Missing attribute separator":
		return "a comma, or the bracket that closes, is missing before this", ""
	case "Missing close bracket on index", "Unterminated tuple constructor expression":
		return "a ] is missing", ""
	case "Unterminated object constructor expression":
		return "a } is missing", ""
	case "Unbalanced parentheses", "Unterminated function call", "Missing closing parenthesis":
		return "a ) is missing", ""
	case "Missing attribute value", "Missing key/value separator":
		return "parts of { } are written NAME = value", ""
	}
	detail = plainSentence(strings.Split(d.Detail, ". ")[0])
	if detail == "" {
		detail = plainSentence(d.Summary)
	}
	return detail, ""
}

func (r *reader) textAt(at hcl.Range) string {
	from := min(max(at.Start.Byte, 0), len(r.src))
	return clip(string(r.src[from:min(max(at.End.Byte, from), len(r.src))]))
}

// pattern gives a pattern that is compiled when it is first asked for: most
// runs meet no mistake, and start sooner.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// setAt finds where the parser says that an attribute was set before.
var setAt = pattern(`:(\d+),\d+-`)

func (r *reader) twice(d *hcl.Diagnostic, at hcl.Range) string {
	where := ""
	if m := setAt().FindAllStringSubmatch(d.Detail, -1); m != nil {
		where = ", on line " + m[len(m)-1][1]
	}
	return fmt.Sprintf("%s stands in this block already%s; keep one of the two", r.textAt(at), where)
}

// notABlock explains what begins neither an attribute nor a block.
func (r *reader) notABlock(at hcl.Range) string {
	after := bytes.TrimLeft(r.src[min(at.End.Byte, len(r.src)):], " \t")
	switch {
	case bytes.HasPrefix(r.src[min(at.Start.Byte, len(r.src)):], []byte("/*")):
		return "this comment is not closed; a */ is missing"
	case bytes.HasPrefix(after, []byte(":")):
		value := "..."
		if m := colonValue().FindStringSubmatch(r.lineAt(at.Start.Byte)); m != nil && strings.ContainsAny(m[1], "\".[0123456789") {
			value = clip(m[1])
		}
		return fmt.Sprintf("an attribute is written with \"=\"; write %s = %s", r.textAt(at), value)
	}
	return "an attribute, NAME = value, or a block, NAME \"label\" {, is expected here"
}

// conflictMark reports whether a text begins with what git leaves in a file
// whose merge needs a decision.
func conflictMark(b []byte) bool {
	for _, mark := range []string{"<<<<<<<", "=======", ">>>>>>>", "|||||||"} {
		if bytes.HasPrefix(b, []byte(mark)) {
			return true
		}
	}
	return false
}

var (
	// bareQuantity is a line with a quantity that stands without quotes.
	bareQuantity = pattern(`^([\pL_][\pL\pN_-]*)\s*=\s*(-?\d+(?:\.\d+)?)\s*(\pL+|%)\s*(?:#.*|//.*)?$`)
	// noEquals is a line with a name and a value that lack their "=".
	noEquals = pattern(`^([\pL_][\pL\pN_-]*)\s+([^=\s{]+)$`)
	// colonValue is a line with a name, a colon and a value.
	colonValue = pattern(`^[\pL_][\pL\pN_-]*\s*:\s*([^\s{#][^{#]*[^\s{#]|[^\s{#])\s*(?:#.*)?$`)
	// bareList is a line with several values that stand without brackets.
	bareList = pattern(`^([\pL_][\pL\pN_-]*)\s*=\s*([^\[{(]+,[^\])}]+)$`)
)

// valueOnLine explains what is wrong with a value that fills its line, or gives
// "".
func (r *reader) valueOnLine(d *hcl.Diagnostic, at hcl.Range) string {
	if d.Summary != "Missing newline after argument" && d.Summary != "Unexpected comma after argument" && d.Summary != "Invalid expression" {
		return ""
	}
	line := r.lineAt(at.Start.Byte)
	if m := bareQuantity().FindStringSubmatch(line); m != nil {
		if m[3] == "%" {
			return fmt.Sprintf("there is no %%; a share is a part of one: write %s = 0.8 for 80 %%", clip(m[1]))
		}
		gap := " "
		if strings.Contains(line, m[2]+m[3]) {
			gap = ""
		}
		return fmt.Sprintf("what has a unit stands in quotes; write %s = \"%s%s%s\"", clip(m[1]), clip(m[2]), gap, clip(m[3]))
	}
	if m := bareList().FindStringSubmatch(line); m != nil && d.Summary == "Unexpected comma after argument" {
		return fmt.Sprintf("several values stand in brackets; write %s = [%s]", clip(m[1]), clip(strings.TrimSpace(m[2])))
	}
	return ""
}

// lineAt gives the line that holds a byte, or that ends with it, without the
// spaces around.
func (r *reader) lineAt(offset int) string {
	offset = min(max(offset, 0), len(r.src))
	start := bytes.LastIndexByte(r.src[:offset], '\n') + 1
	end := len(r.src)
	if i := bytes.IndexByte(r.src[start:], '\n'); i >= 0 {
		end = start + i
	}
	return strings.TrimSpace(string(r.src[start:end]))
}

// beside leaves out mistakes of meaning on lines that have mistakes of syntax:
// of such a line only a part was read. The first are those of syntax.
func (r *reader) beside(syntax int) {
	lines := map[int]bool{}
	for _, line := range r.foreign {
		lines[line] = true
	}
	where := func(d *Diagnostic) int { return bytes.Count(r.src[:d.Start], []byte{'\n'}) }
	for i := range r.part.diags[:syntax] {
		lines[where(&r.part.diags[i])] = true
	}
	kept := r.part.diags[:syntax]
	for i := range r.part.diags[syntax:] {
		if d := &r.part.diags[syntax+i]; !lines[where(d)] {
			kept = append(kept, *d)
		}
	}
	r.part.diags = kept
}

// oneLine explains a block that was written on one line with several
// attributes in it, and shows how it is written. It gives "" for other
// mistakes.
func (r *reader) oneLine(d *hcl.Diagnostic, at hcl.Range) (summary, shown string) {
	semicolon := d.Summary == "Invalid character" && strings.Contains(d.Detail, "\";\"")
	if d.Summary != "Invalid single-argument block definition" && d.Summary != "Missing newline after argument" && !semicolon {
		return "", ""
	}
	line := r.lineAt(at.Start.Byte)
	m := oneLineBlock().FindStringSubmatch(line)
	if m == nil {
		return "", ""
	}
	head, rest := m[1], strings.TrimSpace(m[2])
	if !strings.HasSuffix(rest, "}") {
		if semicolon {
			return "", ""
		}
		return "the attributes of a block of several lines stand below its first line; begin a new line after {", ""
	}
	attrs := splitAttributes(strings.TrimSuffix(rest, "}"))
	if len(attrs) < 2 || len(line) > 300 {
		return "a block on one line holds one attribute; write each on a line of its own", ""
	}
	return "a block on one line holds one attribute; write each on a line of its own",
		head + " {\n  " + strings.Join(attrs, "\n  ") + "\n}"
}

// oneLineBlock is the line of a block with something behind its brace.
var oneLineBlock = pattern(`^([\pL_][\pL\pN_-]*(?:\s+"[^"]*")*)\s*\{(.+)$`)

// attributeStart is the beginning of an attribute.
var attributeStart = pattern(`^[\pL_][\pL\pN_-]*\s*=[^=]`)

// splitAttributes splits what stands on one line into attributes: wherever a
// name and "=" stand in no brackets and no text.
func splitAttributes(s string) []string {
	var starts []int
	depth, quoted := 0, false
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
		case depth == 0 && (i == 0 || strings.IndexByte(" \t,;", s[i-1]) >= 0) && attributeStart().MatchString(s[i:]):
			starts = append(starts, i)
		}
	}
	var out []string
	for i, from := range starts {
		to := len(s)
		if i+1 < len(starts) {
			to = starts[i+1]
		}
		out = append(out, strings.TrimRight(s[from:to], " \t,;"))
	}
	return out
}
