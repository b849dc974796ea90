package review

import (
	"strings"
	"unicode/utf8"

	"cagenut/render/style"
)

// markdown gives a text of the user's as words in Markdown: no marks, no tags,
// no mention of anybody, no reference to an issue.
func markdown(s string) string {
	var b strings.Builder
	for _, r := range style.Name(s) {
		switch {
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '&':
			b.WriteString("&amp;")
		case r == '@' || r == '#':
			// Platforms turn what follows into a mention or a reference, also
			// behind a backslash. A space of no width keeps them from it.
			b.WriteRune(r)
			b.WriteString("\u200b")
		case r < utf8.RuneSelf && strings.ContainsRune("\\`*_{}[]|~^$", r):
			b.WriteByte('\\')
			b.WriteRune(r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// code gives a text of the user's as a code span, which may hold backticks.
func code(s string) string {
	s = style.Name(s)
	ticks := "`"
	for strings.Contains(s, ticks) {
		ticks += "`"
	}
	if strings.HasPrefix(s, "`") || strings.HasSuffix(s, "`") {
		s = " " + s + " "
	}
	return ticks + strings.ReplaceAll(s, "|", "\\|") + ticks
}

// fence gives lines as a code block. The fence is longer than any run of
// backticks in it.
func fence(text string) string {
	ticks := "```"
	for strings.Contains(text, ticks) {
		ticks += "`"
	}
	return ticks + "text\n" + strings.TrimRight(text, "\n") + "\n" + ticks + "\n"
}

// fold gives a part that is opened by a click. The empty lines let Markdown
// begin anew inside the tag.
func fold(summary, text string) string {
	return "<details><summary>" + markdown(summary) + "</summary>\n\n" + strings.TrimRight(text, "\n") + "\n\n</details>\n"
}
