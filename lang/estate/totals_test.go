package estate

import (
	"math"
	"testing"

	"cagenut/lang/quantity"
)

const (
	tw = quantity.Watt
	tv = quantity.Volt
	ta = quantity.Ampere
)

// ferry is the shore cabinet of the ferry example with its two feeds, before
// (0) and after (1) the summer's growth of two servers and a storage shelf.
func ferry(growth int) (a, b *Feed, mounts []*Mount) {
	site := &Site{Name: "quay", Continuous: Is(0.8)}
	room := &Room{Name: "hq", Site: site}
	a = &Feed{Name: "a", Room: room, Origin: "ups", Voltage: Is(230 * tv), Phases: 1, Rated: Is(16 * ta)}
	b = &Feed{Name: "b", Room: room, Origin: "mains", Voltage: Is(230 * tv), Phases: 1, Rated: Is(16 * ta)}
	kind := func(name string, inlets int, maximum quantity.Power) *Equipment {
		q := &Equipment{Name: name, Draw: Draw{Maximum: Is(maximum), Typical: Is(maximum / 2)}}
		q.Inlets = []Inlet{{Type: "c14", Count: inlets, Needs: 1}}
		return q
	}
	server, store := kind("server", 2, 450*tw), kind("store", 2, 520*tw)
	core, wall := kind("core", 2, 210*tw), kind("firewall", 1, 60*tw)
	panel := &Equipment{Name: "panel"}
	add := func(n int, q *Equipment, feeds ...*Feed) {
		for range n {
			mounts = append(mounts, &Mount{Name: q.Name, Equipment: q, Feeds: feeds})
		}
	}
	add(2+2*growth, server, a, b)
	add(1+growth, store, a, b)
	add(2, core, a, b)
	add(2, wall, a)
	add(2, panel)
	return a, b, mounts
}

func TestFerryFeeds(t *testing.T) {
	tests := []struct {
		name            string
		growth          int
		lost            bool
		watts           quantity.Power
		amperes, with95 float64 // at unity power factor, and at 0.95
	}{
		{"today with b lost", 0, true, 1960, 8.5, 9.0},
		{"after growth, normal", 1, false, 1750, 7.6, 8.0},
		{"after growth with b lost", 1, true, 3380, 14.7, 15.5},
	}
	for _, tt := range tests {
		a, b, mounts := ferry(tt.growth)
		var lost []*Feed
		if tt.lost {
			lost = []*Feed{b}
		}
		l := SupplyOf(mounts).Load(a, lost...)
		if l.Power != tt.watts*tw || !l.Whole() || l.Basis() != "maximum" {
			t.Errorf("%s: %v on %q, %v", tt.name, l.Power, l.Basis(), l.Lacks)
		}
		i, why := a.Current(l.Power)
		if why != "" || math.Abs(i.Amperes()-tt.amperes) > 0.05 {
			t.Errorf("%s: %v, want %g A at unity power factor (%s)", tt.name, i, tt.amperes, why)
		}
		// The sheet that these watts come from prints amperes at a power factor
		// of 0.95; the same watts at unity power factor are 5 % fewer.
		if at95 := i.Amperes() / 0.95; math.Abs(at95-tt.with95) > 0.05 {
			t.Errorf("%s: %.2f A at 0.95, want %g", tt.name, at95, tt.with95)
		}
	}
}

func TestSupplyStates(t *testing.T) {
	a, b, mounts := ferry(0)
	s := SupplyOf(mounts)
	rising := s.Rising(b)
	if len(rising) != 1 || rising[0].Feed != a || rising[0].Power != 1960*tw {
		t.Errorf("with b lost these rise: %v", rising)
	}
	// Firewalls hang on a alone: with a lost they draw nothing and are down.
	if l := s.Load(b, a); l.Power != 1840*tw {
		t.Errorf("b with a lost carries %v", l.Power)
	}
	if l := s.Load(a, a); l.Power != 0 || len(l.Mounts) != 0 {
		t.Errorf("a lost feed carries %v", l.Power)
	}
	wall := mounts[5]
	if wall.Name != "firewall" || wall.UpWithout(a) || !wall.UpWithout(b) {
		t.Errorf("%s without a: %v, without b: %v", wall.Name, wall.UpWithout(a), wall.UpWithout(b))
	}
	if panel := mounts[8]; !panel.UpWithout(a, b) {
		t.Error("a panel needs no feed")
	}
	// Equipment that needs both inlets goes down with either feed.
	both := &Mount{Equipment: &Equipment{Inlets: []Inlet{{Count: 2, Needs: 2}}, Draw: Draw{Maximum: Is(100 * tw)}}, Feeds: []*Feed{a, b}}
	if l := SupplyOf([]*Mount{both}).Load(a, b); l.Power != 0 {
		t.Errorf("what needs both feeds still draws %v from one", l.Power)
	}
	// Two cords on one feed and one on the other share two to one.
	three := &Mount{Equipment: &Equipment{Inlets: []Inlet{{Count: 3, Needs: 1}}, Draw: Draw{Maximum: Is(300 * tw)}}, Feeds: []*Feed{a, a, b}}
	if l := SupplyOf([]*Mount{three}).Load(a); l.Power != 200*tw {
		t.Errorf("two of three cords carry %v of 300 W", l.Power)
	}
}

func TestSumsNameWhatTheyLeaveOut(t *testing.T) {
	known := &Mount{Name: "k", Equipment: &Equipment{Name: "k", Mass: Is(9 * quantity.Kilogram), Draw: Draw{Typical: Is(40 * tw), Maximum: Is(60 * tw)}}}
	dark := &Mount{Name: "d", Equipment: &Equipment{Name: "dark", Mass: Figure[quantity.Mass]{State: IsUnknown}, Inlets: []Inlet{{Count: 1}}}}
	rack := &Rack{Name: "r", Mounts: []*Mount{known, dark, {Name: "lost"}}}
	mass := rack.Mass()
	if mass.Known != 9*quantity.Kilogram || len(mass.Lacks) != 2 || mass.Whole() {
		t.Errorf("mass %v, lacks %v", mass.Known, mass.Lacks)
	}
	if want := "the mass of equipment.dark is unknown"; mass.Lacks[0].Why != want || mass.Lacks[0].Mount != dark {
		t.Errorf("lack %+v, want %q", mass.Lacks[0], want)
	}
	heat := rack.Heat()
	if heat.Known != 40*tw || heat.Because() != "the typical draw of equipment.dark is missing, and one more figure is not known" {
		t.Errorf("heat %v, %q", heat.Known, heat.Because())
	}
	// A feed is judged on the most that may be drawn, unless the site says otherwise.
	for choice, want := range map[string]quantity.Power{"": 60 * tw, "maximum": 60 * tw, "typical": 40 * tw} {
		if p, _, _ := known.Load(&Site{Load: choice}); p != want {
			t.Errorf("load with %q: %v, want %v", choice, p, want)
		}
	}
	typical := &Mount{Equipment: &Equipment{Name: "t", Draw: Draw{Typical: Is(40 * tw)}}}
	if _, _, why := typical.Load(nil); why != "the maximum draw of equipment.t is missing" {
		t.Errorf("a typical figure alone says %q", why)
	}
}

func TestFeedCurrent(t *testing.T) {
	tests := []struct {
		name  string
		feed  Feed
		power quantity.Power
		want  float64
	}{
		{"single phase", Feed{Voltage: Is(230 * tv), Phases: 1}, 3680 * tw, 16},
		{"three phases", Feed{Voltage: Is(208 * tv), Phases: 3}, 6180 * tw, 17.15},
		{"-48 V at its lowest", Feed{Voltage: Is(-48 * tv), Phases: 1}, 1000 * tw, 24.69},
		{"24 V", Feed{Voltage: Is(24 * tv), Phases: 1}, 240 * tw, 10},
	}
	for _, tt := range tests {
		i, why := tt.feed.Current(tt.power)
		if why != "" || math.Abs(i.Amperes()-tt.want) > 0.005 {
			t.Errorf("%s: %v (%s), want %g A", tt.name, i, why, tt.want)
		}
	}
	if _, why := (&Feed{Name: "x"}).Current(tw); why != "the voltage of feed.x is missing" {
		t.Errorf("a feed without voltage says %q", why)
	}
}
