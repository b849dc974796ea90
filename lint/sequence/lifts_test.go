package sequence_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lint/sequence"
)

// lifted is the change of a thing from U10-11, whose middle is 100 + 10 x 44.45
// = 544.5 mm and whose lower edge is 500.05 mm above the floor, to U14-15, 177.8
// mm higher: between 0.5 and 1.2 m one person lifts up to 16 kg and two up to 32.
func lifted(frame, thing, window, room string) (before, after map[string]string) {
	rack := func(at string) map[string]string {
		return map[string]string{"a.hcl": `site "s" { zone = "Europe/Tallinn" }
room "r" {
  site = site.s
` + room + `}
row "w" {
  room  = room.r
  front = "mixed"
}
frame "f" {
  system = "19in"
  kind   = "four-post"
  units  = 20
  base   = "100 mm"
` + frame + `}
equipment "big" {
  kind     = "server"
  height   = "2U"
  mounting = "ears"
` + thing + `}
rack "x" {
  row   = row.w
  place = 1
  frame = frame.f
  mount "p" {
    equipment = equipment.big
    at        = ` + at + `
  }
}
` + window}
	}
	return rack("10"), rack("14")
}

func liftWindow(attrs string) string {
	return "window \"w\" {\n  site = site.s\n  days = [\"tue\"]\n  opens = \"20:00\"\n  closes = \"04:00\"\n" + attrs + "}\n"
}

// What is too heavy whole and not stripped for those at hand is proposed to be
// stripped, with both masses; a lift is held against what it carries, its height
// and its reach.
func TestLiftsAndStripping(t *testing.T) {
	const heavy = "  mass = \"38 kg\"\n  stripped = \"22 kg\"\n"
	const strip = "Whole, p is 38 kg and takes a lift and 2 people at this height; stripped of its supplies, disks and modules it is 22 kg and takes 2 people. Strip it first if its maker allows, and mark what comes from where."
	const needs = "error: step 1 (Take p out (38 kg)) calls for a lift (38 kg at U10-11)"
	tests := []struct {
		name, frame, thing, window string
		found, caution             []string
	}{
		{"no lift at hand", "", heavy, liftWindow("  people = 2\n"),
			[]string{needs + ", and no window of site.s has that; strip it first, to 22 kg from 38 kg (2 people then) if its maker allows, or bring what it takes"}, []string{strip, strip}},
		{"a lift at hand", "", heavy, liftWindow("  people = 2\n  lift = true\n"), nil, nil},
		{"nothing is known of those at hand", "", heavy, "", nil, []string{strip, strip}},
		{"too few even for it stripped", "", heavy, liftWindow("  people = 1\n"),
			[]string{needs + " and 2 people, and no window of site.s has that; lighten it if its maker allows, or bring what it takes"}, nil},
		{"stripped it takes a lift as well", "", "  mass = \"38 kg\"\n  stripped = \"33 kg\"\n", liftWindow("  people = 2\n"),
			[]string{needs + ", and no window of site.s has that; lighten it if its maker allows, or bring what it takes"}, nil},
		{"a lift that carries less", "", "  mass = \"38 kg\"\n", liftWindow("  people = 2\n  lift_rated = \"30 kg\"\n"),
			[]string{needs + "; that of window.w carries 30 kg, and no window of site.s has that; lighten it if its maker allows, or bring what it takes"}, nil},
		{"a lift that just carries it", "", heavy, liftWindow("  people = 2\n  lift_rated = \"38 kg\"\n"), nil, nil},
		{"a lift that rises less", "", "  mass = \"38 kg\"\n", liftWindow("  people = 2\n  lift_height = \"500 mm\"\n"),
			[]string{needs + "; that of window.w rises to 500 mm and the lower edge is at 500.05 mm, and no window of site.s has that; lighten it if its maker allows, or bring what it takes"}, nil},
		{"a stabiliser keeps the lift away", "  front_room = \"150 mm\"\n  fixed = \"stabiliser\"\n  reach = \"300 mm\"\n", "  mass = \"38 kg\"\n", liftWindow("  people = 2\n  lift_reach = \"400 mm\"\n"),
			[]string{needs + "; that of window.w reaches 400 mm forward and the posts are 450 mm behind its feet, and no window of site.s has that; lighten it if its maker allows, or bring what it takes"}, nil},
		{"a lift that reaches as far", "  front_room = \"150 mm\"\n  fixed = \"stabiliser\"\n  reach = \"300 mm\"\n", "  mass = \"38 kg\"\n", liftWindow("  people = 2\n  lift_reach = \"450 mm\"\n"), nil, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			before, after := lifted(tt.frame, tt.thing, tt.window, "")
			p := planFor(t, load(t, before), load(t, after), sequence.Options{})
			got := found(p, "plan/too-few-people")
			for i := range got {
				got[i] = strings.Replace(got[i], stepNumber(p, sequence.WithdrawBig), "step 1", 1)
			}
			if diff := cmp.Diff(tt.found, got); diff != "" {
				t.Errorf("findings differ (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.caution, withCaution(p, "Whole, ")); diff != "" {
				t.Errorf("cautions differ (-want +got):\n%s", diff)
			}
		})
	}
}

// stepNumber writes the number of the first step of a task: "step 5".
func stepNumber(p *sequence.Plan, task sequence.Task) string {
	for i := range p.Steps {
		if p.Steps[i].Task == task {
			return "step " + string(rune('0'+p.Steps[i].Number))
		}
	}
	return "no step"
}

// A lift that does not do for a step is no lift of its window: the work waits for
// the one that has a better one.
func TestLiftOfAnotherWindow(t *testing.T) {
	weak := strings.Replace(liftWindow("  people = 2\n  lift_rated = \"30 kg\"\n"), `"w"`, `"weak"`, 1)
	strong := strings.NewReplacer(`"w"`, `"strong"`, "tue", "thu").Replace(liftWindow("  people = 2\n  lift_rated = \"40 kg\"\n"))
	before, after := lifted("", "  mass = \"38 kg\"\n", weak+strong, "")
	p := planFor(t, load(t, before), load(t, after), sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
	if len(p.Windows) != 1 || p.Windows[0].Window.Name != "strong" || len(p.Findings) > 0 {
		t.Errorf("windows %v, findings %v", p.Windows, p.Findings)
	}
}

// Of what the maker asks for and what the table gives the stricter holds.
func TestMakersPersons(t *testing.T) {
	const asks = "Its maker asks for "
	tests := []struct {
		thing  string
		people int
		want   string
	}{
		{"  mass = \"20 kg\"\n  persons = 3\n", 3, asks + "3 people to lift p, the table for 20 kg at this height for 2 people: the maker's holds."},
		{"  mass = \"20 kg\"\n  persons = 1\n", 2, asks + "1 person to lift p, the table for 20 kg at this height for 2 people: the table's holds."},
		{"  mass = \"20 kg\"\n  persons = 2\n", 2, asks + "2 people to lift p, the table for 20 kg at this height for 2 people."},
		{"  mass = \"38 kg\"\n  persons = 2\n", 2, asks + "2 people to lift p, the table for 38 kg at this height for a lift and 2 people: the table's holds."},
		{"  mass = \"38 kg\"\n  persons = 3\n", 3, asks + "3 people to lift p, the table for 38 kg at this height for a lift and 2 people: both hold, a lift and 3 people."},
		{"  mass = unknown\n  persons = 4\n", 4, asks + "4 people to lift p."},
	}
	for _, tt := range tests {
		before, after := lifted("", tt.thing, "", "")
		p := planFor(t, load(t, before), load(t, after), sequence.Options{})
		if diff := cmp.Diff([]string{tt.want, tt.want}, withCaution(p, asks)); diff != "" {
			t.Errorf("%q: cautions differ (-want +got):\n%s", tt.thing, diff)
		}
		for i := range p.Steps {
			if s := &p.Steps[i]; (s.Task == sequence.Withdraw || s.Task == sequence.WithdrawBig) && s.People != tt.people {
				t.Errorf("%q: %d people take it out", tt.thing, s.People)
			}
		}
	}
}
