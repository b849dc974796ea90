package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// roomHeight reports a rack whose frame is higher than its room, and, where
// cables come from overhead, one that takes more than the limit's share of the
// clear height. Racks whose room or frame states no height are not checked.
var roomHeight = &lint.Rule{
	ID:      "site/room-height",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a frame too high for its room",
	Why: `A frame must be stood up in the room, and cables that come from overhead need room to
bend and hands to lay them. A frame that reaches to the tray is wired once and never again.`,
	Source: "EN 50174-2: with cabling from above, at most 75 % of the clear height",
	Omits:  "doors, lifts and ramps on the way, and the height that tilting the frame upright takes",
	Limits: []lint.Limit{{Name: "limit", Default: 0.75, Doc: "share of the clear height that a frame may take where cables come from overhead (EN 50174-2)"}},
	Bad: `room "hq" {
  height   = "2600 mm"
  overhead = true
}
row "hq-1" {
  room = room.hq
}
frame "cab-42" {
  system = "19in"
  units  = 42
  height = "2000 mm"
}
rack "a" {
  row   = row.hq-1
  frame = frame.cab-42
}
`,
	Good: `room "hq" {
  height   = "2900 mm"
  overhead = true
}
row "hq-1" {
  room = room.hq
}
frame "cab-42" {
  system = "19in"
  units  = 42
  height = "2000 mm"
}
rack "a" {
  row   = row.hq-1
  frame = frame.cab-42
}
`,
	Rack: func(pass *lint.Pass, r *estate.Rack) {
		room := r.Room()
		if room == nil || r.Frame == nil {
			return
		}
		clear, ok := room.Height.Get()
		if !ok {
			pass.RackUnchecked(r, "the clear height of room.%s is %s", room.Name, room.Height.State)
			return
		}
		high, ok := r.Frame.Height.Get()
		if !ok {
			pass.RackUnchecked(r, "the height of frame.%s is %s", r.Frame.Name, r.Frame.Height.State)
			return
		}
		f := lint.AtRack(r, "frame")
		f.Related = []lint.Related{
			{At: room.Source.Attr("height"), Message: "the clear height of the room"},
			{At: r.Frame.Source.Attr("height"), Message: "the height of the frame"},
		}
		if high > clear {
			f.Level = lint.Error
			f.Message = fmt.Sprintf("frame.%s is %s high; room.%s is %s", r.Frame.Name, pass.Length(high), room.Name, pass.Length(clear))
			pass.Report(f)
			return
		}
		share := lint.LimitFor[float64](pass, "limit", r)
		most := quantity.Of(share*clear.Millimetres(), quantity.Millimetre)
		if room.Overhead && high > most {
			f.Message = fmt.Sprintf("frame.%s is %s high; with cables from overhead room.%s has room for %s (%s of %s)",
				r.Frame.Name, pass.Length(high), room.Name, pass.Length(most), quantity.Number(share*100, 1)+" %", pass.Length(clear))
			pass.Report(f)
		}
	},
}
