package sequence_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"cagenut/lint"
	"cagenut/lint/sequence"
)

// A window with more than four hours of work has a break in it: at a rest, if
// there is one in time. Its minutes are part of what the window needs.
func TestPlannedBreak(t *testing.T) {
	four := map[string][]string{
		"before x": {"a two 1", "b two 5", "c two 9"},
		"after x":  {"a two 3", "b two 7", "c two 11"},
	}
	for _, tt := range []struct {
		name, closes, pace string
		breaks             int
	}{
		{name: "five hours", closes: "06:00", breaks: 1},
		{name: "a night each", closes: "01:00"},
		{name: "two in a night", closes: "03:30", breaks: 1},
		{name: "half an hour", closes: "06:00", pace: "pace {\n  break = \"30 min\"\n}\n", breaks: 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			window := fmt.Sprintf("window \"n\" {\n  site = site.s\n  days = [\"tue\"]\n  opens = \"22:00\"\n  closes = %q\n}\n", tt.closes)
			p := plan(t, racks(12, window+tt.pace, four), sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
			if len(p.Left) > 0 || p.Failed(lint.Warning) {
				t.Fatalf("left %v, findings %v", p.Left, p.Findings)
			}
			n := 0
			for _, night := range p.Windows {
				var work, breaks time.Duration
				for _, b := range night.Blocks {
					work += time.Duration(p.Blocks[b].Forward.Minutes() * float64(time.Minute))
				}
				for _, pause := range night.Breaks {
					n++
					breaks += time.Duration(pause.Minutes.Minutes() * float64(time.Minute))
					next := &p.Steps[pause.Before-1]
					if next.Number != p.Blocks[next.Block].From+1 {
						t.Errorf("the break comes before step %d, in the middle of steps that belong together", pause.Before)
					}
					if got := next.Start.Sub(pause.At); got < breaks-time.Minute {
						t.Errorf("%s between the break's start and step %d", got, next.Number)
					}
					if worked := pause.At.Sub(night.Opens); worked > 4*time.Hour {
						t.Errorf("a break after %s", worked)
					}
				}
				if needs := (work + breaks + 20*time.Minute) * 5 / 4; night.End.Sub(night.Begin) < needs-time.Minute {
					t.Errorf("window %d is planned for %s, and needs %s", night.Number, night.End.Sub(night.Begin), needs)
				}
			}
			if n != tt.breaks {
				t.Errorf("%d breaks, want %d", n, tt.breaks)
			}
		})
	}
}

// A hold point says what going back and going on take, and until when.
func TestChoiceAtHoldPoints(t *testing.T) {
	p := plan(t, racks(12, night("tue", "tue", ""), map[string][]string{
		"before x": {"a two 1", "b two 5"},
		"after x":  {"a two 3", "b two 7"},
	}), sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
	holds := 0
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Hold == nil {
			continue
		}
		holds++
		c := p.ChoiceAt(s)
		back := p.BackOut(s.Number)
		if c.Back != p.WithContingency(back[len(back)-1].Sum) {
			t.Errorf("%s: %s back, and the way back sums up to %s", s.Hold.Name, c.Back, p.WithContingency(back[len(back)-1].Sum))
		}
		if c.Ends != (s.Number == p.Blocks[s.Block].To) {
			t.Errorf("%s ends a block: %v", s.Hold.Name, c.Ends)
		}
		if s.Number < len(p.Steps) {
			if next := &p.Steps[s.Number]; !c.By.Equal(next.LatestStart) || !c.Ends && c.On != next.ForwardMinutes {
				t.Errorf("%s: go by %s, on %s; step %d starts by %s and takes %s", s.Hold.Name, c.By, c.On, next.Number, next.LatestStart, next.ForwardMinutes)
			}
		} else if !c.By.IsZero() {
			t.Errorf("%s is the last one, and says by %s", s.Hold.Name, c.By)
		}
		if turning := p.Turning(s.Block); c.Turned != (turning > 0 && s.Number >= turning) {
			t.Errorf("%s after step %d: turned %v, and the turning point is step %d", s.Hold.Name, s.Number, c.Turned, turning)
		}
	}
	if holds < 4 {
		t.Errorf("%d hold points", holds)
	}
}

// What leaves its rack, or goes to another feed, leaves no cord behind; what
// stays in its rack on its feeds keeps its cords.
func TestNoCordIsLeftBehind(t *testing.T) {
	p := plan(t, racks(12, "", map[string][]string{
		"before x": {"gone two 1", "away two 3", "fed two 5", "stays two 7"},
		"after x":  {"fed two 5 [feed.b,feed.b]", "stays two 11"},
		"after y":  {"away two 3"},
	}), sequence.Options{})
	got := dos(p, sequence.CordsOut)
	slices.Sort(got)
	want := []string{
		"Take the 2 supply cords and the data cords of away out of rack x.",
		"Take the 2 supply cords and the data cords of gone out of rack x.",
		"Take the old supply cord of fed out of rack x.",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	proven := map[string]bool{}
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Task == sequence.Service {
			proven[s.Job.Name] = true
		}
		if s.Task == sequence.CordsOut && s.Job.Name == "away" && !proven["away"] {
			t.Errorf("step %d takes cords out before the thing is proven back", s.Number)
		}
	}
}

// Between its first and its second supply a thing is on one feed alone, and the
// step says so.
func TestOneFeedAlone(t *testing.T) {
	p := plan(t, racks(12, "", map[string][]string{"after x": {"n two 1", "s one 5"}}), sequence.Options{})
	var said []string
	for i := range p.Steps {
		if s := &p.Steps[i]; s.State.OneFeed != "" {
			said = append(said, fmt.Sprintf("%s: %s", s.Task, s.State.OneFeed))
		}
	}
	if got := strings.Join(said, "\n"); got != "power_on: n on feed a alone" {
		t.Errorf("got %q", got)
	}
}

// Every disturbing step is followed by a proof within its block: of what goes,
// that it is off; of what stays, that it is back.
func TestDisturbedIsProven(t *testing.T) {
	p := plan(t, racks(12, "group \"pair\" {\n  of = [rack.x.p, rack.x.q]\n  up = 1\n}\n", map[string][]string{
		"before x": {"gone two 1", "p two 3", "q two 5", "fed one 11"},
		"after x":  {"p two 5", "q two 3", "new two 1", "fed one 11 [feed.b]"},
	}), sequence.Options{})
	checked := 0
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Task != sequence.HandOver && s.Task != sequence.CordsOff && s.Task != sequence.PowerOn {
			continue
		}
		checked++
		proof := sequence.Service
		if s.Job.Kind == sequence.TakeOut {
			proof = sequence.Proof
		}
		found := false
		for k := i + 1; k < p.Blocks[s.Block].To; k++ {
			found = found || p.Steps[k].Job == s.Job && p.Steps[k].Task == proof
		}
		if !found {
			t.Errorf("step %d (%s) is followed by no %s", s.Number, s.Do, proof)
		}
	}
	if checked < 8 {
		t.Errorf("%d disturbing steps", checked)
	}
}
