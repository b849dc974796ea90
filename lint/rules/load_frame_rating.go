package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// frameRating reports a rack that holds more than its frame is rated for,
// standing still. What the rating of a rolled frame allows is another rule's
// business. A rack that is over on its known masses alone is reported although
// others are missing.
var frameRating = &lint.Rule{
	ID:      "load/frame-rating",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a rack holds more than its frame is rated for",
	Why: `A frame over its rating bends its posts, and what hangs on slides stops
sliding before anything breaks. The rating of a frame standing still is not
that of a frame being rolled, which is commonly about half, and neither says
what the floor carries.`,
	Source:  "the frame maker's sheet; listing to UL 2416 is for a rack standing still",
	Omits:   "the rating of single pairs of posts; rolling (load/rolling); the floor (load/floor)",
	Decides: "the frame's maker",
	Limits:  []lint.Limit{cablesLimit},
	Rack:    checkFrameRating,
	Bad: `
frame "cab" {
  system = "19in"
  units  = 42
  rated  = "100 kg"
}
equipment "store" {
  height = "4U"
  mass   = "95 kg"
}
equipment "panel" {
  height = "1U"
  mass   = "2 kg"
}
rack "r1" {
  frame = frame.cab
  mount "store-1" {
    at        = 1
    equipment = equipment.store
  }
  mount "panel-1" {
    at        = 20
    equipment = equipment.panel
  }
}
`,
	Good: `
frame "cab" {
  system = "19in"
  units  = 42
  rated  = "800 kg"
}
equipment "store" {
  height = "4U"
  mass   = "95 kg"
}
equipment "panel" {
  height = "1U"
  mass   = "2 kg"
}
rack "r1" {
  frame = frame.cab
  mount "store-1" {
    at        = 1
    equipment = equipment.store
  }
  mount "panel-1" {
    at        = 20
    equipment = equipment.panel
  }
}
`,
}

func checkFrameRating(p *lint.Pass, rack *estate.Rack) {
	frame := rack.Frame
	if frame == nil || len(rack.Mounts) == 0 {
		return
	}
	rated, ok := frame.Rated.Get()
	if !ok {
		p.RackUnchecked(rack, "the mass that frame.%s may carry is %s", frame.Name, frame.Rated.State)
		return
	}
	mounted := rack.Mass()
	cables := quantity.Of(lint.LimitFor[float64](p, "cables", rack)*mounted.Known.Kilograms(), quantity.Kilogram)
	total := mounted.Known + cables
	if total <= rated {
		if !mounted.Whole() {
			p.RackUnchecked(rack, "%s", mounted.Because())
		}
		return
	}
	f := lint.AtRack(rack, "frame")
	f.Message = fmt.Sprintf("%s holds %s (%s and %s of cables%s); %s is rated for %s standing still",
		rack.Name, total, mounted.Known, cables, atLeast(mounted.Whole()), frame.Name, rated)
	f.Others = []string{"frame." + frame.Name}
	f.Related = []lint.Related{{At: frame.Source.Attr("rated"), Message: "the rating is declared here"}}
	f.Related = append(f.Related, heaviest(rack.Mounts, 2)...)
	p.Report(f)
}
