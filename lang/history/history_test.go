package history

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/testdata/outside"
)

const catalogue = "estate \"quay\" { language = 1 }\nframe \"cab\" {\n  system = \"19in\"\n  units = 12\n}\nequipment \"switch\" {\n  height = \"1U\"\n  mass = \"4 kg\"\n}\n"

func rackText(name string, mounts ...string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "rack %q {\n  frame = frame.cab\n", name)
	for i := 0; i < len(mounts); i += 2 {
		fmt.Fprintf(&b, "  mount %q {\n    at = %s\n    equipment = equipment.switch\n    serial = \"BW-%s\"\n  }\n", mounts[i], mounts[i+1], mounts[i])
	}
	b.WriteString("}\n")
	return b.String()
}

// follower makes a repository of one commit a step: paths and texts, a text of
// "" taking the file away.
func follower(t *testing.T, steps ...[]string) (*Follower, source.Hash) {
	t.Helper()
	git := outside.Need(t, "git")
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	outside.Run(t, "", git, "init", "-q", "-b", "main", dir)
	for i, files := range steps {
		for j := 0; j < len(files); j += 2 {
			name := filepath.Join(dir, files[j])
			if files[j+1] == "" {
				err = os.Remove(name)
			} else {
				err = os.WriteFile(name, []byte(files[j+1]), 0o666)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		outside.Run(t, "", git, "-C", dir, "add", "-A")
		outside.Run(t, "", git, "-C", dir, "-c", "user.name=Rack Planner", "-c", "user.email=planner@brackwater.example", "commit", "-q", "-m", fmt.Sprint("step ", i+1))
	}
	place, err := source.Locate(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { place.Repo.Close() })
	head, err := place.Repo.Resolve(context.Background(), "HEAD")
	if err != nil {
		t.Fatal(err)
	}
	return &Follower{Place: place, Load: func(ctx context.Context, tree source.Tree) (*estate.Estate, error) {
		e, _, err := lang.Load(ctx, tree, lang.Options{})
		return e, err
	}}, head
}

var quaySteps = [][]string{
	{"estate.hcl", catalogue, "a.hcl", rackText("a", "one", "3"), "b.hcl", rackText("b", "two", "4")},
	{"a.hcl", rackText("a", "one", "5")},
	{"b.hcl", rackText("b", "two", "4", "three", "7")},
	{"a.hcl", rackText("quay-a", "one", "5")},                                 // a new name
	{"a.hcl", "", "racks.hcl", rackText("quay-a", "one", "5")},                // another file
	{"racks.hcl", rackText("quay-a"), "b.hcl", rackText("b", "two", "4")},     // two go
	{"racks.hcl", rackText("quay-a", "four", "9"), "b.hcl", rackText("b")},    // one comes, one goes
	{"estate.hcl", strings.Replace(catalogue, `"4 kg"`, `"5 kg"`, 1)},         // all weigh more
	{"b.hcl", rackText("b", "two", "4"), "c.hcl", rackText("c", "five", "1")}, // back again, and a new rack
}

func TestFollow(t *testing.T) {
	f, head := follower(t, quaySteps...)
	tests := []struct {
		target Target
		want   string // the steps, the youngest first
	}{
		{Target{Rack: "quay-a"}, "step 7; step 6; step 4; step 2; step 1"},
		{Target{Rack: "quay-a", Unit: unit(5)}, "step 6; step 2"},
		{Target{Rack: "quay-a", Unit: unit(3)}, "step 2; step 1"},
		{Target{Rack: "quay-a", Mount: "four"}, "step 7"},
		{Target{Rack: "b", Mount: "two"}, "step 9"},
		{Target{Rack: "c"}, "step 9"},
	}
	for _, full := range []bool{false, true} {
		f.Full = full
		for _, tt := range tests {
			events, err := f.Follow(context.Background(), head, tt.target)
			var got []string
			for _, e := range events {
				got = append(got, e.Subject)
			}
			if err != nil || strings.Join(got, "; ") != tt.want {
				t.Errorf("Follow(%+v), full %t = %s, %v, want %s", tt.target, full, strings.Join(got, "; "), err, tt.want)
			}
		}
	}
	_, err := f.Follow(context.Background(), head, Target{Rack: "b", Mount: "one"})
	if err == nil || err.Error() != `rack "b" has no mount "one"` {
		t.Errorf("Follow of a mount that is not there: %v", err)
	}
}

// livesSteps have a rack that is called first, later one, goes, and comes again
// in another file; one that gives its name up to another; and one that goes and
// comes twice.
var livesSteps = [][]string{
	{"estate.hcl", catalogue, "a.hcl", rackText("first", "one", "3"), "b.hcl", rackText("b"), "c.hcl", rackText("c", "six", "6")},
	{"a.hcl", rackText("first", "one", "5")},
	{"a.hcl", rackText("later", "one", "5")},
	{"a.hcl", "", "b.hcl", rackText("b", "one", "5")},                        // later goes, and what it held moves
	{"b.hcl", rackText("b")},                                                 // nothing to do with it
	{"d.hcl", "# later is planned\n" + rackText("d", "nine", "2")},           // a note
	{"d.hcl", rackText("d", "nine", "2")},                                    // and without it
	{"new.hcl", rackText("later", "two", "8")},                               // another rack of the name
	{"new.hcl", rackText("later", "two", "9"), "c.hcl", ""},                  // c goes
	{"c.hcl", rackText("c", "seven", "7")},                                   // comes
	{"c.hcl", "", "d.hcl", rackText("e", "nine", "2")},                       // goes; d gives its name up
	{"c.hcl", rackText("c", "eight", "8"), "f.hcl", rackText("d", "x", "1")}, // comes; another takes it
}

func TestEarlierRacksOfAName(t *testing.T) {
	f, head := follower(t, livesSteps...)
	loaded := f.Load
	tests := []struct {
		target Target
		want   string // the steps, the youngest first; | where an earlier rack begins
	}{
		{Target{Rack: "later"}, "step 9; step 8 | step 4; step 3; step 2; step 1"},
		{Target{Rack: "later", Unit: unit(5)}, "| step 4; step 2"},
		{Target{Rack: "c"}, "step 12 | step 11; step 10 | step 9; step 1"},
		{Target{Rack: "d"}, "step 12"},
		{Target{Rack: "e"}, "step 11; step 6"},
		{Target{Rack: "b"}, "step 5; step 4; step 1"},
	}
	store := lang.OpenStore(t.TempDir())
	for _, how := range []string{"whole", "by outlines", "in full"} {
		f.Load, f.Outline, f.Full = loaded, nil, how == "in full"
		if how == "by outlines" {
			o := lang.Options{Store: store}
			f.Load = func(ctx context.Context, tree source.Tree) (*estate.Estate, error) {
				e, _, err := lang.Load(ctx, tree, o)
				return e, err
			}
			f.Outline = func(ctx context.Context, tree source.Tree) (Outline, error) { return lang.OutlineOf(ctx, tree, o) }
		}
		for _, tt := range tests {
			events, err := f.Follow(context.Background(), head, tt.target)
			got := ""
			var last *Gap
			for i, e := range events {
				switch {
				case e.Gap != last:
					got += " | "
				case i > 0:
					got += "; "
				}
				last = e.Gap
				got += e.Subject
			}
			if got = strings.TrimSpace(got); err != nil || got != tt.want {
				t.Errorf("Follow(%+v), %s = %s, %v, want %s", tt.target, how, got, err, tt.want)
			}
			if tt.target.Rack == "later" && last != nil && (last.Removed.Subject != "step 4" || last.Added.Subject != "step 8") {
				t.Errorf("Follow(%+v): the gap is from %s to %s", tt.target, last.Removed.Subject, last.Added.Subject)
			}
		}
	}
}

// TestTimeline compares what is added up from commit to commit with what a
// whole load of each commit gives.
func TestTimeline(t *testing.T) {
	f, head := follower(t, quaySteps...)
	first, err := f.Place.Repo.Resolve(context.Background(), fmt.Sprintf("HEAD~%d", len(quaySteps)-1))
	if err != nil {
		t.Fatal(err)
	}
	points, err := f.Timeline(context.Background(), first, head, func(*estate.Rack) bool { return true })
	if err != nil || len(points) != len(quaySteps) {
		t.Fatalf("Timeline has %d points, %v, want %d", len(points), err, len(quaySteps))
	}
	for _, p := range points {
		tree, err := f.Place.Commit(context.Background(), p.Hash, "")
		if err != nil {
			t.Fatal(err)
		}
		e, err := f.Load(context.Background(), tree)
		if err != nil {
			t.Fatal(err)
		}
		if want := CapacityOf(e.Racks); p.Capacity != want {
			t.Errorf("%s: %+v, want %+v", p.Subject, p.Capacity, want)
		}
	}
}

// unit gives a unit to follow.
func unit(n int) *estate.UnitNumber {
	u := estate.Units(n)
	return &u
}

func TestByUnit(t *testing.T) {
	f, head := follower(t, quaySteps...)
	events, err := f.Follow(context.Background(), head, Target{Rack: "quay-a"})
	if err != nil {
		t.Fatal(err)
	}
	tree, err := f.Place.Commit(context.Background(), head, "")
	if err != nil {
		t.Fatal(err)
	}
	e, err := f.Load(context.Background(), tree)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, u := range ByUnit(e.Rack("quay-a"), events) {
		if u.Commit != nil {
			got += fmt.Sprintf("U%s %v %s in %s; ", u.Unit, u.Holds, u.What, u.Commit.Subject)
		}
	}
	const want = "U3 [] removed in step 2; U5 [] removed in step 6; U9 [four] added in step 7; "
	if got != want {
		t.Errorf("ByUnit = %s, want %s", got, want)
	}
}

// A blank that ends elsewhere, or becomes two, closes what it closes as before:
// only the units that it has left, or come to, are changed.
func TestByUnitOfBlanks(t *testing.T) {
	rack := func(lines string) string {
		return "rack \"a\" {\n  frame = frame.cab\n" + lines + "}\n"
	}
	held := func(at string) string {
		return "  reserve \"r\" {\n    at = " + at + "\n    until = \"2027-01-31\"\n    reason = \"later\"\n  }\n"
	}
	f, head := follower(t,
		[]string{"estate.hcl", catalogue, "a.hcl", rack("  blank { at = \"1-9\" }\n" + held("\"10-12\""))},
		[]string{"a.hcl", rack("  mount \"one\" {\n    at = 5\n    equipment = equipment.switch\n  }\n" +
			"  blank { at = \"1-4\" }\n  blank { at = \"6-9\" }\n" + held("\"11-12\""))},
	)
	events, err := f.Follow(context.Background(), head, Target{Rack: "a"})
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, u := range ByUnit(events[0].New, events) {
		if u.Commit != nil && u.Unit <= estate.Units(12) {
			got += fmt.Sprintf("%s %s %s, ", u.Unit, u.What, strings.TrimPrefix(u.Commit.Subject, "step "))
		}
	}
	const want = "1 added 1, 2 added 1, 3 added 1, 4 added 1, 5 added 2, 6 added 1, 7 added 1, 8 added 1, 9 added 1, " +
		"10 removed 2, 11 added 1, 12 added 1, "
	if got != want {
		t.Errorf("ByUnit = %s\nwant     %s", got, want)
	}
}

// A unit that the rack never had is no unit that nothing happened to.
func TestNoSuchUnit(t *testing.T) {
	f, head := follower(t, quaySteps...)
	for n, want := range map[int]string{0: `rack "quay-a" has no unit 0; it counts 1 to 12`, 99: `rack "quay-a" has no unit 99; it counts 1 to 12`, 12: ""} {
		_, err := f.Follow(context.Background(), head, Target{Rack: "quay-a", Unit: unit(n)})
		if got := fmt.Sprint(err); err != nil && got != want || err == nil && want != "" {
			t.Errorf("unit %d: %v, want %s", n, err, want)
		}
	}
}
