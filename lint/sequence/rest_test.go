package sequence_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lint"
	"cagenut/lint/sequence"
)

// blanked makes frames that want their open units closed, and blanks over what
// is free before and after.
func blankedRacks(text string, before, after string) string {
	text = strings.Replace(text, "  fixed     = \"anchored\"\n", "  fixed     = \"anchored\"\n  blanking  = true\n", 1)
	for side, at := range map[string]string{"before": before, "after": after} {
		head := "-- " + side + "/racks.hcl --\nrack \"x\" {\n"
		text = strings.Replace(text, head, head+"  blank { at = \""+at+"\" }\n", 1)
	}
	return text
}

// A thing goes and another one comes into its units: between windows they do
// not stay open in a rack that wants them closed.
func TestNoUnitStaysOpenAtRest(t *testing.T) {
	things := map[string][]string{
		"before x": {"old two 1", "old-2 two 3"},
		"after x":  {"new two 1", "new-2 two 3"},
	}
	const night = "window \"n\" {\n  site   = site.s\n  days   = [\"tue\"]\n  opens  = \"22:00\"\n  closes = \"%s\"\n}\n"
	tests := []struct {
		name, closes string
		wants        bool
		windows      int
		blanks       []string
	}{
		{name: "all in one window", closes: "04:30", wants: true, windows: 1},
		{
			name: "one thing a window", closes: "23:45", wants: true, windows: 4,
			blanks: []string{"Fit blanks over U3-4 of x for the time being.", "Fit blanks over U1-2 of x for the time being."},
		},
		{name: "a thing and what comes after it", closes: "01:45", wants: true, windows: 2}, // covered next, so that nothing is blanked for a while
		{name: "a rack that wants none", closes: "23:45", windows: 4},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := racks(12, fmt.Sprintf(night, tt.closes), things)
			if tt.wants {
				text = blankedRacks(text, "5-12", "5-12")
			}
			p := plan(t, text, sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
			if len(p.Left)+len(p.Refused) > 0 || p.Failed(lint.Warning) || len(p.Windows) != tt.windows {
				t.Fatalf("left %v, refused %v, findings %v, %d windows", p.Left, p.Refused, p.Findings, len(p.Windows))
			}
			if diff := cmp.Diff(tt.blanks, dos(p, sequence.FitBlank)); diff != "" {
				t.Errorf("blanks (-want +got):\n%s", diff)
			}
			if got := len(dos(p, sequence.OpenBlank)); got != len(tt.blanks) {
				t.Errorf("%d times blanks are taken off, and %d times fitted", got, len(tt.blanks))
			}
			for _, n := range p.Windows {
				last := p.Blocks[n.Blocks[len(n.Blocks)-1]].To
				for _, r := range p.Racks(last) {
					if r.Name == "x" && tt.wants && len(r.Open()) > 0 {
						t.Errorf("window %d ends with %s of x open", n.Number, r.Frame.Label(r.Open()[0]))
					}
				}
			}
			for n := range p.Blocks {
				s := &p.Steps[p.Blocks[n].To-1]
				follows := n+1 < len(p.Blocks) && p.Blocks[n+1].Follows
				if (len(s.State.Open) > 0) != follows {
					t.Errorf("block %d ends with %v open, and the next one follows: %v", n, s.State.Open, follows)
				}
				back := p.BackOut(p.Blocks[n].To)
				if p.Blocks[n].Follows != strings.HasPrefix(back[len(back)-1].Do, "to rest here: blanks over x front U") {
					t.Errorf("block %d follows: %v, and its way back ends with %q", n, p.Blocks[n].Follows, back[len(back)-1].Do)
				}
			}
		})
	}
}

// Blanks that are off for a thing leave its units open until it is in.
func TestBlanksOffAreOpenUnits(t *testing.T) {
	p := plan(t, blankedRacks(racks(12, "", map[string][]string{"after x": {"n two 3"}}), "1-12", "1-2"), sequence.Options{})
	seen := 0
	for i := range p.Steps {
		s := &p.Steps[i]
		open := strings.Join(s.State.Open, ", ")
		switch s.Task {
		case sequence.OpenBlank, sequence.Verify, sequence.FitSlides:
			if s.At.Units == "U3-4" && open != "x front U3-4" {
				t.Errorf("after step %d (%s) %q is open", s.Number, s.Do, open)
			}
			seen++
		case sequence.InsertTall:
			if open != "" || strings.Join(s.State.Off, ", ") != "n" {
				t.Errorf("after step %d (%s) %q is open and %q off", s.Number, s.Do, open, s.State.Off)
			}
			seen++
		}
	}
	if seen < 3 {
		t.Errorf("%d steps looked at: %q", seen, dos(p))
	}
}

// The old place is closed before the thing runs again: what is warm in the rack
// does not come round through it meanwhile.
func TestOldPlaceIsClosedBeforePower(t *testing.T) {
	p := plan(t, blankedRacks(racks(12, "", map[string][]string{"before x": {"n two 3"}, "after x": {"n two 7"}}), "1-2", "1-6"), sequence.Options{})
	fitted, powered := 0, 0
	for i := range p.Steps {
		switch s := &p.Steps[i]; {
		case s.Task == sequence.FitBlank && s.At.Units == "U3-4":
			fitted = s.Number
		case s.Task == sequence.PowerOn && powered == 0:
			powered = s.Number
		}
	}
	if fitted == 0 || fitted > powered {
		t.Errorf("U3-4 are closed in step %d, and power comes in step %d: %q", fitted, powered, dos(p))
	}
}

// Two members of a pair change feeds, each in a night of its own: between the
// nights both hang on one feed. In one night nothing is said.
func TestWindowEndsAtRest(t *testing.T) {
	group := "group \"pair\" {\n  of = [rack.x.p, rack.x.q]\n  up = 1\n  apart = \"feed\"\n}\n"
	for _, tt := range []struct {
		closes string
		want   int
	}{{"23:30", 1}, {"02:00", 0}} {
		window := fmt.Sprintf("window \"n\" {\n  site = site.s\n  days = [\"tue\"]\n  opens = \"22:00\"\n  closes = %q\n}\n", tt.closes)
		p := plan(t, racks(12, group+window, map[string][]string{
			"before x": {"p one 1 [feed.a]", "q one 3 [feed.b]"},
			"after x":  {"p one 1 [feed.b]", "q one 3 [feed.a]"},
		}), sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
		got := found(p, "plan/not-at-rest")
		if len(got) != tt.want || len(p.Left) > 0 {
			t.Errorf("closes %s: got %q, left %v, %d windows, want %d", tt.closes, got, p.Left, len(p.Windows), tt.want)
		}
		for _, m := range got {
			if !strings.Contains(m, "window 1 ends after step") || !strings.Contains(m, "power/group-shares does not hold") {
				t.Errorf("closes %s: %s", tt.closes, m)
			}
		}
	}
}
