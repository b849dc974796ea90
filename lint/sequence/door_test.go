package sequence_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lint"
	"cagenut/lint/sequence"
)

// shielded makes the frames of a small estate, or its room, ones whose door
// must stay shut.
func shielded(text, what string) string {
	switch what {
	case "frame":
		return strings.Replace(text, "  fixed     = \"anchored\"\n", "  fixed     = \"anchored\"\n  shut      = \"shield\"\n", 1)
	case "room":
		return strings.Replace(text, `room "r" { site = site.s }`, "room \"r\" {\n  site = site.s\n  shut = \"receivers\"\n}", 1)
	}
	return text
}

// doors gives the steps that open and shut doors, and for each step how many
// stand open after it.
func doors(p *sequence.Plan) (steps []string) {
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Task == sequence.OpenDoor || s.Task == sequence.ShutDoor {
			steps = append(steps, fmt.Sprintf("%s %s%s", s.Task, s.At.Rack, s.At.Room))
		}
	}
	return steps
}

func TestShutDoorIsOpenedOnce(t *testing.T) {
	mounts := map[string][]string{
		"before x": {"a two 1", "s one 7"},
		"before y": {"b two 1"},
		"after x":  {"a two 3", "s one 8"},
		"after y":  {"b two 3"},
	}
	const night = "window \"n\" {\n  site   = site.s\n  days   = [\"tue\"]\n  opens  = \"22:00\"\n  closes = \"%s\"\n}\n"
	tests := []struct {
		name, shut, closes string
		want               []string
	}{
		{name: "none", closes: "08:00"},
		{name: "frames", shut: "frame", closes: "08:00", want: []string{"open_door xr", "shut_door xr", "open_door yr", "shut_door yr"}},
		{name: "room", shut: "room", closes: "08:00", want: []string{"open_door r", "shut_door r"}},
		{name: "room, in nights too short for all", shut: "room", closes: "01:30", want: []string{"open_door r", "shut_door r", "open_door r", "shut_door r"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := plan(t, shielded(racks(12, fmt.Sprintf(night, tt.closes), mounts), tt.shut), sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
			if len(p.Refused)+len(p.Left) > 0 || p.Failed(lint.Warning) {
				t.Fatalf("refused %v, left %v, findings %v", p.Refused, p.Left, p.Findings)
			}
			if diff := cmp.Diff(tt.want, doors(p)); diff != "" {
				t.Errorf("doors (-want +got):\n%s", diff)
			}
			checkDoors(t, p, tt.shut != "")
		})
	}
}

// checkDoors sees to it that work is done behind open doors, that blocks end
// with all of them shut where none follows, and that the way back shuts them,
// too.
func checkDoors(t *testing.T, p *sequence.Plan, shut bool) {
	t.Helper()
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Number != i+1 || s.Block >= len(p.Blocks) || i < p.Blocks[s.Block].From || i >= p.Blocks[s.Block].To {
			t.Errorf("step %d is number %d of block %d", i+1, s.Number, s.Block)
		}
		if shut && s.Task != sequence.ShutDoor && len(s.State.Ajar) == 0 {
			t.Errorf("step %d (%s) is done behind a shut door", s.Number, s.Do)
		}
	}
	for n := range p.Blocks {
		b := &p.Blocks[n]
		follows := n+1 < len(p.Blocks) && p.Blocks[n+1].Follows
		if ajar := p.Steps[b.To-1].State.Ajar; (len(ajar) > 0) != follows {
			t.Errorf("block %d ends with %v open", n, ajar)
		}
		back := p.BackOut(b.To - 1)
		if shut && (len(back) == 0 || !strings.Contains(back[len(back)-1].Do, "shut, proven shut")) {
			t.Errorf("the way back of block %d does not shut the door: %v", n, back)
		}
	}
}

// Labels and blanks behind a door are done while it is open for the moves, and
// rails are not fitted by day.
func TestShutDoorTakesWhatElseIsBehindIt(t *testing.T) {
	text := shielded(racks(12, "", map[string][]string{
		"before x": {"a two 1", "c one 9"},
		"after x":  {"a two 3", "c one 9", "n two 5"},
		"before y": {"b two 1"},
		"after y":  {"b two 3"},
	}), "frame")
	text = strings.Replace(text, "-- after/racks.hcl --\nrack \"x\" {\n", "-- after/racks.hcl --\nrack \"x\" {\n  blank { at = \"11-12\" }\n", 1)
	text = strings.Replace(text, "  shut ", "  blanking  = true\n  shut ", 1)
	p := plan(t, text, sequence.Options{})
	want := []string{"open_door xr", "shut_door xr", "open_door yr", "shut_door yr"}
	if diff := cmp.Diff(want, doors(p)); diff != "" {
		t.Errorf("doors (-want +got):\n%s", diff)
	}
	if got := dos(p, sequence.FitBlank); !slices.Contains(got, "Fit blanks over U11-12 of x.") {
		t.Errorf("blanks: %q", got)
	}
	if got := dos(p, sequence.FitSlides); len(got) != 3 {
		t.Errorf("slides fitted in the window: %q, want those of a, n and b", got)
	}
	for _, s := range p.Daytime {
		if s.Task == sequence.FitSlides || strings.HasPrefix(s.Do, "Label") {
			t.Errorf("by day, behind a door that must stay shut: %s", s.Do)
		}
	}
	checkDoors(t, p, true)
}

// Where two members of a pair are behind one door, the hold point between them
// stays, though the door does.
func TestShutDoorKeepsThePairsHold(t *testing.T) {
	p := plan(t, shielded(racks(12, "group \"pair\" {\n  of = [rack.x.p, rack.x.q]\n  up = 1\n}\n", map[string][]string{
		"before x": {"p two 1", "q two 3"},
		"after x":  {"p two 5", "q two 7"},
	}), "frame"), sequence.Options{})
	if len(p.Blocks) != 2 || !p.Blocks[1].Follows || len(doors(p)) != 2 {
		t.Fatalf("%d blocks, doors %v", len(p.Blocks), doors(p))
	}
	held := 0
	for i := range p.Steps {
		if h := p.Steps[i].Hold; h != nil && strings.Contains(h.What, "only then") {
			held++
		}
	}
	if held != 1 {
		t.Errorf("%d hold points between the members, want 1", held)
	}
	checkDoors(t, p, true)
}
