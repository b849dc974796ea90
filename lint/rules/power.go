package rules

import "cagenut/lint"

// power lists the rules of the group "power".
var power = []*lint.Rule{
	noFeed,
	sameSource,
	feedOver,
	feedLost,
	groupShares,
}
