package rules

import (
	"cagenut/lang/estate"
)

// engineer is who decides about floors, anchors and tipping.
const engineer = "a structural engineer and the equipment makers' instructions"

func fixingUnknown(f *estate.Frame) string {
	return "whether frame." + f.Name + " is anchored or has a stabiliser is missing"
}
