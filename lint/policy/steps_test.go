package policy_test

import (
	"context"
	"strings"
	"testing"

	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint"
	"cagenut/lint/policy"
	"cagenut/lint/sequence"
)

const stepEstate = `
site "s" { zone = "Europe/Tallinn" }
room "r" { site = site.s }
row "w" {
  room  = room.r
  front = "cold"
}
frame "f" {
  system    = "19in"
  kind      = "four-post"
  units     = 20
  counted   = "up"
  post_span = "740 mm"
  base      = "100 mm"
  fixed     = "anchored"
}
equipment "server" {
  kind     = "server"
  system   = "19in"
  height   = "2U"
  depth    = "700 mm"
  mass     = MASS
  mounting = "slides"
}
rack "x" {
  row   = row.w
  frame = frame.f
  mount "node" {
    at        = UNIT
    equipment = equipment.server
    serial    = "N-1"
  }
}
policy "nobody-alone" {
  each    = step
  where   = step.mass > kg(10)
  require = step.people >= 2
  say     = "step ${step.number}: ${step.people} lifts ${step.mass} kg"
  level   = "error"
}
waive "policy/nobody-alone" {
  on     = rack.x.node
  until  = "2026-12-31"
  reason = "REASON"
}
`

func stepsOf(t *testing.T, replace ...string) ([]lint.Finding, []lint.Unchecked) {
	t.Helper()
	load := func(unit string) *estate.Estate {
		text := stepEstate
		for i := 0; i < len(replace); i += 2 {
			text = strings.ReplaceAll(text, replace[i], replace[i+1])
		}
		text = strings.ReplaceAll(text, "UNIT", unit)
		e, diags, err := lang.Load(context.Background(), source.Memory("test", map[string]string{"a.hcl": text}), lang.Options{Workers: 1})
		if err != nil || len(diags) > 0 {
			t.Fatal(err, diags)
		}
		return e
	}
	before, after := load("1"), load("9")
	today := estate.NewDate(2026, 11, 25)
	p, err := sequence.Make(context.Background(), change.Between(before, after), sequence.Options{
		Today: today, Check: policy.Steps(context.Background(), after, today),
	})
	if err != nil {
		t.Fatal(err)
	}
	return p.Findings, p.Unchecked
}

func TestPoliciesOnSteps(t *testing.T) {
	// 12 kg at 0.14 m take two by the table, at 0.54 m one: putting it in is
	// what the policy finds; the waiver of the thing accepts it.
	found, unchecked := stepsOf(t, "MASS", `"12 kg"`)
	if len(found) != 1 || found[0].Rule != "policy/nobody-alone" || found[0].Message != "step 6: 1 lifts 12 kg" || len(unchecked) != 0 {
		t.Errorf("got %+v, unchecked %+v", found, unchecked)
	}
	if len(found) == 1 && (found[0].Waiver == nil || found[0].Level != lint.Error) {
		t.Errorf("got waiver %v, level %v", found[0].Waiver, found[0].Level)
	}
	if found, unchecked = stepsOf(t, "MASS", `"9 kg"`); len(found) != 0 || len(unchecked) != 0 {
		t.Errorf("9 kg: got %+v, unchecked %+v", found, unchecked)
	}
	if found, unchecked = stepsOf(t, "MASS", "unknown"); len(found) != 0 || len(unchecked) == 0 {
		t.Errorf("unknown mass: got %+v, unchecked %+v", found, unchecked)
	}
}

// A policy asks more of the state at a step than the rule of the layout does:
// what is drawn out is held so many times by the rest of the rack.
func TestStepsNearTipping(t *testing.T) {
	const policy = `policy "nobody-alone" {
  each    = step
  where   = step.drawn_out
  require = step.tip_factor >= 5
  say     = "step ${step.number}: held ${round(step.tip_factor, 2)} times"
  level   = "warning"
}
policy "other" {
  each    = step
  require = step.people >= 1 && !step.doors && !step.seals
`
	found, unchecked := stepsOf(t, "MASS", `"20 kg"`, "REASON", "none",
		"policy \"nobody-alone\" {\n  each    = step\n  where   = step.mass > kg(10)\n  require = step.people >= 2\n", policy,
		`fixed     = "anchored"`, `fixed      = "none"
  mass       = "60 kg"
  front_room = "80 mm"
  width      = "600 mm"
  depth      = "1000 mm"
  height     = "1300 mm"
  feet_width = "500 mm"
  feet_depth = "900 mm"`, `mounting = "slides"`, "mounting = \"slides\"\n  extension = \"700 mm\"")
	var said []string
	for _, f := range found {
		said = append(said, f.Message)
	}
	// 60 kg × 450 mm against 20 kg × 320 mm.
	want := "step 3: held 4.22 times, step 6: held 4.22 times"
	if got := strings.Join(said, ", "); got != want || len(unchecked) > 0 {
		t.Errorf("got %q, unchecked %v, want %q", got, unchecked, want)
	}
}
