package lang

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// The blocks that say what an estate is and where its racks stand.

var estateBlock = (&block{
	name: "estate", label: "NAME",
	doc: "the estate itself: its name, and how its files are read and printed",
	open: func(r *reader, parent any) any {
		r.part.headers++
		return parent
	},
	head: func(owner any) (*string, *estate.Source) {
		e := owner.(*estate.Estate)
		return &e.Name, &e.Source
	},
	attrs: []attr{
		field("whole number", "language", "1", "the version of this language", func(e *estate.Estate) *int { return &e.Language }, (*reader).language).otherwise("1"),
		freeText("rules", `"2026.1"`, "the rule set: a later release adds no finding until this is raised", func(e *estate.Estate) *string { return &e.Rules }).otherwise("the newest"),
		oneOf("lengths", `"mm"`, "how lengths are printed", []string{"mm", "in"}, func(e *estate.Estate) *string { return &e.Lengths }).otherwise(`"mm"`),
		freeTexts("skip", `["infra/**"]`, "patterns of files and folders that are not read, as git writes them", func(e *estate.Estate) *[]string { return &e.Skip }),
		freeTexts("policies", `["../policies/*.hcl"]`, "patterns of files with policies that several estates share", func(e *estate.Estate) *[]string { return &e.Policies }),
	},
}).with(`estate "brackwater" {
  language = 1
  rules    = "2026.1"
  lengths  = "mm"
  skip     = ["infra/**"]
}`, nil)

// maxLanguage is the newest version of the language that is understood.
const maxLanguage = 1

func (r *reader) language(x hclsyntax.Expression) (int, bool) {
	n, ok := r.whole(x, 1, 1<<20)
	if ok && n > maxLanguage {
		r.bad(x, "version %d is newer than this release understands; the newest it reads is %d", n, maxLanguage)
		return 0, false
	}
	return n, ok
}

var givenBlock = (&block{
	name: "given",
	doc:  "named figures, used in other values as given.NAME",
	open: func(_ *reader, parent any) any { return &givens{of: parent.(*estate.Estate)} },
	head: func(owner any) (*string, *estate.Source) { return nil, &owner.(*givens).source },
	other: func(r *reader, owner any, a *hclsyntax.Attribute) {
		r.given(owner.(*givens), a)
	},
	otherRaw: true,
	otherDoc: &AttributeDoc{Name: "NAME", Kind: "any value", Doc: "a value to be used by this name elsewhere", Example: `"25 kg"`},
}).with(`given {
  lift_limit = "25 kg"
}`, nil)

// givens is one given block while it is read.
type givens struct {
	of     *estate.Estate
	source estate.Source
}

var siteBlock = top("site", "a place with an address, a calendar and habits of its own",
	func(e *estate.Estate) *[]*estate.Site { return &e.Sites },
	func(s *estate.Site) (*string, *estate.Source) { return &s.Name, &s.Source },
	freeText("zone", `"Europe/Tallinn"`, "the time zone, by its IANA name", func(s *estate.Site) *string { return &s.Zone }),
	figure("altitude", `"4 m"`, "the height above sea level", func(s *estate.Site) figureOfLength { return &s.Altitude }).signed(),
	wholeFigure("seismic_zone", "0", "the zone of GR-63 in which it lies", 0, 4, func(s *estate.Site) *estate.Figure[int] { return &s.SeismicZone }),
	share("continuous", "0.8", "the share of a feed's rating that lasting load may take", 0.01, 1, func(s *estate.Site) *estate.Figure[float64] { return &s.Continuous }),
	share("sds", "0.8", "the design spectral acceleration SDS of ASCE 7, in g, from the code's maps", 0, 5, func(s *estate.Site) *estate.Figure[float64] { return &s.Shaking }),
	share("importance", "1.0", "the component importance factor Ip of ASCE 7", 1, 1.5, func(s *estate.Site) *estate.Figure[float64] { return &s.Importance }),
	oneOf("heat", `"typical"`, "which draw counts as heat", []string{"typical", "maximum"}, func(s *estate.Site) *string { return &s.Heat }).otherwise(`"typical"`),
	figure("runtime", `"10 min"`, "the runtime that a UPS must have at the most that it comes to carry, with whatever else lost", func(s *estate.Site) *estate.Figure[quantity.Duration] { return &s.Runtime }),
	oneOf("load", `"maximum"`, "which draw counts as load of feeds", []string{"maximum", "nameplate", "typical"}, func(s *estate.Site) *string { return &s.Load }).otherwise(`"maximum"`),
	whole("notice", "7", "how many days before a window those concerned are to be told of it", 1, 366, func(s *estate.Site) *int { return &s.Notice }),
	yesNo("record", "true", "whether every change needs a record number", func(s *estate.Site) *bool { return &s.Record }).otherwise("false"),
	yesNo("reason", "true", "whether every change needs a reason in words, on the front page of its sheet", func(s *estate.Site) *bool { return &s.Reason }).otherwise("false"),
	yesNo("mobile", "true", "whether it is under way with all that stands in it, as a ship or a vehicle is", func(s *estate.Site) *bool { return &s.Mobile }).otherwise("false"),
	yesNo("bonding_record", "true", "whether a bonding record is kept: every rack then says what its bond goes to", func(s *estate.Site) *bool { return &s.Bonding }).otherwise("false"),
	field("text", "as_built", `"as-built/*"`, "a pattern of the git tags by which somebody who looked confirms the record as built", func(s *estate.Site) *string { return &s.AsBuilt }, (*reader).tagPattern),
).with(`site "quay" {
  zone         = "Europe/Tallinn"
  altitude     = "4 m"
  seismic_zone = 0
  continuous   = 0.8
}`, nil)

var roomBlock = top("room", "a room in which rows of racks stand",
	func(e *estate.Estate) *[]*estate.Room { return &e.Rooms },
	func(o *estate.Room) (*string, *estate.Source) { return &o.Name, &o.Source },
	ref("site", "site", "site.quay", "the site that it belongs to", func(o *estate.Room) **estate.Site { return &o.Site }),
	figure("heat_limit", `"18 kW"`, "the heat that its cooling can take away", func(o *estate.Room) figureOfPower { return &o.HeatLimit }),
	figure("floor_load", `"7.2 kPa"`, "the distributed load that its floor may carry", func(o *estate.Room) figureOfPressure { return &o.FloorLoad }),
	figure("supply_air", `"22 C"`, "the temperature of the air that reaches the fronts", func(o *estate.Room) figureOfTemperature { return &o.SupplyAir }),
	figure("return_air", `"38 C"`, "the temperature of the air behind the racks, measured or planned", func(o *estate.Room) figureOfTemperature { return &o.ReturnAir }),
	figure("point_load", `"4.4 kN"`, "the load that its floor may carry under one foot", func(o *estate.Room) figureOfForce { return &o.PointLoad }),
	figure("tile_load", `"9 kN"`, "the load that one tile of its raised floor may carry", func(o *estate.Room) figureOfForce { return &o.TileLoad }),
	share("storey", "0.5", "the height of its floor as a share of the building's, 0 at grade", 0, 1, func(o *estate.Room) *estate.Figure[float64] { return &o.Storey }),
	figure("height", `"2900 mm"`, "the clear height from the floor", func(o *estate.Room) figureOfLength { return &o.Height }),
	yesNo("overhead", "true", "whether cables come to the racks from above", func(o *estate.Room) *bool { return &o.Overhead }).otherwise("false"),
	yesNo("it_room", "true", "whether it is run as an information technology equipment room after NFPA 70, article 645", func(o *estate.Room) *bool { return &o.ITRoom }).otherwise("false"),
	freeText("shut", `"shielded: the receivers hear it"`, "why its door must stay shut: work behind it is done in one go, and ends with it shut", func(o *estate.Room) *string { return &o.Shut }),
	refs("routes", "route", "[route.dock]", "the ways into it from the kerb; a thing needs to pass one of them", func(o *estate.Room) *[]*estate.Route { return &o.Routes }),
).with(`room "hq" {
  site       = site.quay
  heat_limit = "18 kW"
  floor_load = "7.2 kPa"
  supply_air = "22 C"
}`, nil)

var rowBlock = top("row", "a line of racks whose fronts look the same way",
	func(e *estate.Estate) *[]*estate.Row { return &e.Rows },
	func(o *estate.Row) (*string, *estate.Source) { return &o.Name, &o.Source },
	ref("room", "room", "room.hq", "the room in which it stands", func(o *estate.Row) **estate.Room { return &o.Room }),
	ref("across", "row", "row.hq-2", "the row whose fronts look at this row's fronts", func(o *estate.Row) **estate.Row { return &o.Across }),
	word("front", `"cold"`, "the aisle that the fronts look at; the rears look at the other one", aisleWords, func(o *estate.Row) *estate.Aisle { return &o.Front }),
	figure("front_aisle", `"1200 mm"`, "the room before its racks at its narrowest, with doors open", func(o *estate.Row) figureOfLength { return &o.FrontAisle }),
	figure("rear_aisle", `"900 mm"`, "the room behind its racks at its narrowest, with doors open", func(o *estate.Row) figureOfLength { return &o.RearAisle }),
	freeTexts("seals", `["FS-12"]`, "the fire seals that the cables of its racks pass, by the number on them", func(o *estate.Row) *[]string { return &o.Seals }),
).with(`row "hq-1" {
  room  = room.hq
  front = "cold"
}`, nil)

// aisleWords lists the aisles as the language writes them.
var aisleWords = []string{"", estate.ColdAisle.String(), estate.HotAisle.String(), estate.MixedAisle.String()}
