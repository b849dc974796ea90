package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// OutsideFrame reports a mount, blank or reserve that reaches above or below
// the frame's units, or into units that the frame declares unusable.
var OutsideFrame = &lint.Rule{
	ID:      "space/outside-frame",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "units that the frame does not have, or cannot use",
	Why: `There is no hole to screw it to. Often a height was changed, or a rack
was drawn counted from the other end.`,
	Source: "common practice",
	Bad:    exampleCabinet + outsideThings + fmt.Sprintf(outsideRack, 42),
	Good:   exampleCabinet + outsideThings + fmt.Sprintf(outsideRack, 41),
	Rack:   outsideFrame,
}

const (
	outsideThings = `equipment "router" {
  system = "19in"
  height = "2U"
}

`
	outsideRack = `rack "hq-a" {
  frame = frame.cab-42

  mount "router-1" {
    at        = %d
    equipment = equipment.router
  }
}
`
)

func outsideFrame(p *lint.Pass, r *estate.Rack) {
	f := r.Frame
	if f == nil || f.Modules() <= 0 {
		return
	}
	extents(p, r)
	for m := range inPlace(r) {
		e, ok := m.Extent()
		if !ok {
			continue
		}
		if fault := outside(p, f, e); fault != "" {
			finding := lint.AtMount(m, "at")
			finding.Message = fmt.Sprintf("%s takes %s; %s", m.Name, f.Label(e), fault)
			finding.Fixes = moveTo(p, r, m)
			finding.Related = frameHeight(f)
			p.Report(finding)
		}
	}
	for _, b := range r.Blanks {
		e, _ := b.Extent()
		if fault := outside(p, f, e); fault != "" {
			finding := lint.AtRack(r, "")
			finding.At = b.Source.Attr("at")
			finding.Others = []string{"blank " + f.Label(e)}
			finding.Message = fmt.Sprintf("a blank closes %s; %s", f.Label(e), fault)
			finding.Related = frameHeight(f)
			p.Report(finding)
		}
	}
	for _, held := range r.Reserves {
		e, _ := held.Extent()
		if fault := outside(p, f, e); fault != "" {
			finding := lint.AtRack(r, "")
			finding.At = held.Source.Attr("at")
			finding.Others = []string{"reserve " + held.Name}
			finding.Message = fmt.Sprintf("the reserve %s holds %s; %s", held.Name, f.Label(e), fault)
			finding.Related = frameHeight(f)
			p.Report(finding)
		}
	}
}

// outside says how an extent leaves the frame's usable units, or nothing.
func outside(p *lint.Pass, f *estate.Frame, e estate.Extent) string {
	usable := f.Usable()
	switch {
	case e.Top > usable.Top+estate.Touch:
		return fmt.Sprintf("%s has %s, and it reaches %s above them", f.Name, allUnits(f), p.Length(e.Top-usable.Top))
	case e.Bottom < usable.Bottom-estate.Touch:
		return fmt.Sprintf("%s has %s, and it reaches %s below them", f.Name, allUnits(f), p.Length(usable.Bottom-e.Bottom))
	}
	for _, u := range f.Unusable {
		if dead := f.Extent(u); dead.Meets(e) {
			return fmt.Sprintf("%s cannot use %s", f.Name, f.Label(dead))
		}
	}
	return ""
}

// allUnits names the units of a frame: "U1-42", or its height where it is
// given by length.
func allUnits(f *estate.Frame) string {
	if f.Units == 0 {
		return f.Clear.String() + " of height"
	}
	return f.Label(f.Usable())
}

func frameHeight(f *estate.Frame) []lint.Related {
	attr := "units"
	if f.Units == 0 {
		attr = "clear"
	}
	if !f.Source.Has(attr) {
		return nil
	}
	return []lint.Related{{At: f.Source.Attr(attr), Message: fmt.Sprintf("the height of %s", f.Name)}}
}
