package policy

import (
	"testing"

	"cagenut/lang"
	"cagenut/lang/estate"
)

// reachedAs tells how policies reach attributes that have no field of their
// own name. "-" stands before a reason why one is not reached at all.
var reachedAs = map[string]string{
	"equipment.rails":   "rails_from",
	"equipment.draw":    "maximum",
	"equipment.voltage": "voltage_from",
	"reserve.at":        "from",
	"group.of":          "members",
	"step.on":           "- it is a sequence's; policies on steps are about plans",
	"step.delay":        "- likewise",
	"frame.crate":       "crate_height",
}

// TestEveryAttributeIsReachable holds the names of policies against the
// language, so that what can be declared can be judged.
func TestEveryAttributeIsReachable(t *testing.T) {
	classes := map[string]*Class{}
	for _, c := range NewModel(&estate.Estate{}, 1).Classes() {
		classes[c.Name] = c
	}
	seen := map[string]bool{}
	for _, b := range lang.Schema() {
		c := classes[b.Name]
		if c == nil || b.Name == "estate" {
			continue
		}
		for _, a := range b.Attributes {
			key := b.Name + "." + a.Name
			as, listed := reachedAs[key]
			seen[key] = true
			switch {
			case !listed && c.Field(a.Name) == nil:
				t.Errorf("%s: a policy cannot reach it", key)
			case listed && as[0] != '-' && c.Field(as) == nil:
				t.Errorf("%s: there is no field %s", key, as)
			case listed && c.Field(a.Name) != nil:
				t.Errorf("%s: is reached by its own name", key)
			}
		}
	}
	for key := range reachedAs {
		if !seen[key] {
			t.Errorf("%s: the language has no such attribute", key)
		}
	}
}
