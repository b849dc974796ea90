package sequence_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"cagenut/examples"
	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint/rules"
	"cagenut/lint/sequence"
)

// load reads an estate from files and refuses any mistake in them.
func load(t testing.TB, files map[string]string) *estate.Estate {
	t.Helper()
	e, diags, err := lang.Load(context.Background(), source.Memory("test", files), lang.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		t.Errorf("%v", d)
	}
	if len(diags) > 0 {
		t.FailNow()
	}
	return e
}

// archive gives the files of a text archive below a folder, over those of no
// folder.
func archive(text, folder string) map[string]string {
	files := map[string]string{}
	for _, f := range txtar.Parse([]byte(text)).Files {
		dir, name, ok := strings.Cut(f.Name, "/")
		switch {
		case !ok:
			files[f.Name] = string(f.Data)
		case dir == folder:
			files[name] = string(f.Data)
		}
	}
	return files
}

// plan plans the change of a text archive from before/ to after/.
func plan(t testing.TB, text string, o sequence.Options) *sequence.Plan {
	t.Helper()
	return planFor(t, load(t, archive(text, "before")), load(t, archive(text, "after")), o)
}

func planFor(t testing.TB, before, after *estate.Estate, o sequence.Options) *sequence.Plan {
	t.Helper()
	if o.Rules == nil {
		o.Rules = rules.All()
	}
	p, err := sequence.Make(context.Background(), change.Between(before, after), o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// ferry gives the ferry line's estate as it is on a branch.
func ferry(t testing.TB, branch string) *estate.Estate {
	t.Helper()
	commits, err := examples.FerryHistory()
	if err != nil {
		t.Fatal(err)
	}
	tips := map[string]map[string]string{"main": {}}
	for _, c := range commits {
		if tips[c.Branch] == nil {
			tips[c.Branch] = map[string]string{}
			for name, text := range tips[c.From] {
				tips[c.Branch][name] = text
			}
		}
		for _, f := range c.Files {
			tips[c.Branch][f.Name] = string(f.Data)
		}
	}
	return load(t, tips[branch])
}

// dos gives what the steps of some tasks do, for tests of order.
func dos(p *sequence.Plan, tasks ...sequence.Task) []string {
	var out []string
	for i := range p.Steps {
		if len(tasks) == 0 || slices.Contains(tasks, p.Steps[i].Task) {
			out = append(out, p.Steps[i].Do)
		}
	}
	return out
}

// small is an estate with two racks of 12 units, and things of 1U and 2U.
const small = `
-- estate.hcl --
estate "small" {
  language = 1
  rules    = "2026.1"
}
-- kit.hcl --
site "s" { zone = "Europe/Tallinn" }
room "r" { site = site.s }
row "w" {
  room  = room.r
  front = "cold"
}
frame "f" {
  system    = "19in"
  kind      = "four-post"
  units     = UNITS
  counted   = "up"
  holes     = "square"
  post_span = "740 mm"
  base      = "100 mm"
  mass      = "60 kg"
  rated     = "600 kg"
  fixed     = "anchored"
}
equipment "one" {
  kind     = "switch"
  system   = "19in"
  height   = "1U"
  depth    = "400 mm"
  mass     = "5 kg"
  mounting = "ears"
  inlets   = { type = "c14", count = 1, needs = 1 }
}
equipment "two" {
  kind     = "server"
  system   = "19in"
  height   = "2U"
  depth    = "700 mm"
  mass     = "20 kg"
  mounting = "slides"
  rails    = { from = "600 mm", to = "900 mm" }
  holes    = ["square"]
  draw     = "300 W"
  inlets   = { type = "c14", count = 2, needs = 1 }
}
feed "a" {
  room    = room.r
  source  = "ups"
  voltage = "230 V"
  rated   = "16 A"
}
feed "b" {
  room    = room.r
  source  = "mains"
  voltage = "230 V"
  rated   = "16 A"
}
`

// racks writes racks with mounts given as "name equipment unit".
func racks(units int, extra string, mounts map[string][]string) string {
	var b strings.Builder
	b.WriteString(strings.ReplaceAll(small, "UNITS", fmt.Sprint(units)))
	for _, side := range []string{"before", "after"} {
		fmt.Fprintf(&b, "-- %s/racks.hcl --\n", side)
		for n, rack := range []string{"x", "y"} {
			fmt.Fprintf(&b, "rack %q {\n  row = row.w\n  place = %d\n  frame = frame.f\n  feeds = [feed.a, feed.b]\n  owner = \"ops\"\n", rack, n+1)
			for _, m := range mounts[side+" "+rack] {
				f := strings.Fields(m)
				feeds := "[feed.a, feed.b]"
				if f[1] == "one" {
					feeds = "[feed.a]"
				}
				if len(f) > 3 {
					feeds = f[3]
				}
				fmt.Fprintf(&b, "  mount %q {\n    equipment = equipment.%s\n    at = %s\n    feeds = %s\n    serial = \"S-%s\"\n  }\n", f[0], f[1], f[2], feeds, f[0])
			}
			b.WriteString("}\n")
		}
	}
	b.WriteString("-- extra.hcl --\n" + extra)
	return b.String()
}

func TestSwapParksOne(t *testing.T) {
	text := racks(6, "", map[string][]string{
		"before x": {"p two 1", "q two 3"},
		"after x":  {"p two 3", "q two 1"},
	})
	p := plan(t, text, sequence.Options{})
	if p.Moves != 3 || p.Least != 3 || len(p.Refused) > 0 || len(p.Findings) > 0 {
		t.Fatalf("got %d moves, least %d, refused %v, findings %v", p.Moves, p.Least, p.Refused, p.Findings)
	}
	want := []string{
		"Put p into U5-6 and fix it (20 kg).",
		"Put q into U1-2 and fix it (20 kg).",
		"Put p into U3-4 and fix it (20 kg).",
	}
	if diff := cmp.Diff(want, dos(p, sequence.InsertTall)); diff != "" {
		t.Errorf("insertions (-want +got):\n%s", diff)
	}
	if len(p.Parked) != 1 || !p.Parked[0].Live || p.Parked[0].Where != "x front U5-6" {
		t.Errorf("parked %+v, want p running at x front U5-6", p.Parked)
	}
	if len(p.Blocks) != 1 {
		t.Errorf("%d blocks; there is no rest while something is parked", len(p.Blocks))
	}
}

// With no room in the rack the neighbour is used, then a bench, and without
// either the plan refuses and says what would do.
func TestParkingByRank(t *testing.T) {
	swap := map[string][]string{
		"before x": {"p two 1", "q two 3"},
		"after x":  {"p two 3", "q two 1"},
	}
	p := plan(t, racks(4, "", swap), sequence.Options{})
	if len(p.Parked) != 1 || p.Parked[0].Where != "y front U1-2" || !p.Parked[0].Live {
		t.Errorf("parked %+v, want the neighbour, powered", p.Parked)
	}

	full := []string{"m two 1", "n two 3"}
	swap["before y"], swap["after y"] = full, full
	bench := "bench \"table\" {\n  room = room.r\n  units = 2\n  rated = \"RATED\"\n}\n"
	p = plan(t, racks(4, strings.ReplaceAll(bench, "RATED", "25 kg"), swap), sequence.Options{})
	if len(p.Parked) != 1 || p.Parked[0].Where != "bench.table" || p.Parked[0].Live {
		t.Errorf("parked %+v, want the bench, off", p.Parked)
	}

	p = plan(t, racks(4, strings.ReplaceAll(bench, "RATED", "15 kg"), swap), sequence.Options{})
	if len(p.Steps) > 0 || len(p.Refused) != 1 || !p.Refused[0].Proved {
		t.Fatalf("got %d steps, refused %+v, want a refusal with proof", len(p.Steps), p.Refused)
	}
	got := p.Findings[0].Rule + ": " + p.Findings[0].Message
	want := "plan/no-parking: p must leave before q can enter, q must leave before p can enter, and nothing can be parked; " +
		"2U free in a row at the front of x, clear of all that comes or goes there (the most now is 0U), to park p would make it possible"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	mends := []string{
		"2U free in a row at the front of x, clear of all that comes or goes there (the most now is 0U), to park p",
		"a bench in room.r with room for 2U and rated for 20 kg or more",
		"bench.table rated for 20 kg instead of 15 kg",
	}
	if diff := cmp.Diff(mends, p.Refused[0].Mends); diff != "" {
		t.Errorf("mends (-want +got):\n%s", diff)
	}
}

func TestRotationOfThree(t *testing.T) {
	p := plan(t, racks(8, "", map[string][]string{
		"before x": {"p two 1", "q two 3", "r two 5"},
		"after x":  {"p two 3", "q two 5", "r two 1"},
	}), sequence.Options{})
	if p.Moves != 4 || p.Least != 4 || len(p.Parked) != 1 {
		t.Errorf("got %d moves, least %d, parked %v, want 4 with one parked", p.Moves, p.Least, p.Parked)
	}
}

func TestShiftOverItself(t *testing.T) {
	p := plan(t, racks(8, "", map[string][]string{
		"before x": {"p two 1", "s one 7"},
		"after x":  {"p two 2", "s one 7.5"},
	}), sequence.Options{})
	if len(p.Parked) != 1 || p.Parked[0].Job.Name != "p" {
		t.Errorf("parked %+v, want p only: s hangs on ears and is held by hand", p.Parked)
	}
	if got := dos(p, sequence.Shift); len(got) != 1 || !strings.HasPrefix(got[0], "Shift s from U7 to 1U from U7.5") {
		t.Errorf("shifts: %q", got)
	}
	if len(p.Findings) != 1 || p.Findings[0].Rule != "plan/over-itself" {
		t.Errorf("findings %v, want a note that p overlaps itself", p.Findings)
	}
	if len(p.Proposals) == 0 || !strings.Contains(p.Proposals[0].Text, "is free for p") {
		t.Errorf("proposals %v, want another target for p", p.Proposals)
	}
}

func TestMembersAreNeverDownTogether(t *testing.T) {
	group := "group \"pair\" {\n  of = [rack.x.p, rack.x.q]\n  up = %d\n}\n"
	moves := map[string][]string{
		"before x": {"p two 1", "q two 3"},
		"after x":  {"p two 5", "q two 7"},
	}
	p := plan(t, racks(12, fmt.Sprintf(group, 1), moves), sequence.Options{})
	if len(p.Blocks) != 2 || len(p.Refused) > 0 {
		t.Fatalf("got %d blocks, refused %v", len(p.Blocks), p.Refused)
	}
	for _, s := range p.Steps {
		if strings.Contains(fmt.Sprint(s.State.Down), "0 of 2") {
			t.Errorf("after step %d both are down: %v", s.Number, s.State.Down)
		}
	}
	last := p.Steps[p.Blocks[0].To-1]
	if last.Hold == nil || !strings.Contains(last.Hold.What, "only then") {
		t.Errorf("no hold point between the members: %+v", last.Hold)
	}

	p = plan(t, racks(12, fmt.Sprintf(group, 2), moves), sequence.Options{})
	if len(p.Steps) > 0 || len(p.Findings) == 0 || p.Findings[0].Rule != "plan/pair-together" {
		t.Errorf("got %d steps, findings %v, want a refusal: both must stay up", len(p.Steps), p.Findings)
	}
}

func TestEmptyFromTheTopFillFromTheBottom(t *testing.T) {
	p := plan(t, racks(12, "", map[string][]string{
		"before x": {"a two 1", "b two 5", "c two 9"},
		"after x":  {"d two 1", "e two 5", "f two 9"},
	}), sequence.Options{})
	wantOut := []string{"Take c out (20 kg).", "Take b out (20 kg).", "Take a out (20 kg)."}
	if diff := cmp.Diff(wantOut, dos(p, sequence.Withdraw)); diff != "" {
		t.Errorf("order out (-want +got):\n%s", diff)
	}
	wantIn := []string{"Put d into U1-2 and fix it (20 kg).", "Put e into U5-6 and fix it (20 kg).", "Put f into U9-10 and fix it (20 kg)."}
	if diff := cmp.Diff(wantIn, dos(p, sequence.InsertTall)); diff != "" {
		t.Errorf("order in (-want +got):\n%s", diff)
	}
}

// The ferry line's changes, as the demo has them.
func TestFerry(t *testing.T) {
	swap := planFor(t, ferry(t, "main"), ferry(t, "ship-swap"), sequence.Options{})
	if swap.Moves != 5 || swap.Least != 5 || len(swap.Refused) > 0 {
		t.Errorf("ship-swap: %d moves, least %d, refused %v", swap.Moves, swap.Least, swap.Refused)
	}
	mended := planFor(t, ferry(t, "main"), ferry(t, "mended"), sequence.Options{})
	if len(mended.Refused) > 0 || len(mended.Steps) == 0 || len(mended.Parked) > 0 {
		t.Errorf("mended: %d steps, refused %v, parked %v", len(mended.Steps), mended.Refused, mended.Parked)
	}
	found := planFor(t, ferry(t, "main"), ferry(t, "audit"), sequence.Options{Recorded: true})
	if len(found.Steps) != 0 || len(found.Record) == 0 {
		t.Errorf("audit: %d steps, record %v, want a correction of the record", len(found.Steps), found.Record)
	}
}

// A neighbour whose frame would carry too much with the parked thing in it is
// left alone, though it ranks before the bench.
func TestParkingThatBreaksARuleIsNotUsed(t *testing.T) {
	mounts := map[string][]string{
		"before x": {"p two 1", "q two 3"}, "after x": {"p two 3", "q two 1"},
		"before y": {"m two 1"}, "after y": {"m two 1"},
	}
	text := racks(4, "bench \"table\" {\n  room = room.r\n  units = 2\n  rated = \"25 kg\"\n}\n", mounts)
	weak := strings.Replace(small[strings.Index(small, "frame \"f\""):strings.Index(small, "equipment \"one\"")], "frame \"f\"", "frame \"weak\"", 1)
	weak = strings.NewReplacer("UNITS", "4", "600 kg", "30 kg").Replace(weak)
	text = strings.ReplaceAll(text, "place = 2\n  frame = frame.f", "place = 2\n  frame = frame.weak") + weak
	p := plan(t, text, sequence.Options{})
	if len(p.Parked) != 1 || p.Parked[0].Where != "bench.table" || len(p.Findings) != 0 {
		t.Errorf("parked %+v, findings %v, want the bench", p.Parked, p.Findings)
	}
	// Without the bench it is the neighbour after all, and the plan says so.
	text = strings.Replace(text, "rated = \"25 kg\"", "rated = \"5 kg\"", 1)
	p = plan(t, text, sequence.Options{})
	if len(p.Findings) != 1 || p.Findings[0].Rule != "plan/unsafe-step" || !strings.Contains(p.Findings[0].Message, "min, load/frame-rating does not hold") {
		t.Errorf("findings %v, want load/frame-rating in the state between", p.Findings)
	} else {
		t.Log(p.Findings[0].Message)
	}
}

// Strips come before what they feed and go after it, by an electrician.
func TestStripsFirstAndLast(t *testing.T) {
	strip := "equipment \"strip\" {\n  kind = \"strip\"\n  height = \"400 mm\"\n  mass = \"4 kg\"\n  mounting = \"zero-u\"\n}\n"
	text := racks(12, strip, map[string][]string{
		"before x": {"p two 1"},
		"after x":  {"q two 3"},
	})
	add := func(side, name string) {
		text = strings.Replace(text, "-- "+side+"/racks.hcl --\nrack \"x\" {\n", "-- "+side+"/racks.hcl --\nrack \"x\" {\n  zero_u \""+name+"\" {\n    equipment = equipment.strip\n    side = \"left\"\n    plane = \"rear\"\n    from = \"20 mm\"\n  }\n", 1)
	}
	add("before", "old-strip")
	add("after", "strip-a")
	text = strings.Replace(text, "side = \"left\"", "side = \"right\"", 1)
	p := plan(t, text, sequence.Options{})
	if len(p.Refused) > 0 {
		t.Fatal(p.Refused)
	}
	var order []string
	for _, b := range p.Blocks {
		order = append(order, p.Steps[b.From].Job.Name)
	}
	if diff := cmp.Diff([]string{"strip-a", "p", "q", "old-strip"}, order); diff != "" {
		t.Errorf("order (-want +got):\n%s", diff)
	}
	if s := p.Steps[0]; s.Task != sequence.StripIn || s.Competence != "electrician" {
		t.Errorf("first step %+v", s)
	}
}

// From nothing to the whole estate and back, and between any two branches: what
// is planned ends where it should, and what is not says why.
func TestEveryPairOfStates(t *testing.T) {
	nothing := func() *estate.Estate {
		return load(t, map[string]string{"estate.hcl": "estate \"brackwater\" {\n  language = 1\n  rules    = \"2026.1\"\n}\n"})
	}
	states := map[string]func() *estate.Estate{"nothing": nothing}
	names := []string{"nothing", "main", "proposal", "mended", "ship-swap", "audit"}
	for _, name := range names[1:] {
		states[name] = func() *estate.Estate { return ferry(t, name) }
	}
	for _, from := range names {
		for _, to := range names {
			after := states[to]()
			p := planFor(t, states[from](), after, sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
			if len(p.Refused) > 0 {
				t.Errorf("%s to %s: refused, %s", from, to, p.Refused[0].Why)
				continue
			}
			if (from == to) != (len(p.Steps) == 0) {
				t.Errorf("%s to %s: %d steps", from, to, len(p.Steps))
			}
			have := placesOf(p.Racks(len(p.Steps)))
			for serial, want := range placesOf(after.Racks) {
				if have[serial] != want {
					t.Errorf("%s to %s: %s ends at %v, want %v", from, to, serial, have[serial], want)
				}
			}
			for _, r := range p.Racks(len(p.Steps)) {
				if want := after.Rack(r.Name); want != nil && blanksOf(r) != blanksOf(want) {
					t.Errorf("%s to %s: %s ends with blanks %s, want %s", from, to, r.Name, blanksOf(r), blanksOf(want))
				}
			}
			// Racks stand before anything is put into them, and are empty when they go.
			standing := map[string]bool{}
			for i := range p.Steps {
				s := &p.Steps[i]
				if s.Task == sequence.StandRack {
					standing[s.At.Rack] = true
				} else if from == "nothing" && s.At.Rack != "" && !standing[s.At.Rack] {
					t.Errorf("%s to %s: step %d before rack %s stands: %s", from, to, s.Number, s.At.Rack, s.Do)
				}
				if s.Task == sequence.RemoveRack {
					for _, r := range p.Racks(s.Number) {
						if r.Name == s.At.Rack && len(r.Mounts) > 0 {
							t.Errorf("%s to %s: rack %s goes with %s in it", from, to, r.Name, r.Mounts[0].Name)
						}
					}
				}
			}
		}
	}
}

// blanksOf gives the units that blanks cover, in order.
func blanksOf(r *estate.Rack) string {
	var units []string
	for u := 1; u <= 60; u++ {
		for _, b := range r.Blanks {
			if lo, hi := min(b.Units.From, b.Units.To), max(b.Units.From, b.Units.To); estate.Units(u) >= lo && estate.Units(u) <= hi {
				units = append(units, fmt.Sprint(b.Face, u))
			}
		}
	}
	return strings.Join(units, " ")
}
