package lint

import "cagenut/lang/estate"

// Limits looks up the limits of rules as an estate has adjusted them, for those
// who judge without a [Pass], as plans do. It is safe for use by many
// goroutines.
type Limits struct {
	rulings *rulings
	named   map[string]*Rule
}

// LimitsOf gives the limits of some rules in an estate.
func LimitsOf(e *estate.Estate, rules []*Rule) *Limits {
	return &Limits{newRulings(e, rules), Names(rules)}
}

// LimitIn gives the value of a rule's limit for a thing, as [LimitFor] does
// within a pass; otherwise where the rule is not among those looked up.
func LimitIn[T any](l *Limits, rule, name string, thing any, otherwise T) T {
	r := l.named[rule]
	if r == nil {
		return otherwise
	}
	return l.rulings.limit(r, name, thing).(T)
}
