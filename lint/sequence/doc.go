// Package sequence turns the difference of two estates into the order in which
// a crew can carry it out: jobs, moves, steps, and the windows they fit into.
//
// Read [Make] and [Plan] first. job.go says what a change asks to be done,
// bind.go states it as a puzzle of places for the package rearrange, recipe.go
// makes steps of its moves, world.go is the estate as it stands between two
// steps, and check.go judges every such state. calendar.go and schedule.go put
// the steps into windows, backout.go says until when there is a way back.
//
// A plan says what to do, where, by how many and for how long, and what undoes
// it. It certifies nothing: what is electrical, structural or heavy is for
// competent people and the site's own rules, and the plan says so beside the
// step.
//
// The package prints nothing; render/runsheet does.
package sequence
