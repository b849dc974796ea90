package lint

import (
	"errors"
	"hash/fnv"
	"slices"
	"strings"

	"cagenut/lang/estate"
)

// A Carried is a result of an earlier run, of which all that a change cannot be
// felt by still holds.
type Carried struct {
	Result  *Result
	Touches func(thing string) bool // whether a thing may feel the change; see [lang.Around]
	Racks   int                     // how many racks and mounts there are now
	Mounts  int
}

// ErrFelt says that a change may be felt by more than what was read, so that the
// whole estate is to be judged.
var ErrFelt = errors.New("the change may be felt anywhere")

// Carries reports whether results of these rules can be carried at all, before
// anything is read.
func (c *Carried) Carries(rules []*Rule) bool {
	for _, r := range rules {
		if r.Reach == Anywhere || r.Reach == Alike && found(c.Result.Findings, r) {
			return false
		}
	}
	return true
}

func found(findings []Finding, r *Rule) bool {
	return slices.ContainsFunc(findings, func(f Finding) bool { return f.Rule == r.ID })
}

// join leaves of a result of a part of the estate what may have changed, and
// adds what has not. It reports false where something was found that racks
// elsewhere have to do with.
func (c *Carried) join(now *Result, rules []*Rule) bool {
	now.Findings = slices.DeleteFunc(now.Findings, func(f Finding) bool { return !c.touched(f.Thing, f.Rack) })
	now.Unchecked = slices.DeleteFunc(now.Unchecked, func(u Unchecked) bool { return !c.touched(u.Thing, u.Rack) })
	after := map[string]bool{}
	for _, r := range rules {
		if r.Reach == Alike && found(now.Findings, r) {
			return false
		}
		after[r.ID] = r.After != nil
	}
	for _, f := range c.Result.Findings {
		if after[f.Rule] || c.touched(f.Thing, f.Rack) {
			continue
		}
		if f.Ended != nil { // said anew when waivers are applied
			f.Related = f.Related[:len(f.Related)-1]
		}
		f.Waiver, f.Ended = nil, nil
		now.Findings = append(now.Findings, f)
	}
	for _, u := range c.Result.Unchecked {
		if !after[u.Rule] && !c.touched(u.Thing, u.Rack) {
			now.Unchecked = append(now.Unchecked, u)
		}
	}
	now.Racks, now.Mounts = c.Racks, c.Mounts
	return true
}

// touched reports whether what is said of a thing may have changed. What is said
// of a catalogue entry in one rack is that rack's.
func (c *Carried) touched(thing, rack string) bool {
	if c.Touches(thing) {
		return true
	}
	kind, _, _ := strings.Cut(thing, ".")
	switch kind {
	case "rack", "feed", "breaker", "source", "room", "row", "group":
		return false
	}
	return rack != "" && c.Touches("rack."+rack)
}

// Keys gives the keys by which rules compare a rack with racks anywhere, as
// hashes: two that are equal may be those of unlike texts.
func Keys(rules []*Rule, r *estate.Rack, key func(uint32)) {
	h := fnv.New32a()
	for _, rule := range rules {
		if rule.Keys == nil {
			continue
		}
		rule.Keys(r, func(s string) {
			h.Reset()
			h.Write([]byte(rule.ID))
			h.Write([]byte(s))
			key(h.Sum32())
		})
	}
}
