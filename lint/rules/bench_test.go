package rules_test

import (
	"context"
	"fmt"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/lint"
	"cagenut/lint/rules"
)

// large makes an estate of racks with 40 mounts each, of 8 kinds of equipment
// with every figure declared, in which nothing is wrong.
func large(racks int) *estate.Estate {
	s, _ := system.ByName("19in")
	mm := func(n int) estate.Figure[quantity.Length] {
		return estate.Is(quantity.Length(n) * quantity.Millimetre)
	}
	f := &estate.Frame{
		Name: "cab", System: s, Kind: estate.Cabinet, Units: 42, First: 1, Counted: estate.CountedUp, Holes: estate.SquareHoles,
		PostSpan: mm(740), FrontRoom: mm(100), RearRoom: mm(180), Opening: mm(450), Width: mm(800),
	}
	var kinds []*estate.Equipment
	for i := range 8 {
		mounting := estate.Slides
		if i%2 == 0 {
			mounting = estate.Ears
		}
		kinds = append(kinds, &estate.Equipment{
			Name: fmt.Sprint("kind-", i), System: s, Mounting: mounting, Holes: []estate.Holes{estate.SquareHoles},
			Height: estate.Height{Count: estate.OneUnit, Word: "U", Length: quantity.RackUnit, State: estate.IsGiven},
			Body:   mm(440), Depth: mm(300 + i), Cords: mm(60), Front: mm(40), Mass: estate.Is(5 * quantity.Kilogram),
			Rails: estate.Is(estate.Span2{From: 600 * quantity.Millimetre, To: 900 * quantity.Millimetre}),
		})
	}
	e := &estate.Estate{Lengths: "mm", Frames: []*estate.Frame{f}, Equipment: kinds}
	for i := range racks {
		r := &estate.Rack{Name: fmt.Sprint("r", i), Frame: f, Owner: "bench"}
		for u := range 40 {
			r.Mounts = append(r.Mounts, &estate.Mount{Name: fmt.Sprint("m", u), Rack: r, Equipment: kinds[u%8], At: estate.Units(u + 1), Face: estate.FrontFace})
		}
		e.Racks = append(e.Racks, r)
	}
	return e
}

// BenchmarkSpaceAndFit judges racks by the rules on space and fit. Its floor,
// one walk over the same mounts that looks up one figure of each, runs beside
// it.
func BenchmarkSpaceAndFit(b *testing.B) {
	e := large(250)
	var run []*lint.Rule
	for _, r := range rules.All() {
		if r.Rack != nil && (r.ID[:4] == "spac" || r.ID[:4] == "fit/") {
			run = append(run, r)
		}
	}
	mounts := float64(len(e.Racks) * 40)
	b.Run("rules", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			r, err := lint.Run(context.Background(), e, lint.Options{Rules: run, Today: today, Workers: 1})
			if err != nil || len(r.Findings) > 0 || len(r.Unchecked) > 0 {
				b.Fatalf("%v, %v, %v", err, r.Findings, r.Unchecked)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/mounts/float64(len(run)), "ns/mount/rule")
	})
	b.Run("floor", func(b *testing.B) {
		var deep quantity.Length
		for b.Loop() {
			for _, r := range e.Racks {
				for _, m := range r.Mounts {
					deep = max(deep, m.Equipment.Depth.Or(0))
				}
			}
		}
		if deep == 0 {
			b.Fatal("no depth")
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/mounts, "ns/mount")
	})
}
