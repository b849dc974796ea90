package estate

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// What a carrier carries in a state, worked out state by state from what
// changes, is what its feeds and its outlets carry, worked out from nothing.
func TestCarriersAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := treeOf(t)
		s := e.Supply()
		states := s.LostStates()
		for _, c := range s.Carriers() {
			in := map[*LostState]Burden{}
			for _, b := range c.In {
				in[b.State] = b
			}
			for i := -1; i < len(states); i++ {
				var state *LostState
				var out *Outage
				if i >= 0 {
					state, out = &states[i], &states[i].Out
				}
				var want physics.Vector[quantity.Power]
				for _, f := range c.Feeds {
					l := s.LoadIn(f, out)
					want = want.Plus(l.Vector)
				}
				if c.UPS != nil {
					for _, m := range c.Behind {
						inlets, each, basis, _ := s.Draws(m, out)
						for _, in := range inlets {
							if in.Strip == c.UPS {
								want = want.Plus(m.Takes(each, basis, in.Feed).Vector)
							}
						}
					}
				}
				got, ok := in[state]
				if !ok {
					got = c.In[0] // nothing changes
				}
				if got.Power.Active != want.Active || got.Power.Loose != want.Loose || math.Abs(got.Power.Nonactive-want.Nonactive) > 1e-3 {
					t.Fatalf("%s carries %+v in %v, and its feeds %+v", carrierName(c), got.Power, state, want)
				}
			}
		}
	})
}

func carrierName(c *Carrier) string {
	switch {
	case c.Breaker != nil:
		return c.Breaker.Ref()
	case c.Source != nil:
		return c.Source.Ref()
	}
	return c.UPS.Ref()
}

// treeOf makes up sources, breakers, feeds, a rack with UPS and loads on feeds
// and on cords.
func treeOf(t *rapid.T) *Estate {
	e := &Estate{}
	mains := &PowerSource{Name: "mains", Kind: Utility}
	e.PowerSources = append(e.PowerSources, mains)
	rack := &Rack{Name: "r"}
	e.Racks = []*Rack{rack}
	ups := &Equipment{Name: "ups", Kind: "ups", Inlets: []Inlet{{Count: 1, Needs: 1}}, Outlets: []OutletSet{{Count: 99}},
		Rated: Rating{Active: Is(1000 * quantity.Watt)}}
	for i := range rapid.IntRange(1, 3).Draw(t, "sources") {
		p := &PowerSource{Name: fmt.Sprint("s", i), Kind: UPS, From: []*PowerSource{mains}}
		e.PowerSources = append(e.PowerSources, p)
		b := &Breaker{Name: fmt.Sprint("b", i), Supply: p}
		e.Breakers = append(e.Breakers, b)
		for j := range rapid.IntRange(1, 2).Draw(t, "feeds") {
			e.Feeds = append(e.Feeds, &Feed{Name: fmt.Sprint("f", i, j), Breaker: b, Phases: 1, Voltage: Is(230 * quantity.Volt)})
		}
		m := &Mount{Name: fmt.Sprint("ups-", i), Rack: rack, Equipment: ups, Feeds: []*Feed{e.Feeds[len(e.Feeds)-1]}}
		rack.Mounts = append(rack.Mounts, m)
	}
	strips := len(rack.Mounts)
	for i := range rapid.IntRange(1, 8).Draw(t, "loads") {
		n := rapid.IntRange(1, 3).Draw(t, "inlets")
		q := &Equipment{Name: fmt.Sprint("q", i), Inlets: []Inlet{{Count: n, Needs: rapid.IntRange(1, n).Draw(t, "needs")}},
			Draw: Draw{Maximum: Is(6 * quantity.Power(rapid.IntRange(1, 100).Draw(t, "draw")) * quantity.Watt)}}
		switch rapid.IntRange(0, 3).Draw(t, "factor") {
		case 0:
			q.Factor = Is(rapid.SampledFrom([]float64{0.6, 0.9, 1}).Draw(t, "power factor"))
		case 1:
			q.Draw.Apparent = OnMaximum.Of()
		case 2:
			q.Factor.State = IsUnknown
		}
		m := &Mount{Name: fmt.Sprint("m", i), Rack: rack, Equipment: q}
		byCord := rapid.Bool().Draw(t, "by cord")
		for range n {
			if byCord {
				m.Cords = append(m.Cords, Cord{To: rack.Mounts[rapid.IntRange(0, strips-1).Draw(t, "strip")].Name, Outlet: 1})
			} else {
				m.Feeds = append(m.Feeds, rapid.SampledFrom(e.Feeds).Draw(t, "feed"))
			}
		}
		rack.Mounts = append(rack.Mounts, m)
	}
	e.FollowCords()
	return e
}

// A power factor turns watts into volt-amperes and back; what is not known of it
// is said, and direct current has none.
func TestTakes(t *testing.T) {
	ac := &Feed{Name: "a", Phases: 1, Voltage: Is(230 * quantity.Volt)}
	dc := &Feed{Name: "d", Voltage: Is(-48 * quantity.Volt)}
	unknown := Figure[float64]{State: IsUnknown}
	tests := []struct {
		name              string
		apparent          bool
		factor            Figure[float64]
		feed              *Feed
		watts, va         float64
		loose, unfactored string
	}{
		{name: "watts", feed: ac, watts: 900, va: 900},
		{name: "watts at 0.9", factor: Is(0.9), feed: ac, watts: 900, va: 1000},
		{name: "watts, unknown", factor: unknown, feed: ac, watts: 900, va: 900, unfactored: "the power factor of equipment.q is unknown"},
		{name: "volt-amperes", apparent: true, feed: ac, watts: 0, va: 900, loose: "the power factor of equipment.q is missing"},
		{name: "volt-amperes at 0.9", apparent: true, factor: Is(0.9), feed: ac, watts: 810, va: 900},
		{name: "volt-amperes, unknown", apparent: true, factor: unknown, feed: ac, watts: 0, va: 900, loose: "the power factor of equipment.q is unknown"},
		{name: "direct", factor: Is(0.9), feed: dc, watts: 900, va: 900},
		{name: "direct, unknown", factor: unknown, feed: dc, watts: 900, va: 900},
	}
	for _, tt := range tests {
		q := &Equipment{Name: "q", Draw: Draw{Maximum: Is(900 * quantity.Watt)}, Factor: tt.factor}
		if tt.apparent {
			q.Draw.Apparent = OnMaximum.Of()
		}
		m := &Mount{Name: "m", Equipment: q}
		p, basis, why := m.Load(nil)
		got := m.Takes(p, basis, tt.feed)
		if w, va := got.Vector.Active.Watts(), got.Vector.Apparent().Watts(); math.Abs(w-tt.watts) > 0.001 || math.Abs(va-tt.va) > 0.001 || why != "" {
			t.Errorf("%s: %g W and %g VA (%s), want %g and %g", tt.name, w, va, why, tt.watts, tt.va)
		}
		if got.Loose != tt.loose || got.Unfactored != tt.unfactored {
			t.Errorf("%s: %q and %q, want %q and %q", tt.name, got.Loose, got.Unfactored, tt.loose, tt.unfactored)
		}
	}
}
