package lang

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

var equipmentBlock = top("equipment", "a catalogue entry: a kind of thing that can be mounted",
	func(e *estate.Estate) *[]*estate.Equipment { return &e.Equipment },
	func(q *estate.Equipment) (*string, *estate.Source) { return &q.Name, &q.Source },
	freeText("kind", `"switch"`, "what it is, in a plain word", func(q *estate.Equipment) *string { return &q.Kind }),
	panelSystem("system", `"19in"`, "the panel system that it is made for", func(q *estate.Equipment) **system.System { return &q.System }),
	field("height", "height", `"1U"`, "its height, in modules of a system or as a length", func(q *estate.Equipment) *estate.Height { return &q.Height }, readHeight),
	figure("body", `"442 mm"`, "the width of its body between the posts", func(q *estate.Equipment) figureOfLength { return &q.Body }),
	figure("depth", `"460 mm"`, "how far it reaches behind the mounting face", func(q *estate.Equipment) figureOfLength { return &q.Depth }),
	figure("cords", `"60 mm"`, "the room that its connectors and bends need behind it", func(q *estate.Equipment) figureOfLength { return &q.Cords }),
	figure("front", `"40 mm"`, "how far handles and front cords reach before the mounting face", func(q *estate.Equipment) figureOfLength { return &q.Front }),
	figure("mass", `"9 kg"`, "its mass, fitted as it will be mounted", func(q *estate.Equipment) figureOfMass { return &q.Mass }),
	figure("stripped", `"22 kg"`, "its mass without the supplies, disks and modules that its maker lets come out by hand before it is lifted", func(q *estate.Equipment) figureOfMass { return &q.Stripped }),
	whole("persons", "2", "how many people its maker asks for to lift it", 1, 99, func(q *estate.Equipment) *int { return &q.Persons }),
	word("mounting", `"ears"`, "how it is held", estate.Mountings, func(q *estate.Equipment) *estate.Mounting { return &q.Mounting }),
	field("two lengths", "rails", `{ from = "600 mm", to = "900 mm" }`, "the post spans that its rails reach", func(q *estate.Equipment) *estate.Figure[estate.Span2] { return &q.Rails }, readSpan2),
	figure("rails_rated", `"35 kg"`, "the mass that its rails or slides may carry", func(q *estate.Equipment) figureOfMass { return &q.RailsRated }),
	words("holes", `["square", "round", "m6"]`, "the kinds of hole that its rails or ears fit", estate.HoleKinds, func(q *estate.Equipment) *[]estate.Holes { return &q.Holes }),
	word("air", `"front-to-rear"`, "the way its air takes", estate.Airs, func(q *estate.Equipment) *estate.Air { return &q.Air }),
	field("power, or typical, maximum and nameplate", "draw", `{ typical = "160 W", maximum = "210 W", nameplate = "350 W" }`, "the power that it takes; one power alone is the maximum", func(q *estate.Equipment) *estate.Draw { return &q.Draw }, readDraw),
	field("type, count, needs and locking, or a list of such", "inlets", `{ type = "c14", count = 2, needs = 1 }`, "its inlets for supply cords, how many must be live for it to run, and whether they hold a socket against being pulled out", func(q *estate.Equipment) *[]estate.Inlet { return &q.Inlets }, readInlets),
	freeText("signal", `"radio"`, "the class of signal that it handles or gives off, in the site's own words", func(q *estate.Equipment) *string { return &q.Signal }),
	field("two voltages", "voltage", `{ from = "100 V", to = "240 V" }`, "the voltages that its inlets take; negative where the plus of a direct current supply is earthed", func(q *estate.Equipment) *estate.Figure[estate.VoltageRange] { return &q.Voltage }, readVoltages),
	share("power_factor", "0.95", "the power factor of a draw that is in watts: 0.95 means that 950 W take 1000 VA; for one in VA it gives the watts", 0.01, 1, func(q *estate.Equipment) *estate.Figure[float64] { return &q.Factor }).otherwise("1 for a draw in watts"),
	figure("inrush", `"30 A"`, "the peak of its current when it is switched on", func(q *estate.Equipment) figureOfCurrent { return &q.Inrush }),
	word("restart", `"last"`, "its restart setting, what it does when its supply returns: \"on\" starts by itself, \"off\" waits for somebody, \"last\" starts if it ran before", estate.Restarts, func(q *estate.Equipment) *estate.Restart { return &q.Restart }),
	figure("leakage", `"1.2 mA"`, "the current in the protective conductor of each of its inlets, as its maker states it", func(q *estate.Equipment) figureOfCurrent { return &q.Leakage }),
	word("earth", `"reinforced"`, "the protective conductor of its own cord, as of a strip: reinforced where it is made for lasting protective conductor current", estate.Earths, func(q *estate.Equipment) *estate.Earth { return &q.Earth }),
	rating("what it can give, as a UPS: apparent power in VA, active power in W, or both", func(q *estate.Equipment) *estate.Rating { return &q.Rated }),
	runtimeCurve("how long it goes on at a load, as a UPS, point by point of its maker's curve", func(q *estate.Equipment) *estate.Figure[[]physics.RuntimePoint] { return &q.Runtime }),
	field("type, count, bank, locking, from and pitch, or a list of such", "outlets", `{ type = "c13", count = 20, bank = "1" }`, "its outlets, numbered from 1 in the order written: of a strip, a fuse panel, a transfer switch; whether they hold a plug against being pulled out; and where they are along a strip that hangs upright: the middle of the first above its lower end, and the pitch from one to the next", func(q *estate.Equipment) *[]estate.OutletSet { return &q.Outlets }, readOutlets),
	field("name, rated and lines, or a list of such", "banks", `{ name = "1", rated = "16 A", lines = "1-2" }`, "the branches of a strip, and the lines of three phases that they hang between", func(q *estate.Equipment) *[]estate.Bank { return &q.Banks }, readBanks),
	oneOf("class", `"A2"`, "its class of inlet air, after ASHRAE TC 9.9", []string{"A1", "A2", "A3", "A4"}, func(q *estate.Equipment) *string { return &q.Class }),
	field("part of a unit", "share", `"1/2"`, "how much of a unit's width it takes", func(q *estate.Equipment) *estate.Slot { return &q.Share }, readShare).otherwise(`"whole"`),
	field("list of lengths", "ears", `["6.35 mm", "38.1 mm"]`, "the centres of its ears' screws above its lower edge; ears are slotted to suit any hole unless they are declared", func(q *estate.Equipment) *[]quantity.Length { return &q.Ears }, readLengths),
	panelSystem("takes", `"19in"`, "an adapter's other side: the system whose panels it holds on posts of its own system", func(q *estate.Equipment) **system.System { return &q.Takes }),
	figure("forward", `"12 mm"`, "how far before the posts an adapter holds panels", func(q *estate.Equipment) figureOfLength { return &q.Forward }).signed(),
	figure("carries", `"40 kg"`, "the mass that a shelf or an adapter may carry", func(q *estate.Equipment) figureOfMass { return &q.Carries }),
	figure("extension", `"750 mm"`, "how far its slides let it out of the rack", func(q *estate.Equipment) figureOfLength { return &q.Extension }),
	figure("withdraw", `"350 mm"`, "the length of the longest module that is drawn out of its rear", func(q *estate.Equipment) figureOfLength { return &q.Withdraw }),
	figure("below", `"3 mm"`, "how far its rails reach below its own lower edge", func(q *estate.Equipment) figureOfLength { return &q.Below }),
	figure("tail", `"60 mm"`, "how far its rails or slides reach behind the rear posts", func(q *estate.Equipment) figureOfLength { return &q.Tail }),
	figure("ambient", `"45 C"`, "the highest temperature of the air around it that its maker allows, as of a strip or a UPS", func(q *estate.Equipment) figureOfTemperature { return &q.Ambient }),
	figure("flow", `"25 l/s"`, "the air that its fans move, at the draw that counts as heat", func(q *estate.Equipment) *estate.Figure[quantity.Flow] { return &q.Flow }),
	figure("gap_above", `"44.45 mm"`, "the open room that it needs above it, where it is cooled by convection", func(q *estate.Equipment) figureOfLength { return &q.GapAbove }),
	figure("gap_below", `"44.45 mm"`, "the open room that it needs below it, where it is cooled by convection", func(q *estate.Equipment) figureOfLength { return &q.GapBelow }),
	word("battery", `"sealed-lead"`, "the kind of its cells, of a UPS or a battery pack; sealed means valve-regulated or gas-tight, vented means topped up", estate.Batteries, func(q *estate.Equipment) *estate.Battery { return &q.Battery }),
	yesNo("upright", "true", "whether its maker forbids mounting it upside down", func(q *estate.Equipment) *bool { return &q.Upright }),
).with(`equipment "core-switch" {
  kind     = "switch"
  system   = "19in"
  height   = "1U"
  body     = "442 mm"
  depth    = "460 mm"
  cords    = "60 mm"
  mass     = "9 kg"
  mounting = "ears"
  air      = "front-to-rear"
  draw     = { typical = "160 W", maximum = "210 W", nameplate = "350 W" }
  inlets   = { type = "c14", count = 2, needs = 1 }
}`, func(r *reader, owner any, b *hclsyntax.Block) {
	q := owner.(*estate.Equipment)
	if whole, ok := q.Mass.Get(); ok && q.Stripped.Known() && q.Stripped.Value > whole {
		r.report(b.Body.Attributes["stripped"].Expr.Range(), "", "stripped: %s is more than its mass whole, %s", q.Stripped.Value, whole)
	}
})
