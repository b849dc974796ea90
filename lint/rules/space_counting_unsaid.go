package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// CountingUnsaid reports a frame that does not say from which end its units are
// counted, in an estate in which another frame is counted down. Where no frame
// is, the usual way holds for all.
var CountingUnsaid = &lint.Rule{
	ID:      "space/counting-unsaid",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "units are counted from either end here, and a frame does not say from which",
	Why: `Unit 3 of a rack counted from the top is unit 40 of one counted from the
bottom. Where both are about, whoever reads "U3" at a rack that says nothing
takes it for what the last one was, and pulls out the wrong machine.`,
	Source: "ANSI/TIA-606 practice counts from the bottom; yards, telephone exchanges and some makers count from the top (common practice)",
	Omits:  "a place copied from a drawing that counts the other way, which looks like any other place",
	Bad:    fmt.Sprintf(countingFrames, ""),
	Good:   fmt.Sprintf(countingFrames, "  counted = \"up\"\n"),
	Estate: countingUnsaid,
}

const countingFrames = `frame "shore-42" {
  system  = "19in"
  units   = 42
%s}

frame "ship-24" {
  system  = "19in"
  units   = 24
  counted = "down"
}
`

func countingUnsaid(p *lint.Pass) {
	var down *estate.Frame
	var silent []*estate.Frame
	for _, f := range p.Estate.Frames {
		switch {
		case f.Counted == estate.CountedDown && down == nil:
			down = f
		case !f.Source.Has("counted") && f.Source.Has("units"):
			silent = append(silent, f)
		}
	}
	if down == nil {
		return
	}
	for _, f := range silent {
		p.Report(lint.Finding{
			At: f.Source.Attr("units"), Thing: ofFrame(f), Others: []string{ofFrame(down)},
			Message: fmt.Sprintf("%s does not say from which end its units are counted, and %s is counted down; write counted as its posts are marked, \"up\" or \"down\"",
				ofFrame(f), ofFrame(down)),
			Related: []lint.Related{{At: down.Source.Attr("counted"), Message: ofFrame(down) + " is counted down"}},
		})
	}
}
