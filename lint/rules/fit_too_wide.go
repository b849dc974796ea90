package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/lint"
)

// TooWide reports a body wider than the clear opening between the posts, or
// than its share of it. The opening is the frame's as declared, else the least
// that the standards of its panel system ask for; the message says which.
//
// Where two standards differ, a body between their figures is a warning: it
// fits a frame made to one and not one made to the other. A figure that is only
// remembered gives a note and no more.
var TooWide = &lint.Rule{
	ID:      "fit/too-wide",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "the body is wider than the opening between the posts",
	Why: `Nineteen inches is the panel. What passes between the posts is narrower,
and standards do not even agree by how much. A lid's screw head is enough to
stop it.`,
	Source: "IEC 60297-3-100 (450 mm), EIA-310-D (17.75 in)",
	Omits:  "the thickness of rails and slides beside the body",
	Bad:    exampleCabinet + fmt.Sprintf(tooWideThings, 452),
	Good:   exampleCabinet + fmt.Sprintf(tooWideThings, 442),
	Rack:   tooWide,
}

const tooWideThings = `equipment "switch" {
  system = "19in"
  height = "1U"
  body   = "%d mm"
}

rack "hq-a" {
  frame = frame.cab-42

  mount "switch-1" {
    at        = 40
    equipment = equipment.switch
  }
}
`

func tooWide(p *lint.Pass, r *estate.Rack) {
	for m, q := range inPlace(r) {
		if !m.Slot.Whole() && m.Slot.Of > max(q.Share.Of, 1) && q.Source.Has("share") {
			f := lint.AtMount(m, "slot")
			f.Message = fmt.Sprintf("%s is given %s of the width; equipment.%s takes %s", m.Name, part(m.Slot), q.Name, part(q.Share))
			f.Related = attrAt(&q.Source, "share", "the share of %s", q.Name)
			p.Report(f)
			continue
		}
		body, ok := q.Body.Get()
		if !ok {
			p.MountUnchecked(m, "%s", lacks("body width", ofEquipment(q), q.Body.State))
			continue
		}
		if width, ok := r.Frame.Opening.Get(); ok && m.Slot.Whole() && body <= width {
			continue
		}
		opening, ok := openingFor(p, r.Frame, m, body)
		if !ok {
			p.MountUnchecked(m, "%s, and no standard's figure is known for %s", lacks("opening", ofFrame(r.Frame), r.Frame.Opening.State), systemName(r.Frame))
			continue
		}
		if body <= opening.width {
			continue
		}
		f := lint.AtMount(m, "equipment")
		f.Level = opening.level
		f.Message = fmt.Sprintf("the body of %s is %s wide; %s, %s too little%s",
			m.Name, told(p, q.Body), opening.told, p.Length(body-opening.width), opening.but)
		f.Related = append(figureAt(&q.Source, q.Body, "the body of %s", q.Name),
			figureAt(&r.Frame.Source, r.Frame.Opening, "the opening of %s", r.Frame.Name)...)
		p.Report(f)
	}
}

// part names how much of the width a slot is.
func part(s estate.Slot) string {
	if s.Whole() {
		return "all"
	}
	return fmt.Sprintf("1/%d", s.Of)
}

// An opening is what a body has to pass, and how sure that is.
type opening struct {
	width quantity.Length
	told  string // "the opening of cab-42 is 450 mm"
	but   string // what speaks for the body all the same
	level lint.Level
}

func openingFor(p *lint.Pass, f *estate.Frame, m *estate.Mount, body quantity.Length) (opening, bool) {
	share := quantity.Length(1)
	of := ""
	if !m.Slot.Whole() {
		share = quantity.Length(m.Slot.Of)
		of = fmt.Sprintf("1/%d of ", m.Slot.Of)
	}
	if width, ok := f.Opening.Get(); ok {
		return opening{
			width: width / share, level: lint.Error,
			told: fmt.Sprintf("%sthe opening of %s is %s%s", of, f.Name, p.Length(width/share), basis(f.Opening)),
		}, true
	}
	if f.System == nil {
		return opening{}, false
	}
	least, ok := f.System.LeastOpening()
	if !ok {
		return opening{}, false
	}
	o := opening{
		width: least.Least / share, level: lint.Error,
		told: fmt.Sprintf("%s declares no opening, and %s%s asks for %s at least", f.Name, of, least.By, p.Length(least.Least/share)),
	}
	if !least.Confidence.Decides() {
		o.level = lint.Note
		o.but = fmt.Sprintf(" (%s)", least.Confidence)
		return o, true
	}
	for _, wider := range f.System.Openings[1:] {
		if body <= wider.Least/share && wider.Confidence.Decides() {
			o.level = lint.Warning
			o.but = fmt.Sprintf("; a frame made to %s (%s) takes it: measure the frame and declare its opening", wider.By, inFull(wider))
			break
		}
	}
	return o, true
}

// inFull prints a standard's opening to the hundredth that two standards
// differ by.
func inFull(o system.Opening) string { return o.Least.String() }

func systemName(f *estate.Frame) string {
	if f.System == nil {
		return "its panel system"
	}
	return f.System.Name
}
