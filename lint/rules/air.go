package rules

import "cagenut/lint"

// air lists the rules of the group "air".
var air = []*lint.Rule{
	againstAisle,
	opposed,
	rowsAcross,
	boxedIn,
	heat,
	inletLimit,
	noGap,
	doorArea,
	stripHot,
	batteryHot,
	ventBetween,
}
