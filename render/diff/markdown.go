package diff

import (
	"fmt"
	"io"
	"strings"

	"cagenut/lang/change"
	"cagenut/render/style"
)

// Markdown prints a change as part of a document: a heading, and the text as
// blocks of code, which keep signs and columns as they are.
func Markdown(w io.Writer, c *change.Change, o Options) error {
	p := newPage(c, o)
	var b strings.Builder
	fmt.Fprintf(&b, "## %s\n", plain(Summary(c)))
	block := func(title string, lines []style.Line) {
		if len(lines) == 0 {
			return
		}
		text := style.Page(lines, nil)
		fence := "```"
		for strings.Contains(text, fence) {
			fence += "`"
		}
		fmt.Fprintf(&b, "\n### %s\n\n%stext\n%s%s\n", plain(title), fence, text, fence)
	}
	block("Declared for several racks", Things(c, p.Options))
	for _, d := range c.Deltas() {
		q := newPage(c, p.Options)
		q.body(d)
		block(style.Name(d.Rack().Name), q.lines)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// plain gives a text without what Markdown would read as marks.
func plain(s string) string {
	return strings.NewReplacer("\\", "\\\\", "`", "\\`", "*", "\\*", "_", "\\_", "[", "\\[", "]", "\\]", "<", "&lt;", ">", "&gt;", "#", "\\#", "@", "@\u200b").Replace(s)
}
