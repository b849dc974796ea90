package rules

import (
	"cagenut/lang/estate"
)

// engineer is who decides about floors, anchors and tipping.
const engineer = "a structural engineer and the equipment makers' instructions"

// standsFree reports whether a rack stands on the floor by its own weight, so
// that it could tip. Two-post and wall frames are fixed to the building by
// their kind. Whether others are is for the frame to say: known is false where
// it does not.
func standsFree(f *estate.Frame) (free, known bool) {
	if f.Kind == estate.TwoPost || f.Kind == estate.WallFrame || f.Fixed == estate.Anchored {
		return false, true
	}
	return true, f.Fixed != estate.NoFixing
}

func fixingUnknown(f *estate.Frame) string {
	return "whether frame." + f.Name + " is anchored or has a stabiliser is missing"
}
