// Package change is the difference of two estates, in the words of the people
// who carry it out: what comes in, what goes out, what is moved and what is
// altered, each with its old and new value.
//
// Read [Change] first, then [MountChange]. [Between] makes a change; match.go
// says when two declarations are one and the same thing, attributes.go what is
// compared. [Change.Apply] replays a change, or a part of one, on an estate.
//
// Where a thing is declared plays no part: two estates whose files are arranged
// differently, but which declare the same, differ in nothing. The package
// judges nothing (that is for lint), orders nothing (lint/sequence) and prints
// nothing (render).
package change
