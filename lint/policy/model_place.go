package policy

import (
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

func siteRef(t *estate.Site) string   { return "site." + t.Name }
func roomRef(t *estate.Room) string   { return "room." + t.Name }
func rowRef(t *estate.Row) string     { return "row." + t.Name }
func frameRef(t *estate.Frame) string { return "frame." + t.Name }

func (m *Model) describePlaces() {
	c := m.estate
	addName(c, func(t *estate.Estate) string { return t.Name })
	everywhere(AddObjects(c, "sites", m.site, "its sites", func(t *estate.Estate) []*estate.Site { return t.Sites }))
	everywhere(AddObjects(c, "rooms", m.room, "its rooms", func(t *estate.Estate) []*estate.Room { return t.Rooms }))
	everywhere(AddObjects(c, "rows", m.row, "its rows", func(t *estate.Estate) []*estate.Row { return t.Rows }))
	everywhere(AddObjects(c, "racks", m.rack, "its racks", func(t *estate.Estate) []*estate.Rack { return t.Racks }))
	everywhere(AddObjects(c, "feeds", m.feed, "its feeds", func(t *estate.Estate) []*estate.Feed { return t.Feeds }))
	everywhere(AddObjects(c, "groups", m.group, "its groups", func(t *estate.Estate) []*estate.Group { return t.Groups }))
	AddObjects(c, "frames", m.frame, "its catalogue of frames", func(t *estate.Estate) []*estate.Frame { return t.Frames })
	AddObjects(c, "equipment", m.equipment, "its catalogue of equipment", func(t *estate.Estate) []*estate.Equipment { return t.Equipment })

	c = m.site
	addName(c, func(t *estate.Site) string { return t.Name })
	AddText(c, "zone", "its time zone, by the IANA name", known(func(t *estate.Site) string { return t.Zone }))
	addFigure(c, "altitude", Millimetre, "its height above sea level", millimetres, "altitude", siteRef, func(t *estate.Site) estate.Figure[quantity.Length] { return t.Altitude })
	AddNumber(c, "seismic_zone", Plain, "the zone of GR-63 in which it lies", func(t *estate.Site) (Number, *Unknown) {
		return wholeOf(t.SeismicZone, "seismic zone", siteRef(t))
	})
	addFigure(c, "runtime", Minute, "the runtime that a UPS must have at the most that it comes to carry", minutesOf, "runtime", siteRef, func(t *estate.Site) estate.Figure[quantity.Duration] { return t.Runtime })
	addShare(c, "continuous", "the share of a feed's rating that lasting load may take", "continuous", siteRef, func(t *estate.Site) estate.Figure[float64] { return t.Continuous })
	addShare(c, "sds", "the design spectral response acceleration SDS of ASCE 7, in g", "sds", siteRef, func(t *estate.Site) estate.Figure[float64] { return t.Shaking })
	addShare(c, "importance", "the importance factor Ip of ASCE 7", "importance", siteRef, func(t *estate.Site) estate.Figure[float64] { return t.Importance })
	AddText(c, "heat", `which draw counts as heat, or ""`, known(func(t *estate.Site) string { return t.Heat }))
	AddText(c, "load", `which draw counts as load of feeds, or ""`, known(func(t *estate.Site) string { return t.Load }))
	AddCount(c, "notice", "", "how many days before a window those concerned are to be told of it; 0 where none is asked for", counted(func(t *estate.Site) int { return t.Notice }))
	AddBool(c, "mobile", "whether it is under way with all that stands in it", known(func(t *estate.Site) bool { return t.Mobile }))
	AddBool(c, "record", "whether every change needs a record number", known(func(t *estate.Site) bool { return t.Record }))
	AddBool(c, "reason", "whether every change needs a reason in words", known(func(t *estate.Site) bool { return t.Reason }))
	AddBool(c, "bonding_record", "whether the bond of every rack is recorded", known(func(t *estate.Site) bool { return t.Bonding }))
	AddText(c, "as_built", `the pattern of the tags that confirm the record as built, or ""`, known(func(t *estate.Site) string { return t.AsBuilt }))

	c = m.room
	addName(c, func(t *estate.Room) string { return t.Name })
	AddObject(c, "site", m.site, "the site that it belongs to", func(t *estate.Room) *estate.Site { return t.Site })
	addFigure(c, "heat_limit", Watt, "the heat that its cooling can take away", watts, "heat limit", roomRef, func(t *estate.Room) estate.Figure[quantity.Power] { return t.HeatLimit })
	addFigure(c, "floor_load", Kilopascal, "the distributed load that its floor may carry", kilopascals, "floor load", roomRef, func(t *estate.Room) estate.Figure[quantity.Pressure] { return t.FloorLoad })
	addFigure(c, "supply_air", Celsius, "the temperature of the air that reaches the fronts", celsius, "supply air", roomRef, func(t *estate.Room) estate.Figure[quantity.Temperature] { return t.SupplyAir })
	addFigure(c, "return_air", Celsius, "the temperature of the air behind its racks", celsius, "return_air", roomRef, func(t *estate.Room) estate.Figure[quantity.Temperature] { return t.ReturnAir })
	addFigure(c, "height", Millimetre, "its clear height", millimetres, "height", roomRef, func(t *estate.Room) estate.Figure[quantity.Length] { return t.Height })
	addFigure(c, "point_load", Newton, "the load that its floor may carry on one foot", newtons, "point load", roomRef, func(t *estate.Room) estate.Figure[quantity.Force] { return t.PointLoad })
	addFigure(c, "tile_load", Newton, "the load that one tile of its raised floor may carry", newtons, "tile load", roomRef, func(t *estate.Room) estate.Figure[quantity.Force] { return t.TileLoad })
	addShare(c, "storey", "the height of its floor as a share of the building's", "storey", roomRef, func(t *estate.Room) estate.Figure[float64] { return t.Storey })
	AddBool(c, "it_room", "whether it is run as an information technology equipment room after NFPA 70, article 645", known(func(t *estate.Room) bool { return t.ITRoom }))
	AddTexts(c, "routes", "the names of the ways into it", func(t *estate.Room) []string {
		var out []string
		for _, r := range t.Routes {
			if r != nil {
				out = append(out, r.Name)
			}
		}
		return out
	})
	AddBool(c, "overhead", "whether cables come to its racks from above", known(func(t *estate.Room) bool { return t.Overhead }))
	AddText(c, "shut", `why its door must stay shut, or ""`, known(func(t *estate.Room) string { return t.Shut }))
	beyond(AddObjects(c, "racks", m.rack, "the racks in it, in the order declared", func(t *estate.Room) []*estate.Rack { return m.racks().in[t] }))
	beyond(AddObjects(c, "feeds", m.feed, "the feeds that end in it", func(t *estate.Room) []*estate.Feed {
		var out []*estate.Feed
		for _, f := range m.supply().Feeds() {
			if f.Room == t {
				out = append(out, f)
			}
		}
		return out
	}))

	c = m.row
	addName(c, func(t *estate.Row) string { return t.Name })
	AddObject(c, "room", m.room, "the room in which it stands", func(t *estate.Row) *estate.Room { return t.Room })
	AddObject(c, "across", m.row, "the row whose fronts look at this row's fronts, or null", func(t *estate.Row) *estate.Row { return t.Across })
	addWord(c, "front", `the aisle that the fronts look at: "cold", "hot" or "mixed"`, func(t *estate.Row) estate.Aisle { return t.Front })
	addFigure(c, "front_aisle", Millimetre, "the aisle before the fronts, at the narrowest and with doors open", millimetres, "front aisle", rowRef, func(t *estate.Row) estate.Figure[quantity.Length] { return t.FrontAisle })
	addFigure(c, "rear_aisle", Millimetre, "the aisle behind the rears, at the narrowest and with doors open", millimetres, "rear aisle", rowRef, func(t *estate.Row) estate.Figure[quantity.Length] { return t.RearAisle })
	AddTexts(c, "seals", "the fire seals that the cables of its racks pass", func(t *estate.Row) []string { return t.Seals })
	beyond(AddObjects(c, "racks", m.rack, "the racks in it, in the order declared", func(t *estate.Row) []*estate.Rack { return m.racks().of[t] }))
}

// rackIndex gives the racks of rooms and rows.
type rackIndex struct {
	in map[*estate.Room][]*estate.Rack
	of map[*estate.Row][]*estate.Rack
}

func indexRacks(e *estate.Estate) rackIndex {
	x := rackIndex{map[*estate.Room][]*estate.Rack{}, map[*estate.Row][]*estate.Rack{}}
	for _, r := range e.Racks {
		if r.Row == nil {
			continue
		}
		x.of[r.Row] = append(x.of[r.Row], r)
		if r.Row.Room != nil {
			x.in[r.Row.Room] = append(x.in[r.Row.Room], r)
		}
	}
	return x
}

func wholeOf(f estate.Figure[int], what, of string) (Number, *Unknown) {
	v, ok := f.Get()
	if !ok {
		return Number{}, lacking(what, of, f.State)
	}
	return Whole(int64(v)), nil
}

func (m *Model) describeFrame() {
	c := m.frame
	length := func(name, doc string, get func(t *estate.Frame) estate.Figure[quantity.Length]) {
		addFigure(c, name, Millimetre, doc, millimetres, wordsOf(name), frameRef, get)
	}
	mass := func(name, doc string, get func(t *estate.Frame) estate.Figure[quantity.Mass]) {
		addFigure(c, name, Kilogram, doc, kilograms, wordsOf(name), frameRef, get)
	}
	addName(c, func(t *estate.Frame) string { return t.Name })
	AddText(c, "system", `its panel system, such as "19in"`, known(func(t *estate.Frame) string {
		if t.System == nil {
			return ""
		}
		return t.System.Name
	}))
	addWord(c, "kind", `how it is built: "cabinet", "four-post", "two-post", "wall" or "case"`, func(t *estate.Frame) estate.FrameKind { return t.Kind })
	AddCount(c, "units", "U", "how many units it has", counted((*estate.Frame).Modules))
	AddNumber(c, "clear", Millimetre, "the height in which things can be mounted", known(func(t *estate.Frame) Number { return millimetres(t.Usable().Height()) }))
	AddCount(c, "first", "", "the number of its first unit", counted(func(t *estate.Frame) int { return t.First }))
	AddCount(c, "unusable", "U", "how many of its units nothing can be mounted in", counted(unusable))
	AddBool(c, "blanking", "whether open units need a blank", known(func(t *estate.Frame) bool { return t.Blanking }))
	AddText(c, "shut", `why its doors must stay shut, or ""`, known(func(t *estate.Frame) string { return t.Shut }))
	AddCount(c, "obstructions", "", "how many obstructions are declared inside it", counted(func(t *estate.Frame) int { return len(t.Obstructions) }))
	addWord(c, "counted", `"up" where its lowest unit has the first number, "down" where its highest has`, func(t *estate.Frame) estate.Counting { return t.Counted })
	addWord(c, "holes", "the kind of hole in its posts", func(t *estate.Frame) estate.Holes { return t.Holes })
	length("post_span", "from the front face of its front posts to the rear face of its rear posts", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.PostSpan })
	length("front_room", "from its front posts to the closed door", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.FrontRoom })
	length("rear_room", "from its rear posts to the closed door", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.RearRoom })
	length("opening", "the clear width between its posts", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.Opening })
	length("width", "its width overall", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.Width })
	length("depth", "its depth overall", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.Depth })
	length("height", "its height overall", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.Height })
	length("base", "the lower edge of its lowest unit above the floor", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.Base })
	length("crate_width", "the width of what it comes in", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.Crate.Width })
	length("crate_depth", "the depth of what it comes in", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.Crate.Depth })
	length("crate_height", "the height of what it comes in", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.Crate.Height })
	mass("crate_mass", "the mass of what it comes in, alone", func(t *estate.Frame) estate.Figure[quantity.Mass] { return t.Crate.Mass })
	mass("mass", "its mass when empty", func(t *estate.Frame) estate.Figure[quantity.Mass] { return t.Mass })
	mass("rated", "the mass that it may carry standing still", func(t *estate.Frame) estate.Figure[quantity.Mass] { return t.Rated })
	mass("rolling", "the mass that it may carry when rolled", func(t *estate.Frame) estate.Figure[quantity.Mass] { return t.Rolling })
	length("feet_width", "between its outer feet, side by side", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.FeetWidth })
	length("feet_depth", "between its outer feet, front to rear", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.FeetDepth })
	length("reach", "how far a stabiliser stands out before its front feet", func(t *estate.Frame) estate.Figure[quantity.Length] { return t.Reach })
	addFigure(c, "moment", newtonMillimetre, "what one mount may pull on its posts with", newtonMillimetres, "moment", frameRef, func(t *estate.Frame) estate.Figure[quantity.Torque] { return t.Moment })
	AddBool(c, "fan", "whether a fan of its own draws the air through it", known(func(t *estate.Frame) bool { return t.Fan }))
	addShare(c, "door_open", "the share of its doors that lets air through", "door_open", frameRef, func(t *estate.Frame) estate.Figure[float64] { return t.DoorOpen })
	AddCount(c, "crew", "people", "how many people move it, for a road case; 0 where it is not declared", counted(func(t *estate.Frame) int { return t.Crew }))
	addWord(c, "standing", `what it stands on: "feet" or "castors"`, func(t *estate.Frame) estate.Standing { return t.Standing })
	addWord(c, "fixed", `what keeps it from tipping: "none", "anchored" or "stabiliser"`, func(t *estate.Frame) estate.Fixing { return t.Fixed })
	AddNumber(c, "seismic_zone", Plain, "the zone of GR-63 that it is made for", func(t *estate.Frame) (Number, *Unknown) {
		return wholeOf(t.SeismicZone, "seismic zone", frameRef(t))
	})
}

// unusable counts the units of a frame that nothing can be mounted in.
func unusable(t *estate.Frame) int {
	n := 0
	for _, r := range t.Unusable {
		run := int(r.To-r.From) / int(estate.OneUnit)
		n += max(run, -run) + 1
	}
	return n
}
