package sequence_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lint/sequence"
)

// What stands before the rack while a lift is there is printed against the
// floor's ratings, where both are declared.
func TestFloorBeforeTheRack(t *testing.T) {
	const decides = ". A screening sum that spreads nothing and adds nothing for a jolt: who answers for the floor, a structural engineer, decides."
	const thing = "  mass = \"38 kg\"\n"
	const lift = "  people = 2\n  lift = true\n  lift_mass = \"95 kg\"\n"
	tests := []struct{ name, thing, window, room, want string }{
		// 95 + 38 + 2 x 100 = 333 kg, x 9.80665 = 3265.6 N.
		{"a tile that bears it", thing, lift, "  tile_load = \"4 kN\"\n", "Before the rack: lift 95 kg, p 38 kg and 2 people at 100 kg, all on one tile: 3266 N of the 4000 N that a tile of room.r may carry" + decides},
		{"a tile that does not", thing, lift, "  tile_load = \"3 kN\"\n", "Before the rack: lift 95 kg, p 38 kg and 2 people at 100 kg, all on one tile: 3266 N, more than the 3000 N that a tile of room.r may carry: not without an engineer's word" + decides},
		// (95 + 38) / 2 = 66.5 kg, x 9.80665 = 652.1 N.
		{"a point", thing, lift, "  point_load = \"4.4 kN\"\n", "Before the rack: half of lift and load under one wheel: 652 N of the 4400 N that a point of room.r may carry" + decides},
		{"both, one unknown", thing, lift, "  tile_load = unknown\n  point_load = \"600 N\"\n", "Before the rack: lift 95 kg, p 38 kg and 2 people at 100 kg, all on one tile: 3266 N; what a tile of room.r may carry is unknown: not checked; " +
			"half of lift and load under one wheel: 652 N, more than the 600 N that a point of room.r may carry: not without an engineer's word" + decides},
		// Above 55 kg somebody watches: 95 + 60 + 3 x 100 = 455 kg, 4462.0 N.
		{"one who watches stands there as well", "  mass = \"60 kg\"\n", lift, "  tile_load = \"4461 N\"\n", "Before the rack: lift 95 kg, p 60 kg and 3 people at 100 kg, all on one tile: 4462 N, more than the 4461 N that a tile of room.r may carry: not without an engineer's word" + decides},
		{"an unknown lift", thing, "  lift_mass = unknown\n", "  tile_load = \"4 kN\"\n", "The floor before the rack is not checked: the mass of the lift of window.w is unknown. Ask who answers for the floor."},
		{"a lift of which nothing is said", thing, "  lift = true\n", "  tile_load = \"1 kN\"\n", ""},
		{"a floor of which nothing is said", thing, lift, "", ""},
		{"nothing that takes a lift", "  mass = \"8 kg\"\n", lift, "  tile_load = \"1 kN\"\n", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			before, after := lifted("", tt.thing, liftWindow(tt.window), tt.room)
			for _, o := range []sequence.Options{{}, {From: at(t, "2026-11-25T00:00:00Z")}} {
				p := planFor(t, load(t, before), load(t, after), o)
				got := append(withCaution(p, "Before the rack: "), withCaution(p, "The floor before")...)
				var want []string
				if tt.want != "" {
					want = []string{tt.want, tt.want} // out and in
				}
				if diff := cmp.Diff(want, got); diff != "" {
					t.Errorf("cautions differ (-want +got):\n%s", diff)
				}
			}
		})
	}
}
