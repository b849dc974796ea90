package rules

import "cagenut/lint"

// fit lists the rules of the group "fit".
var fit = []*lint.Rule{
	TooDeep,
	RailSpan,
	TooWide,
	PanelSystem,
	Unsupported,
	NoHole,
	ModuleCount,
	HoleKind,
	FrontRoom,
	Support,
	UpsideDown,
	Withdrawal,
	Extension,
}
