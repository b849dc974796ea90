package main

import (
	"context"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/parts"
	"cagenut/lang/source"
	"cagenut/lint"
	"cagenut/lint/rules"
	"cagenut/render/diff"
	"cagenut/render/elevation"
	"cagenut/render/report"
	"cagenut/render/svg"
)

// Whatever can be declared can be judged, drawn, compared and counted: heights
// of one unit and of a thousand, places below and above every frame, figures
// that are missing, unknown, nothing or monstrous. Nothing may panic, and
// nothing may hold a control character.
func TestAnyEstateIsJudgedAndDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		before, after := anyEstate(t), anyEstate(t)
		todo := context.Background()
		for _, e := range []*estate.Estate{before, after} {
			result, err := lint.Run(todo, e, lint.Options{Rules: rules.All(), Today: estate.NewDate(2026, time.November, 25), Workers: 1})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range result.Findings {
				if f.Message == "" || strings.ContainsAny(f.Message, "\n\x1b") || strings.Contains(f.Message, "%!") {
					t.Fatalf("%s says %q", f.Rule, f.Message)
				}
			}
			for _, form := range report.FormNames() {
				page := &report.Page{Result: result, Rules: rules.All(), Version: "test"}
				if err := report.Print(io.Discard, form, page, report.Look{Width: 80}); err != nil {
					t.Fatalf("%s: %v", form, err)
				}
			}
			for _, rack := range e.Racks {
				for _, view := range []elevation.View{elevation.Front, elevation.Rear, elevation.Side} {
					for _, line := range elevation.Draw(rack, elevation.Options{View: view, Width: 80}) {
						if s := fmt.Sprint(line); strings.ContainsAny(s, "\x1b\x00") {
							t.Fatalf("a line of rack %s holds a control character: %q", rack.Name, s)
						}
					}
					d, err := svg.Elevation(rack, svg.Options{View: view})
					if err == nil {
						err = d.SVG(io.Discard)
					}
					if err != nil && strings.Contains(err.Error(), "panic") {
						t.Fatal(err)
					}
				}
			}
			parts.Of(e.Racks, parts.Options{Thread: "m6"})
		}
		c := change.Between(before, after)
		diff.Text(c, diff.Options{Width: 80})
		if err := diff.JSON(io.Discard, c); err != nil {
			t.Fatal(err)
		}
		if same := change.Between(before, before); len(same.Mounts) > 0 || len(same.Racks) > 0 && same.Racks[0].Old != same.Racks[0].New {
			t.Fatalf("an estate differs from itself: %s", diff.Summary(same))
		}
	})
}

// anyEstate makes up an estate that has no mistakes in its text.
func anyEstate(t *rapid.T) *estate.Estate {
	var b strings.Builder
	pick := func(name string, words ...string) string { return rapid.SampledFrom(words).Draw(t, name) }
	line := func(name string, words ...string) {
		if v := pick(name, append(words, "")...); v != "" {
			fmt.Fprintf(&b, "  %s = %s\n", name, v)
		}
	}
	length := []string{`"0 mm"`, `"1 mm"`, `"44.45 mm"`, `"740 mm"`, `"9 m"`, `"8000000 m"`, "unknown", `{ is = "600 mm", basis = "estimated", on = "2020-01-01" }`}
	mass := []string{`"0 kg"`, `"9 kg"`, `"4000 kg"`, "unknown"}
	power := []string{`"0 W"`, `"200 W"`, `"90 kW"`, "unknown"}
	systems := []string{`"19in"`, `"23in-1inch"`, `"25mm"`, `"open-rack"`, `"10in"`}
	fmt.Fprintf(&b, "estate \"e\" {}\n\nsite \"s\" {\n")
	line("seismic_zone", "0", "4", "unknown")
	line("continuous", "0.8", "1", "unknown")
	line("altitude", length...)
	b.WriteString("}\n\nroom \"h\" {\n  site = site.s\n")
	line("heat_limit", power...)
	line("supply_air", `"22 C"`, `"-270 C"`, "unknown")
	line("height", length...)
	line("floor_load", `"7.2 kPa"`, `"0 kPa"`, "unknown")
	b.WriteString("}\n\nrow \"w\" {\n")
	line("room", "room.h")
	line("front", `"cold"`, `"hot"`, `"mixed"`)
	b.WriteString("}\n")
	for _, f := range []string{"a", "b"} {
		fmt.Fprintf(&b, "\nfeed %q {\n", f)
		line("source", `"ups-1"`, `"mains"`)
		line("voltage", `"230 V"`, `"0 V"`, `"-48 V"`, "unknown")
		line("phases", "0", "1", "3")
		line("rated", `"16 A"`, `"0 A"`, "unknown")
		b.WriteString("}\n")
	}
	for i := range 2 {
		fmt.Fprintf(&b, "\nframe \"f-%d\" {\n  system = %s\n", i, pick("system", systems...))
		if rapid.Bool().Draw(t, "by units") {
			fmt.Fprintf(&b, "  units = %s\n", pick("units", "1", "2", "12", "42", "60"))
		} else {
			fmt.Fprintf(&b, "  clear = %s\n", pick("clear", `"100 mm"`, `"1867 mm"`, `"1 mm"`, `"0 mm"`))
		}
		line("kind", `"cabinet"`, `"two-post"`, `"wall"`, `"case"`, `"four-post"`)
		line("counted", `"up"`, `"down"`)
		line("first", "0", "1", "7", "100")
		line("unusable", `["1-2"]`, `[3]`, `[900]`)
		for _, name := range []string{"post_span", "front_room", "rear_room", "opening", "width", "depth", "height", "base"} {
			line(name, length...)
		}
		for _, name := range []string{"mass", "rated", "rolling"} {
			line(name, mass...)
		}
		line("holes", `"square"`, `"m6"`)
		line("standing", `"feet"`, `"castors"`)
		line("fixed", `"none"`, `"anchored"`, `"stabiliser"`)
		line("blanking", "true", "false")
		b.WriteString("}\n")
	}
	for i := range 3 {
		fmt.Fprintf(&b, "\nequipment \"q-%d\" {\n", i)
		line("system", systems...)
		line("height", `"1U"`, `"0.5U"`, `"1.5U"`, `"40U"`, `"3 OU"`, `"4 SU"`, `"1 mm"`, `"5 m"`, "unknown")
		for _, name := range []string{"body", "depth", "cords", "front"} {
			line(name, length...)
		}
		line("mass", mass...)
		line("mounting", `"ears"`, `"slides"`, `"fixed-rails"`, `"shelf"`, `"centre"`, `"zero-u"`)
		line("rails", `{ from = "600 mm", to = "900 mm" }`, "unknown")
		line("holes", `["square"]`, `["m6", "round"]`)
		line("air", `"front-to-rear"`, `"left-to-right"`, `"none"`, `"bottom-to-top"`)
		line("draw", `"200 W"`, `{ typical = "1 W", nameplate = "90 kW" }`, "unknown", `"0 W"`)
		line("inlets", `{ type = "c14", count = 2, needs = 1 }`, `{ type = "c20", count = 64, needs = 0 }`)
		line("share", `"1/2"`, `"1/9"`)
		b.WriteString("}\n")
	}
	var members []string
	for i := range rapid.IntRange(1, 2).Draw(t, "racks") {
		fmt.Fprintf(&b, "\nrack \"r-%d\" {\n  frame = frame.f-%d\n", i, i)
		line("row", "row.w")
		line("place", "1", "2")
		line("feeds", "[feed.a]", "[feed.a, feed.b]", "[]")
		line("owner", `"network"`, `""`)
		for j := range rapid.IntRange(0, 5).Draw(t, "mounts") {
			fmt.Fprintf(&b, "  mount \"m-%d\" {\n  at = %s\n  equipment = equipment.q-%d\n", j,
				pick("at", "1", "2", "40.5", "42", "0.5", "9999", `"3-4"`, `"41-44"`, `"120 mm"`, `"9 m"`), rapid.IntRange(0, 2).Draw(t, "kind"))
			line("face", `"front"`, `"rear"`)
			line("slot", `"left"`, `"right"`, `"3/3"`, `"99/99"`)
			line("feeds", "[feed.a]", "[feed.a, feed.b]", "[feed.b, feed.b, feed.b]")
			line("serial", `"S-1"`, `"S-2"`)
			b.WriteString("  }\n")
			members = append(members, fmt.Sprintf("rack.r-%d.m-%d", i, j))
		}
		if rapid.Bool().Draw(t, "stack") {
			fmt.Fprintf(&b, "  stack \"n\" {\n  from = %s\n  count = %s\n  equipment = equipment.q-0\n  }\n", pick("from", "1", "40", "42"), pick("count", "1", "3", "200"))
		}
		if rapid.Bool().Draw(t, "zero_u") {
			b.WriteString("  zero_u \"z\" {\n  equipment = equipment.q-1\n")
			line("side", `"left"`, `"right"`)
			line("from", length...)
			line("length", length...)
			b.WriteString("  }\n")
		}
		fmt.Fprintf(&b, "  blank { at = %s }\n  reserve \"v\" {\n  at = %s\n  }\n}\n", pick("blank", "1", `"5-9"`, `"40-90"`, "9999"), pick("reserve", "2", `"1-42"`, "9999"))
	}
	if len(members) > 0 {
		fmt.Fprintf(&b, "\ngroup \"g\" {\n  of = [%s]\n  up = %s\n", strings.Join(members, ", "), pick("up", "1", "2", "99"))
		line("apart", `"rack"`, `["feed", "source"]`, `["row", "room"]`)
		b.WriteString("}\n")
	}
	e, diags, err := lang.Load(context.Background(), source.Memory("any", map[string]string{"estate.hcl": b.String()}), lang.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		t.Fatalf("made up wrongly: %s\n%s", d.Summary, b.String())
	}
	return e
}
