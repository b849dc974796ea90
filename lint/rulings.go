package lint

import (
	"fmt"
)

// rulings are what the site has said about the built-in rules, looked up by
// rule and place.
type rulings struct{}

// level gives the level at which a finding is reported here.
func (r *rulings) level(rule *Rule, f *Finding) Level { return f.Level }

// limit gives the value of a rule's limit for a thing.
func (r *rulings) limit(rule *Rule, name string, thing any) any {
	for i := range rule.Limits {
		if rule.Limits[i].Name == name {
			return rule.Limits[i].Default
		}
	}
	panic(fmt.Sprintf("lint: rule %s has no limit %q", rule.ID, name))
}
