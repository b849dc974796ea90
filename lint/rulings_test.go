package lint_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
	"cagenut/lint"
)

// heavy finds every mount above its limit, in two rule sets.
var heavy = &lint.Rule{
	ID: "test/heavy", Aliases: []string{"test/weighty"}, Since: "2026.1", Level: lint.Warning,
	Earlier: []lint.Earlier{{Before: "2026.2", Level: lint.Note}},
	Limits: []lint.Limit{
		{Name: "limit", Default: 20 * quantity.Kilogram, Doc: "mass"},
		{Name: "share", Default: 0.5, Doc: "share"},
		{Name: "times", Default: 3, Doc: "count"},
	},
	Rack: func(pass *lint.Pass, r *estate.Rack) {
		for _, m := range r.Mounts {
			limit := lint.LimitFor[quantity.Mass](pass, "limit", m)
			mass, ok := m.Equipment.Mass.Get()
			if !ok {
				pass.MountUnchecked(m, "its mass is %s", m.Equipment.Mass.State)
				continue
			}
			if mass > limit {
				f := lint.AtMount(m, "")
				f.Message = fmt.Sprintf("%s over %s", mass, limit)
				pass.Report(f)
			}
		}
	},
}

// light comes with a later rule set.
var light = &lint.Rule{ID: "test/light", Since: "2026.10", Level: lint.Note, Rack: func(pass *lint.Pass, r *estate.Rack) {
	f := lint.AtRack(r, "")
	f.Message = "light"
	pass.Report(f)
}}

const places = `room "hq" {}
room "quay" {}
row "one" {
  room = room.hq
}
row "two" {
  room = room.quay
}
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "ups" {
  kind   = "ups"
  height = "2U"
  mass   = "34 kg"
}
equipment "server" {
  kind   = "server"
  height = "2U"
  mass   = "28 kg"
}
equipment "guess" {
  height = "1U"
  mass   = unknown
}
rack "a" {
  row   = row.one
  frame = frame.cab
  mount "ups" {
    at        = 1
    equipment = equipment.ups
  }
  mount "server" {
    at        = 3
    equipment = equipment.server
  }
}
rack "b" {
  row   = row.two
  frame = frame.cab
  mount "ups" {
    at        = 1
    equipment = equipment.ups
  }
  mount "guess" {
    at        = 5
    equipment = equipment.guess
  }
}
`

func load(t *testing.T, rules, set string) *estate.Estate {
	t.Helper()
	header := "estate \"e\" {\n}\n"
	if set != "" {
		header = fmt.Sprintf("estate \"e\" {\n  rules = %q\n}\n", set)
	}
	e, diags, err := lang.Load(context.Background(), source.Memory("test", map[string]string{
		"estate.hcl": header, "places.hcl": places, "rules.hcl": rules,
	}), lang.Options{Workers: 1})
	if err != nil || len(diags) > 0 {
		t.Fatal(err, diags)
	}
	return e
}

var day = estate.NewDate(2026, time.November, 25)

func run(t *testing.T, e *estate.Estate, o lint.Options) []string {
	t.Helper()
	if o.Rules == nil {
		o.Rules = []*lint.Rule{heavy, light}
	}
	if o.Today == 0 {
		o.Today = day
	}
	res, err := lint.Run(context.Background(), e, o)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range res.Findings {
		s := fmt.Sprintf("%s %s %s: %s", f.Level, f.Rule, f.Thing, f.Message)
		if f.Waiver != nil {
			s += ", waived until " + f.Waiver.Until.String()
		}
		if f.Ended != nil {
			s += ", waived before until " + f.Ended.Until.String()
		}
		out = append(out, s)
	}
	for _, w := range res.Waivers {
		out = append(out, fmt.Sprintf("waiver on %s: accepts %v, judged %v", w.On, w.Accepts, w.Judged))
	}
	return out
}

const reason = "\n  reason = \"x\"\n}\n"

func TestAdjustments(t *testing.T) {
	tests := []struct {
		name, rules string
		want        []string
	}{
		{"none", "", []string{
			"warning test/heavy rack.a.ups: 34 kg over 20 kg", "warning test/heavy rack.b.ups: 34 kg over 20 kg", "warning test/heavy rack.a.server: 28 kg over 20 kg"}},
		{"a limit everywhere", "adjust \"test/heavy\" {\n  limit = \"66 lb\"" + reason, []string{
			"warning test/heavy rack.a.ups: 34 kg over 29.9 kg", "warning test/heavy rack.b.ups: 34 kg over 29.9 kg"}},
		{"a level in a room", "adjust \"test/heavy\" {\n  level = \"error\"\n  within = [room.hq]" + reason, []string{
			"error test/heavy rack.a.ups: 34 kg over 20 kg", "error test/heavy rack.a.server: 28 kg over 20 kg", "warning test/heavy rack.b.ups: 34 kg over 20 kg"}},
		{"off for a kind", "adjust \"test/heavy\" {\n  level = \"off\"\n  within = [kind.ups]" + reason, []string{
			"warning test/heavy rack.a.server: 28 kg over 20 kg"}},
		{"off for equipment and a row", "adjust \"test/heavy\" {\n  level = \"off\"\n  within = [equipment.server, row.two]" + reason, []string{
			"warning test/heavy rack.a.ups: 34 kg over 20 kg"}},
		{"the narrower has the last word, whatever the order",
			"adjust \"test/heavy\" {\n  limit = \"30 kg\"\n  within = [rack.a]" + reason + "adjust \"test/heavy\" {\n  limit = \"50 kg\"\n  within = [frame.cab]" + reason, []string{
				"warning test/heavy rack.a.ups: 34 kg over 30 kg"}},
		{"of equally narrow ones the later",
			"adjust \"test/heavy\" {\n  limit = \"30 kg\"\n  within = [room.hq]" + reason + "adjust \"test/heavy\" {\n  limit = \"50 kg\"\n  within = [room.hq, room.quay]" + reason, nil},
		{"by the name it had before", "adjust \"test/weighty\" {\n  level = \"off\"" + reason, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			e := load(t, tt.rules, "2026.2")
			if mistakes := lint.CheckRulings(e, []*lint.Rule{heavy, light, {ID: "x/y", Since: "2026.2"}}); len(mistakes) > 0 {
				t.Error(mistakes)
			}
			got := run(t, e, lint.Options{})
			less := func(s []string) string {
				// Which of two findings of one line comes first is tested elsewhere.
				m := map[string]int{}
				for _, x := range s {
					m[x]++
				}
				return fmt.Sprint(m)
			}
			if less(got) != less(tt.want) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestWaivers(t *testing.T) {
	waive := func(rule, on, until string) string {
		return fmt.Sprintf("waive %q {\n  on    = %s\n  until = %q%s", rule, on, until, reason)
	}
	tests := []struct {
		name, rules string
		o           lint.Options
		want        []string
	}{
		{name: "in force on its last day", rules: waive("test/heavy", "rack.a.ups", "2026-11-25"), want: []string{
			"warning test/heavy rack.a.ups: 34 kg over 20 kg, waived until 2026-11-25", "waiver on rack.a.ups: accepts true, judged true"}},
		{name: "ended the day before", rules: waive("test/heavy", "rack.a.ups", "2026-11-24"), want: []string{
			"warning test/heavy rack.a.ups: 34 kg over 20 kg, waived before until 2026-11-24", "waiver on rack.a.ups: accepts true, judged true"}},
		{name: "the longer of two", rules: waive("test/heavy", "rack.a.ups", "2026-11-24") + waive("test/heavy", "rack.a.ups", "2027-01-31"), want: []string{
			"warning test/heavy rack.a.ups: 34 kg over 20 kg, waived until 2027-01-31", "waiver on rack.a.ups: accepts true, judged true", "waiver on rack.a.ups: accepts true, judged true"}},
		{name: "by the name that the rule had before", rules: waive("test/weighty", "rack.a.ups", "2027-01-31"), want: []string{
			"warning test/heavy rack.a.ups: 34 kg over 20 kg, waived until 2027-01-31", "waiver on rack.a.ups: accepts true, judged true"}},
		{name: "a waiver on the rack is not one on what is in it", rules: waive("test/heavy", "rack.a", "2027-01-31"), want: []string{
			"warning test/heavy rack.a.ups: 34 kg over 20 kg", "waiver on rack.a: accepts false, judged true"}},
		{name: "what could not be judged", rules: waive("test/heavy", "rack.b.guess", "2027-01-31"), want: []string{
			"warning test/heavy rack.a.ups: 34 kg over 20 kg", "waiver on rack.b.guess: accepts false, judged false"}},
		{name: "a rule that did not run", rules: waive("test/light", "rack.a", "2027-01-31"), want: []string{
			"warning test/heavy rack.a.ups: 34 kg over 20 kg", "waiver on rack.a: accepts false, judged false"}},
		{name: "when only part is read", rules: waive("test/heavy", "rack.a.server", "2027-01-31"), o: lint.Options{Partial: true}, want: []string{
			"warning test/heavy rack.a.ups: 34 kg over 20 kg", "waiver on rack.a.server: accepts true, judged false"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			e := load(t, tt.rules, "2026.2")
			var got []string
			for _, s := range run(t, e, tt.o) {
				if strings.HasPrefix(s, "waiver") || strings.Contains(s, "rack.a.ups") {
					got = append(got, s)
				}
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}

func TestRuleSets(t *testing.T) {
	tests := []struct {
		pinned, asked string
		want          string
	}{
		{"2026.1", "", "note test/heavy rack.b.ups: 34 kg over 20 kg"},
		{"2026.2", "", "warning test/heavy rack.b.ups: 34 kg over 20 kg"},
		{"2026.9", "", "warning test/heavy rack.b.ups: 34 kg over 20 kg"}, // 9 is before 10
		{"2026.10", "", "note test/light rack.b: light"},
		{"", "", "note test/light rack.b: light"},
		{"2026.1", lint.Newest, "note test/light rack.b: light"},
		{"2026.10", "2026.1", "note test/heavy rack.b.ups: 34 kg over 20 kg"},
	}
	for _, tt := range tests {
		e := load(t, "", tt.pinned)
		got := ""
		for _, s := range run(t, e, lint.Options{RuleSet: tt.asked}) {
			if got == "" && strings.Contains(s, "rack.b") || strings.Contains(s, "light rack.b") {
				got = s
			}
		}
		if got != tt.want {
			t.Errorf("pinned %q, asked for %q: %q, want %q", tt.pinned, tt.asked, got, tt.want)
		}
	}
}

func TestCheckRulings(t *testing.T) {
	rules := `adjust "test/heavvy" {
  limit  = "3 kg"
  reason = "x"
}
adjust "nothing/like-it" {
  level  = "off"
  reason = "x"
}
adjust "test/heavy" {
  limit  = "3 m"
  share  = "half"
  times  = 2.5
  limits = "3 kg"
}
adjust "test/light" {
  limit  = 3
  reason = "x"
}
adjust "test/light" {
  reason = "x"
}
waive "test/hevy" {
  on     = rack.a
  until  = "2027-01-31"
  reason = "x"
}
waive "test/heavy" {
  on     = rack.a
  until  = "2027-01-31"
  reason = " "
}
`
	e := load(t, rules, "2026.3")
	want := `estate.hcl "\"2026.3\"": there is no rule set "2026.3"; this program knows 2026.1, 2026.10
rules.hcl "\"test/heavvy\"": there is no rule "test/heavvy"; perhaps test/heavy is meant
rules.hcl "\"nothing/like-it\"": there is no rule "nothing/like-it"; explain lists them
rules.hcl "\"test/heavy\"": an adjustment needs a reason; write reason = "..."
rules.hcl "\"3 m\"": "3 m" has the unit "m", which is not a mass; use one of kg, lb, g, t, oz
rules.hcl "\"half\"": "half" is no number; write one such as 0.8
rules.hcl "2.5": "2.5" is no whole number; write one such as 2
rules.hcl "\"3 kg\"": test/heavy has no limit "limits"; perhaps limit is meant
rules.hcl "3": test/light has no limit "limit"; it has none, and only its level can be adjusted
rules.hcl "\"test/light\"": this adjusts nothing; write a level or a limit
rules.hcl "\"test/hevy\"": there is no rule "test/hevy"; perhaps test/heavy is meant
rules.hcl "\" \"": a waiver needs a reason that a reader in a year understands
`
	var got strings.Builder
	for _, d := range lint.CheckRulings(e, []*lint.Rule{heavy, light}) {
		text := rules
		if d.File == "estate.hcl" {
			text = "estate \"e\" {\n  rules = \"2026.3\"\n}\n"
		}
		fmt.Fprintf(&got, "%s %q: %s\n", d.File, text[d.Start:d.End], d.Summary)
	}
	if diff := cmp.Diff(want, got.String()); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	// Run leaves out what is wrong and judges by the rest.
	if got := run(t, e, lint.Options{RuleSet: "2026.2"}); len(got) != 5 {
		t.Errorf("got %q", got)
	}
}

// What judges without a pass sees the same limits as a rule does.
func TestLimitsOutsideARun(t *testing.T) {
	e := load(t, `adjust "test/weighty" {
  limit  = "30 kg"
  within = [room.quay]
  reason = "two people"
}
`, "")
	limits := lint.LimitsOf(e, []*lint.Rule{heavy})
	for _, tt := range []struct {
		rule, name, thing string
		want              any
	}{
		{"test/heavy", "limit", "a", 20 * quantity.Kilogram},
		{"test/heavy", "limit", "b", 30 * quantity.Kilogram},
		{"test/light", "limit", "b", 7 * quantity.Kilogram},
	} {
		if got := lint.LimitIn(limits, tt.rule, tt.name, e.Rack(tt.thing).Mounts[0], 7*quantity.Kilogram); got != tt.want {
			t.Errorf("LimitIn(%s, %s, rack.%s.ups) = %v, want %v", tt.rule, tt.name, tt.thing, got, tt.want)
		}
	}
}
