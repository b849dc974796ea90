package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// exampleStrip is a cabinet with a strip on one feed, for examples on cords.
const exampleStrip = `
frame "cab" {
  system = "19in"
  units  = 42
}
feed "a" {
  source  = "ups"
  voltage = "230 V"
  rated   = "16 A"
}
equipment "strip-8" {
  kind    = "strip"
  height  = "1000 mm"
  inlets  = { type = "c20", count = 1, needs = 1 }
  outlets = [{ type = "c13", count = 6 }, { type = "c19", count = 2 }]
}
equipment "server" {
  height = "1U"
  draw   = "400 W"
  inlets = { type = "c14", count = 1, needs = 1 }
}
`

// inletTypes lists the coupler of each inlet of equipment, in order.
func inletTypes(q *estate.Equipment) []string {
	var out []string
	for _, in := range q.Inlets {
		for range in.Count {
			out = append(out, in.Type)
		}
	}
	return out
}

// atCords begins a finding on the cords of a mount.
func atCords(m *estate.Mount) lint.Finding { return lint.AtMount(m, "cords") }

// atCord begins a finding on one cord of a mount, counted from 0, at a figure of
// it where that is written.
func atCord[T any](m *estate.Mount, i int, figure estate.Figure[T]) lint.Finding {
	f := atCords(m)
	f.Others = []string{fmt.Sprintf("cord %d", i+1)}
	if at := figure.At; at.Start >= f.At.Start && at.End <= f.At.End && at != (estate.Span{}) {
		f.At.Span = at
	}
	return f
}

// eachCord calls do with every cord of the estate, in order, and with the mount
// that it runs to, or nil.
func eachCord(e *estate.Estate, do func(m *estate.Mount, i int, c *estate.Cord, strip *estate.Mount)) {
	for _, rack := range e.Racks {
		for _, m := range rack.Mounts {
			for i := range m.Cords {
				do(m, i, &m.Cords[i], e.StripOf(m, &m.Cords[i]))
			}
		}
	}
}
