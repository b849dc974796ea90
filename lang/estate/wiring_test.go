package estate

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"cagenut/lang/quantity"
)

// wired is a rack with a strip on feed a, a transfer switch on a and b, and a
// strip behind the transfer switch.
func wired() (e *Estate, a, b *Feed, rack *Rack) {
	a, b = &Feed{Name: "a", Origin: "ups"}, &Feed{Name: "b", Origin: "mains"}
	outlets := []OutletSet{{Type: "c13", Count: 4, Bank: "1"}, {Type: "c13", Count: 4, Bank: "2"}}
	strip := &Equipment{Name: "strip", Kind: "strip", Inlets: []Inlet{{Count: 1, Needs: 1}}, Outlets: outlets, Banks: []Bank{{Name: "1"}, {Name: "2"}}}
	transfer := &Equipment{Name: "transfer", Kind: "transfer-switch", Inlets: []Inlet{{Count: 2, Needs: 1}}, Outlets: outlets[:1]}
	rack = &Rack{Name: "r"}
	add := func(name string, q *Equipment, feeds []*Feed, cords ...Cord) *Mount {
		m := &Mount{Name: name, Rack: rack, Equipment: q, Cords: cords, Feeds: feeds}
		rack.Mounts = append(rack.Mounts, m)
		return m
	}
	one := &Equipment{Name: "one", Inlets: []Inlet{{Count: 1, Needs: 1}}, Draw: Draw{Maximum: Is(100 * quantity.Watt)}}
	two := &Equipment{Name: "two", Inlets: []Inlet{{Count: 2, Needs: 1}}, Draw: Draw{Maximum: Is(200 * quantity.Watt)}}
	add("strip-a", strip, []*Feed{a})
	add("transfer", transfer, []*Feed{a, b})
	add("strip-t", strip, nil, Cord{To: "transfer", Outlet: 1})
	add("direct", one, nil, Cord{To: "strip-a", Outlet: 5})
	add("behind", one, nil, Cord{To: "strip-t", Outlet: 1})
	add("both", two, nil, Cord{To: "strip-a", Outlet: 1}, Cord{To: "rack.r.strip-t", Outlet: 2})
	e = &Estate{Racks: []*Rack{rack}, Feeds: []*Feed{a, b}}
	e.FollowCords()
	return e, a, b, rack
}

func feedNames(in []LiveInlet) string {
	var names []string
	for _, i := range in {
		names = append(names, i.Feed.Name)
	}
	return fmt.Sprint(names)
}

func TestCordsAreFollowed(t *testing.T) {
	e, a, b, rack := wired()
	stripA, transfer := rack.Mount("strip-a"), rack.Mount("transfer")
	tests := []struct {
		mount string
		out   *Outage
		want  string
	}{
		{"direct", nil, "[a]"},
		{"direct", &Outage{Feeds: []*Feed{a}}, "[]"},
		{"direct", &Outage{Mounts: []*Mount{stripA}}, "[]"},
		{"behind", nil, "[a]"},
		{"behind", &Outage{Feeds: []*Feed{a}}, "[b]"},
		{"behind", &Outage{Feeds: []*Feed{a, b}}, "[]"},
		{"behind", &Outage{Mounts: []*Mount{transfer}}, "[]"},
		{"both", nil, "[a a]"},
		{"both", &Outage{Feeds: []*Feed{a}}, "[b]"},
		{"both", &Outage{Mounts: []*Mount{stripA}}, "[a]"},
	}
	for _, tt := range tests {
		if got := feedNames(e.Live(rack.Mount(tt.mount), tt.out)); got != tt.want {
			t.Errorf("%s with %+v lost: %s, want %s", tt.mount, tt.out, got, tt.want)
		}
	}
	if got := e.Live(rack.Mount("direct"), nil)[0]; got.Bank == nil || got.Bank.Name != "2" || got.Strip != stripA {
		t.Errorf("outlet 5 of strip-a hangs on %+v", got)
	}
	// Feeds follow from cords, one for each, and are what others look at.
	if both := rack.Mount("both"); len(both.Feeds) != 2 || both.Feeds[0] != a || both.Feeds[1] != a {
		t.Errorf("feeds of both: %v", both.Feeds)
	}
	s := e.Supply()
	if l := s.Load(a); l.Power != 400*quantity.Watt {
		t.Errorf("a carries %v", l.Power)
	}
	if l := s.Load(b, a); l.Power != 300*quantity.Watt {
		t.Errorf("b with a lost carries %v", l.Power)
	}
}

func TestCordsInALoopEnd(t *testing.T) {
	rack := &Rack{Name: "r"}
	strip := &Equipment{Kind: "strip", Outlets: []OutletSet{{Count: 4}}}
	x := &Mount{Name: "x", Rack: rack, Equipment: strip, Cords: []Cord{{To: "y"}}}
	y := &Mount{Name: "y", Rack: rack, Equipment: strip, Cords: []Cord{{To: "x"}}}
	rack.Mounts = []*Mount{x, y}
	e := &Estate{Racks: []*Rack{rack}}
	e.FollowCords()
	if len(x.Feeds) != 0 || len(e.Live(y, nil)) != 0 {
		t.Error("strips that feed each other feed nobody")
	}
}

func TestUpstream(t *testing.T) {
	grid := &PowerSource{Name: "grid", Kind: Utility}
	set := &PowerSource{Name: "set", Kind: Generator}
	board := &PowerSource{Name: "board", Kind: Board, From: []*PowerSource{grid}}
	ups := &PowerSource{Name: "ups", Kind: UPS, From: []*PowerSource{board, set}}
	main := &Breaker{Name: "main", Supply: ups}
	p1 := &Breaker{Name: "p1", From: main}
	f := &Feed{Name: "f", Breaker: p1}
	named := &Feed{Name: "g", Origin: "board"}
	free := &Feed{Name: "h", Origin: "somewhere"}
	e := &Estate{PowerSources: []*PowerSource{grid, set, board, ups}, Breakers: []*Breaker{main, p1}, Feeds: []*Feed{f, named, free}}
	refs := func(f *Feed) []string {
		var out []string
		for _, u := range e.Upstream(f) {
			out = append(out, u.Ref)
		}
		return out
	}
	for _, tt := range []struct {
		feed *Feed
		want []string
	}{
		{f, []string{"breaker.p1", "breaker.main", "source.ups", "source.board", "source.set", "source.grid"}},
		{named, []string{"source.board", "source.grid"}},
		{free, []string{"source somewhere"}},
	} {
		if got := refs(tt.feed); !slices.Equal(got, tt.want) {
			t.Errorf("upstream of %s: %v, want %v", tt.feed.Name, got, tt.want)
		}
	}
	for _, tt := range []struct {
		feed      *Feed
		ref       string
		now, late bool
	}{
		{f, "breaker.main", true, true},
		{f, "source.ups", true, true},
		{f, "source.board", false, false}, // the UPS has another supply
		{f, "source.grid", false, false},
		{named, "source.grid", true, true},
		{free, "source somewhere", true, true},
		{free, "source.grid", false, false},
	} {
		if now, late := e.DiesWith(tt.feed, tt.ref, false), e.DiesWith(tt.feed, tt.ref, true); now != tt.now || late != tt.late {
			t.Errorf("%s dies with %s: %v now, %v in the long run", tt.feed.Name, tt.ref, now, late)
		}
	}
	ups.From = ups.From[:1]
	if e.DiesWith(f, "source.grid", false) || !e.DiesWith(f, "source.grid", true) {
		t.Error("a UPS with one supply outlives it for a while only")
	}
	// A loop of sources ends.
	grid.From = []*PowerSource{ups}
	e.Upstream(f)
	e.DiesWith(f, "source.nothing", true)
}

// A strip behind another counts on the bank that it hangs on.
func TestBanksBehindBanks(t *testing.T) {
	e, a, b, rack := wired()
	for _, f := range []*Feed{a, b} {
		f.Voltage, f.Phases = Is(100*quantity.Volt), 1
	}
	transfer := rack.Mount("transfer").Equipment
	transfer.Banks = []Bank{{Name: "1"}}
	s := e.Supply()
	for _, tt := range []struct {
		strip string
		out   *Outage
		want  string
	}{
		{"strip-a", nil, "[1: 1 A 2: 1 A]"},
		{"strip-t", nil, "[1: 2 A]"},
		{"transfer", nil, "[1: 2 A]"},
		{"transfer", &Outage{Feeds: []*Feed{a}}, "[1: 3 A]"},
	} {
		banks, why := s.Banks(rack.Mount(tt.strip), tt.out)
		var got []string
		for _, l := range banks {
			got = append(got, l.Bank.Name+": "+l.Current.String())
		}
		if fmt.Sprint(got) != tt.want || why != "" {
			t.Errorf("banks of %s: %v (%s), want %s", tt.strip, got, why, tt.want)
		}
	}
}

// Whatever is lost, the feeds that are left carry together what the mounts that
// still run draw, and no lost feed carries anything.
func TestLoadsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var feeds []*Feed
		for i := range rapid.IntRange(1, 5).Draw(t, "feeds") {
			feeds = append(feeds, &Feed{Name: fmt.Sprint(i), Origin: fmt.Sprint(i % 2)})
		}
		var mounts []*Mount
		for range rapid.IntRange(0, 12).Draw(t, "mounts") {
			n := rapid.IntRange(1, 4).Draw(t, "cords")
			q := &Equipment{
				Inlets: []Inlet{{Count: n, Needs: rapid.IntRange(1, n).Draw(t, "needs")}},
				// Twelve is divisible by every count of cords, so nothing is rounded.
				Draw: Draw{Maximum: Is(12 * quantity.Power(rapid.IntRange(0, 50).Draw(t, "draw")) * quantity.Watt)},
			}
			m := &Mount{Equipment: q}
			for range n {
				m.Feeds = append(m.Feeds, rapid.SampledFrom(feeds).Draw(t, "feed"))
			}
			mounts = append(mounts, m)
		}
		var lost []*Feed
		for _, f := range feeds {
			if rapid.Bool().Draw(t, "lost") {
				lost = append(lost, f)
			}
		}
		s := SupplyOf(mounts)
		var want, got quantity.Power
		for _, m := range mounts {
			if len(lost) == 0 || m.UpWithout(lost...) {
				want += m.Equipment.Draw.Maximum.Value
			}
		}
		for _, f := range s.Feeds() {
			l := s.Load(f, lost...)
			if slices.Contains(lost, f) && l.Power != 0 {
				t.Fatalf("feed %s is lost and carries %v", f.Name, l.Power)
			}
			got += l.Power
		}
		if got != want {
			t.Fatalf("the feeds carry %v and the mounts draw %v", got, want)
		}
		// The feeds that several lost ones reach together are among those that rise.
		o := &Outage{Feeds: lost}
		all := s.RisingIn(o)
		for _, l := range s.RisingJointly(o) {
			if !slices.ContainsFunc(all, func(r Load) bool { return r.Feed == l.Feed && r.Power == l.Power }) {
				t.Fatalf("feed %s rises jointly to %v, and not at all", l.Feed.Name, l.Power)
			}
		}
		// ... and every other one carries what it carries with one of them lost.
		for _, r := range all {
			if slices.ContainsFunc(s.RisingJointly(o), func(l Load) bool { return l.Feed == r.Feed }) {
				continue
			}
			single := false
			for _, f := range lost {
				single = single || s.Load(r.Feed, f).Power == r.Power
			}
			if !single {
				t.Fatalf("feed %s rises to %v, which no lost feed alone explains", r.Feed.Name, r.Power)
			}
		}
	})
}
