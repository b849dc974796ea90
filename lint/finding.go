package lint

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
)

// A Finding is one place where a rule does not hold.
type Finding struct {
	Rule    string // identifier
	Level   Level
	At      estate.Range  // the smallest text to look at
	Message string        // one sentence with the figures compared, lower case, no full stop
	Thing   string        // what it is about, as the language refers to it: "rack.hq-a.core-1"
	Others  []string      // further things without which it would not be: the other mount, the feed
	Rack    string        // name of the rack it is in, or ""
	Heights estate.Extent // the heights of the rack that it is about, where it would be of less consequence for fewer; else zero
	Related []Related
	Fixes   []Fix
	Waiver  *estate.Waiver // what accepts it, or nil
	Ended   *estate.Waiver // what accepted it until a day that is past, or nil
}

// Related is a second place needed to understand a finding.
type Related struct {
	At      estate.Range
	Message string
}

// A Fix is a change of text that would mend a finding.
type Fix struct {
	Title string // a verb phrase: "Move strip-1 to U39"
	Edits []Edit
	Sure  bool // it cannot change what the estate means otherwise
}

// An Edit replaces a span of text.
type Edit struct {
	At  estate.Range
	New string
}

// Unchecked says that a rule could not be judged on one thing.
type Unchecked struct {
	Rule    string
	At      estate.Range
	Thing   string
	Rack    string
	Because string // "the depth of equipment.store is unknown"
}

// Key identifies what a finding says, whatever lines it stands on: two
// findings of different commits with one key are the same finding.
func (f *Finding) Key() string {
	others := slices.Sorted(slices.Values(f.Others))
	key := f.Rule + "\x00" + f.Thing + "\x00" + strings.Join(others, "\x00")
	if f.Heights != (estate.Extent{}) {
		key += fmt.Sprintf("\x00%d-%d", f.Heights.Bottom, f.Heights.Top)
	}
	return key
}

// covers reports whether f says all that g says, of the same or more heights.
func (f *Finding) covers(g *Finding) bool {
	return f.Heights != (estate.Extent{}) && g.Heights != (estate.Extent{}) && f.Rule == g.Rule && f.Thing == g.Thing && g.Heights.Within(f.Heights)
}

// Compare orders findings by file, worst first, then by place, rule and text.
func Compare(a, b Finding) int {
	return cmp.Or(
		cmp.Compare(a.At.File, b.At.File),
		-cmp.Compare(a.Level, b.Level),
		cmp.Compare(a.At.Start, b.At.Start),
		cmp.Compare(a.Rule, b.Rule),
		cmp.Compare(a.Thing, b.Thing),
		cmp.Compare(a.Message, b.Message),
	)
}

func compareUnchecked(a, b Unchecked) int {
	return cmp.Or(
		cmp.Compare(a.At.File, b.At.File),
		cmp.Compare(a.At.Start, b.At.Start),
		cmp.Compare(a.Rule, b.Rule),
		cmp.Compare(a.Thing, b.Thing),
		cmp.Compare(a.Because, b.Because),
	)
}
