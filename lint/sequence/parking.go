package sequence

import (
	"cmp"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// Parking places are tried best first: a free range of the same rack where the
// thing stays railed and powered, a rack beside it, a bench. Never on top of
// another thing, on the floor of an aisle, or hanging on its cords.

// neighboursMost is how many racks to each side count as within cord reach.
const neighboursMost = 2

// benchFar is how far away a bench counts, in racks, when costs are compared.
const benchFar = 2*neighboursMost + 1

// neighbours gives the rack itself and then those near it in its row, nearest
// first.
func (b *binding) neighbours(r *estate.Rack) []*estate.Rack {
	racks := []*estate.Rack{b.w.rack(r.Name)}
	if r.Row == nil || r.Place == 0 {
		return racks
	}
	var near []*estate.Rack
	for _, o := range b.w.racks {
		if o.Name == r.Name || o.Row == nil || o.Row.Name != r.Row.Name || o.Place == 0 || distance(o, r) > neighboursMost {
			continue
		}
		near = append(near, o)
	}
	slices.SortStableFunc(near, func(x, y *estate.Rack) int { return cmp.Compare(distance(x, r), distance(y, r)) })
	return append(racks, near...)
}

func distance(a, b *estate.Rack) int {
	if a.Place < b.Place {
		return b.Place - a.Place
	}
	return a.Place - b.Place
}

// freeSpots gives the places in a rack that a thing could hang in without
// meeting anything that stays: whole units, same face and slot. Units that only
// the plan's own things take, or blanks, count as free.
func (b *binding) freeSpots(model *estate.Mount, rack *estate.Rack) []*estate.Mount {
	f := rack.Frame
	if f == nil || model.Equipment == nil || model.ZeroU != nil || !hangsIn(model, f) {
		return nil
	}
	height, ok := model.Equipment.HeightIn(f)
	if !ok {
		return nil
	}
	moved := map[*estate.Mount]bool{}
	for _, j := range b.jobs {
		if j.Kind != Refeed {
			moved[j.key()] = true
		}
	}
	var stay []*estate.Mount
	for _, m := range rack.Mounts {
		if !moved[b.w.origin[m]] {
			stay = append(stay, m)
		}
	}
	var spots []*estate.Mount
	for n := range f.Modules() {
		m := *model
		m.Rack = rack
		m.At = estate.Units(f.First + n)
		m.Through = 0
		m.Raised = estate.Figure[quantity.Length]{}
		e, ok := m.Extent()
		if !ok || e.Height() != height || !e.Within(f.Usable()) || unusable(f, e) {
			continue
		}
		boxes := b.boxes(&m, true)
		clear := true
		for _, s := range stay {
			for _, x := range b.boxes(s, true) {
				for _, y := range boxes {
					if x.Meets(y) {
						clear = false
					}
				}
			}
		}
		if clear {
			spots = append(spots, &m)
		}
	}
	return spots
}

func unusable(f *estate.Frame, e estate.Extent) bool {
	return slices.ContainsFunc(f.Unusable, func(r estate.UnitRange) bool { return f.Extent(r).Meets(e) })
}

// hangsIn reports whether a thing's mounting is known to suit a frame: its
// panel system, its holes and the span of its rails. In the rack that it is in
// already that is taken for granted.
func hangsIn(m *estate.Mount, f *estate.Frame) bool {
	q := m.Equipment
	if m.Rack != nil && m.Rack.Frame == f {
		return true
	}
	if q.System != nil && f.System != nil && q.System.Name != f.System.Name {
		return false
	}
	if len(q.Holes) > 0 && !slices.Contains(q.Holes, f.Holes) {
		return false
	}
	if q.Mounting == estate.FixedRails || q.Mounting == estate.Slides {
		rails, ok1 := q.Rails.Get()
		span, ok2 := f.PostSpan.Get()
		if !ok1 || !ok2 || span < rails.From || span > rails.To {
			return false
		}
	}
	return true
}

// feedParked gives the parked thing the feeds that it would have there, and
// says whether it runs: on its own feeds in its own rack, on those of the rack
// elsewhere.
func (b *binding) feedParked(m, model *estate.Mount, rack *estate.Rack, own bool) bool {
	if !draws(model) {
		return true
	}
	if own {
		return true
	}
	if len(rack.Feeds) < len(model.Feeds) {
		m.Feeds = nil
		return false
	}
	m.Feeds = rack.Feeds[:len(model.Feeds)]
	return true
}

// draws reports whether a thing runs on power at all, as far as is declared.
func draws(m *estate.Mount) bool {
	if m == nil {
		return false
	}
	if len(m.Feeds) > 0 {
		return true
	}
	q := m.Equipment
	if q == nil {
		return false
	}
	if len(q.Inlets) > 0 {
		return true
	}
	for _, d := range []estate.Figure[quantity.Power]{q.Draw.Maximum, q.Draw.Nameplate, q.Draw.Typical} {
		if v, ok := d.Get(); ok && v > 0 {
			return true
		}
	}
	// A UPS or a battery feeds others, whatever it draws itself.
	return q.HoldsBattery()
}

// Weights of a parking place, in points that stand for minutes of trouble
// (common practice; only their order matters).
const (
	perFar     = 200 // a place that far away: the order of ranking comes first
	perDown    = 40  // it is off while it is parked
	perMember  = 60  // it is a member of a group meanwhile, times what it costs
	perCord    = 5
	perRails   = 20 // its rails are refitted twice
	perReserve = 15 // the place is held for something else
	perMetre   = 10 // a kilogram is worth a minute a metre above the waist
)

// parkCost says how unwelcome it is to park a job's thing at a spot (nil on a
// bench), so that the least is chosen: far or near, off or on, heavy, high,
// corded, railed, a member of a pair.
func (b *binding) parkCost(j *Job, at *estate.Mount, far int, live bool) int {
	q := j.Mount().Equipment
	cost := far*perFar + len(j.Mount().Feeds)*perCord
	members := 0
	for i := range b.jobs {
		if b.jobs[i] == j {
			members = len(b.p.Items[i].Group)
		}
	}
	cost += members * perMember
	if !live {
		cost += perDown * (1 + members)
	}
	if q == nil {
		return cost
	}
	kg := int(q.Mass.Or(0) / quantity.Kilogram)
	cost += kg
	if railed(q) && at != nil {
		cost += perRails
	}
	if at == nil {
		return cost
	}
	if above := middle(at) - 1200*quantity.Millimetre; above > 0 {
		cost += int(above.Millimetres()*float64(kg)) / 1000 * perMetre
	}
	if e, ok := at.Extent(); ok {
		if len(at.Rack.Reserved(e, at.Posts(), 0)) > 0 {
			cost += perReserve
		}
		// Near its goal is better than far: less to carry, cords more likely to reach.
		if j.New != nil && j.New.Rack != nil && j.New.Rack.Name == at.Rack.Name {
			if g, ok := j.New.Extent(); ok {
				apart := g.Bottom - e.Bottom
				if apart < 0 {
					apart = -apart
				}
				cost += int(apart / quantity.RackUnit / 4)
			}
		}
	}
	return cost
}

func railed(q *estate.Equipment) bool {
	return q != nil && (q.Mounting == estate.FixedRails || q.Mounting == estate.Slides)
}
