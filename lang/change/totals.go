package change

import (
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// A Delta is what a change does to a rack as a whole.
type Delta struct {
	Old, New      *estate.Rack // nil where the rack is added or removed
	Before, After Totals       // of a rack that is not there: the zero value
}

// Rack gives the rack as it is after the change, or as it was.
func (d *Delta) Rack() *estate.Rack {
	if d.New != nil {
		return d.New
	}
	return d.Old
}

// Totals are the sums of one rack.
type Totals struct {
	Mass  estate.Sum[quantity.Mass] // of what is mounted, without the frame
	Rated estate.Figure[quantity.Mass]
	Heat  estate.Sum[quantity.Power]

	// Centre is how high the centre of mass is above the floor, the frame
	// included; Tilt the angle at which the rack tips in the worst direction.
	// Missing where a figure that they need is.
	Centre estate.Figure[quantity.Length]
	Tilt   estate.Figure[quantity.Angle]

	Units int           // whole units of the frame
	Free  int           // of them open to both faces and not held
	Held  int           // of them held by reserves and open
	Gap   estate.Extent // the largest run of free units, the lowest of equal ones

	Feeds []FeedTotals // that the rack is on, by name
}

// FeedTotals are what a feed carries, over all racks that it reaches.
type FeedTotals struct {
	Feed   *estate.Feed
	Normal estate.Load
	Lost   estate.Load                     // in the worst state in which one other feed is lost
	Gone   *estate.Feed                    // the feed that is lost in it; nil where no loss adds to the load
	Limit  estate.Figure[quantity.Current] // rating, less the share that lasting load may not take
}

// rackPairs says which racks of the two sides are the same.
func (c *Change) rackPairs() []rackPair {
	if c.pairs == nil {
		return pairRacks(c.Old.Racks, c.New.Racks)
	}
	return c.pairs
}

// Deltas gives what the change does to each rack that it touches, by name:
// those in which something comes, goes, moves or is altered, and those that
// feel the change of a frame, an equipment or a feed.
func (c *Change) Deltas() []Delta {
	pairs := c.rackPairs()
	touched := map[*estate.Rack]bool{}
	felt := map[string]bool{}
	for i := range c.Racks {
		touched[c.Racks[i].Old], touched[c.Racks[i].New] = true, true
	}
	for i := range c.Mounts {
		for _, m := range []*estate.Mount{c.Mounts[i].Old, c.Mounts[i].New} {
			if m != nil {
				touched[m.Rack] = true
			}
		}
	}
	for i := range c.Blanks {
		touched[c.Blanks[i].Blank().Rack] = true
	}
	for i := range c.Reserves {
		for _, r := range []*estate.Reserve{c.Reserves[i].Old, c.Reserves[i].New} {
			if r != nil {
				touched[r.Rack] = true
			}
		}
	}
	for i := range c.Things {
		switch c.Things[i].Type {
		case "frame", "equipment", "feed":
			for _, name := range c.Things[i].Felt {
				felt[name] = true
			}
		}
	}
	delete(touched, nil)

	var out []Delta
	var olds, news []*estate.Rack
	for _, p := range pairs {
		if !touched[p.old] && !touched[p.new] && (p.new == nil || !felt[p.new.Name]) {
			continue
		}
		out = append(out, Delta{Old: p.old, New: p.new})
		olds, news = append(olds, p.old), append(news, p.new)
	}
	before, after := supplyFor(c.Old, olds), supplyFor(c.New, news)
	for i := range out {
		d := &out[i]
		if d.Old != nil {
			d.Before = TotalsOf(d.Old, before)
		}
		if d.New != nil {
			d.After = TotalsOf(d.New, after)
		}
	}
	slices.SortStableFunc(out, func(x, y Delta) int { return compareRacks(x.Rack(), y.Rack()) })
	return out
}

// TotalsOf gives the sums of a rack, whose feeds supply says who else is on.
func TotalsOf(r *estate.Rack, supply *estate.Supply) Totals {
	t := OwnTotals(r)
	feeds := r.RackFeeds()
	slices.SortStableFunc(feeds, func(a, b *estate.Feed) int { return estate.CompareNames(a.Name, b.Name) })
	for _, f := range feeds {
		ft := FeedTotals{Feed: f, Normal: supply.Load(f), Limit: Lasting(f)}
		ft.Lost = ft.Normal
		for _, g := range beside(f, supply) {
			if lost := supply.Load(f, g); lost.Apparent > ft.Lost.Apparent {
				ft.Lost, ft.Gone = lost, g
			}
		}
		t.Feeds = append(t.Feeds, ft)
	}
	return t
}

// supplyFor gives who draws on the feeds of some racks, of which some may be
// nil. It asks each mount of the estate once, which is much less work than
// [estate.Estate.Supply] where few racks are touched.
func supplyFor(e *estate.Estate, racks []*estate.Rack) *estate.Supply {
	wanted := map[*estate.Feed]bool{}
	for _, r := range racks {
		if r != nil {
			for _, f := range r.RackFeeds() {
				wanted[f] = true
			}
		}
	}
	var on []*estate.Mount
	for _, r := range e.Racks {
		var last *estate.Feed // the first feed of the mounts before, commonly all alike
		lastOn := false
		for _, m := range r.Mounts {
			if len(m.Feeds) == 0 {
				continue
			}
			is := lastOn
			if m.Feeds[0] != last || len(m.Feeds) > 1 {
				is = slices.ContainsFunc(m.Feeds, func(f *estate.Feed) bool { return wanted[f] })
			}
			last, lastOn = nil, false
			if len(m.Feeds) == 1 {
				last, lastOn = m.Feeds[0], is
			}
			if is {
				on = append(on, m)
			}
		}
	}
	return estate.SupplyOf(on)
}

// OwnTotals gives the sums of a rack that need no other rack: all but its
// feeds.
func OwnTotals(r *estate.Rack) Totals {
	t := Totals{Mass: r.Mass(), Heat: r.Heat()}
	if f := r.Frame; f != nil {
		t.Rated = f.Rated
		t.Units = f.Modules()
		t.space(r)
		if b, why := r.Balance(); why == "" {
			t.Centre = estate.Is(b.Centre.Up)
			if feet, why := f.Feet(); why == "" {
				t.Tilt = estate.Is(physics.TiltsOf(b.Centre, feet).Least())
			}
		}
	}
	return t
}

// beside gives the feeds that share a mount with f, by name: the loss of any
// other does not reach it.
func beside(f *estate.Feed, supply *estate.Supply) []*estate.Feed {
	seen := map[*estate.Feed]bool{nil: true, f: true}
	var out []*estate.Feed
	for _, m := range supply.On(f) {
		for _, g := range m.Feeds {
			if !seen[g] {
				seen[g] = true
				out = append(out, g)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *estate.Feed) int { return estate.CompareNames(a.Name, b.Name) })
	return out
}

// space counts the units of the rack that are open at both faces.
func (t *Totals) space(r *estate.Rack) {
	var held []estate.Extent
	for _, x := range r.Reserves {
		if e, ok := x.Extent(); ok {
			held = append(held, e)
		}
	}
	pitch := r.Frame.UnitExtent(estate.Units(r.Frame.First)).Height()
	for _, run := range r.Free(estate.NoFace) {
		var gap estate.Extent
		for lo := run.Bottom; lo < run.Top; lo += pitch {
			unit := estate.Extent{Bottom: lo, Top: lo + pitch}
			if slices.ContainsFunc(held, unit.Meets) {
				t.Held++
				gap = estate.Extent{}
				continue
			}
			t.Free++
			if gap == (estate.Extent{}) {
				gap.Bottom = lo
			}
			gap.Top = lo + pitch
			if gap.Height() > t.Gap.Height() {
				t.Gap = gap
			}
		}
	}
}

// Lasting gives what a lasting load may take of a feed: its rating times the
// share that its site declares, or the whole rating where none is declared.
func Lasting(f *estate.Feed) estate.Figure[quantity.Current] {
	limit := f.Rated
	if site := f.Site(); site != nil && limit.Known() {
		if share, ok := site.Continuous.Get(); ok {
			limit.Value = quantity.Of(share*float64(limit.Value), quantity.Microampere)
		}
	}
	return limit
}
