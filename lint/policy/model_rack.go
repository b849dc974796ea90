package policy

import (
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

func equipmentRef(t *estate.Equipment) string { return "equipment." + t.Name }

// wordsOf turns the name of a field to words: "post_span" to "post span".
func wordsOf(name string) string { return strings.ReplaceAll(name, "_", " ") }

func (m *Model) describeEquipment() {
	c := m.equipment
	length := func(name, doc string, get func(t *estate.Equipment) estate.Figure[quantity.Length]) {
		addFigure(c, name, Millimetre, doc, millimetres, wordsOf(name), equipmentRef, get)
	}
	power := func(name, doc string, get func(t *estate.Equipment) estate.Figure[quantity.Power]) {
		addFigure(c, name, Watt, doc, watts, name+" draw", equipmentRef, get)
	}
	addName(c, func(t *estate.Equipment) string { return t.Name })
	AddText(c, "kind", `what it is in a plain word, such as "switch"; "" where it is not declared`, known(func(t *estate.Equipment) string { return t.Kind }))
	AddText(c, "signal", `the class of signal that it handles or gives off; "" where it is not declared`, known(func(t *estate.Equipment) string { return t.Signal }))
	AddText(c, "system", `the panel system that it is made for, such as "19in"`, known(func(t *estate.Equipment) string {
		if t.System == nil {
			return ""
		}
		return t.System.Name
	}))
	AddNumber(c, "height", Millimetre, "its nominal height", func(t *estate.Equipment) (Number, *Unknown) {
		if t.Height.State != estate.IsGiven {
			return Number{}, lacking("height", equipmentRef(t), t.Height.State)
		}
		return millimetres(t.Height.Length), nil
	})
	length("body", "the width of its body", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.Body })
	length("depth", "how far it reaches behind the mounting face", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.Depth })
	length("cords", "the room that its connectors and bends need behind it", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.Cords })
	length("front", "how far handles and front cords reach before the mounting face", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.Front })
	addFigure(c, "mass", Kilogram, "its mass", kilograms, "mass", equipmentRef, func(t *estate.Equipment) estate.Figure[quantity.Mass] { return t.Mass })
	addFigure(c, "stripped", Kilogram, "its mass without what comes out by hand before it is lifted", kilograms, "stripped mass", equipmentRef, func(t *estate.Equipment) estate.Figure[quantity.Mass] { return t.Stripped })
	AddCount(c, "persons", "people", "how many people its maker asks for to lift it; 0 where it is not declared", counted(func(t *estate.Equipment) int { return t.Persons }))
	addWord(c, "mounting", "how it is held", func(t *estate.Equipment) estate.Mounting { return t.Mounting })
	addWord(c, "air", "the way its air takes", func(t *estate.Equipment) estate.Air { return t.Air })
	power("typical", "the power that it takes hour by hour", func(t *estate.Equipment) estate.Figure[quantity.Power] { return t.Draw.Typical })
	power("maximum", "the most power that it takes", func(t *estate.Equipment) estate.Figure[quantity.Power] { return t.Draw.Maximum })
	power("nameplate", "the power on its plate", func(t *estate.Equipment) estate.Figure[quantity.Power] { return t.Draw.Nameplate })
	rails := func(name, doc string, end func(estate.Span2) quantity.Length) {
		AddNumber(c, name, Millimetre, doc, func(t *estate.Equipment) (Number, *Unknown) {
			v, ok := t.Rails.Get()
			if !ok {
				return Number{}, lacking("rails", equipmentRef(t), t.Rails.State)
			}
			return millimetres(end(v)), nil
		})
	}
	rails("rails_from", "the least post span that its rails reach", func(s estate.Span2) quantity.Length { return s.From })
	rails("rails_to", "the greatest post span that its rails reach", func(s estate.Span2) quantity.Length { return s.To })
	takesVolts := func(name, doc string, end func(estate.VoltageRange) quantity.Voltage) {
		AddNumber(c, name, Volt, doc, func(t *estate.Equipment) (Number, *Unknown) {
			v, ok := t.Voltage.Get()
			if !ok {
				return Number{}, lacking("voltage", equipmentRef(t), t.Voltage.State)
			}
			return volts(end(v)), nil
		})
	}
	takesVolts("voltage_from", "the least voltage that its inlets take", func(r estate.VoltageRange) quantity.Voltage { return r.From })
	takesVolts("voltage_to", "the greatest voltage that its inlets take", func(r estate.VoltageRange) quantity.Voltage { return r.To })
	AddTexts(c, "holes", "the kinds of hole that its rails or ears fit", func(t *estate.Equipment) []string {
		var out []string
		for _, h := range t.Holes {
			out = append(out, h.String())
		}
		return out
	})
	addShare(c, "power_factor", "the power factor of its draw", "power factor", equipmentRef, func(t *estate.Equipment) estate.Figure[float64] { return t.Factor })
	addFigure(c, "inrush", Ampere, "the peak of its current when it is switched on", amperes, "inrush", equipmentRef, func(t *estate.Equipment) estate.Figure[quantity.Current] { return t.Inrush })
	addWord(c, "restart", `its restart setting when its supply returns, such as "last"`, func(t *estate.Equipment) estate.Restart { return t.Restart })
	addFigure(c, "leakage", Ampere, "the current in the protective conductor of each of its inlets", amperes, "leakage", equipmentRef, func(t *estate.Equipment) estate.Figure[quantity.Current] { return t.Leakage })
	addWord(c, "earth", "what the protective conductor of its own cord is made for", func(t *estate.Equipment) estate.Earth { return t.Earth })
	addRating(c, equipmentRef, func(t *estate.Equipment) estate.Rating { return t.Rated })
	addRuntime(c, equipmentRef, func(t *estate.Equipment) estate.Figure[[]physics.RuntimePoint] { return t.Runtime })
	AddCount(c, "outlets", "outlets", "how many outlets it has", counted(func(t *estate.Equipment) int {
		n := 0
		for _, o := range t.Outlets {
			n += o.Count
		}
		return n
	}))
	AddCount(c, "banks", "banks", "how many banks its outlets hang on", counted(func(t *estate.Equipment) int { return len(t.Banks) }))
	AddText(c, "class", `its class of inlet air after ASHRAE TC 9.9, such as "A2", or ""`, known(func(t *estate.Equipment) string { return t.Class }))
	AddNumber(c, "share", Plain, "the share of a unit's width that it takes", known(func(t *estate.Equipment) Number {
		if t.Share.Whole() {
			return Whole(1)
		}
		return Fraction(1, int64(t.Share.Of))
	}))
	AddText(c, "takes", `the panel system that it holds as an adapter, or ""`, known(func(t *estate.Equipment) string {
		if t.Takes == nil {
			return ""
		}
		return t.Takes.Name
	}))
	AddNumbers(c, "ears", Millimetre, "the centres of its ears' screws above its lower edge", func(t *estate.Equipment) []Number {
		var out []Number
		for _, l := range t.Ears {
			out = append(out, millimetres(l))
		}
		return out
	})
	length("forward", "how far it holds panels before the posts, as an adapter", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.Forward })
	length("extension", "how far its slides let it out", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.Extension })
	length("withdraw", "the length of the longest module that is drawn out of its rear", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.Withdraw })
	length("below", "how far its rails reach below its lower edge", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.Below })
	length("tail", "how far its rails or slides reach behind the rear posts", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.Tail })
	addFigure(c, "flow", Plain, "the air that its fans move, a plain number of litres a second", litresPerSecond, "flow", equipmentRef, func(t *estate.Equipment) estate.Figure[quantity.Flow] { return t.Flow })
	addFigure(c, "ambient", Celsius, "the highest temperature of the air around it that its maker allows", celsius, "ambient", equipmentRef, func(t *estate.Equipment) estate.Figure[quantity.Temperature] { return t.Ambient })
	length("gap_above", "the open room that it needs above it, where it is cooled by convection", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.GapAbove })
	length("gap_below", "the open room that it needs below it, where it is cooled by convection", func(t *estate.Equipment) estate.Figure[quantity.Length] { return t.GapBelow })
	addFigure(c, "rails_rated", Kilogram, "what its rails or slides may carry", kilograms, "rails_rated", equipmentRef, func(t *estate.Equipment) estate.Figure[quantity.Mass] { return t.RailsRated })
	addFigure(c, "carries", Kilogram, "what it may carry, as a shelf or an adapter", kilograms, "rating", equipmentRef, func(t *estate.Equipment) estate.Figure[quantity.Mass] { return t.Carries })
	addWord(c, "battery", `the kind of its cells, such as "sealed-lead"`, func(t *estate.Equipment) estate.Battery { return t.Battery })
	AddBool(c, "upright", "whether its maker forbids mounting it upside down", known(func(t *estate.Equipment) bool { return t.Upright }))
	AddCount(c, "inlets", "inlets", "how many inlets for supply cords it has", counted(func(t *estate.Equipment) int { n, _ := t.InletCount(); return n }))
	AddCount(c, "needs", "inlets", "how many of them must be live for it to run", counted(func(t *estate.Equipment) int { _, n := t.InletCount(); return n }))
}

func (m *Model) describeRack() {
	c := m.rack
	addName(c, func(t *estate.Rack) string { return t.Name })
	AddCount(c, "place", "", "its place in the row, from 1; 0 where it is not declared", counted(func(t *estate.Rack) int { return t.Place }))
	AddObject(c, "row", m.row, "the row in which it stands", func(t *estate.Rack) *estate.Row { return t.Row })
	AddObject(c, "room", m.room, "the room in which it stands", (*estate.Rack).Room)
	AddObject(c, "site", m.site, "its site", (*estate.Rack).Site)
	AddObject(c, "frame", m.frame, "the kind of frame that it is", func(t *estate.Rack) *estate.Frame { return t.Frame })
	AddText(c, "owner", `who answers for it, or ""`, known(func(t *estate.Rack) string { return t.Owner }))
	AddText(c, "layout", `the name of its layout, or ""`, known(func(t *estate.Rack) string {
		if t.Layout == nil {
			return ""
		}
		return t.Layout.Name
	}))
	addFigure(c, "inlet", Celsius, "the temperature of the air at its fronts, where it differs from the room's", celsius, "inlet air", (*estate.Rack).Ref, func(t *estate.Rack) estate.Figure[quantity.Temperature] { return t.Inlet })
	AddTexts(c, "seals", "the fire seals that its cables pass", func(t *estate.Rack) []string { return t.Seals })
	AddText(c, "bond", `what its bonding conductor goes to, as it is written: "bar.hq" or "rack.hq-b"; "" where that is not declared`, func(t *estate.Rack) (string, *Unknown) {
		if t.Bond.State == estate.IsUnknown {
			return "", lacking("bond", t.Ref(), t.Bond.State)
		}
		return t.Bond.Ref(), nil
	})
	addFigure(c, "fixings", Kilogram, "what the fixings of a wall frame bear", kilograms, "fixings", (*estate.Rack).Ref, func(t *estate.Rack) estate.Figure[quantity.Mass] { return t.Fixings })
	addWord(c, "comes", `how it is brought in: "empty" or "loaded"`, func(t *estate.Rack) estate.Arrival { return t.Comes })
	AddDate(c, "seen", "when somebody last compared it with the record", func(t *estate.Rack) (estate.Date, *Unknown) {
		return dateOf(t.Seen, "day on which %s was last compared with the record", t.Ref())
	})
	AddObjects(c, "mounts", m.mount, "what is mounted in it, in the order declared", func(t *estate.Rack) []*estate.Mount { return t.Mounts })
	AddObjects(c, "reserves", m.reserve, "the units held for later", func(t *estate.Rack) []*estate.Reserve { return t.Reserves })
	AddObjects(c, "feeds", m.feed, "the feeds that reach it and that its mounts draw on", (*estate.Rack).RackFeeds)
	AddNumber(c, "mass", Kilogram, "the mass of what is mounted in it", func(t *estate.Rack) (Number, *Unknown) {
		s := t.Mass()
		return kilograms(s.Known), unsure(s.Because())
	})
	AddNumber(c, "heat", Watt, "the heat that it gives off, on the site's basis", func(t *estate.Rack) (Number, *Unknown) {
		s := t.Heat()
		return watts(s.Known), unsure(s.Because())
	})
	AddCount(c, "free", "U", "how many whole units of its front posts nothing is mounted in; blanks and reserves count as free", func(t *estate.Rack) (Number, *Unknown) {
		total, _, u := freeUnits(t)
		return total, u
	})
	AddCount(c, "largest_gap", "U", "how many whole units the largest run of free units has", func(t *estate.Rack) (Number, *Unknown) {
		_, largest, u := freeUnits(t)
		return largest, u
	})
	beyond(AddObjects(c, "feeds_lost", m.loss, "what its feeds carry with each of them lost in turn, as loads move to those that are left", m.losses))

	c = m.reserve
	addName(c, func(t *estate.Reserve) string { return t.Name })
	AddDate(c, "until", "the last day on which it holds", func(t *estate.Reserve) (estate.Date, *Unknown) {
		return dateOf(t.Until, "end of %s", "reserve "+t.Name)
	})
	AddText(c, "reason", `why the units are held, or ""`, known(func(t *estate.Reserve) string { return t.Reason }))
	AddText(c, "by", `who holds them, or ""`, known(func(t *estate.Reserve) string { return t.By }))
	AddCount(c, "from", "", "the first unit that it holds, as it is marked on the posts", func(t *estate.Reserve) (Number, *Unknown) { return unitCount(t.Units.From), nil })
	AddCount(c, "to", "", "the last unit that it holds, as it is marked on the posts", func(t *estate.Reserve) (Number, *Unknown) { return unitCount(t.Units.To), nil })
	addWord(c, "face", "the posts at which it holds them", func(t *estate.Reserve) estate.Face { return t.Face })
	AddCount(c, "units", "U", "how many units it holds", func(t *estate.Reserve) (Number, *Unknown) {
		n := t.Units.To - t.Units.From
		if n < 0 {
			n = -n
		}
		return unitCount(n + estate.OneUnit), nil
	})
}

func unsure(because string) *Unknown {
	if because == "" {
		return nil
	}
	return &Unknown{Because: because}
}

func dateOf(d estate.Date, what, of string) (estate.Date, *Unknown) {
	if d == 0 {
		return 0, unknown("the "+what+" is missing", of)
	}
	return d, nil
}

// freeUnits gives how many whole units of the front posts are free, and the
// longest run of them. It is unknown while the height of a mount is.
func freeUnits(r *estate.Rack) (total, largest Number, u *Unknown) {
	if r.Frame == nil {
		return Number{}, Number{}, unknown("the frame of %s is not known", r.Ref())
	}
	for _, t := range r.Mounts {
		if _, ok := t.Extent(); !ok && t.ZeroU == nil {
			return Number{}, Number{}, unknown("the units of %s are not known", t.Ref())
		}
	}
	sum, most := 0, 0
	for _, run := range r.Free(estate.FrontFace) {
		units := r.Frame.UnitsOf(run)
		n := int(units.To-units.From)/int(estate.OneUnit) + 1
		sum, most = sum+n, max(most, n)
	}
	return Whole(int64(sum)), Whole(int64(most)), nil
}

func (m *Model) describeMount() {
	c := m.mount
	addName(c, func(t *estate.Mount) string { return t.Name })
	AddObject(c, "rack", m.rack, "the rack that it is in", func(t *estate.Mount) *estate.Rack { return t.Rack })
	AddObject(c, "equipment", m.equipment, "the catalogue entry that it is one of", func(t *estate.Mount) *estate.Equipment { return t.Equipment })
	AddText(c, "kind", `the kind of its equipment; "" where that is not declared`, known(func(t *estate.Mount) string {
		if t.Equipment == nil {
			return ""
		}
		return t.Equipment.Kind
	}))
	AddText(c, "units", `the units that it takes, as they are marked on the posts: "U38-39"`, known((*estate.Mount).Label))
	AddCount(c, "at", "", "the smallest unit number that it takes, as it is marked on the posts", func(t *estate.Mount) (Number, *Unknown) {
		e, ok := t.Extent()
		if !ok || t.ZeroU != nil {
			return Number{}, unknown("the units of %s are not known", t.Ref())
		}
		return unitCount(t.Rack.Frame.NumberAt(e)), nil
	})
	AddCount(c, "top", "", "the highest unit that it reaches into, counted from the bottom whatever is marked on the posts", func(t *estate.Mount) (Number, *Unknown) {
		e, u := extentOf(t)
		if u != nil {
			return Number{}, u
		}
		return Whole(unitAt(t.Rack.Frame, e.Top-estate.Touch-1)), nil
	})
	AddCount(c, "bottom", "", "the lowest unit that it takes, counted from the bottom whatever is marked on the posts", func(t *estate.Mount) (Number, *Unknown) {
		e, u := extentOf(t)
		if u != nil {
			return Number{}, u
		}
		return Whole(unitAt(t.Rack.Frame, e.Bottom+estate.Touch)), nil
	})
	AddCount(c, "height", "U", "its height in units of its frame", func(t *estate.Mount) (Number, *Unknown) {
		e, u := extentOf(t)
		if u != nil {
			return Number{}, u
		}
		return Fraction(int64(e.Height()), int64(unitOf(t.Rack.Frame))), nil
	})
	AddNumber(c, "above_floor", Millimetre, "how high its middle is above the floor", func(t *estate.Mount) (Number, *Unknown) {
		if _, u := extentOf(t); u != nil {
			return Number{}, u
		}
		l, ok := t.MiddleAboveFloor()
		if !ok {
			return Number{}, lacking("base", frameRef(t.Rack.Frame), t.Rack.Frame.Base.State)
		}
		return millimetres(l), nil
	})
	AddNumber(c, "mass", Kilogram, "its mass", func(t *estate.Mount) (Number, *Unknown) {
		if q := t.Equipment; q != nil && q.Mass.State == estate.IsGiven {
			return kilograms(q.Mass.Value), nil
		}
		_, why := t.Weighs()
		return Number{}, &Unknown{Because: why}
	})
	AddNumber(c, "draw", Watt, "the power that it takes from its feeds, on the site's basis", func(t *estate.Mount) (Number, *Unknown) {
		p, _, why := t.Load(t.Rack.Site())
		return watts(p), unsure(why)
	})
	AddNumber(c, "heat", Watt, "the heat that it gives off, on the site's basis", func(t *estate.Mount) (Number, *Unknown) {
		p, _, why := t.Heat(t.Rack.Site())
		return watts(p), unsure(why)
	})
	AddNumber(c, "needs", Millimetre, "its depth with cords", func(t *estate.Mount) (Number, *Unknown) {
		if t.Equipment == nil {
			return Number{}, unknown("the equipment of %s is not known", t.Ref())
		}
		l, why := t.Equipment.Needs()
		return millimetres(l), unsure(why)
	})
	AddText(c, "face", `the posts that it hangs on: "front" or "rear"`, known(func(t *estate.Mount) string { return t.Posts().String() }))
	AddText(c, "slot", `the part of the width that it takes: "whole", "left", "right" or "1/3"`, known(func(t *estate.Mount) string { return t.Slot.String() }))
	AddBool(c, "inverted", "whether it hangs upside down", known(func(t *estate.Mount) bool { return t.Inverted }))
	AddObject(c, "adapter", m.equipment, "what holds it on posts of another system, or null", func(t *estate.Mount) *estate.Equipment { return t.Adapter })
	addWord(c, "criticality", `how much hangs on it: "spare", "ordinary", "important" or "critical"`, func(t *estate.Mount) estate.Criticality { return t.Criticality })
	AddObjects(c, "cords", m.cord, "its cords, in the order of its inlets; none where only feeds are said", func(t *estate.Mount) []*estate.Cord {
		out := make([]*estate.Cord, len(t.Cords))
		for i := range t.Cords {
			out[i] = &t.Cords[i]
		}
		return out
	})
	addFigure(c, "slack", Millimetre, "the slack of the fixed cables that end at it", millimetres, "slack", (*estate.Mount).Ref, func(t *estate.Mount) estate.Figure[quantity.Length] { return t.Slack })
	AddText(c, "facing", `where its outlets look, of what hangs beside the posts: "door", "inward" or "side"; "" where that is not declared`, known(func(t *estate.Mount) string {
		if t.ZeroU == nil {
			return ""
		}
		return t.ZeroU.Facing.String()
	}))
	AddBool(c, "zero_u", "whether it hangs beside the posts", known(func(t *estate.Mount) bool { return t.ZeroU != nil }))
	AddObjects(c, "feeds", m.feed, "the feeds that it is connected to, one for each inlet", func(t *estate.Mount) []*estate.Feed { return resolved(t.Feeds) })
	AddText(c, "serial", `its serial number, or ""`, known(func(t *estate.Mount) string { return t.Serial }))
	AddText(c, "asset", `its number in the register of assets, or ""`, known(func(t *estate.Mount) string { return t.Asset }))
	AddText(c, "marking", `what is written on it, or ""`, known(func(t *estate.Mount) string { return t.Marking }))
	AddText(c, "service", `what depends on it, or ""`, known(func(t *estate.Mount) string { return t.Service }))
	AddText(c, "owner", `who answers for it, its rack's owner where it names none, or ""`, known(func(t *estate.Mount) string {
		if t.Owner == "" && t.Rack != nil {
			return t.Rack.Owner
		}
		return t.Owner
	}))
	AddDate(c, "until", "the day by which it is to be gone", func(t *estate.Mount) (estate.Date, *Unknown) {
		return dateOf(t.Until, "day by which %s is to be gone", t.Ref())
	})
	AddTexts(c, "seals", "the fire seals that its own cables pass", func(t *estate.Mount) []string { return t.Seals })
	AddDate(c, "seen", "the day on which somebody last saw it, or compared its rack with the record", func(t *estate.Mount) (estate.Date, *Unknown) {
		if t.Rack != nil && t.Rack.Seen > t.Seen {
			return t.Rack.Seen, nil
		}
		return dateOf(t.Seen, "day on which %s was last seen", t.Ref())
	})
	AddObject(c, "neighbours", m.neighbours, "what is mounted next to it", func(t *estate.Mount) *estate.Mount { return t })
	beyond(AddObjects(c, "groups", m.group, "the groups that it belongs to", m.groupsOf))

	c = m.neighbours
	AddObject(c, "above", m.mount, "the next mount above on the same posts, however far; null where there is none", func(t *estate.Mount) *estate.Mount { return neighbour(t, true) })
	AddObject(c, "below", m.mount, "the next mount below on the same posts, however far; null where there is none", func(t *estate.Mount) *estate.Mount { return neighbour(t, false) })
	AddCount(c, "gap_above", "U", "how much room is between it and the next mount above, or the end of the posts", func(t *estate.Mount) (Number, *Unknown) { return gap(t, true) })
	AddCount(c, "gap_below", "U", "how much room is between it and the next mount below, or the end of the posts", func(t *estate.Mount) (Number, *Unknown) { return gap(t, false) })
	AddObjects(c, "within_2u", m.mount, "every mount of the rack with no more than two units between it and this one", func(t *estate.Mount) []*estate.Mount { return near(t, 2) })
}

func resolved(feeds []*estate.Feed) []*estate.Feed {
	for i, f := range feeds {
		if f == nil {
			out := append([]*estate.Feed(nil), feeds[:i]...)
			for _, f := range feeds[i:] {
				if f != nil {
					out = append(out, f)
				}
			}
			return out
		}
	}
	return feeds
}

func extentOf(t *estate.Mount) (estate.Extent, *Unknown) {
	e, ok := t.Extent()
	switch {
	case t.ZeroU != nil:
		return e, unknown("%s hangs beside the posts and takes no units", t.Ref())
	case !ok && t.Equipment != nil && t.Equipment.Height.State != estate.IsGiven:
		return e, lacking("height", equipmentRef(t.Equipment), t.Equipment.Height.State)
	case !ok:
		return e, unknown("the units of %s are not known", t.Ref())
	}
	return e, nil
}

// unitOf gives the height of one unit of a frame.
func unitOf(f *estate.Frame) quantity.Length {
	return f.UnitExtent(estate.Units(f.First)).Height()
}

// unitAt gives the unit at a height, counted from the bottom from 1.
func unitAt(f *estate.Frame, at quantity.Length) int64 {
	pitch := unitOf(f)
	n := at / pitch
	if at%pitch < 0 {
		n--
	}
	return int64(n) + 1
}

// neighbour gives the next mount on the same posts that shares any width.
func neighbour(t *estate.Mount, above bool) *estate.Mount {
	own, ok := t.Extent()
	if !ok || t.ZeroU != nil {
		return nil
	}
	var best *estate.Mount
	var at estate.Extent
	for _, o := range t.Rack.Mounts {
		if o == t || o.ZeroU != nil || o.Posts() != t.Posts() || !o.Slot.Overlaps(t.Slot) {
			continue
		}
		e, ok := o.Extent()
		switch {
		case !ok:
		case above && e.Bottom >= own.Top-estate.Touch && (best == nil || e.Bottom < at.Bottom),
			!above && e.Top <= own.Bottom+estate.Touch && (best == nil || e.Top > at.Top):
			best, at = o, e
		}
	}
	return best
}

func gap(t *estate.Mount, above bool) (Number, *Unknown) {
	own, u := extentOf(t)
	if u != nil {
		return Number{}, u
	}
	frame := t.Rack.Frame
	edge := frame.Usable()
	if n := neighbour(t, above); n != nil {
		e, _ := n.Extent()
		edge.Bottom, edge.Top = e.Top, e.Bottom
	}
	room := edge.Top - own.Top
	if !above {
		room = own.Bottom - edge.Bottom
	}
	return Fraction(int64(room), int64(unitOf(frame))), nil
}

// near gives the mounts of the rack, on either posts, with no more than so
// many units between them and t.
func near(t *estate.Mount, units int) []*estate.Mount {
	own, ok := t.Extent()
	if !ok || t.ZeroU != nil {
		return nil
	}
	reach := quantity.Length(units)*unitOf(t.Rack.Frame) + estate.Touch
	var out []*estate.Mount
	for _, o := range t.Rack.Mounts {
		if o == t || o.ZeroU != nil {
			continue
		}
		if e, ok := o.Extent(); ok && e.Bottom-own.Top <= reach && own.Bottom-e.Top <= reach {
			out = append(out, o)
		}
	}
	return out
}
