package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// Fraction reports a mount that begins at a fraction of a unit finer than a
// half, where no post has a hole, and a mount that leaves part of a unit open
// which no blank of whole units closes.
//
// The left-over part is a warning where the frame wants its open units closed,
// else a note. A mount that fills it with a matching fraction silences it.
var Fraction = &lint.Rule{
	ID:      "space/fraction",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a height of no whole units leaves a gap that nothing closes",
	Why: `Four inches are not two units and a bit to spare: the bit is lost. No
blank is that low, nothing else can begin there, and warm air comes through.`,
	Source: "EIA-310-D",
	Limits: []lint.Limit{{
		Name: "least", Default: quantity.Inch / 16,
		Doc: "gaps lower than this are not reported; trade papers on recirculation name leaks from 1/16 in up",
	}},
	Bad: fractionPlaces + fmt.Sprintf(fractionRack, `  mount "one-1" {
    at        = 42
    equipment = equipment.one
  }`),
	Good: fractionPlaces + fmt.Sprintf(fractionRack, `  mount "fan-2" {
    at        = 41.5
    equipment = equipment.fan
  }`),
	Rack: fraction,
}

const (
	fractionPlaces = `room "hq" {}

row "hq-1" {
  room  = room.hq
  front = "cold"
}

` + exampleCabinet + `equipment "fan" {
  system = "19in"
  height = "1.5U"
}

equipment "one" {
  system = "19in"
  height = "1U"
}

`
	fractionRack = `rack "hq-a" {
  row   = row.hq-1
  frame = frame.cab-42

  mount "fan-1" {
    at        = 40
    equipment = equipment.fan
  }
%s
}
`
)

func fraction(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	if f == nil || f.System == nil {
		return
	}
	for m := range inPlace(r) {
		if half := estate.OneUnit / 2; m.At%half != 0 {
			finding := lint.AtMount(m, "at")
			finding.Level = lint.Error
			finding.Message = fmt.Sprintf("%s begins at %s; no post has a hole for steps finer than half a unit", m.Name, f.System.Label(m.At.String()))
			p.Report(finding)
		}
	}
	level := lint.Note
	if r.WantsBlanks() {
		level = lint.Warning
	}
	least := lint.LimitFor[quantity.Length](p, "least", r)
	for _, left := range r.Leftovers() {
		if left.Height() < least {
			continue
		}
		finding := lint.AtMount(left.Of.Mount, "at")
		finding.Level = level
		finding.Message = fmt.Sprintf("%s leaves %s of %s open, which no blank of whole units closes",
			left.Of.Name, left.Height(), f.Label(left.Unit))
		p.Report(finding)
	}
}
