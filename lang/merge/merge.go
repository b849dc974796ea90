// Package merge merges texts of the language by block and attribute instead of
// by line: two people who change different attributes of one mount, or add
// mounts next to each other, have no conflict, and comments and the layout of
// lines stay as they were written.
//
// Read [Merge], then items.go, which cuts a text into items that can be
// compared. The package judges nothing: that two branches claim the same units
// is for lint to find.
package merge

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// Labels name the two sides in conflict markers.
type Labels struct {
	Ours, Theirs string
	Size         int // length of the markers; 0 for git's usual 7
	// KeepOurs leaves ours where people must decide, in place of both sides
	// between markers, so that the text still parses.
	KeepOurs bool
}

// A Result is a merged text.
type Result struct {
	Text []byte
	// Conflicts are the places where people must decide, in order of the
	// text: "rack.hq-a.core-1: at". Each is marked in Text as git marks them.
	Conflicts []string
}

// ErrSyntax is wrapped where one of the three texts cannot be parsed, so that
// the caller can merge by line instead.
var ErrSyntax = errors.New("the text cannot be parsed")

// Merge merges what ours and theirs made of base. A block or attribute that
// only one side changed is taken from that side; one that both changed alike is
// taken once; a block that both changed is merged inside. What both changed
// differently, and what one took out while the other changed it, is a
// conflict. Comments in front of an item go with it, and are all kept where
// both sides changed them.
func Merge(base, ours, theirs []byte, labels Labels) (*Result, error) {
	if labels.Size == 0 {
		labels.Size = 7
	}
	var trees [3]*body
	for i, side := range []struct {
		name string
		text []byte
	}{{"base", base}, {"ours", ours}, {"theirs", theirs}} {
		b, err := cut(side.text)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", side.name, err)
		}
		trees[i] = b
	}
	m := &merger{labels: labels}
	m.body(trees[0], trees[1], trees[2], "")
	text := m.out.Bytes()
	if bytes.Contains(ours, []byte("\r\n")) {
		text = bytes.ReplaceAll(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")), []byte("\n"), []byte("\r\n"))
	}
	if len(m.conflicts) == 0 {
		if _, diags := hclsyntax.ParseConfig(text, "merged", hcl.InitialPos); diags.HasErrors() {
			// An attribute that both add on one line, or the like: lines know better.
			return nil, fmt.Errorf("the merged text: %w", ErrSyntax)
		}
	}
	return &Result{Text: text, Conflicts: m.conflicts}, nil
}

type merger struct {
	labels    Labels
	out       bytes.Buffer
	conflicts []string
}

// body merges the items of three bodies. Base is empty where both sides added
// the block.
func (m *merger) body(base, ours, theirs *body, name string) {
	for _, key := range order(base, ours, theirs) {
		m.item(base.get(key), ours.get(key), theirs.get(key), name)
	}
	m.out.WriteString(three(base.end, ours.end, theirs.end))
}

// order gives the keys of the merged body: those of ours in their order, and
// each that only theirs has behind the one that it follows there.
func order(base, ours, theirs *body) []string {
	keys := slices.Clone(ours.keys)
	for i, key := range theirs.keys {
		if ours.items[key] != nil {
			continue
		}
		at := 0
		for j := i - 1; j >= 0; j-- {
			if k := slices.Index(keys, theirs.keys[j]); k >= 0 {
				at = k + 1
				break
			}
		}
		if at == 0 && i > 0 {
			at = len(keys)
		}
		// What ours added in the same place comes first.
		for at < len(keys) && base.items[keys[at]] == nil && theirs.items[keys[at]] == nil {
			at++
		}
		keys = slices.Insert(keys, at, key)
	}
	return keys
}

// item merges one item, of which each side has one, or none (nil).
func (m *merger) item(base, ours, theirs *item, name string) {
	switch {
	case same(ours, theirs):
		m.write(ours)
	case same(base, ours):
		m.write(theirs)
	case same(base, theirs):
		m.write(ours)
	case base != nil && ours == nil && alike(base, theirs), base != nil && theirs == nil && alike(base, ours):
		// It was taken out, and the other side changed nothing that it says.
	case ours == nil || theirs == nil:
		m.conflict(ours, theirs, name)
	default:
		m.both(base, ours, theirs, name)
	}
}

// both merges an item that both sides have and changed.
func (m *merger) both(base, ours, theirs *item, name string) {
	none := item{}
	if base == nil {
		base = &none
	}
	lead := mergeLead(base.lead, ours.lead, theirs.lead)
	trail := three(base.trail, ours.trail, theirs.trail)
	if ours.inner != nil && theirs.inner != nil {
		inner := base.inner
		if inner == nil {
			inner = &body{}
		}
		m.out.WriteString(lead)
		m.out.WriteString(three(base.head, ours.head, theirs.head))
		m.body(inner, ours.inner, theirs.inner, strings.TrimPrefix(name+"."+ours.name, "."))
		m.out.WriteString(three(base.foot, ours.foot, theirs.foot))
		m.out.WriteString(trail)
		return
	}
	switch value := normal(ours.head); {
	case ours.inner != nil || theirs.inner != nil || base.inner != nil:
		m.conflict(ours, theirs, name) // one of them was put on one line
	case value == normal(theirs.head), base != &none && normal(theirs.head) == normal(base.head):
		m.out.WriteString(lead + ours.head + trail)
	case base != &none && value == normal(base.head):
		m.out.WriteString(lead + theirs.head + trail)
	default:
		m.conflict(ours, theirs, name)
	}
}

// conflict writes both sides between markers.
func (m *merger) conflict(ours, theirs *item, name string) {
	what := ours
	if what == nil {
		what = theirs
	}
	place := strings.TrimPrefix(name+"."+what.name, ".")
	if what.attr {
		place = strings.TrimPrefix(name+": "+what.name, ": ")
	}
	m.conflicts = append(m.conflicts, place)
	if m.labels.KeepOurs {
		m.write(ours)
		return
	}
	if n := m.out.Len(); n > 0 && m.out.Bytes()[n-1] != '\n' {
		m.out.WriteByte('\n')
	}
	mark := func(c, label string) {
		m.out.WriteString(strings.TrimRight(strings.Repeat(c, m.labels.Size)+" "+label, " ") + "\n")
	}
	mark("<", m.labels.Ours)
	m.whole(ours)
	mark("=", "")
	m.whole(theirs)
	mark(">", m.labels.Theirs)
}

// whole writes an item so that it ends with its line.
func (m *merger) whole(it *item) {
	if it == nil {
		return
	}
	m.write(it)
	if n := m.out.Len(); m.out.Bytes()[n-1] != '\n' {
		m.out.WriteByte('\n')
	}
}

func (m *merger) write(it *item) {
	if it != nil {
		it.write(&m.out)
	}
}

// three merges texts of no meaning: blank lines, and what stands behind an
// item on its line. Ours wins where both changed.
func three(base, ours, theirs string) string {
	if ours == base {
		return theirs
	}
	return ours
}

// mergeLead merges the comments in front of an item: all are kept where both
// sides changed them.
func mergeLead(base, ours, theirs string) string {
	switch {
	case ours == theirs, theirs == base:
		return ours
	case ours == base:
		return theirs
	case strings.TrimSpace(theirs) == strings.TrimSpace(base), strings.TrimSpace(theirs) == strings.TrimSpace(ours):
		return ours
	case strings.TrimSpace(ours) == strings.TrimSpace(base):
		return theirs
	}
	have := strings.Split(ours, "\n")
	var more []string
	for _, line := range strings.Split(theirs, "\n") {
		if strings.TrimSpace(line) != "" && !slices.Contains(have, line) && !slices.Contains(strings.Split(base, "\n"), line) {
			more = append(more, line)
		}
	}
	last := len(have) - 1 // the indentation of the item itself
	return strings.Join(slices.Concat(have[:last], more, have[last:]), "\n")
}
