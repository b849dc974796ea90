package rules_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/lint"
	"cagenut/lint/rules"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// figure draws a length that is given, unknown or missing.
func figure(rt *rapid.T, name string, most int) estate.Figure[quantity.Length] {
	state := rapid.SampledFrom([]estate.State{estate.IsGiven, estate.IsGiven, estate.IsUnknown, estate.IsMissing}).Draw(rt, name+" state")
	f := estate.Figure[quantity.Length]{State: state, Basis: rapid.SampledFrom([]estate.Basis{estate.Unstated, estate.Estimated, estate.Measured}).Draw(rt, name+" basis")}
	if state == estate.IsGiven {
		f.Value = quantity.Length(rapid.IntRange(0, most).Draw(rt, name)) * quantity.Millimetre
	}
	return f
}

// someEstate draws an estate with one rack in which anything may be missing,
// as long as the reader of the language could make it.
func someEstate(rt *rapid.T) *estate.Estate {
	systems := system.All()
	f := &estate.Frame{
		Name: "f", System: rapid.SampledFrom(systems).Draw(rt, "frame system"),
		Kind:    estate.FrameKind(rapid.IntRange(0, len(estate.FrameKinds)-1).Draw(rt, "kind")),
		Units:   rapid.IntRange(0, 45).Draw(rt, "units"),
		Counted: estate.Counting(rapid.IntRange(1, 2).Draw(rt, "counted")), First: rapid.IntRange(0, 3).Draw(rt, "first"),
		Holes:    estate.Holes(rapid.IntRange(0, len(estate.HoleKinds)-1).Draw(rt, "holes")),
		PostSpan: figure(rt, "span", 900), FrontRoom: figure(rt, "front room", 150), RearRoom: figure(rt, "rear room", 300),
		Opening: figure(rt, "opening", 600), Width: figure(rt, "width", 900), Base: figure(rt, "base", 200), Height: figure(rt, "height", 2300),
		Blanking: rapid.Bool().Draw(rt, "blanking"),
	}
	if f.Units == 0 || rapid.Bool().Draw(rt, "by length") {
		f.Units, f.Clear = 0, quantity.Length(rapid.IntRange(1, 2200).Draw(rt, "clear"))*quantity.Millimetre
	}
	if rapid.Bool().Draw(rt, "obstructed") {
		f.Obstructions = []*estate.Obstruction{{Name: "o", To: quantity.Metre, Far: quantity.Metre, Side: estate.Side(rapid.IntRange(0, 2).Draw(rt, "obstruction side")), Reach: quantity.Centimetre}}
	}
	if rapid.Bool().Draw(rt, "unusable") {
		f.Unusable = []estate.UnitRange{{From: estate.Units(f.First), To: estate.Units(f.First + 1)}}
	}
	r := &estate.Rack{Name: "r", Frame: f}
	e := &estate.Estate{Lengths: rapid.SampledFrom([]string{"mm", "in"}).Draw(rt, "lengths"), Frames: []*estate.Frame{f}, Racks: []*estate.Rack{r}}
	if rapid.Bool().Draw(rt, "row") {
		r.Row = &estate.Row{Name: "row", Front: estate.Aisle(rapid.IntRange(0, 3).Draw(rt, "aisle")), FrontAisle: figure(rt, "front aisle", 1500), RearAisle: figure(rt, "rear aisle", 1500)}
		e.Rows = []*estate.Row{r.Row}
	}
	for i := range rapid.IntRange(1, 4).Draw(rt, "equipment") {
		q := &estate.Equipment{
			Name: fmt.Sprint("q", i), Mounting: estate.Mounting(rapid.IntRange(0, len(estate.Mountings)-1).Draw(rt, "mounting")),
			Body: figure(rt, "body", 600), Depth: figure(rt, "depth", 1000), Cords: figure(rt, "cords", 200), Front: figure(rt, "front", 150),
			Forward: figure(rt, "forward", 50), Below: figure(rt, "below", 10), Tail: figure(rt, "tail", 200), Withdraw: figure(rt, "withdraw", 500),
			Extension: figure(rt, "extension", 900), Upright: rapid.Bool().Draw(rt, "upright"),
		}
		if rapid.Bool().Draw(rt, "has a system") {
			q.System = rapid.SampledFrom(systems).Draw(rt, "system")
			q.Takes = rapid.SampledFrom(systems).Draw(rt, "takes")
		}
		q.Height = estate.Height{State: estate.State(rapid.IntRange(0, 2).Draw(rt, "height state"))}
		if q.Height.State == estate.IsGiven {
			q.Height.Length = quantity.Length(rapid.IntRange(1, 12).Draw(rt, "half units")) * quantity.RackUnit / 2
			q.Height.Word = rapid.SampledFrom([]string{"", "U"}).Draw(rt, "word")
		}
		if rapid.Bool().Draw(rt, "ears") {
			q.Ears = []quantity.Length{6350 * quantity.Micrometre, quantity.Length(rapid.IntRange(7, 200).Draw(rt, "ear")) * quantity.Millimetre}
		}
		e.Equipment = append(e.Equipment, q)
	}
	for i := range rapid.IntRange(0, 6).Draw(rt, "mounts") {
		m := &estate.Mount{
			Name: fmt.Sprint("m", i), Rack: r, At: estate.UnitNumber(rapid.IntRange(0, 50000).Draw(rt, "at")),
			Face: estate.Face(rapid.IntRange(0, 2).Draw(rt, "face")), Inverted: rapid.Bool().Draw(rt, "inverted"),
		}
		if rapid.Bool().Draw(rt, "whole unit") {
			m.At -= m.At % estate.OneUnit
		}
		if of := rapid.IntRange(0, 3).Draw(rt, "of"); of > 1 {
			m.Slot = estate.Slot{Part: uint8(rapid.IntRange(1, of).Draw(rt, "part")), Of: uint8(of)}
		}
		if rapid.IntRange(0, 9).Draw(rt, "resolved") > 0 {
			m.Equipment = rapid.SampledFrom(e.Equipment).Draw(rt, "what")
		}
		if rapid.IntRange(0, 4).Draw(rt, "adapted") == 0 {
			m.Adapter = rapid.SampledFrom(e.Equipment).Draw(rt, "adapter")
		}
		if rapid.IntRange(0, 4).Draw(rt, "beside") == 0 {
			m.ZeroU = &estate.ZeroUPlace{Side: estate.Side(rapid.IntRange(0, 2).Draw(rt, "side")), Plane: estate.Face(rapid.IntRange(0, 2).Draw(rt, "plane")), From: figure(rt, "from", 500), Length: figure(rt, "length", 2000)}
		}
		r.Mounts = append(r.Mounts, m)
	}
	for range rapid.IntRange(0, 2).Draw(rt, "blanks") {
		from := rapid.IntRange(0, 50).Draw(rt, "blank")
		r.Blanks = append(r.Blanks, &estate.Blank{Rack: r, Units: estate.UnitRange{From: estate.Units(from), To: estate.Units(from + 2)}})
	}
	return e
}

// Whatever is missing, rules neither fail nor say half a sentence, and one run
// says what the next one says.
func TestRulesOnRandomEstates(t *testing.T) {
	all := rules.All()
	rapid.Check(t, func(rt *rapid.T) {
		e := someEstate(rt)
		o := lint.Options{Rules: all, Today: today, Workers: 1}
		a, err := lint.Run(context.Background(), e, o)
		if err != nil {
			rt.Fatal(err)
		}
		for _, f := range a.Findings {
			if f.Message == "" || f.Thing == "" || f.Level <= lint.Off || strings.Contains(f.Message, "%!") || strings.Contains(f.Message, "  ") || strings.HasSuffix(f.Message, ".") {
				rt.Fatalf("%s on %q: %q at level %v", f.Rule, f.Thing, f.Message, f.Level)
			}
			if slices.Contains(f.Others, f.Thing) {
				rt.Fatalf("%s: %q is its own other thing", f.Rule, f.Thing)
			}
		}
		for _, u := range a.Unchecked {
			if u.Because == "" || u.Thing == "" || strings.Contains(u.Because, "%!") {
				rt.Fatalf("%s on %q: not checked because %q", u.Rule, u.Thing, u.Because)
			}
		}
		b, err := lint.Run(context.Background(), e, o)
		if err != nil {
			rt.Fatal(err)
		}
		if diff := cmp.Diff(a.Findings, b.Findings); diff != "" {
			rt.Fatalf("the second run differs:\n%s", diff)
		}
	})
}
