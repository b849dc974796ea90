package load

import (
	"cmp"
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// The assumptions of a sheet that are common practice.
const (
	cableShare = 0.05                      // of the mounted mass
	airRise    = 12                        // kelvin from front to rear
	pullFactor = 1.5                       // by which the rest should hold what is pulled out
	uneven     = 1.25                      // of an even share on the worst foot
	frontAisle = 600 * quantity.Millimetre // half of an aisle in front
	rearAisle  = 450 * quantity.Millimetre // half of an aisle behind
	liftFrom   = 750 * quantity.Millimetre // height of a trolley that things come from
)

// Rack works out the sheet of a rack. The supply is that of the whole estate,
// since feeds may be shared.
func Rack(e *estate.Estate, supply *estate.Supply, r *estate.Rack) Sheet {
	sheet := Sheet{Kind: "rack", Name: r.Name, Sections: []Section{
		power(e, supply, r.RackFeeds()),
		leakage(e, supply, r.RackFeeds()),
		backup(e, supply, r.RackFeeds(), func(o *estate.Rack) bool { return o == r }),
		heat(r.Site(), r.Room(), r.Heat(), nil),
		mass(r),
		balance(r),
	}}
	if r.Frame != nil && r.Frame.Kind != estate.WallFrame {
		sheet.Sections = append(sheet.Sections, floor(r))
	}
	sheet.Sections = append(sheet.Sections, wayIn(r), lifting(r), seismic(r))
	return sheet.trim()
}

// trim leaves out sections without figures.
func (s Sheet) trim() Sheet {
	s.Sections = slices.DeleteFunc(s.Sections, func(c Section) bool { return len(c.Figures) == 0 })
	return s
}

// heat reckons heat and the air that carries it away.
func heat(site *estate.Site, room *estate.Room, sum estate.Sum[quantity.Power], limit *quantity.Power) Section {
	s := Section{Name: "heat and air", Caution: cautionHeat}
	choice := "typical draw, else maximum"
	if site != nil && site.Heat == "maximum" {
		choice = "maximum draw, else nameplate"
	}
	why := sum.Because()
	total := short(known("heat", sum.Known, quantity.Watt, "W", choice), why)
	if limit != nil {
		total = within(total, *limit, quantity.Watt)
	}
	s.Figures = append(s.Figures, total,
		short(plain("heat in BTU/h", physics.BTUPerHour(sum.Known), 0, "BTU/h", "1 W is 3.4121 BTU/h"), why),
		short(plain("heat in tons of refrigeration", physics.Tons(sum.Known), 2, "tons", "12 000 BTU/h each"), why))
	altitude, known1 := quantity.Length(0), false
	if site != nil {
		altitude, known1 = site.Altitude.Get()
	}
	supply, known2 := 20*quantity.Celsius, false
	if room != nil && room.SupplyAir.Known() {
		supply, known2 = room.SupplyAir.Value, true
	}
	density := physics.AirDensity(altitude, supply)
	from := fmt.Sprintf("heat / (%s kg/m3 × 1006 J/(kg K) × %d K)", quantity.Number(density, 3), airRise)
	flow := short(plain(fmt.Sprintf("air at a rise of %d K", airRise), physics.CubicMetresAnHour(physics.Airflow(sum.Known, airRise, density)), 0, "m3/h", from), why)
	var guessed []string
	if why != "" {
		guessed, flow.Unknown = append(guessed, why), ""
	}
	if !known1 {
		guessed = append(guessed, "altitude taken as sea level")
	}
	if !known2 {
		guessed = append(guessed, "supply air taken as 20 C")
	}
	for i, g := range guessed {
		if i > 0 {
			flow.Unknown += ", "
		}
		flow.Unknown += g
	}
	s.Figures = append(s.Figures, flow,
		short(plain("the same in cubic feet a minute", physics.CubicFeetAMinute(physics.Airflow(sum.Known, airRise, density)), 0, "cfm", "1 cfm is 1.699 m3/h"), why))
	return s
}

// mass reckons what is mounted against the frame's ratings.
func mass(r *estate.Rack) Section {
	s := Section{Name: "mass", Caution: cautionMass}
	mounted := r.Mass()
	why := mounted.Because()
	s.Figures = append(s.Figures, short(known("mounted", mounted.Known, quantity.Kilogram, "kg", mounts(len(r.Mounts))+", pieces beside the posts included"), why))
	payload := short(known("with cables", withCables(mounted.Known), quantity.Kilogram, "kg", "5 % added for cables and cage nuts (common practice)"), why)
	f := r.Frame
	if f == nil {
		s.Figures = append(s.Figures, payload)
		return s
	}
	if rated, ok := f.Rated.Get(); ok {
		payload = within(payload, rated, quantity.Kilogram)
		payload.From += "; limit: rating of " + f.Name + " standing still"
	}
	s.Figures = append(s.Figures, payload)
	if rolling, ok := f.Rolling.Get(); ok {
		p := short(known("with cables, while rolled", withCables(mounted.Known), quantity.Kilogram, "kg", "limit: rolling rating of "+f.Name), why)
		s.Figures = append(s.Figures, within(p, rolling, quantity.Kilogram))
	}
	own, ok := f.Mass.Get()
	if !ok {
		s.Figures = append(s.Figures, unknown("with the frame", fmt.Sprintf("the mass of frame.%s is %s", f.Name, f.Mass.State)))
		return s
	}
	s.Figures = append(s.Figures, short(known("with the frame", withCables(mounted.Known)+own, quantity.Kilogram, "kg", "frame "+own.String()), why))
	if f.Kind == estate.TwoPost {
		s.Figures = append(s.Figures, postMoments(r)...)
	}
	return s
}

// withCables adds what cables and cage nuts weigh to what is mounted.
func withCables(m quantity.Mass) quantity.Mass {
	return m + quantity.Of(cableShare*m.Kilograms(), quantity.Kilogram)
}

// postMoments reckons what each mount bends two posts with.
func postMoments(r *estate.Rack) []Figure {
	var out []Figure
	for _, m := range r.Mounts {
		if m.Equipment == nil || m.ZeroU != nil || m.Equipment.Mounting == estate.Centre {
			continue
		}
		kg, why := m.Weighs()
		depth, ok := m.Equipment.Depth.Get()
		if why != "" || !ok {
			continue
		}
		fig := known(m.Name+" on its posts", physics.TwoPostMoment(kg, depth), quantity.NewtonMetre, "N m", fmt.Sprintf("%s × g × half of %s", kg, depth))
		if limit, ok := r.Frame.Moment.Get(); ok {
			fig = within(fig, limit, quantity.NewtonMetre)
		}
		out = append(out, fig)
	}
	return out
}

// balance reckons the centre of mass, the angles at which the rack tips, and
// what happens when things are pulled out.
func balance(r *estate.Rack) Section {
	s := Section{Name: "balance", Caution: cautionTilt}
	b, why := r.Balance()
	if why != "" {
		s.Figures = append(s.Figures, unknown("centre of mass", why))
		return s
	}
	s.Figures = append(s.Figures,
		length("centre of mass above the floor", b.Centre.Up, "Σ mass × height / Σ mass, frame at its middle"),
		length("centre of mass behind the frame's front", b.Centre.Back, "Σ mass × depth / Σ mass"),
		length("centre of mass from the frame's left", b.Centre.Across, "Σ mass × width / Σ mass"))
	f := r.Frame
	if f.Kind == estate.TwoPost || f.Kind == estate.WallFrame {
		return s
	}
	feet, why := f.Feet()
	if why != "" {
		s.Figures = append(s.Figures, unknown("tilt", why))
		return s
	}
	held := ""
	if f.Fixed == estate.Anchored {
		held = "; anchored, so this is for a rack whose anchors are off"
	}
	tilts := physics.TiltsOf(b.Centre, feet)
	for _, t := range []struct {
		way   string
		angle quantity.Angle
	}{{"forward", tilts.Forward}, {"backward", tilts.Backward}, {"to the left", tilts.Left}, {"to the right", tilts.Right}} {
		fig := known("tips "+t.way+" at", t.angle, quantity.Degree, "deg", "atan(distance to the feet's edge / height); IEC 62368-1 asks 10 deg"+held)
		s.Figures = append(s.Figures, atLeast(fig, 10, physics.TestTilt.String()))
	}
	push := physics.PushTest(b.Total, b.Centre.Back-feet.Front, f.Height.Value, 0)
	s.Figures = append(s.Figures, within(known("push forward", push.Tipping, quantity.NewtonMetre, "N m",
		"13 % of the weight, at most 250 N, at up to 1.5 m (IEC 62368-1, without the downward part); limit: weight × arm"), push.Holding, quantity.NewtonMetre))
	s.Figures = append(s.Figures, pulledOut(&b, feet)...)
	return s
}

func pulledOut(b *estate.Balance, feet physics.Feet) []Figure {
	var out []Figure
	sliding := 0
	for i, m := range b.Mounts {
		if !m.Slides() {
			continue
		}
		sliding++
		p, why := b.PullOut(i, feet)
		name := m.Name + " pulled out is held"
		switch {
		case why != "":
			out = append(out, unknown(name, why))
		case p.Factor == 0 && p.Before <= 0:
			out = append(out, Figure{Name: name, Value: "within the feet", From: "its middle stays behind the feet"})
		default:
			fig := plain(name, p.Factor, 2, "times", fmt.Sprintf("(%s × %s) / (%s × %s)", p.Rest, mm(p.Behind), p.Mass, mm(p.Before)))
			out = append(out, atLeast(fig, pullFactor, "1.5 times"))
		}
	}
	if sliding > 1 {
		if centre, why := b.AllOut(); why != "" {
			out = append(out, unknown("everything pulled out: tips forward at", why))
		} else {
			fig := known("everything pulled out: tips forward at", physics.Tilt(centre.Back-feet.Front, centre.Up), quantity.Degree, "deg", "never do it: one thing at a time")
			out = append(out, atLeast(fig, 10, physics.TestTilt.String()))
		}
	}
	return out
}

// floor reckons what the rack presses with.
func floor(r *estate.Rack) Section {
	s := Section{Name: "floor", Caution: cautionFloor}
	f, room := r.Frame, r.Room()
	own, ok := f.Mass.Get()
	if !ok {
		s.Figures = append(s.Figures, unknown("pressure", fmt.Sprintf("the mass of frame.%s is %s", f.Name, f.Mass.State)))
		return s
	}
	mounted := r.Mass()
	total := own + withCables(mounted.Known)
	width, okW := f.Width.Get()
	depth, okD := f.Depth.Get()
	if !okW || !okD {
		s.Figures = append(s.Figures, unknown("pressure", fmt.Sprintf("width or depth of frame.%s is missing", f.Name)))
	} else {
		spread := physics.AreaOf(width, depth+frontAisle+rearAisle)
		on := known("with half of the aisles", physics.FloorPressure(total, spread), quantity.Kilopascal, "kPa", fmt.Sprintf("%s × g / %s (600 mm in front, 450 mm behind: common practice)", total, spread))
		if room != nil {
			if limit, ok := room.FloorLoad.Get(); ok {
				on = within(on, limit, quantity.Kilopascal)
			}
		}
		s.Figures = append(s.Figures,
			known("on the footprint alone", physics.FloorPressure(total, physics.AreaOf(width, depth)), quantity.Kilopascal, "kPa", fmt.Sprintf("%s × g / %s", total, physics.AreaOf(width, depth))), on)
	}
	foot := known("worst of four feet", physics.PerFoot(total, 4, uneven), quantity.Newton, "N", "a quarter × 1.25 for an uneven floor (common practice)")
	tile := known("on one tile, standing", physics.OnTile(physics.TileStanding, total), quantity.Newton, "N", "a third of the weight; of a neighbour on the same tile as well")
	if room != nil {
		if limit, ok := room.PointLoad.Get(); ok {
			foot = within(foot, limit, quantity.Newton)
		}
		if limit, ok := room.TileLoad.Get(); ok {
			tile = within(tile, limit, quantity.Newton)
		}
	}
	s.Figures = append(s.Figures, foot, tile,
		known("on one tile, while it is rolled", physics.OnTile(physics.TileRolling, total), quantity.Newton, "N", "half of the weight"))
	for i := range s.Figures {
		if s.Figures[i].Unknown == "" {
			s.Figures[i] = short(s.Figures[i], mounted.Because())
		}
	}
	return s
}

// lifting reckons the heaviest mounts by the revised lifting equation, from a
// trolley to their place.
func lifting(r *estate.Rack) Section {
	s := Section{Name: "lifting", Caution: cautionLift + "Metric constants of NIOSH 94-110, fair coupling, seldom; " + physics.LiftOmits + "."}
	var heavy []*estate.Mount
	for _, m := range r.Mounts {
		if kg, why := m.Weighs(); why == "" && kg >= 8*quantity.Kilogram && m.ZeroU == nil {
			heavy = append(heavy, m)
		}
	}
	slices.SortStableFunc(heavy, func(a, b *estate.Mount) int {
		x, _ := a.Weighs()
		y, _ := b.Weighs()
		return cmp.Compare(y, x)
	})
	for _, m := range heavy[:min(len(heavy), 10)] {
		s.Figures = append(s.Figures, liftFigure(m))
	}
	return s
}

func liftFigure(m *estate.Mount) Figure {
	kg, _ := m.Weighs()
	name := fmt.Sprintf("%s, %s: lifting index", m.Name, kg)
	up, ok := m.MiddleAboveFloor()
	depth, okD := m.Equipment.Depth.Get()
	switch {
	case !ok:
		return unknown(name, "its height above the floor is not known")
	case !okD:
		return unknown(name, fmt.Sprintf("the depth of equipment.%s is %s", m.Equipment.Name, m.Equipment.Depth.State))
	}
	travel := up - liftFrom
	if travel < 0 {
		travel = -travel
	}
	worst, at := quantity.Mass(1<<62), liftFrom
	for _, height := range []quantity.Length{liftFrom, up} {
		lift := physics.Lift{
			Reach: physics.ReachOf(depth, height, physics.Metric), Height: height, From: liftFrom, Travel: travel,
			Spell: physics.Short, Coupling: physics.Fair,
		}
		mult, err := lift.Precise(physics.Metric)
		if err != nil {
			return unknown(name, err.Error())
		}
		if limit := mult.Limit(); limit < worst {
			worst, at = limit, height
		}
	}
	crew := physics.ProposeBetween(kg, liftFrom, up)
	if kg > worst && crew.People < 2 {
		crew.People = 2 // the equation speaks of one person, and says that one is not enough
	}
	who := fmt.Sprintf("%d people", crew.People)
	if crew.People == 1 {
		who = "1 person"
	}
	if crew.Lift {
		who += " and a lift"
	}
	if crew.Watcher {
		who += ", one more watching"
	}
	from := fmt.Sprintf("at %s, reach %s; proposed: %s", mm(at), mm(physics.ReachOf(depth, at, physics.Metric)), who)
	if worst <= 0 {
		return Figure{Name: name, Value: "out of reach", From: from}
	}
	fig := plain(name, physics.Index(kg, worst), 1, "", fmt.Sprintf("limit for one person %s; %s", worst, from))
	one := 1.0
	fig.Limit, fig.Most = "1", &one
	return fig
}

// seismic sets the frame's zone beside the site's, and reckons the screening
// force where the site says what the code asks.
func seismic(r *estate.Rack) Section {
	s := Section{Name: "earthquake", Caution: cautionSeismic}
	site := r.Site()
	if site == nil || r.Frame == nil {
		return s
	}
	if zone, ok := site.SeismicZone.Get(); ok && zone > 0 {
		from := fmt.Sprintf("GR-63 zone of site.%s", site.Name)
		if rated, ok := r.Frame.SeismicZone.Get(); ok {
			fig := plain("zone that the frame is rated for", float64(rated), 0, "", from+" is the limit")
			s.Figures = append(s.Figures, atLeast(fig, float64(zone), fmt.Sprint(zone)))
		} else {
			s.Figures = append(s.Figures, unknown("zone that the frame is rated for", fmt.Sprintf("the seismic_zone of frame.%s is %s; %s is %d", r.Frame.Name, r.Frame.SeismicZone.State, from, zone)))
		}
	}
	sds, ok := site.Shaking.Get()
	if !ok {
		return s
	}
	importance, ok := site.Importance.Get()
	if !ok {
		s.Figures = append(s.Figures, unknown("screening force", fmt.Sprintf("the importance of site.%s is %s", site.Name, site.Importance.State)))
		return s
	}
	room := r.Room()
	if room == nil {
		s.Figures = append(s.Figures, unknown("screening force", "its room, which says how high in the building it is, is missing"))
		return s
	}
	storey, ok := room.Storey.Get()
	if !ok {
		s.Figures = append(s.Figures, unknown("screening force", fmt.Sprintf("the storey of room.%s is %s", room.Name, room.Storey.State)))
		return s
	}
	own, ok := r.Frame.Mass.Get()
	if !ok {
		s.Figures = append(s.Figures, unknown("screening force", fmt.Sprintf("the mass of frame.%s is %s", r.Frame.Name, r.Frame.Mass.State)))
		return s
	}
	force := physics.Anchorage{Amplification: 2.5, Response: 6, Importance: importance, Acceleration: sds, Height: storey}.Force()
	mounted := r.Mass()
	weight := physics.Weight(own + withCables(mounted.Known))
	governs := "the formula governs"
	switch force.Governs {
	case force.Least:
		governs = "the minimum governs"
	case force.Most:
		governs = "the maximum governs"
	}
	s.Figures = append(s.Figures, short(known("horizontal screening force", quantity.Of(force.Governs*float64(weight), quantity.Millinewton), quantity.Newton, "N",
		fmt.Sprintf("%s, eq. 13.3-1 to 13.3-3, sheet metal cabinet (ap 2.5, Rp 6, from memory, unverified): %s × %s with cables; %s (formula %s, minimum %s, maximum %s)",
			force.Edition, quantity.Number(force.Governs, 3), weight, governs,
			quantity.Number(force.Formula, 3), quantity.Number(force.Least, 3), quantity.Number(force.Most, 3))), mounted.Because()))
	return s
}
