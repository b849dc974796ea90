package lint

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
// A finding that has become graver, or that a waiver accepted before and none
// accepts now, is new. Renamed gives the name that a thing of the base has
// now, so that a new label alone makes no news; nil where nothing is renamed.
// Unchecked things are those of the result, all of them.
func New(result, base *Result, renamed func(thing string) string) *Comparison {
	c := &Comparison{Result: &Result{Unchecked: result.Unchecked, Waivers: result.Waivers, Racks: result.Racks, Mounts: result.Mounts}}
	keys := make([]string, len(base.Findings))
	before := map[string][]*Finding{}
	for i := range base.Findings {
		f := &base.Findings[i]
		keys[i] = f.renamed(renamed).Key()
		before[keys[i]] = append(before[keys[i]], f)
	}
	taken := map[string]int{} // both lists are sorted: of several with one key the first are paired
	for i := range result.Findings {
		f := &result.Findings[i]
		key := f.Key()
		n := taken[key]
		if n == len(before[key]) {
			c.Findings = append(c.Findings, *f)
			continue
		}
		taken[key]++
		switch old := before[key][n]; {
		case f.Waiver == nil && (f.Level > old.Level || old.Waiver != nil):
			c.Findings = append(c.Findings, *f)
		case f.Waiver == nil:
			c.Old++
		}
	}
	seen := map[string]int{}
	for i := range base.Findings {
		seen[keys[i]]++
		if seen[keys[i]] > taken[keys[i]] && base.Findings[i].Waiver == nil {
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
