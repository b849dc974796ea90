// Package estate is the model of an estate: what is declared under one
// estate.hcl, as plain structs with their references resolved.
//
// Read [Estate] first, then [Rack] and [Mount], then [Frame] and [Equipment].
// geometry.go says where a mount is in space, totals.go what racks weigh, draw
// and give off.
//
// The package knows no HCL, no git, no rules and no output. A model is made by
// the package lang, or by hand in a test; once made it is only read, so any
// number of goroutines may share it.
//
// Lengths are nanometres (see lang/quantity). A figure that may be missing,
// unknown or a guess is a [Figure]. What could not be resolved is nil, and its
// name is kept in [Estate.Unresolved], so that one typing mistake gives one
// finding.
package estate
