// Package system holds the panel systems: the ways of building racks that
// panels, posts and holes are standardised for.
//
// Read [System] first, then [All]. A system is plain data; its few methods are
// exact integer arithmetic in nanometres, so that nothing drifts over the
// height of a rack. Each figure of a system stands a second time in its Facts,
// with the publication that gives it and how far it can be relied on: a figure
// that is only remembered may inform, but decides nothing.
//
// The package knows nothing of single racks or of what hangs in them.
package system
