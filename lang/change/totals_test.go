package change

import (
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

// TestDeltas moves a server of 450 W and 28 kg from one rack to another. The
// sums are plain arithmetic: 450 W on two feeds is 225 W on each, and 450 W on
// one where the other is lost; 80 % of 16 A is 12.8 A.
func TestDeltas(t *testing.T) {
	u19, ok := system.ByName("19in")
	if !ok {
		t.Fatal("no system 19in")
	}
	build := func(to string, at int) *estate.Estate {
		site := &estate.Site{Name: "quay", Continuous: estate.Is(0.8)}
		room := &estate.Room{Name: "hq", Site: site}
		row := &estate.Row{Name: "hq-1", Room: room}
		frame := &estate.Frame{Name: "cab", System: u19, Units: 10, First: 1, Counted: estate.CountedUp, Rated: estate.Is(500 * quantity.Kilogram)}
		server := &estate.Equipment{
			Name: "server", System: u19, Mass: estate.Is(28 * quantity.Kilogram),
			Height: estate.Height{Count: estate.Units(2), Word: "U", Length: 2 * quantity.RackUnit, State: estate.IsGiven},
			Draw:   estate.Draw{Maximum: estate.Is(450 * quantity.Watt)},
			Inlets: []estate.Inlet{{Type: "c14", Count: 2, Needs: 1}},
		}
		e := &estate.Estate{}
		for _, name := range []string{"a", "b"} {
			e.Feeds = append(e.Feeds, &estate.Feed{Name: name, Room: room, Voltage: estate.Is(230 * quantity.Volt), Phases: 1, Rated: estate.Is(16 * quantity.Ampere)})
		}
		for _, name := range []string{"r1", "r2", "r3"} {
			e.Racks = append(e.Racks, &estate.Rack{Name: name, Row: row, Frame: frame, Feeds: e.Feeds})
		}
		r := e.Rack(to)
		r.Mounts = []*estate.Mount{{Name: "s1", Rack: r, Equipment: server, At: estate.Units(at), Feeds: e.Feeds, Serial: "BW-1"}}
		r.Reserves = []*estate.Reserve{{Name: "growth", Rack: r, Units: estate.UnitRange{From: estate.Units(9), To: estate.Units(10)}}}
		return e
	}
	deltas := Between(build("r1", 3), build("r2", 5)).Deltas()
	if len(deltas) != 2 || deltas[0].Rack().Name != "r1" || deltas[1].Rack().Name != "r2" {
		t.Fatalf("Deltas() = %v, want one of r1 and one of r2", deltas)
	}
	was, is := deltas[0], deltas[1]
	if got := was.Before.Mass.Known; got != 28*quantity.Kilogram {
		t.Errorf("r1 before: mass %v, want 28 kg", got)
	}
	if got := was.After.Mass.Known; got != 0 {
		t.Errorf("r1 after: mass %v, want none", got)
	}
	// r2 holds the server at 5-6 and has 9-10 held: 1-4 and 7-8 are free.
	a := is.After
	if a.Units != 10 || a.Free != 6 || a.Held != 2 || a.Gap != (estate.Extent{Top: 4 * quantity.RackUnit}) {
		t.Errorf("r2 after: units %d, free %d, held %d, gap %v; want 10, 6, 2, 1-4", a.Units, a.Free, a.Held, a.Gap)
	}
	if len(a.Feeds) != 2 {
		t.Fatalf("r2 after: %d feeds, want 2", len(a.Feeds))
	}
	f := a.Feeds[0]
	if f.Normal.Power != 225*quantity.Watt || f.Lost.Power != 450*quantity.Watt || f.Gone == nil || f.Gone.Name != "b" {
		t.Errorf("feed a: normal %v, lost %v with %v; want 225 W, 450 W with b lost", f.Normal.Power, f.Lost.Power, f.Gone)
	}
	if limit := f.Limit.Value; limit != 12_800*quantity.Milliampere {
		t.Errorf("feed a: limit %v, want 12.8 A", limit)
	}
}
