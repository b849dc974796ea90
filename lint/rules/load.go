package rules

import "cagenut/lint"

// load lists the rules of the group "load".
var load = []*lint.Rule{
	frameRating,
	heavyHigh,
	tipOver,
	noAnchor,
	centreOfMass,
	Cantilever,
	SupportRating,
	onWall,
	wallFixings,
	batteryHigh,
	onCastors,
	floorLoad,
	pointLoad,
	rolling,
	tooHeavyForCrew,
}
