package lint

import "slices"

// A Comparison is what a result has and an earlier one had not.
type Comparison struct {
	*Result           // only the findings that are new, sorted as before
	Cured   []Finding // what the base had and the result has not, sorted
	Old     int       // findings that both have, and which are not repeated
}

// New keeps the findings that base has not. Findings are matched by
// [Finding.Key], so by rule and by the names of the things they are about: a
// finding that only moved to another line is not new, and one that a change in
// another file causes is.
//
// A finding about heights of a rack is not new, either, where the base had one
// about those and more: who fills part of a gap has not opened the rest, and has
// not cured it.
//
// A finding that has become graver, or that a waiver accepted before and none
// accepts now, is new. Renamed gives the name that a thing of the base has
// now, so that a new label alone makes no news; nil where nothing is renamed.
// Unchecked things are those of the result, all of them.
func New(result, base *Result, renamed func(thing string) string) *Comparison {
	c := &Comparison{Result: &Result{Unchecked: result.Unchecked, Waivers: result.Waivers, Racks: result.Racks, Mounts: result.Mounts}}
	olds := make([]*Finding, len(base.Findings)) // under the names of now
	keys := make([]string, len(base.Findings))
	before := map[string][]*Finding{}
	for i := range base.Findings {
		olds[i] = base.Findings[i].renamed(renamed)
		keys[i] = olds[i].Key()
		before[keys[i]] = append(before[keys[i]], olds[i])
	}
	taken := map[string]int{}   // both lists are sorted: of several with one key the first are paired
	left := map[*Finding]bool{} // findings of the base of which a part is left
	for i := range result.Findings {
		f := &result.Findings[i]
		key := f.Key()
		var old *Finding
		if n := taken[key]; n < len(before[key]) {
			taken[key]++
			old = before[key][n]
		} else if j := slices.IndexFunc(olds, func(o *Finding) bool { return o.covers(f) }); j >= 0 {
			old = olds[j]
			left[old] = true
		}
		switch {
		case old == nil, f.Waiver == nil && (f.Level > old.Level || old.Waiver != nil):
			c.Findings = append(c.Findings, *f)
		case f.Waiver == nil:
			c.Old++
		}
	}
	seen := map[string]int{}
	for i := range base.Findings {
		seen[keys[i]]++
		if seen[keys[i]] > taken[keys[i]] && base.Findings[i].Waiver == nil && !left[olds[i]] {
			c.Cured = append(c.Cured, base.Findings[i])
		}
	}
	return c
}

// renamed gives the finding with the names that its things have now.
func (f *Finding) renamed(name func(string) string) *Finding {
	if name == nil {
		return f
	}
	g := *f
	g.Thing = name(f.Thing)
	g.Others = make([]string, len(f.Others))
	for i, o := range f.Others {
		g.Others[i] = name(o)
	}
	return &g
}
