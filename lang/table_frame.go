package lang

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

// Shorter names for the fields that most lines of the tables are about.
type (
	figureOfLength      = *estate.Figure[quantity.Length]
	figureOfMass        = *estate.Figure[quantity.Mass]
	figureOfPower       = *estate.Figure[quantity.Power]
	figureOfPressure    = *estate.Figure[quantity.Pressure]
	figureOfTemperature = *estate.Figure[quantity.Temperature]
	figureOfVoltage     = *estate.Figure[quantity.Voltage]
	figureOfCurrent     = *estate.Figure[quantity.Current]
	figureOfForce       = *estate.Figure[quantity.Force]
)

var frameBlock = top("frame", "a kind of rack: its posts, its size and what it carries",
	func(e *estate.Estate) *[]*estate.Frame { return &e.Frames },
	func(f *estate.Frame) (*string, *estate.Source) { return &f.Name, &f.Source },
	panelSystem("system", `"19in"`, "the panel system of its posts", func(f *estate.Frame) **system.System { return &f.System }).required(),
	word("kind", `"cabinet"`, "how it is built", estate.FrameKinds, func(f *estate.Frame) *estate.FrameKind { return &f.Kind }),
	whole("units", "42", "how many modules of its system it is high", 1, 999, func(f *estate.Frame) *int { return &f.Units }),
	plain("clear", `"1867 mm"`, "the usable height of a frame that is not counted in units", func(f *estate.Frame) *quantity.Length { return &f.Clear }),
	word("counted", `"up"`, "how its posts are marked: \"up\" where the lowest unit has the first number, \"down\" where the highest has", estate.Countings, func(f *estate.Frame) *estate.Counting { return &f.Counted }).otherwise(`"up"`),
	whole("first", "1", "the number of the first unit", 0, 999, func(f *estate.Frame) *int { return &f.First }).otherwise("1"),
	unitRanges("unusable", `["1-2"]`, "units that nothing can be mounted in", func(f *estate.Frame) *[]estate.UnitRange { return &f.Unusable }),
	word("holes", `"square"`, "the kind of hole in its posts", estate.HoleKinds, func(f *estate.Frame) *estate.Holes { return &f.Holes }),
	figure("post_span", `"740 mm"`, "from the front face of the front posts to the rear face of the rear posts", func(f *estate.Frame) figureOfLength { return &f.PostSpan }),
	figure("front_room", `"80 mm"`, "from the front posts to the closed door", func(f *estate.Frame) figureOfLength { return &f.FrontRoom }),
	figure("rear_room", `"180 mm"`, "from the rear posts to the closed door", func(f *estate.Frame) figureOfLength { return &f.RearRoom }),
	figure("opening", `"450 mm"`, "the clear width between its posts", func(f *estate.Frame) figureOfLength { return &f.Opening }),
	figure("width", `"600 mm"`, "its width over all", func(f *estate.Frame) figureOfLength { return &f.Width }),
	figure("depth", `"1000 mm"`, "its depth over all", func(f *estate.Frame) figureOfLength { return &f.Depth }),
	figure("height", `"2000 mm"`, "its height over all", func(f *estate.Frame) figureOfLength { return &f.Height }),
	figure("base", `"100 mm"`, "the lower edge of its lowest unit above the floor", func(f *estate.Frame) figureOfLength { return &f.Base }),
	figure("mass", `"110 kg"`, "its own mass, empty", func(f *estate.Frame) figureOfMass { return &f.Mass }),
	figure("rated", `"1000 kg"`, "the mass that it may carry standing still", func(f *estate.Frame) figureOfMass { return &f.Rated }),
	figure("rolling", `"500 kg"`, "the mass that it may carry while it is rolled", func(f *estate.Frame) figureOfMass { return &f.Rolling }),
	figure("moment", `"120 N m"`, "the moment with which one mount may pull on its posts", func(f *estate.Frame) *estate.Figure[quantity.Torque] { return &f.Moment }),
	word("standing", `"feet"`, "what it stands on", estate.Standings, func(f *estate.Frame) *estate.Standing { return &f.Standing }),
	figure("feet_width", `"560 mm"`, "between its outer feet, side by side", func(f *estate.Frame) figureOfLength { return &f.FeetWidth }),
	figure("feet_depth", `"860 mm"`, "between its outer feet, front to rear", func(f *estate.Frame) figureOfLength { return &f.FeetDepth }),
	figure("reach", `"350 mm"`, "how far a stabiliser stands out before the front feet", func(f *estate.Frame) figureOfLength { return &f.Reach }),
	whole("crew", "4", "how many people move it, of a road case", 1, 99, func(f *estate.Frame) *int { return &f.Crew }),
	field("width, depth, height and mass", "crate", `{ width = "800 mm", depth = "1200 mm", height = "2150 mm", mass = "35 kg" }`, "what it comes in until it is unpacked in its room, and the mass of that alone", func(f *estate.Frame) *estate.Crate { return &f.Crate }, readCrate),
	word("fixed", `"anchored"`, "what keeps it from tipping", estate.Fixings, func(f *estate.Frame) *estate.Fixing { return &f.Fixed }),
	freeText("shut", `"shield, 60 dB at 300 MHz"`, "why its doors must stay shut: work behind them is done in one go, and ends with them shut", func(f *estate.Frame) *string { return &f.Shut }),
	yesNo("blanking", "true", "whether open units need a blank", func(f *estate.Frame) *bool { return &f.Blanking }),
	yesNo("fan", "true", "whether a fan of its own draws the air through it, past a closed front", func(f *estate.Frame) *bool { return &f.Fan }).otherwise("false"),
	share("door_open", "0.63", "the share of its doors that lets air through; of two that differ the lesser one", 0, 1, func(f *estate.Frame) *estate.Figure[float64] { return &f.DoorOpen }),
	wholeFigure("seismic_zone", "0", "the zone of GR-63 that it is rated for", 0, 4, func(f *estate.Frame) *estate.Figure[int] { return &f.SeismicZone }),
).with(`frame "cab-42" {
  system     = "19in"
  kind       = "cabinet"
  units      = 42
  counted    = "up"
  holes      = "square"
  post_span  = "740 mm"
  front_room = "80 mm"
  rear_room  = "180 mm"
  mass       = "110 kg"
  rated      = "1000 kg"
  standing   = "feet"
  fixed      = "none"
}`, frameDone, obstructionBlock)

var obstructionBlock = (&block{
	name: "obstruction", label: "NAME",
	doc:  "a strut, fan or crossbar inside the frame, as a box",
	open: in(func(f *estate.Frame) *[]*estate.Obstruction { return &f.Obstructions }),
	head: func(owner any) (*string, *estate.Source) {
		o := owner.(*estate.Obstruction)
		return &o.Name, &o.Source
	},
	attrs: []attr{
		plain("from", `"800 mm"`, "the height of its lower edge above the lower edge of the lowest unit", func(o *estate.Obstruction) *quantity.Length { return &o.From }).signed().required(),
		plain("to", `"840 mm"`, "the height of its upper edge", func(o *estate.Obstruction) *quantity.Length { return &o.To }).signed().required(),
		plain("near", `"300 mm"`, "how far behind the front face of the front posts it begins", func(o *estate.Obstruction) *quantity.Length { return &o.Near }).signed().required(),
		plain("far", `"340 mm"`, "how far behind the front face of the front posts it ends", func(o *estate.Obstruction) *quantity.Length { return &o.Far }).signed().required(),
		word("side", `"left"`, "the side that it stands at, seen from the front", estate.Sides, func(o *estate.Obstruction) *estate.Side { return &o.Side }).otherwise("the whole width"),
		plain("reach", `"40 mm"`, "how far it reaches in from that side of the opening", func(o *estate.Obstruction) *quantity.Length { return &o.Reach }).otherwise("the whole width"),
	},
}).with(`obstruction "strut" {
  from = "800 mm"
  to   = "840 mm"
  near = "300 mm"
  far  = "340 mm"
}`, obstructionDone)

// obstructionDone refuses boxes that are inside out.
func obstructionDone(r *reader, owner any, b *hclsyntax.Block) {
	o := owner.(*estate.Obstruction)
	if r.part.broken {
		return
	}
	if o.To < o.From {
		r.report(labelRange(b), "", "obstruction %q: from %s to %s runs downwards; the lower height comes first", o.Name, o.From, o.To)
	}
	if o.Far < o.Near {
		r.report(labelRange(b), "", "obstruction %q: near %s to far %s runs backwards; the smaller depth comes first", o.Name, o.Near, o.Far)
	}
}

// frameDone fills in what is usual and asks for a height.
func frameDone(r *reader, owner any, b *hclsyntax.Block) {
	f := owner.(*estate.Frame)
	if f.Counted == estate.NotCounted {
		f.Counted = estate.CountedUp
	}
	if !f.Source.Has("first") {
		f.First = 1
	}
	if !r.part.broken && !f.Source.Has("units") && !f.Source.Has("clear") {
		r.report(labelRange(b), "", "%s lacks its height; write units = 42, or clear = \"1867 mm\" where it is not counted in units", title("frame", f.Name))
	}
}
