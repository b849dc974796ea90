package lint

import (
	"fmt"
	"strconv"

	"cagenut/lang/estate"
)

// A Force is how a rule is in force in an estate.
type Force struct {
	In          bool  // whether the rule set in force has the rule
	Level       Level // where nothing narrower is said
	Limits      []ForcedLimit
	Adjustments []*estate.Adjustment // what the estate says about the rule, in the order declared
	Waivers     []*estate.Waiver
}

// A ForcedLimit is a limit with the value that it has where nothing narrower
// is said.
type ForcedLimit struct {
	*Limit
	Value any
	By    *estate.Adjustment // what set it, or nil
}

// InForce gives how a rule is in force in an estate, by a rule set ("" for the
// one that the estate pins).
func InForce(e *estate.Estate, rule *Rule, set string) Force {
	o := Options{RuleSet: set}
	set = o.set(e)
	r := newRulings(e, []*Rule{rule})
	f := Force{In: rule.In(set), Level: rule.LevelIn(set)}
	for _, a := range r.adjusted[rule] {
		f.Adjustments = append(f.Adjustments, a.Adjustment)
		if len(a.Within) == 0 && a.level != NoLevel {
			f.Level = a.level
		}
	}
	for i := range rule.Limits {
		l := ForcedLimit{Limit: &rule.Limits[i], Value: rule.Limits[i].Default}
		for _, a := range r.adjusted[rule] {
			if v, set := a.limits[l.Name]; set && len(a.Within) == 0 {
				l.Value, l.By = v, a.Adjustment
			}
		}
		f.Limits = append(f.Limits, l)
	}
	for _, w := range r.waivers[rule.ID] {
		f.Waivers = append(f.Waivers, w.Waiver)
	}
	return f
}

// FormatLimit prints the value of a limit as an adjustment writes it.
func FormatLimit(v any) string {
	switch v := v.(type) {
	case fmt.Stringer:
		return v.String()
	case float64:
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return fmt.Sprint(v)
}
