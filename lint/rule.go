package lint

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
)

// A Rule is one thing a colleague would look for. Exactly one of Rack, Estate,
// After and Change is set.
type Rule struct {
	ID      string   // group/mistake, for ever: "space/overlap"
	Aliases []string // identifiers it had before
	Since   string   // rule set that brought it: "2026.1"
	Level   Level    // of a finding that states none
	Summary string   // the mistake in one line, lower case, no full stop
	Why     string   // what it costs, in a few sentences
	Source  string   // published source, or "common practice"
	Omits   string   // what is not covered, if that could surprise
	Decides string   // who decides where the rule only screens: "a structural engineer"
	Limits  []Limit  // figures that a site may adjust
	Bad     string   // an estate that must give this finding
	Good    string   // the same, mended
	Before  string   // of a rule on changes: the estate before Bad, and before Good

	// Rack judges one rack. It may read the rack, what the rack refers to and
	// the estate's catalogue, but no other rack: results are kept by that.
	Rack func(*Pass, *estate.Rack)
	// Estate judges the estate as a whole.
	Estate func(*Pass)
	// Reach says which racks what Estate finds about a thing may depend on. What
	// it says of a catalogue entry depends on none.
	Reach Reach
	// Keys gives the texts by which a rule of reach Alike compares racks.
	Keys func(r *estate.Rack, key func(string))
	// After judges what all other rules found, waivers applied. It must not
	// change the result.
	After func(*Pass, *Result)
	// Change says that the rule is about the way from one estate to another:
	// lint/sequence reports it with a plan, and [Run] leaves it out.
	Change bool

	Earlier []Earlier      // levels that it had in earlier rule sets, oldest first
	Policy  *estate.Policy // the policy that it was made of, or nil
}

// Reach says what a check of the estate may read to find something about one
// thing: results are carried from run to run by that.
type Reach uint8

const (
	// Tied racks are those that [lang.LookAround] finds: in the same room, on the
	// same feeds and what carries these, at the ends of cords, in a group.
	Tied Reach = iota
	// Alike racks stand anywhere, but nothing is found without two that have a
	// key in common, or a name that stands for nothing.
	Alike
	// Anywhere is every rack.
	Anywhere
)

// Earlier is a level that a rule had before a rule set.
type Earlier struct {
	Before string // the rule set that changed it
	Level  Level
}

// LevelIn gives the level of the rule's findings in a rule set; "" is the
// newest.
func (r *Rule) LevelIn(set string) Level {
	if set != "" {
		for _, e := range r.Earlier {
			if compareSets(set, e.Before) < 0 {
				return e.Level
			}
		}
	}
	return r.Level
}

// In reports whether a rule set has the rule; "" is the newest set. Policies
// belong to every set.
func (r *Rule) In(set string) bool {
	return set == "" || r.Since == "" || compareSets(r.Since, set) <= 0
}

// compareSets orders rule sets such as "2026.1" and "2026.10" by year and
// number.
func compareSets(a, b string) int {
	yearA, numberA, _ := strings.Cut(a, ".")
	yearB, numberB, _ := strings.Cut(b, ".")
	return cmp.Or(cmp.Compare(len(yearA), len(yearB)), cmp.Compare(yearA, yearB),
		cmp.Compare(len(numberA), len(numberB)), cmp.Compare(numberA, numberB))
}

// Sets lists the rule sets that the rules belong to, oldest first.
func Sets(rules []*Rule) []string {
	var sets []string
	for _, r := range rules {
		if r.Since != "" && !slices.Contains(sets, r.Since) {
			sets = append(sets, r.Since)
		}
	}
	slices.SortFunc(sets, compareSets)
	return sets
}

// A Limit is a figure that a rule compares with.
type Limit struct {
	Name    string // as an adjustment writes it: "limit" where there is one
	Default any    // a quantity, an int or a float64
	Doc     string // what it limits, with the source of the default
}

// Level is how grave a finding is. The words are those of SARIF.
type Level uint8

// The levels, gravest last so that they compare with <.
const (
	NoLevel Level = iota
	Off           // not reported at all
	Note
	Warning
	Error
)

var levels = [...]string{"", "off", "note", "warning", "error"}

// String names the level as the language writes it.
func (l Level) String() string { return levels[l] }

// ParseLevel reads a level.
func ParseLevel(s string) (Level, error) {
	for i, name := range levels[1:] {
		if s == name {
			return Level(i + 1), nil
		}
	}
	return NoLevel, fmt.Errorf("%q is no level; write \"error\", \"warning\", \"note\" or \"off\"", s)
}
