package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// OpenUnit reports units that are open at the front although the frame wants
// them closed: once per run of units, at the rack's name.
//
// A frame wants blanks where it says so, and a cabinet in a row whose fronts
// look at the cold aisle wants them unless it says otherwise.
var OpenUnit = &lint.Rule{
	ID:      "space/open-unit",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "open units let warm air back to the front",
	Why: `Air that was warmed once comes round through the gap and is breathed in
again by the neighbours. They run degrees hotter for weeks before one of them
shuts down.`,
	Source: "ASHRAE TC 9.9 practice",
	Omits:  "that a half-width mount leaves its other half open",
	Bad:    openUnitPlaces + fmt.Sprintf(openUnitRack, `  blank { at = "1-19" }`),
	Good:   openUnitPlaces + fmt.Sprintf(openUnitRack, "  blank { at = \"1-19\" }\n  blank { at = \"22-42\" }"),
	Rack:   openUnit,
}

const (
	openUnitPlaces = `room "hq" {}

row "hq-1" {
  room  = room.hq
  front = "cold"
}

` + exampleCabinet + `equipment "server" {
  system = "19in"
  height = "2U"
}

`
	openUnitRack = `rack "hq-a" {
  row   = row.hq-1
  frame = frame.cab-42

  mount "server-1" {
    at        = 20
    equipment = equipment.server
  }
%s
}
`
)

func openUnit(p *lint.Pass, r *estate.Rack) {
	if !r.WantsBlanks() {
		return
	}
	if !extents(p, r) {
		return // what is open cannot be told while something's units are unknown
	}
	for _, open := range r.Open() {
		label := r.Frame.Label(open)
		f := lint.AtRack(r, "")
		f.Heights = open
		f.Message = fmt.Sprintf("%s of rack %s is open to the %s; close it with blanks", label, r.Name, frontAir(r))
		p.Report(f)
	}
}

// frontAir names what the rack's front looks at.
func frontAir(r *estate.Rack) string {
	if r.Row != nil && r.Row.Front == estate.ColdAisle {
		return "cold aisle"
	}
	return "front"
}
