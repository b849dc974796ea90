package diff

import (
	"strings"

	"github.com/sergi/go-diff/diffmatchpatch"

	"cagenut/render/style"
)

// matcher compares letters. Without a time limit, so that the result does not
// depend on how busy the machine is.
var matcher = func() *diffmatchpatch.DiffMatchPatch {
	m := diffmatchpatch.New()
	m.DiffTimeout = 0
	return m
}()

// longest is how many letters are compared at most: without a time limit the
// work grows with the square.
const longest = 400

// letters gives two values with the letters that differ set in braces, as well
// as painted. Values that have less than half in common are given whole, since
// marks would hide more than they show.
func letters(old, new string) (was, is style.Line) {
	whole := func() (a, b style.Line) {
		a.Add(style.Plain, old)
		b.Add(style.Plain, new)
		return a, b
	}
	if len(old)+len(new) > longest {
		return whole()
	}
	parts := matcher.DiffCleanupSemantic(matcher.DiffMain(old, new, false))
	common := 0
	for _, p := range parts {
		if p.Type == diffmatchpatch.DiffEqual {
			common += len(p.Text)
		}
	}
	if 2*common < max(len(old), len(new)) || strings.ContainsAny(old+new, "{}") {
		return whole()
	}
	for _, p := range parts {
		switch p.Type {
		case diffmatchpatch.DiffEqual:
			was.Add(style.Plain, p.Text)
			is.Add(style.Plain, p.Text)
		case diffmatchpatch.DiffDelete:
			was.Add(style.Out, "{"+p.Text+"}")
		case diffmatchpatch.DiffInsert:
			is.Add(style.In, "{"+p.Text+"}")
		}
	}
	return was, is
}
