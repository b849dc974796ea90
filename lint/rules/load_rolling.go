package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// rolling reports a rack on castors that holds more than its frame may carry
// while it is rolled.
var rolling = &lint.Rule{
	ID:      "load/rolling",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a rack on castors holds more than it may be rolled with",
	Why: `The rating that is printed large is for standing still. Rolled with more than
its rolling rating a frame racks, a castor breaks at the first threshold, and
a rack that is too heavy to hold goes where it wants.`,
	Source:  "the frame maker's sheet: standing, rolling and shipping ratings are different numbers",
	Omits:   "racks on feet, which are not rolled; the floor while rolling, where half a rack may stand on one tile",
	Decides: "the frame's maker",
	Limits:  []lint.Limit{cablesLimit},
	Rack:    checkRolling,
	Bad:     rollingExample("500 kg"),
	Good:    rollingExample("900 kg"),
}

func rollingExample(rated string) string {
	return fmt.Sprintf(`
frame "cab" {
  system   = "19in"
  units    = 42
  standing = "castors"
  rolling  = %q
}
equipment "store" {
  height = "4U"
  mass   = "95 kg"
}
rack "r1" {
  frame = frame.cab
  stack "store" {
    from      = 1
    count     = 6
    equipment = equipment.store
  }
}
`, rated)
}

func checkRolling(p *lint.Pass, rack *estate.Rack) {
	f := rack.Frame
	if f == nil || f.Standing != estate.Castors || len(rack.Mounts) == 0 {
		return
	}
	rated, ok := f.Rolling.Get()
	if !ok {
		p.RackUnchecked(rack, "the mass that frame.%s may carry while it is rolled is %s", f.Name, f.Rolling.State)
		return
	}
	mounted := rack.Mass()
	total := mounted.Known + quantity.Of(lint.LimitFor[float64](p, "cables", rack)*mounted.Known.Kilograms(), quantity.Kilogram)
	if total <= rated {
		if !mounted.Whole() {
			p.RackUnchecked(rack, "%s", mounted.Because())
		}
		return
	}
	found := lint.AtRack(rack, "frame")
	found.Message = fmt.Sprintf("%s stands on castors and holds %s (cables added%s); %s may be rolled with %s", rack.Name, total, atLeast(mounted.Whole()), f.Name, rated)
	found.Others = []string{"frame." + f.Name}
	found.Related = append([]lint.Related{{At: f.Source.Attr("rolling"), Message: "the rating is declared here"}}, heaviest(rack.Mounts, 2)...)
	p.Report(found)
}
