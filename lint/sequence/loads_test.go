package sequence_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lint"
	"cagenut/lint/sequence"
)

// What hangs on a strip that is moved is taken off it and put on again; what
// hangs on it alone is named as dark for that time.
func TestLoadsOfAMovedStrip(t *testing.T) {
	mounts := []string{
		on("n", "server", 2, cord("strip-a", 2, ""), cord("strip-b", 2, "")),
		on("m", "modem", 10, cord("strip-b", 3, "")),
		on("k", "modem", 20, cord("strip-a", 12, "")),
	}
	front := strings.Replace(bothStrips, `side      = "right"`, `side      = "right"`+"\n    plane     = \"front\"", 1)
	p := planFor(t, load(t, map[string]string{"a.hcl": plainRoom(corded("", mounts...))}),
		load(t, map[string]string{"a.hcl": plainRoom(corded(front, mounts...))}), sequence.Options{})
	if len(p.Refused) > 0 || p.Failed(lint.Error) {
		t.Fatalf("refused %v, findings %v", p.Refused, p.Findings)
	}
	if diff := cmp.Diff([]string{
		"Take off strip-b what hangs on it, one cord at a time: cord 2 of n from outlet 2, cord 1 of m from outlet 3.",
		"Have strip strip-b isolated, prove it dead, and take it out.",
		"Fit strip strip-b, and have it proven live.",
		"Put on strip-b again what hung on it, one cord at a time, and check each: cord 2 of n at outlet 2, cord 1 of m at outlet 3.",
	}, dos(p)); diff != "" {
		t.Errorf("steps differ (-want +got):\n%s", diff)
	}
	const off = "without strip-b: n; off with strip-b: m"
	var states []string
	for i := range p.Steps {
		states = append(states, p.Steps[i].State.OneFeed)
	}
	if diff := cmp.Diff([]string{off, off, off, ""}, states); diff != "" {
		t.Errorf("states differ (-want +got):\n%s", diff)
	}
	if got := found(p, "plan/goes-dark"); len(got) != 1 || !strings.Contains(got[0], "from step 1 to step 4, some 101 min in all, strip-b is off, and with it its outlets: nothing else feeds rack.x.m;") {
		t.Errorf("goes dark: %q", got)
	}
	if s := p.Steps[0]; s.Minutes.Minutes() != 1.4 || s.UndoMinutes.Minutes() != 4 || s.Count != 2 || !strings.Contains(strings.Join(s.Cautions, " "), "What hangs on strip-b alone goes down now: m.") {
		t.Errorf("first step %+v", s)
	}
}

// What hands power on between the posts is taken off and put on in the same way,
// after it has its own supply again.
func TestLoadsOfAMovedUPS(t *testing.T) {
	rack := func(at string) map[string]string {
		return map[string]string{"a.hcl": plainRoom(corded("", `  mount "u" {
    at        = `+at+`
    equipment = equipment.ups
    feeds     = [feed.a]
  }
`, on("m", "modem", 20, `{ to = "rack.x.u", outlet = 1 }`))) + `equipment "ups" {
  kind     = "ups"
  height   = "2U"
  depth    = "600 mm"
  mass     = "10 kg"
  mounting = "ears"
  inlets   = { type = "c14", count = 1, needs = 1 }
  outlets  = { type = "c13", count = 4 }
}
`}
	}
	p := planFor(t, load(t, rack("2")), load(t, rack("6")), sequence.Options{})
	var got []string
	for i := range p.Steps {
		if s := &p.Steps[i]; s.Task == sequence.CordsOff || s.Task == sequence.PowerOn || s.Task == sequence.Service {
			got = append(got, s.Do)
		}
	}
	if diff := cmp.Diff([]string{
		"Take off u what hangs on it, one cord at a time: cord 1 of m from outlet 1.",
		"Take the cords of u off: data, then feed a.",
		"Put u on feed a and check it.",
		"Put on u again what hung on it, one cord at a time, and check each: cord 1 of m at outlet 1.",
		"Start u and check its service.",
	}, got); diff != "" {
		t.Errorf("steps differ (-want +got):\n%s", diff)
	}
}
