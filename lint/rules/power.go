package rules

import "cagenut/lint"

// power lists the rules of the group "power".
var power = []*lint.Rule{
	noFeed,
	sameSource,
	feedOver,
	feedLost,
	groupShares,
	voltage,
	plug,
	noOutlet,
	outletTwice,
	bankOver,
	lineOver,
	unbalanced,
	upstreamOver,
	upsOver,
	upsRuntime,
	leakage,
	singleCorded,
	transferSameSource,
	cordForeign,
	cordShort,
	cordLong,
	cordLoose,
	inrush,
	amplifierEarly,
	outletsLeft,
	fuseSize,
	stripHidden,
}
