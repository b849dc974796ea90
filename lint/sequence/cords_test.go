package sequence_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lint/sequence"
)

// corded is an estate with a rack of 42U: two strips beside the posts whose
// outlet 1 is 80 mm up and whose others follow every 40 mm, and mounts. A server
// at Un has its inlets n x 44.45 mm up, and 40 + 250 + 200 mm are needed beside
// the height.
func corded(strips string, mounts ...string) string {
	if strips == "" {
		strips = bothStrips
	}
	return `room "r" {
  ROOM
}
row "w" {
  room = room.r
  ROW
}
frame "f" {
  system    = "19in"
  kind      = "four-post"
  units     = 42
  post_span = "740 mm"
}
feed "a" {
  source = "ups"
}
feed "b" {
  source = "mains"
}
equipment "strip" {
  kind    = "strip"
  height  = "1750 mm"
  mass    = "4 kg"
  inlets  = { type = "c20", count = 1, needs = 1 }
  outlets = { type = "c13", count = 20, from = "80 mm", pitch = "40 mm" }
}
equipment "server" {
  kind     = "server"
  height   = "2U"
  depth    = "700 mm"
  mass     = "10 kg"
  mounting = "ears"
  inlets   = { type = "c14", count = 2, needs = 1 }
}
equipment "modem" {
  height   = "2U"
  depth    = "700 mm"
  mass     = "3 kg"
  mounting = "ears"
  inlets   = { type = "c14", count = 1, needs = 1 }
}
rack "x" {
  row   = row.w
  frame = frame.f
` + strips + strings.Join(mounts, "") + "}\n"
}

const bothStrips = `  zero_u "strip-a" {
    equipment = equipment.strip
    side      = "left"
    from      = "0 mm"
    feeds     = [feed.a]
  }
  zero_u "strip-b" {
    equipment = equipment.strip
    side      = "right"
    from      = "0 mm"
    feeds     = [feed.b]
  }
`

// on writes a mount with cords.
func on(name, equipment string, at int, cords ...string) string {
	return fmt.Sprintf("  mount %q {\n    at        = %d\n    equipment = equipment.%s\n    cords     = [%s]\n  }\n", name, at, equipment, strings.Join(cords, ", "))
}

// cord writes a cord to an outlet, and more of it.
func cord(to string, outlet int, more string) string {
	return fmt.Sprintf(`{ to = %q, outlet = %d%s }`, to, outlet, more)
}

// said gives what a plan says of cords, levels and rules in front; only of those
// rules that begin like one of the groups.
func said(p *sequence.Plan, rules ...string) (out []string) {
	for _, f := range p.Findings {
		for _, r := range rules {
			if strings.HasPrefix(f.Rule, r) {
				out = append(out, fmt.Sprintf("%s %s: %s", f.Level, f.Rule, f.Message))
			}
		}
	}
	for _, u := range p.Unchecked {
		for _, r := range rules {
			if strings.HasPrefix(u.Rule, r) {
				out = append(out, fmt.Sprintf("not judged %s: %s", u.Rule, u.Because))
			}
		}
	}
	return out
}

// byDay gives the daytime work of some tasks.
func byDay(p *sequence.Plan, tasks ...sequence.Task) (out []string) {
	for i := range p.Daytime {
		for _, t := range tasks {
			if p.Daytime[i].Task == t {
				out = append(out, p.Daytime[i].Do)
			}
		}
	}
	return out
}

func TestCordsAtTheirNewEnds(t *testing.T) {
	long := func(l string) string { return fmt.Sprintf(", length = %q", l) }
	both := func(outlet int, more string) []string {
		return []string{cord("strip-a", outlet, more), cord("strip-b", outlet, more)}
	}
	measured := `, length = "2 m", needed = { is = "700 mm", basis = "measured", on = "2026-03-02" }`
	again := `, length = "2 m", needed = { is = "1600 mm", basis = "measured", on = "2026-11-20" }`
	moved := strings.Replace(bothStrips, `side      = "right"`+"\n    from      = \"0 mm\"", `side      = "right"`+"\n    plane     = \"front\"\n    from      = \"0 mm\"", 1)
	tests := []struct {
		name          string
		before, after string
		says, lays    []string
	}{
		{
			name:   "reaches as it is",
			before: corded("", on("n", "server", 2, both(2, long("2 m"))...)),
			after:  corded("", on("n", "server", 20, both(2, long("2 m"))...)),
		},
		{
			name:   "the ends are further apart in height than it is long",
			before: corded("", on("n", "modem", 2, cord("strip-a", 2, long("1 m")))),
			after:  corded("", on("n", "modem", 30, cord("strip-a", 2, long("1 m")))),
			says: []string{"error plan/cord-short: with n moved from x front U2-3 to x front U30-31, cord 1 of n, to outlet 2 of strip-a, " +
				"is 1000 mm long, and its ends are at least 1169 mm apart in height: 169 mm short; one of 2000 mm would do"},
		},
		{
			name:   "shorter than an estimate only",
			before: corded("", on("n", "modem", 2, cord("strip-a", 2, long("1 m")))),
			after:  corded("", on("n", "modem", 20, cord("strip-a", 2, long("1 m")))),
			says: []string{"warning plan/cord-short: with n moved from x front U2-3 to x front U20-21, cord 1 of n, to outlet 2 of strip-a, " +
				"is 1000 mm long, and some 1259 mm are needed (769 mm in height, 40 mm in depth, 250 mm to the side and 200 mm of loops): 259 mm short; one of 1500 mm would do"},
		},
		{
			name:   "longer cords with the move",
			before: corded("", on("n", "server", 2, both(2, long("1 m"))...)),
			after:  corded("", on("n", "server", 20, cord("strip-a", 2, long("1.5 m")), cord("strip-b", 2, `, length = "2 m", plug = "c14", socket = "c13", locking = true`))),
			lays: []string{"Lay out the new supply cords of n, checked for length, and tie them off: cord 1, 1500 mm, to outlet 2 of strip-a; " +
				"cord 2, 2000 mm, plug c14, socket c13, locking, to outlet 2 of strip-b."},
		},
		{
			name:   "no length is declared",
			before: corded("", on("n", "server", 2, both(2, "")...)),
			after:  corded("", on("n", "server", 20, both(2, "")...)),
			says: []string{"note plan/cord-unread: with n moved from x front U2-3 to x front U20-21, the lengths of cords 1 and 2 of n are not declared: " +
				"whether they reach is found out in the window; by an estimate the longer way takes some 1259 mm; read what is printed on them before, and write length"},
			lays: []string{"Read the lengths of cords 1 and 2 of n, and measure their ways with n in its new place: no length is declared; by an estimate the longer way takes some 1259 mm."},
		},
		{
			name:   "measured in the old place",
			before: corded("", on("n", "modem", 2, cord("strip-a", 2, measured))),
			after:  corded("", on("n", "modem", 20, cord("strip-a", 2, measured))),
			says: []string{"warning plan/cord-unread: with n moved from x front U2-3 to x front U20-21, the way of cord 1 of n is another one: " +
				"the 700 mm needed are those of before; by an estimate it now takes some 1259 mm; measure again, and write needed"},
			lays: []string{"Read the length of cord 1 of n, and measure its way anew: the 700 mm of the record are those of before n moves; by an estimate it now takes some 1259 mm."},
		},
		{
			name:   "measured again",
			before: corded("", on("n", "modem", 2, cord("strip-a", 2, measured))),
			after:  corded("", on("n", "modem", 20, cord("strip-a", 2, again))),
		},
		{
			name:   "the strip moves to the front posts, and what hangs on it stays",
			before: corded("", on("n", "server", 2, both(2, long("1 m"))...)),
			after:  corded(moved, on("n", "server", 2, both(2, long("1 m"))...)),
			says: []string{"warning plan/cord-short: with strip-b moved from x rear posts 0 mm to 1750 mm at the right to x front posts 0 mm to 1750 mm at the right, cord 2 of n, to outlet 2 of strip-b, " +
				"is 1000 mm long, and some 1182 mm are needed (32 mm in height, 700 mm in depth, 250 mm to the side and 200 mm of loops): 182 mm short; one of 1500 mm would do"},
		},
		{
			name:   "another outlet further away, with the cord that is there",
			before: corded("", on("n", "server", 2, both(2, long("1 m"))...)),
			after:  corded("", on("n", "server", 2, cord("strip-a", 20, long("1 m")), cord("strip-b", 2, long("1 m")))),
			says: []string{"warning plan/cord-short: with the cords of n changed, cord 1 of n, to outlet 20 of strip-a, " +
				"is 1000 mm long, and some 1242 mm are needed (752 mm in height, 40 mm in depth, 250 mm to the side and 200 mm of loops): 242 mm short; one of 1500 mm would do"},
		},
		{
			name:   "comes new, one cord without a length",
			before: corded(""),
			after:  corded("", on("n", "server", 10, cord("strip-a", 2, long("1 m")), cord("strip-b", 2, ""))),
			lays: []string{"Lay out the new supply cords of n, checked for length, and tie them off: cord 1, 1000 mm, to outlet 2 of strip-a; " +
				"cord 2, length not declared, some 815 mm needed, to outlet 2 of strip-b."},
		},
		{
			name:   "stays where it is",
			before: corded("", on("n", "server", 2, both(2, long("300 mm"))...)),
			after:  corded("", on("n", "server", 2, both(2, long("300 mm"))...), on("m", "modem", 30, cord("strip-a", 9, long("2 m")))),
			lays:   []string{"Lay out the new supply cord of m, checked for length, and tie it off: cord 1, 2000 mm, to outlet 9 of strip-a."},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := planFor(t, load(t, map[string]string{"a.hcl": plainRoom(tt.before)}), load(t, map[string]string{"a.hcl": plainRoom(tt.after)}), sequence.Options{})
			if diff := cmp.Diff(tt.says, said(p, "plan/cord")); diff != "" {
				t.Errorf("what is said of cords differs (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.lays, byDay(p, sequence.LayCord, sequence.ReadCord)); diff != "" {
				t.Errorf("daytime work differs (-want +got):\n%s", diff)
			}
		})
	}
}

// plainRoom says nothing more of the room and the row.
func plainRoom(text string) string { return inRoom(text, "", "") }

// inRoom says more of the room and the row of a corded rack.
func inRoom(text, room, row string) string {
	return strings.NewReplacer("  ROOM\n", room, "  ROW\n", row).Replace(text)
}

func TestCordsWalkedInPlace(t *testing.T) {
	before := corded("", on("n", "server", 2, cord("strip-a", 2, `, length = "1 m"`), cord("strip-b", 2, "")),
		on("m", "modem", 10, cord("strip-a", 3, `, length = "1 m"`)), on("k", "server", 20, cord("strip-a", 12, "")))
	tests := []struct {
		name          string
		after         string
		jobs          []string
		steps, labels []string
		paper         []string
	}{
		{
			name: "a longer cord, and one to another outlet",
			after: corded("", on("n", "server", 2, cord("strip-a", 2, `, length = "1.5 m"`), cord("strip-b", 4, "")),
				on("m", "modem", 10, cord("strip-a", 3, `, length = "1 m"`)), on("k", "server", 20, cord("strip-a", 12, ""))),
			jobs: []string{"re-feed n: another cord 1 to outlet 2 of strip-a, cord 2 from outlet 2 of strip-b to outlet 4 of strip-b"},
			steps: []string{
				"Take cord 1 of n, 1000 mm, off outlet 2 of strip-a (feed a), put the new one, 1500 mm, on at outlet 2 of strip-a (feed a), and check it.",
				"Move cord 2 of n from outlet 2 of strip-b (feed b) to outlet 4 of strip-b (feed b), and check it.",
			},
			labels: []string{"Label cords 1 and 2 of n at both ends."},
		},
		{
			name: "the only cord of a thing: it goes down",
			after: corded("", on("n", "server", 2, cord("strip-a", 2, `, length = "1 m"`), cord("strip-b", 2, "")),
				on("m", "modem", 10, cord("strip-b", 3, `, length = "1 m"`)), on("k", "server", 20, cord("strip-a", 12, ""))),
			jobs: []string{"re-feed m: cord 1 from outlet 3 of strip-a to outlet 3 of strip-b"},
			steps: []string{
				"Hand over the service of m: it goes down while its only cord is moved.",
				"Move cord 1 of m from outlet 3 of strip-a (feed a) to outlet 3 of strip-b (feed b), and check it.",
				"Start m and check its service.",
			},
			labels: []string{"Label cord 1 of m at both ends."},
		},
		{
			name: "a second cord comes, and one goes",
			after: corded("", on("n", "server", 2, cord("strip-a", 2, `, length = "1 m"`)),
				on("m", "modem", 10, cord("strip-a", 3, `, length = "1 m"`)), on("k", "server", 20, cord("strip-a", 12, ""), cord("strip-b", 12, `, length = "2 m"`))),
			jobs: []string{"re-feed n: cord 2 off outlet 2 of strip-b", "re-feed k: cord 2 on at outlet 12 of strip-b"},
			steps: []string{
				"Take cord 2 of n off outlet 2 of strip-b (feed b).",
				"Put the new cord 2 of k, 2000 mm, on at outlet 12 of strip-b (feed b), and check it.",
			},
			labels: []string{"Label cord 2 of k at both ends."},
		},
		{
			name: "what is told at last is no work",
			after: corded("", on("n", "server", 2, cord("strip-a", 2, `, length = "1 m", locking = true`), cord("strip-b", 2, `, length = "1 m", needed = "800 mm"`)),
				on("m", "modem", 10, cord("strip-a", 3, `, length = "1 m"`)), on("k", "server", 20, cord("strip-a", 12, ""))),
			paper: []string{"rack.x.n: the record alone changes (cords to strip-a outlet 2, 1000 mm, to strip-b outlet 2 -> to strip-a outlet 2, 1000 mm, locking, to strip-b outlet 2, 1000 mm, needed 800 mm)"},
		},
		{
			name: "a strip on another feed: its loads keep their cords",
			after: corded(strings.Replace(bothStrips, "[feed.a]", "[feed.b]", 1), on("n", "server", 2, cord("strip-a", 2, `, length = "1 m"`), cord("strip-b", 2, "")),
				on("m", "modem", 10, cord("strip-a", 3, `, length = "1 m"`)), on("k", "server", 20, cord("strip-a", 12, ""))),
			jobs: []string{"re-feed strip-a from a to b"},
			steps: []string{
				"Hand over the service of strip-a: it goes down while its only cord is moved.",
				"Move a cord of strip-a from feed a to feed b and check it.",
				"Start strip-a and check its service.",
			},
			paper: []string{
				"rack.x.n: its cords stay, and what they lead to changes (feeds feed.a, feed.b -> feed.b, feed.b)",
				"rack.x.m: its cords stay, and what they lead to changes (feeds feed.a -> feed.b)",
				"rack.x.k: its cords stay, and what they lead to changes (feeds feed.a -> feed.b)",
			},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := planFor(t, load(t, map[string]string{"a.hcl": plainRoom(before)}), load(t, map[string]string{"a.hcl": plainRoom(tt.after)}), sequence.Options{})
			var jobs []string
			for _, j := range p.Jobs {
				jobs = append(jobs, j.String())
			}
			if diff := cmp.Diff(tt.jobs, jobs); diff != "" {
				t.Errorf("jobs differ (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.steps, dos(p, sequence.HandOver, sequence.PowerOn, sequence.CordsOff, sequence.Service)); diff != "" {
				t.Errorf("steps differ (-want +got):\n%s", diff)
			}
			if tt.labels != nil {
				if diff := cmp.Diff(tt.labels, byDay(p, sequence.LabelCord)); diff != "" {
					t.Errorf("labels differ (-want +got):\n%s", diff)
				}
			}
			if diff := cmp.Diff(tt.paper, p.Record); diff != "" {
				t.Errorf("what is on paper only differs (-want +got):\n%s", diff)
			}
		})
	}
}

// Supply cords that stay in the rack pass no fire seal; data cords do.
func TestCordsInTheRackPassNoSeal(t *testing.T) {
	sealed := func(text string) map[string]string {
		return map[string]string{"a.hcl": inRoom(text, "", "  seals = [\"FS-1\"]\n")}
	}
	walk := planFor(t, load(t, sealed(corded("", on("n", "server", 2, cord("strip-a", 2, ""), cord("strip-b", 2, ""))))),
		load(t, sealed(corded("", on("n", "server", 2, cord("strip-a", 3, ""), cord("strip-b", 2, ""))))), sequence.Options{})
	if got := sealSteps(t, walk); len(got) > 0 {
		t.Errorf("a cord walked within the rack: %q", got)
	}
	fit := planFor(t, load(t, sealed(corded(""))), load(t, sealed(corded("", on("n", "server", 2, cord("strip-a", 2, ""), cord("strip-b", 2, ""))))), sequence.Options{})
	var order []string
	for i := range fit.Steps {
		switch s := &fit.Steps[i]; s.Task {
		case sequence.PowerOn, sequence.OpenSeal, sequence.DataOn, sequence.RemakeSeal:
			order = append(order, string(s.Task))
		}
	}
	if got, want := strings.Join(order, " "), "power_on power_on open_seal data_on remake_seal"; got != want {
		t.Errorf("what comes is put on in the order %s, want %s", got, want)
	}
	if lays := byDay(fit, sequence.LayCord); len(lays) != 1 || strings.Contains(lays[0], "seal") {
		t.Errorf("cords laid out by day: %q", lays)
	}
}

// Between two windows the record tells the cords as they are then.
func TestCordsOfARestingState(t *testing.T) {
	text := func(n, m string) map[string]string {
		return map[string]string{"a.hcl": plainRoom(corded("", on("n", "modem", 2, cord("strip-a", 2, n)), on("m", "modem", 10, cord("strip-a", 3, m))))}
	}
	before, after := text(`, length = "1 m"`, `, length = "1 m"`), text(`, length = "2 m"`, `, length = "2 m"`)
	p := planFor(t, load(t, before), load(t, after), sequence.Options{})
	if len(p.Blocks) != 2 {
		t.Fatalf("%d blocks", len(p.Blocks))
	}
	first := p.Blocks[0].Jobs[0].Name
	files, err := p.RestingFiles(p.Blocks[0].To, before, after)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range load(t, files).Rack("x").Mounts {
		if len(m.Cords) == 0 {
			continue
		}
		want := "1000 mm"
		if m.Name == first {
			want = "2000 mm"
		}
		if got := m.Cords[0].Length.Value.String(); got != want {
			t.Errorf("after the first block %s has a cord of %s, want %s", m.Name, got, want)
		}
	}
}

// A thing is parked where its cords reach; where they reach no free units, the
// plan says so.
func TestParkedWithinReach(t *testing.T) {
	swap := func(p, q, blockFrom, blockUnits int) map[string]string {
		long := `, length = "1 m"`
		text := plainRoom(corded("", on("p", "server", p, cord("strip-a", 2, long), cord("strip-b", 2, long)), on("q", "server", q, cord("strip-a", 3, long), cord("strip-b", 3, long)),
			fmt.Sprintf("  mount \"block\" {\n    at        = %d\n    equipment = equipment.block\n  }\n", blockFrom)))
		return map[string]string{"a.hcl": text + fmt.Sprintf("equipment \"block\" {\n  height   = \"%dU\"\n  depth    = \"700 mm\"\n  mass     = \"30 kg\"\n  mounting = \"ears\"\n}\n", blockUnits)}
	}
	near := planFor(t, load(t, swap(1, 3, 7, 32)), load(t, swap(3, 1, 7, 32)), sequence.Options{})
	if len(near.Parked) != 1 || near.Parked[0].Where != "x front U5-6" || len(said(near, "plan/unsafe-step")) > 0 {
		t.Errorf("with U5-6 and U39-42 free: parked %+v, %q", near.Parked, said(near, "plan/unsafe-step"))
	}
	far := planFor(t, load(t, swap(1, 3, 5, 34)), load(t, swap(3, 1, 5, 34)), sequence.Options{})
	got := said(far, "plan/unsafe-step")
	if len(far.Parked) != 1 || len(got) == 0 || !strings.Contains(got[0], "power/cord-short does not hold: cord 1 of ") {
		t.Errorf("with U39-42 free: parked %+v, %q", far.Parked, got)
	}
}
