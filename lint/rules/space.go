package rules

import "cagenut/lint"

// space lists the rules of the group "space".
var space = []*lint.Rule{
	Overlap,
	Collision,
	OutsideFrame,
	Reserved,
	OpenUnit,
	Fraction,
	ZeroU,
	HalfEmpty,
	Obstruction,
	CountingUnsaid,
}
