package sequence_test

import (
	"slices"
	"strings"
	"testing"

	"cagenut/lint/sequence"
)

// What stays is off from the handing over of its service until that is proven
// back; what has left for good is off nowhere any more, not even while the door
// is shut behind it.
func TestOffUntilProvenBackOrGone(t *testing.T) {
	text := racks(12, "", map[string][]string{
		"before x": {"old one 9", "a two 1"},
		"after x":  {"old one 9", "a two 3"},
		"before y": {"gone two 1"},
		"after y":  {},
	})
	text = strings.Replace(text, `room "r" { site = site.s }`, "room \"r\" {\n  site = site.s\n  shut = \"receivers\"\n}", 1)
	p := plan(t, text, sequence.Options{})
	if len(p.Refused) > 0 {
		t.Fatalf("refused %v", p.Refused)
	}
	off := map[string][]sequence.Task{}
	doors := 0
	for i := range p.Steps {
		s := &p.Steps[i]
		for _, name := range s.State.Off {
			off[name] = append(off[name], s.Task)
		}
		if s.Task == sequence.ShutDoor {
			doors++
			if len(s.State.Off) > 0 {
				t.Errorf("step %d (%s): off %v", s.Number, s.Do, s.State.Off)
			}
		}
	}
	if doors == 0 {
		t.Error("no door is shut: the test looks at nothing")
	}
	for _, name := range []string{"a", "gone"} {
		if !slices.Contains(off[name], sequence.HandOver) || slices.Contains(off[name], sequence.Service) {
			t.Errorf("%s is off at %v, want from its handing over until before its proof", name, off[name])
		}
	}
	if slices.Contains(off["gone"], sequence.Carry) {
		t.Error("gone is off after it was carried away")
	}
	if len(off["old"]) > 0 {
		t.Errorf("old is off at %v, and is not touched", off["old"])
	}
}
