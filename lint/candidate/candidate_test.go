package candidate

import (
	"context"
	"strings"
	"testing"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint"
	"cagenut/lint/rules"
)

const lab = `estate "lab" { language = 1 }
frame "open" {
  system    = "19in"
  units     = 8
  post_span = "600 mm"
  rear_room = "300 mm"
  rated     = "60 kg"
}
frame "down" {
  system    = "19in"
  units     = 8
  counted   = "down"
  post_span = "600 mm"
  rear_room = "300 mm"
  rated     = "60 kg"
}
equipment "light" {
  system   = "19in"
  height   = "1U"
  depth    = "300 mm"
  cords    = "60 mm"
  mass     = "3 kg"
  mounting = "ears"
}
equipment "heavy" {
  system   = "19in"
  height   = "2U"
  depth    = "500 mm"
  cords    = "60 mm"
  mass     = "30 kg"
  mounting = "fixed-rails"
}
equipment "tall" {
  system = "19in"
  height = "6U"
  depth  = "300 mm"
  cords  = "60 mm"
  mass   = "5 kg"
}
rack "up" {
  frame = frame.open
  mount "a" {
    at        = 3
    equipment = equipment.light
  }
  blank { at = "1-2" }
}
rack "down" {
  frame = frame.down
  mount "a" {
    at        = 6
    equipment = equipment.light
  }
}
rack "full" {
  frame = frame.open
  mount "a" {
    at        = 1
    equipment = equipment.heavy
  }
  mount "b" {
    at        = 3
    equipment = equipment.heavy
  }
}
`

func find(t *testing.T, name string) (map[string]Place, map[string]Refusal) {
	t.Helper()
	e, mistakes, err := lang.Load(context.Background(), source.Memory("test", map[string]string{"estate.hcl": lab}), lang.Options{})
	if err != nil || len(mistakes) > 0 {
		t.Fatal(err, mistakes)
	}
	var q *estate.Equipment
	for _, known := range e.Equipment {
		if known.Name == name {
			q = known
		}
	}
	places, refusals, err := Find(context.Background(), e, q, Options{Rules: rules.All(), Racks: e.Racks})
	if err != nil {
		t.Fatal(err)
	}
	at, not := map[string]Place{}, map[string]Refusal{}
	for _, p := range places {
		at[p.Rack.Name] = p
	}
	for _, r := range refusals {
		not[r.Rack.Name] = r
	}
	return at, not
}

// Light things go where the least is left over, heavy ones to the bottom,
// whichever way the units are counted; blanks are taken off.
func TestFind(t *testing.T) {
	tests := []struct {
		equipment, rack, at string
		blanks, more        int
	}{
		{"light", "up", "U1", 1, 6},   // 2 units below, 5 above: the small gap
		{"light", "down", "U8", 0, 6}, // 2 units below, counted from the top
		{"heavy", "up", "U1-2", 1, 4},
		{"heavy", "down", "U7-8", 0, 4},
	}
	for _, tt := range tests {
		places, refusals := find(t, tt.equipment)
		p, ok := places[tt.rack]
		if !ok {
			t.Errorf("%s cannot go into %s: %s", tt.equipment, tt.rack, refusals[tt.rack].Reason)
			continue
		}
		if got := p.Mount.Label(); got != tt.at || len(p.Blanks) != tt.blanks || p.More != tt.more {
			t.Errorf("%s in %s: %s, %d blanks off, %d more, want %s, %d, %d", tt.equipment, tt.rack, got, len(p.Blanks), p.More, tt.at, tt.blanks, tt.more)
		}
		if p.After.Mass.Known-p.Before.Mass.Known != p.Mount.Equipment.Mass.Value {
			t.Errorf("%s in %s: the mass goes from %s to %s", tt.equipment, tt.rack, p.Before.Mass.Known, p.After.Mass.Known)
		}
	}
}

func TestFindSaysWhyNot(t *testing.T) {
	_, refusals := find(t, "heavy")
	if got := refusals["full"]; got.Rule != "load/frame-rating" {
		t.Errorf("full refuses heavy by %q (%s), want load/frame-rating", got.Rule, got.Reason)
	}
	_, refusals = find(t, "tall")
	if got := refusals["up"].Reason; !strings.Contains(got, "no run of 6U is free at the front; the largest has 5U") {
		t.Errorf("up refuses tall: %q", got)
	}
}

// The estate that is asked about stays as it was.
func TestFindChangesNothing(t *testing.T) {
	e, _, err := lang.Load(context.Background(), source.Memory("test", map[string]string{"estate.hcl": lab}), lang.Options{})
	if err != nil {
		t.Fatal(err)
	}
	before, err := lint.Run(context.Background(), e, lint.Options{Rules: rules.All()})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := Find(context.Background(), e, e.Equipment[0], Options{Rules: rules.All(), Racks: e.Racks}); err != nil {
		t.Fatal(err)
	}
	after, err := lint.Run(context.Background(), e, lint.Options{Rules: rules.All()})
	if err != nil {
		t.Fatal(err)
	}
	if len(before.Findings) != len(after.Findings) || len(before.Unchecked) != len(after.Unchecked) || before.Mounts != after.Mounts {
		t.Errorf("%d findings and %d mounts before, %d and %d after", len(before.Findings), before.Mounts, len(after.Findings), after.Mounts)
	}
}
