// Package rules holds the built-in rules: one file each, named for the group
// and the mistake, and one list for each group.
package rules

import (
	"slices"

	"cagenut/lint"
)

// All lists the built-in rules, group by group, in the order in which they are
// explained.
func All() []*lint.Rule {
	return slices.Concat(space, fit, load, power, air, site, record, plan)
}
