package sequence_test

import (
	"strings"
	"testing"

	"cagenut/lint/sequence"
)

// What is said beside the proof that a battery is off follows from its cells.
func TestBatteryCautions(t *testing.T) {
	for cells, want := range map[string]string{
		"": "no rings.", "sealed-lead": "overcharged", "vented-lead": "hydrogen", "vented-nickel": "hydrogen", "lithium": "Transport rules",
	} {
		t.Run(cells, func(t *testing.T) {
			kind := `kind = "battery"`
			if cells != "" {
				kind = `battery = "` + cells + `"` // that is enough to know it for one
			}
			before := "frame \"f\" {\n  system = \"19in\"\n  units = 12\n}\nequipment \"pack\" {\n  height = \"3U\"\n  " + kind + "\n}\n" +
				"rack \"r\" {\n  frame = frame.f\n  mount \"pack-1\" {\n    at = 1\n    equipment = equipment.pack\n  }\n}\n"
			p := plan(t, "-- before/a.hcl --\n"+before+"-- after/a.hcl --\n"+strings.Replace(before, "at = 1", "at = 5", 1), sequence.Options{})
			for _, s := range p.Steps {
				if s.Task != sequence.Proof {
					continue
				}
				got := strings.Join(s.Cautions, "\n")
				if !strings.Contains(got, "Live with the mains off") || !strings.Contains(got, want) || s.Competence != "electrician" {
					t.Errorf("competence %q, cautions %q; want %q in them", s.Competence, got, want)
				}
				return
			}
			t.Errorf("no step proves it off: %d steps", len(p.Steps))
		})
	}
}
