package sequence_test

import (
	"fmt"
	"strings"
	"testing"

	"cagenut/lint/sequence"
)

// What is brought and what is taken away go by the routes of their rooms: racks
// with their crates or without, heavy things, like ones together.
func TestWays(t *testing.T) {
	const common = `
route "dock" {
  gate "door" { width = "1200 mm" }
}
route "yard" {
  gate "hatch" { rated = "500 kg" }
}
room "hq" { routes = [route.dock] }
room "shed" { routes = [route.dock, route.yard] }
room "attic" {}
row "hq" { room = room.hq }
row "shed" { room = room.shed }
row "attic" { room = room.attic }
frame "cab" {
  system = "19in"
  units  = 42
  mass   = "118 kg"
  crate  = { width = "800 mm", depth = "1200 mm", height = "2150 mm", mass = "32 kg" }
}
frame "open" {
  system = "19in"
  units  = 42
  mass   = "40 kg"
}
equipment "store" {
  height = "4U"
  mass   = "60 kg"
}
equipment "light" {
  height = "1U"
  mass   = "24 kg"
}
`
	rack := func(name, row, frame, more string) string {
		return fmt.Sprintf("rack %q {\n  row   = row.%s\n  place = 1\n  frame = frame.%s\n%s}\n", name, row, frame, more)
	}
	const stores = "  stack \"store\" {\n    from      = 1\n    count     = 2\n    equipment = equipment.store\n  }\n  mount \"light\" {\n    at        = 20\n    equipment = equipment.light\n  }\n"
	for _, tt := range []struct{ name, before, after, want string }{
		{"a new rack in its crate, and what is heavy", "", rack("a", "hq", "cab", stores),
			"in hq by dock: rack.a 150 kg\nin hq by dock: rack.a.store-1 rack.a.store-2 60 kg"},
		{"one that comes loaded", "", rack("a", "hq", "open", "  comes = \"loaded\"\n"+stores), "in hq by dock: rack.a 191.2 kg"},
		{"a rack that goes, out of its crate, by either route", rack("a", "shed", "cab", ""), "",
			"out shed by dock: rack.a 118 kg\nout shed by yard: rack.a 118 kg"},
		{"a heavy thing that goes", rack("a", "hq", "open", stores), rack("a", "hq", "open", ""), "out hq by dock: rack.a.store-1 rack.a.store-2 60 kg"},
		{"an empty rack that goes elsewhere", rack("a", "hq", "cab", ""), rack("a", "shed", "cab", ""),
			"out hq by dock: rack.a 118 kg\nin shed by dock: rack.a 118 kg\nin shed by yard: rack.a 118 kg"},
		{"another frame", rack("a", "hq", "open", ""), rack("a", "hq", "cab", ""), "out hq by dock: rack.a 40 kg\nin hq by dock: rack.a 150 kg"},
		{"a room without routes", "", rack("a", "attic", "cab", stores), ""},
		{"nothing heavy", rack("a", "hq", "open", ""), rack("a", "hq", "open", "  mount \"light\" {\n    at = 1\n    equipment = equipment.light\n  }\n"), ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := plan(t, "-- before/a.hcl --\n"+common+tt.before+"-- after/a.hcl --\n"+common+tt.after, sequence.Options{})
			var got []string
			for _, w := range p.Ways() {
				way := "in"
				if w.Out {
					way = "out"
				}
				got = append(got, fmt.Sprintf("%s %s by %s: %s %s", way, w.Room.Name, w.Route.Name, strings.Join(w.Things, " "), w.Cargo.Mass))
			}
			if got := strings.Join(got, "\n"); got != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}
