package change

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

// This file says what is compared, table by table, in the order in which the
// language lists attributes. A test holds each table against the struct, so
// that a new field of the model cannot be forgotten here.

func mountAttributes(renamed map[string]string) []attribute[estate.Mount] {
	type M = estate.Mount
	return []attribute[M]{
		text("label", func(m *M) *string { return &m.Name }),
		{
			name:  "rack",
			same:  func(a, b *M) bool { return sameRack(a.Rack, b.Rack, renamed) },
			write: func(m *M, _ style) string { return rackRef(m.Rack) },
			carry: func(to, from *M) { to.Rack = from.Rack },
		},
		{
			name: "at",
			same: func(a, b *M) bool {
				return a.At == b.At && a.Through == b.Through &&
					a.Raised.Value == b.Raised.Value && a.Raised.State == b.Raised.State &&
					a.Raised.Basis == b.Raised.Basis && a.Raised.On == b.Raised.On
			},
			write: at,
			carry: func(to, from *M) { to.At, to.Through, to.Raised = from.At, from.Through, from.Raised },
		},
		reference("equipment", "equipment.", func(m *M) **estate.Equipment { return &m.Equipment }, equipmentName),
		named("face", func(m *M) *estate.Face { return &m.Face }),
		named("slot", func(m *M) *estate.Slot { return &m.Slot }),
		zeroU("side", func(z estate.ZeroUPlace, _ style) string { return z.Side.String() }),
		zeroU("plane", func(z estate.ZeroUPlace, _ style) string { return z.Plane.String() }),
		zeroU("facing", func(z estate.ZeroUPlace, _ style) string { return z.Facing.String() }),
		zeroU("from", func(z estate.ZeroUPlace, s style) string { return figureText(z.From, s, length) }),
		zeroU("length", func(z estate.ZeroUPlace, s style) string { return figureText(z.Length, s, length) }),
		{
			name: "beside the posts",
			same: func(a, b *M) bool { return (a.ZeroU == nil) == (b.ZeroU == nil) },
			write: func(m *M, _ style) string {
				if m.ZeroU == nil {
					return ""
				}
				return "true"
			},
			carry: carryZeroU,
		},
		reference("adapter", "equipment.", func(m *M) **estate.Equipment { return &m.Adapter }, equipmentName),
		flag("inverted", func(m *M) *bool { return &m.Inverted }),
		references("feeds", "feed.", func(m *M) *[]*estate.Feed { return &m.Feeds }, feedName),
		text("serial", func(m *M) *string { return &m.Serial }),
		text("asset", func(m *M) *string { return &m.Asset }),
		text("owner", func(m *M) *string { return &m.Owner }),
		text("service", func(m *M) *string { return &m.Service }),
		text("marking", func(m *M) *string { return &m.Marking }),
		named("until", func(m *M) *estate.Date { return &m.Until }),
		named("seen", func(m *M) *estate.Date { return &m.Seen }),
		named("criticality", func(m *M) *estate.Criticality { return &m.Criticality }),
		list("seals", func(m *M) *[]string { return &m.Seals }, word),
		list("cords", func(m *M) *[]estate.Cord { return &m.Cords }, cord),
		figure("slack", func(m *M) *estate.Figure[quantity.Length] { return &m.Slack }, length),
	}
}

// at writes the place of a mount as the language does: "38", "38-39", "40.5"
// or a height such as "1200 mm".
func at(m *estate.Mount, s style) string {
	switch {
	case m.Raised.State != estate.IsMissing:
		return figureText(m.Raised, s, length)
	case m.At == 0 && m.Through == 0:
		return ""
	case m.Through != 0:
		return m.At.String() + "-" + m.Through.String()
	}
	return m.At.String()
}

// zeroU is an attribute of the place beside the posts. It is exact: two values
// that differ are written differently.
func zeroU(name string, write func(estate.ZeroUPlace, style) string) attribute[estate.Mount] {
	of := func(m *estate.Mount, s style) string {
		if m.ZeroU == nil {
			return ""
		}
		return write(*m.ZeroU, s)
	}
	return attribute[estate.Mount]{
		name: name,
		same: func(a, b *estate.Mount) bool {
			if a.ZeroU == nil && b.ZeroU == nil {
				return true
			}
			return of(a, style{exact: true}) == of(b, style{exact: true})
		},
		write: of,
		carry: carryZeroU,
	}
}

func carryZeroU(to, from *estate.Mount) {
	if from.ZeroU == nil {
		to.ZeroU = nil
		return
	}
	place := *from.ZeroU
	to.ZeroU = &place
}

func reserveAttributes(renamed map[string]string) []attribute[estate.Reserve] {
	type R = estate.Reserve
	return []attribute[R]{
		{
			name:  "rack",
			same:  func(a, b *R) bool { return sameRack(a.Rack, b.Rack, renamed) },
			write: func(r *R, _ style) string { return rackRef(r.Rack) },
			carry: func(to, from *R) { to.Rack = from.Rack },
		},
		text("label", func(r *R) *string { return &r.Name }),
		plain("at", func(r *R) *estate.UnitRange { return &r.Units }, unitRange),
		named("face", func(r *R) *estate.Face { return &r.Face }),
		named("until", func(r *R) *estate.Date { return &r.Until }),
		text("reason", func(r *R) *string { return &r.Reason }),
		text("by", func(r *R) *string { return &r.By }),
	}
}

var rackAttributes = []attribute[estate.Rack]{
	text("label", func(r *estate.Rack) *string { return &r.Name }),
	reference("row", "row.", func(r *estate.Rack) **estate.Row { return &r.Row }, rowName),
	number("place", func(r *estate.Rack) *int { return &r.Place }),
	reference("frame", "frame.", func(r *estate.Rack) **estate.Frame { return &r.Frame }, frameName),
	references("feeds", "feed.", func(r *estate.Rack) *[]*estate.Feed { return &r.Feeds }, feedName),
	reference("layout", "layout.", func(r *estate.Rack) **estate.Layout { return &r.Layout }, layoutName),
	text("owner", func(r *estate.Rack) *string { return &r.Owner }),
	named("seen", func(r *estate.Rack) *estate.Date { return &r.Seen }),
	figure("inlet", func(r *estate.Rack) *estate.Figure[quantity.Temperature] { return &r.Inlet }, temperature),
	list("seals", func(r *estate.Rack) *[]string { return &r.Seals }, word),
	{
		name:  "bond",
		same:  func(a, b *estate.Rack) bool { return a.Bond.State == b.Bond.State && a.Bond.Ref() == b.Bond.Ref() },
		write: func(r *estate.Rack, _ style) string { return bond(r.Bond) },
		carry: func(to, from *estate.Rack) { to.Bond = from.Bond },
	},
	figure("fixings", func(r *estate.Rack) *estate.Figure[quantity.Mass] { return &r.Fixings }, mass),
	named("comes", func(r *estate.Rack) *estate.Arrival { return &r.Comes }),
}

var routeAttributes = []attribute[estate.Route]{
	list("gates", func(r *estate.Route) *[]*estate.Gate { return &r.Gates }, wholeGate),
}

var gateAttributes = []attribute[estate.Gate]{
	figure("width", func(g *estate.Gate) *estate.Figure[quantity.Length] { return &g.Width }, length),
	figure("height", func(g *estate.Gate) *estate.Figure[quantity.Length] { return &g.Height }, length),
	figure("length", func(g *estate.Gate) *estate.Figure[quantity.Length] { return &g.Length }, length),
	figure("rated", func(g *estate.Gate) *estate.Figure[quantity.Mass] { return &g.Rated }, mass),
	figure("gradient", func(g *estate.Gate) *estate.Figure[quantity.Angle] { return &g.Gradient }, angle),
	figure("step", func(g *estate.Gate) *estate.Figure[quantity.Length] { return &g.Step }, length),
	text("floor", func(g *estate.Gate) *string { return &g.Floor }),
	text("by", func(g *estate.Gate) *string { return &g.Opener }),
	text("note", func(g *estate.Gate) *string { return &g.Note }),
}

// wholeGate writes all that is said of a gate, exactly.
func wholeGate(g *estate.Gate) string { return g.Name + writeAll(gateAttributes, g) }

// writeAll writes the attributes of a thing that are declared, exactly.
func writeAll[T any](table []attribute[T], t *T) string {
	var b strings.Builder
	for _, a := range table {
		if s := a.write(t, style{exact: true}); s != "" {
			b.WriteString(" " + a.name + " " + s)
		}
	}
	return b.String()
}

var barAttributes = []attribute[estate.Bar]{
	reference("room", "room.", func(b *estate.Bar) **estate.Room { return &b.Room }, roomName),
}

// bond writes what a bond goes to, and "given" where that does not exist.
func bond(b estate.Bond) string {
	if ref := b.Ref(); ref != "" || b.State == estate.IsMissing {
		return ref
	}
	return b.State.String()
}

var estateAttributes = []attribute[estate.Estate]{
	text("label", func(e *estate.Estate) *string { return &e.Name }),
	number("language", func(e *estate.Estate) *int { return &e.Language }),
	text("rules", func(e *estate.Estate) *string { return &e.Rules }),
	text("lengths", func(e *estate.Estate) *string { return &e.Lengths }),
	list("skip", func(e *estate.Estate) *[]string { return &e.Skip }, word),
	list("policies", func(e *estate.Estate) *[]string { return &e.Policies }, word),
}

var givenAttributes = []attribute[estate.Given]{
	text("value", func(g *estate.Given) *string { return &g.Text }),
}

var siteAttributes = []attribute[estate.Site]{
	text("zone", func(s *estate.Site) *string { return &s.Zone }),
	figure("altitude", func(s *estate.Site) *estate.Figure[quantity.Length] { return &s.Altitude }, length),
	figure("seismic_zone", func(s *estate.Site) *estate.Figure[int] { return &s.SeismicZone }, integer),
	figure("runtime", func(s *estate.Site) *estate.Figure[quantity.Duration] { return &s.Runtime }, duration),
	figure("continuous", func(s *estate.Site) *estate.Figure[float64] { return &s.Continuous }, share),
	figure("sds", func(s *estate.Site) *estate.Figure[float64] { return &s.Shaking }, share),
	figure("importance", func(s *estate.Site) *estate.Figure[float64] { return &s.Importance }, share),
	text("heat", func(s *estate.Site) *string { return &s.Heat }),
	text("load", func(s *estate.Site) *string { return &s.Load }),
	number("notice", func(s *estate.Site) *int { return &s.Notice }),
	flag("record", func(s *estate.Site) *bool { return &s.Record }),
	flag("reason", func(s *estate.Site) *bool { return &s.Reason }),
	flag("mobile", func(s *estate.Site) *bool { return &s.Mobile }),
	flag("bonding_record", func(s *estate.Site) *bool { return &s.Bonding }),
	text("as_built", func(s *estate.Site) *string { return &s.AsBuilt }),
}

var roomAttributes = []attribute[estate.Room]{
	reference("site", "site.", func(r *estate.Room) **estate.Site { return &r.Site }, siteName),
	figure("heat_limit", func(r *estate.Room) *estate.Figure[quantity.Power] { return &r.HeatLimit }, power),
	figure("floor_load", func(r *estate.Room) *estate.Figure[quantity.Pressure] { return &r.FloorLoad }, pressure),
	figure("point_load", func(r *estate.Room) *estate.Figure[quantity.Force] { return &r.PointLoad }, force),
	figure("tile_load", func(r *estate.Room) *estate.Figure[quantity.Force] { return &r.TileLoad }, force),
	figure("storey", func(r *estate.Room) *estate.Figure[float64] { return &r.Storey }, share),
	figure("supply_air", func(r *estate.Room) *estate.Figure[quantity.Temperature] { return &r.SupplyAir }, temperature),
	figure("return_air", func(r *estate.Room) *estate.Figure[quantity.Temperature] { return &r.ReturnAir }, temperature),
	figure("height", func(r *estate.Room) *estate.Figure[quantity.Length] { return &r.Height }, length),
	flag("overhead", func(r *estate.Room) *bool { return &r.Overhead }),
	flag("it_room", func(r *estate.Room) *bool { return &r.ITRoom }),
	text("shut", func(r *estate.Room) *string { return &r.Shut }),
	references("routes", "route.", func(r *estate.Room) *[]*estate.Route { return &r.Routes }, routeName),
}

var rowAttributes = []attribute[estate.Row]{
	reference("room", "room.", func(r *estate.Row) **estate.Room { return &r.Room }, roomName),
	reference("across", "row.", func(r *estate.Row) **estate.Row { return &r.Across }, rowName),
	named("front", func(r *estate.Row) *estate.Aisle { return &r.Front }),
	figure("front_aisle", func(r *estate.Row) *estate.Figure[quantity.Length] { return &r.FrontAisle }, length),
	figure("rear_aisle", func(r *estate.Row) *estate.Figure[quantity.Length] { return &r.RearAisle }, length),
	list("seals", func(r *estate.Row) *[]string { return &r.Seals }, word),
}

var frameAttributes = []attribute[estate.Frame]{
	reference("system", "", func(f *estate.Frame) **system.System { return &f.System }, systemName),
	named("kind", func(f *estate.Frame) *estate.FrameKind { return &f.Kind }),
	number("units", func(f *estate.Frame) *int { return &f.Units }),
	{
		name:  "clear",
		same:  func(a, b *estate.Frame) bool { return a.Clear == b.Clear },
		write: func(f *estate.Frame, s style) string { return lengthOrNone(f.Clear, s) },
		carry: func(to, from *estate.Frame) { to.Clear = from.Clear },
	},
	named("counted", func(f *estate.Frame) *estate.Counting { return &f.Counted }),
	number("first", func(f *estate.Frame) *int { return &f.First }),
	list("unusable", func(f *estate.Frame) *[]estate.UnitRange { return &f.Unusable }, unitRange),
	named("holes", func(f *estate.Frame) *estate.Holes { return &f.Holes }),
	figure("post_span", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.PostSpan }, length),
	figure("front_room", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.FrontRoom }, length),
	figure("rear_room", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.RearRoom }, length),
	figure("opening", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.Opening }, length),
	figure("width", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.Width }, length),
	figure("depth", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.Depth }, length),
	figure("height", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.Height }, length),
	figure("base", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.Base }, length),
	figure("mass", func(f *estate.Frame) *estate.Figure[quantity.Mass] { return &f.Mass }, mass),
	figure("rated", func(f *estate.Frame) *estate.Figure[quantity.Mass] { return &f.Rated }, mass),
	figure("moment", func(f *estate.Frame) *estate.Figure[quantity.Torque] { return &f.Moment }, moment),
	figure("rolling", func(f *estate.Frame) *estate.Figure[quantity.Mass] { return &f.Rolling }, mass),
	named("standing", func(f *estate.Frame) *estate.Standing { return &f.Standing }),
	figure("feet_width", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.FeetWidth }, length),
	figure("feet_depth", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.FeetDepth }, length),
	figure("reach", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.Reach }, length),
	number("crew", func(f *estate.Frame) *int { return &f.Crew }),
	figure("crate.width", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.Crate.Width }, length),
	figure("crate.depth", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.Crate.Depth }, length),
	figure("crate.height", func(f *estate.Frame) *estate.Figure[quantity.Length] { return &f.Crate.Height }, length),
	figure("crate.mass", func(f *estate.Frame) *estate.Figure[quantity.Mass] { return &f.Crate.Mass }, mass),
	named("fixed", func(f *estate.Frame) *estate.Fixing { return &f.Fixed }),
	text("shut", func(f *estate.Frame) *string { return &f.Shut }),
	flag("blanking", func(f *estate.Frame) *bool { return &f.Blanking }),
	flag("fan", func(f *estate.Frame) *bool { return &f.Fan }),
	figure("door_open", func(f *estate.Frame) *estate.Figure[float64] { return &f.DoorOpen }, share),
	figure("seismic_zone", func(f *estate.Frame) *estate.Figure[int] { return &f.SeismicZone }, integer),
	list("obstructions", func(f *estate.Frame) *[]*estate.Obstruction { return &f.Obstructions }, obstruction),
}

var equipmentAttributes = []attribute[estate.Equipment]{
	text("kind", func(e *estate.Equipment) *string { return &e.Kind }),
	reference("system", "", func(e *estate.Equipment) **system.System { return &e.System }, systemName),
	{
		name: "height",
		same: func(a, b *estate.Equipment) bool {
			g, h := a.Height, b.Height
			g.At, h.At = estate.Span{}, estate.Span{}
			return g == h
		},
		write: func(e *estate.Equipment, s style) string { return height(e.Height, s) },
		carry: func(to, from *estate.Equipment) { to.Height = from.Height },
	},
	figure("body", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.Body }, length),
	figure("depth", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.Depth }, length),
	figure("cords", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.Cords }, length),
	figure("front", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.Front }, length),
	figure("mass", func(e *estate.Equipment) *estate.Figure[quantity.Mass] { return &e.Mass }, mass),
	figure("stripped", func(e *estate.Equipment) *estate.Figure[quantity.Mass] { return &e.Stripped }, mass),
	number("persons", func(e *estate.Equipment) *int { return &e.Persons }),
	named("mounting", func(e *estate.Equipment) *estate.Mounting { return &e.Mounting }),
	figure("rails", func(e *estate.Equipment) *estate.Figure[estate.Span2] { return &e.Rails }, span),
	figure("rails_rated", func(e *estate.Equipment) *estate.Figure[quantity.Mass] { return &e.RailsRated }, mass),
	list("holes", func(e *estate.Equipment) *[]estate.Holes { return &e.Holes }, estate.Holes.String),
	named("air", func(e *estate.Equipment) *estate.Air { return &e.Air }),
	text("signal", func(e *estate.Equipment) *string { return &e.Signal }),
	draw("draw.typical", estate.OnTypical, func(d *estate.Draw) *estate.Figure[quantity.Power] { return &d.Typical }),
	draw("draw.maximum", estate.OnMaximum, func(d *estate.Draw) *estate.Figure[quantity.Power] { return &d.Maximum }),
	draw("draw.nameplate", estate.OnNameplate, func(d *estate.Draw) *estate.Figure[quantity.Power] { return &d.Nameplate }),
	plain("draw in VA", func(e *estate.Equipment) *estate.DrawSet { return &e.Draw.Apparent }, estate.DrawSet.String),
	list("inlets", func(e *estate.Equipment) *[]estate.Inlet { return &e.Inlets }, inlet),
	figure("voltage", func(e *estate.Equipment) *estate.Figure[estate.VoltageRange] { return &e.Voltage }, voltages),
	figure("power_factor", func(e *estate.Equipment) *estate.Figure[float64] { return &e.Factor }, share),
	figure("inrush", func(e *estate.Equipment) *estate.Figure[quantity.Current] { return &e.Inrush }, current),
	named("restart", func(e *estate.Equipment) *estate.Restart { return &e.Restart }),
	figure("leakage", func(e *estate.Equipment) *estate.Figure[quantity.Current] { return &e.Leakage }, leakage),
	named("earth", func(e *estate.Equipment) *estate.Earth { return &e.Earth }),
	figure("rated.active", func(e *estate.Equipment) *estate.Figure[quantity.Power] { return &e.Rated.Active }, power),
	figure("rated.apparent", func(e *estate.Equipment) *estate.Figure[quantity.Power] { return &e.Rated.Apparent }, voltAmperes),
	runtime(func(e *estate.Equipment) *estate.Figure[[]physics.RuntimePoint] { return &e.Runtime }),
	list("outlets", func(e *estate.Equipment) *[]estate.OutletSet { return &e.Outlets }, outlets),
	list("banks", func(e *estate.Equipment) *[]estate.Bank { return &e.Banks }, bank),
	text("class", func(e *estate.Equipment) *string { return &e.Class }),
	named("share", func(e *estate.Equipment) *estate.Slot { return &e.Share }),
	list("ears", func(e *estate.Equipment) *[]quantity.Length { return &e.Ears }, exactLength),
	reference("takes", "", func(e *estate.Equipment) **system.System { return &e.Takes }, systemName),
	figure("forward", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.Forward }, length),
	figure("carries", func(e *estate.Equipment) *estate.Figure[quantity.Mass] { return &e.Carries }, mass),
	figure("extension", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.Extension }, length),
	figure("withdraw", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.Withdraw }, length),
	figure("below", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.Below }, length),
	figure("tail", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.Tail }, length),
	figure("ambient", func(e *estate.Equipment) *estate.Figure[quantity.Temperature] { return &e.Ambient }, temperature),
	figure("flow", func(e *estate.Equipment) *estate.Figure[quantity.Flow] { return &e.Flow }, airflow),
	figure("gap_above", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.GapAbove }, length),
	figure("gap_below", func(e *estate.Equipment) *estate.Figure[quantity.Length] { return &e.GapBelow }, length),
	named("battery", func(e *estate.Equipment) *estate.Battery { return &e.Battery }),
	flag("upright", func(e *estate.Equipment) *bool { return &e.Upright }),
}

var feedAttributes = []attribute[estate.Feed]{
	reference("room", "room.", func(f *estate.Feed) **estate.Room { return &f.Room }, roomName),
	text("source", func(f *estate.Feed) *string { return &f.Origin }),
	figure("voltage", func(f *estate.Feed) *estate.Figure[quantity.Voltage] { return &f.Voltage }, voltage),
	number("phases", func(f *estate.Feed) *int { return &f.Phases }),
	figure("rated", func(f *estate.Feed) *estate.Figure[quantity.Current] { return &f.Rated }, current),
	reference("breaker", "breaker.", func(f *estate.Feed) **estate.Breaker { return &f.Breaker }, breakerName),
	figure("residual", func(f *estate.Feed) *estate.Figure[quantity.Current] { return &f.Residual }, leakage),
	named("earth", func(f *estate.Feed) *estate.Earth { return &f.Earth }),
	text("lines", func(f *estate.Feed) *string { return &f.Lines }),
	text("outlet", func(f *estate.Feed) *string { return &f.Outlet }),
}

var sourceAttributes = []attribute[estate.PowerSource]{
	named("kind", func(s *estate.PowerSource) *estate.SourceKind { return &s.Kind }),
	references("from", "source.", func(s *estate.PowerSource) *[]*estate.PowerSource { return &s.From }, sourceName),
	reference("mount", "", func(s *estate.PowerSource) **estate.Mount { return &s.Mount }, (*estate.Mount).Ref),
	figure("rated.active", func(s *estate.PowerSource) *estate.Figure[quantity.Power] { return &s.Rated.Active }, power),
	figure("rated.apparent", func(s *estate.PowerSource) *estate.Figure[quantity.Power] { return &s.Rated.Apparent }, voltAmperes),
	runtime(func(s *estate.PowerSource) *estate.Figure[[]physics.RuntimePoint] { return &s.Runtime }),
}

var breakerAttributes = []attribute[estate.Breaker]{
	reference("source", "source.", func(b *estate.Breaker) **estate.PowerSource { return &b.Supply }, sourceName),
	reference("breaker", "breaker.", func(b *estate.Breaker) **estate.Breaker { return &b.From }, breakerName),
	figure("rated", func(b *estate.Breaker) *estate.Figure[quantity.Current] { return &b.Rated }, current),
	figure("residual", func(b *estate.Breaker) *estate.Figure[quantity.Current] { return &b.Residual }, leakage),
	number("phases", func(b *estate.Breaker) *int { return &b.Phases }),
	text("curve", func(b *estate.Breaker) *string { return &b.Curve }),
}

var layoutAttributes = []attribute[estate.Layout]{
	list("mounts", func(l *estate.Layout) *[]*estate.Mount { return &l.Mounts }, wholeMount),
	list("blanks", func(l *estate.Layout) *[]*estate.Blank { return &l.Blanks }, wholeBlank),
	list("reserves", func(l *estate.Layout) *[]*estate.Reserve { return &l.Reserves }, wholeReserve),
}

var groupAttributes = []attribute[estate.Group]{
	list("of", func(g *estate.Group) *[]*estate.Mount { return &g.Of }, mountRef),
	number("up", func(g *estate.Group) *int { return &g.Up }),
	list("apart", func(g *estate.Group) *[]string { return &g.Apart }, word),
}

var sequenceAttributes = []attribute[estate.Sequence]{
	list("steps", func(s *estate.Sequence) *[]*estate.SequenceStep { return &s.Steps }, wholeSequenceStep),
	named("off", func(s *estate.Sequence) *estate.OffOrder { return &s.Off }),
}

var sequenceStepAttributes = []attribute[estate.SequenceStep]{
	list("on", func(s *estate.SequenceStep) *[]*estate.Mount { return &s.On }, mountRef),
	figure("delay", func(s *estate.SequenceStep) *estate.Figure[quantity.Duration] { return &s.Delay }, duration),
}

// wholeSequenceStep writes all that is said of a step, exactly.
func wholeSequenceStep(s *estate.SequenceStep) string {
	return s.Name + writeAll(sequenceStepAttributes, s)
}

func mountRef(m *estate.Mount) string {
	if m == nil {
		return ""
	}
	return m.Ref()
}

var windowAttributes = []attribute[estate.Window]{
	reference("site", "site.", func(w *estate.Window) **estate.Site { return &w.Site }, siteName),
	list("days", func(w *estate.Window) *[]string { return &w.Days }, word),
	plain("opens", func(w *estate.Window) *estate.Clock { return &w.Opens }, clock),
	plain("closes", func(w *estate.Window) *estate.Clock { return &w.Closes }, clock),
	plain("margin", func(w *estate.Window) *quantity.Duration { return &w.Margin }, minutes),
	number("people", func(w *estate.Window) *int { return &w.People }),
	flag("lift", func(w *estate.Window) *bool { return &w.Lift }),
	figure("lift_rated", func(w *estate.Window) *estate.Figure[quantity.Mass] { return &w.LiftRated }, mass),
	figure("lift_height", func(w *estate.Window) *estate.Figure[quantity.Length] { return &w.LiftHeight }, length),
	figure("lift_reach", func(w *estate.Window) *estate.Figure[quantity.Length] { return &w.LiftReach }, length),
	figure("lift_mass", func(w *estate.Window) *estate.Figure[quantity.Mass] { return &w.LiftMass }, mass),
	list("competences", func(w *estate.Window) *[]string { return &w.Competences }, word),
}

var freezeAttributes = []attribute[estate.Freeze]{
	reference("site", "site.", func(f *estate.Freeze) **estate.Site { return &f.Site }, siteName),
	named("from", func(f *estate.Freeze) *estate.Date { return &f.From }),
	named("to", func(f *estate.Freeze) *estate.Date { return &f.To }),
	text("reason", func(f *estate.Freeze) *string { return &f.Reason }),
}

var paceAttributes = []attribute[estate.Pace]{
	{
		name: "minutes",
		same: func(a, b *estate.Pace) bool { return maps.Equal(a.Minutes, b.Minutes) },
		write: func(p *estate.Pace, _ style) string {
			var texts []string
			for _, task := range slices.Sorted(maps.Keys(p.Minutes)) {
				texts = append(texts, task+" "+minutes(p.Minutes[task]))
			}
			return strings.Join(texts, ", ")
		},
		carry: func(to, from *estate.Pace) { to.Minutes = maps.Clone(from.Minutes) },
	},
	figure("contingency", func(p *estate.Pace) *estate.Figure[float64] { return &p.Contingency }, share),
}

var benchAttributes = []attribute[estate.Bench]{
	reference("room", "room.", func(b *estate.Bench) **estate.Room { return &b.Room }, roomName),
	number("units", func(b *estate.Bench) *int { return &b.Units }),
	figure("rated", func(b *estate.Bench) *estate.Figure[quantity.Mass] { return &b.Rated }, mass),
	flag("powered", func(b *estate.Bench) *bool { return &b.Powered }),
}

var policyAttributes = []attribute[estate.Policy]{
	text("each", func(p *estate.Policy) *string { return &p.Each }),
	text("where", func(p *estate.Policy) *string { return &p.Where.Text }),
	text("require", func(p *estate.Policy) *string { return &p.Require.Text }),
	text("say", func(p *estate.Policy) *string { return &p.Say.Text }),
	text("level", func(p *estate.Policy) *string { return &p.Level }),
	text("reason", func(p *estate.Policy) *string { return &p.Reason }),
	text("source", func(p *estate.Policy) *string { return &p.Cites }),
	list("within", func(p *estate.Policy) *[]estate.Scope { return &p.Within }, scope),
}

var adjustmentAttributes = []attribute[estate.Adjustment]{
	list("limits", func(a *estate.Adjustment) *[]estate.LimitText { return &a.Limits }, func(l estate.LimitText) string {
		return l.Name + " " + l.Text
	}),
	text("level", func(a *estate.Adjustment) *string { return &a.Level }),
	list("within", func(a *estate.Adjustment) *[]estate.Scope { return &a.Within }, scope),
	text("reason", func(a *estate.Adjustment) *string { return &a.Reason }),
}

var waiverAttributes = []attribute[estate.Waiver]{
	named("until", func(w *estate.Waiver) *estate.Date { return &w.Until }),
	text("reason", func(w *estate.Waiver) *string { return &w.Reason }),
	text("by", func(w *estate.Waiver) *string { return &w.By }),
}

// wholeMount writes all that a layout says of a mount, exactly.
func wholeMount(m *estate.Mount) string {
	var parts []string
	for _, a := range mountAttributes(nil) {
		if s := a.write(m, style{exact: true}); s != "" && a.name != "rack" && s != "whole" {
			parts = append(parts, a.name+" "+s)
		}
	}
	return strings.TrimPrefix(strings.Join(parts, " "), "label ")
}

func wholeBlank(b *estate.Blank) string {
	return strings.TrimSpace("at " + unitRange(b.Units) + " " + b.Face.String())
}

func wholeReserve(r *estate.Reserve) string {
	var parts []string
	for _, a := range reserveAttributes(nil) {
		if s := a.write(r, style{exact: true}); s != "" && a.name != "rack" {
			parts = append(parts, a.name+" "+s)
		}
	}
	return strings.TrimPrefix(strings.Join(parts, " "), "label ")
}

func height(h estate.Height, s style) string {
	switch {
	case h.State == estate.IsUnknown:
		return "unknown"
	case h.State == estate.IsMissing && h.Count == 0 && h.Length == 0:
		return ""
	case h.Word == "":
		return length(h.Length, s)
	case h.Word == "U":
		return h.Count.String() + "U"
	}
	return h.Count.String() + " " + h.Word
}

func exactLength(l quantity.Length) string { return length(l, style{exact: true}) }

// obstruction writes all of an obstruction.
func obstruction(o *estate.Obstruction) string {
	s := fmt.Sprintf("%s %s to %s high, %s to %s deep", o.Name, exactLength(o.From), exactLength(o.To), exactLength(o.Near), exactLength(o.Far))
	if o.Side == estate.NoSide {
		return s
	}
	return fmt.Sprintf("%s, %s wide at the %s", s, exactLength(o.Reach), o.Side)
}

func lengthOrNone(l quantity.Length, s style) string {
	if l == 0 {
		return ""
	}
	return length(l, s)
}

func clock(c estate.Clock) string { return fmt.Sprintf("%02d:%02d", c/60, c%60) }

// minutes writes a duration exactly; zero is "not declared".
func minutes(d quantity.Duration) string {
	if d == 0 {
		return ""
	}
	return quantity.Number(d.Minutes(), 9) + " min"
}

func scope(s estate.Scope) string { return s.Kind + "." + s.Name }

func systemName(s *system.System) string       { return s.Name }
func siteName(s *estate.Site) string           { return s.Name }
func roomName(r *estate.Room) string           { return r.Name }
func rowName(r *estate.Row) string             { return r.Name }
func barName(b *estate.Bar) string             { return b.Name }
func routeName(r *estate.Route) string         { return r.Name }
func rackName(r *estate.Rack) string           { return r.Name }
func frameName(f *estate.Frame) string         { return f.Name }
func equipmentName(e *estate.Equipment) string { return e.Name }
func feedName(f *estate.Feed) string           { return f.Name }
func sourceName(s *estate.PowerSource) string  { return s.Name }
func breakerName(b *estate.Breaker) string     { return b.Name }
func layoutName(l *estate.Layout) string       { return l.Name }

func rackRef(r *estate.Rack) string {
	if r == nil {
		return ""
	}
	return r.Ref()
}

// sameRack reports whether an old rack and a new one are the same, which may
// have got a new name between.
func sameRack(a, b *estate.Rack, renamed map[string]string) bool {
	if a == nil || b == nil {
		return a == b
	}
	if name, ok := renamed[a.Name]; ok {
		return name == b.Name
	}
	return a.Name == b.Name
}
