package rules_test

import (
	"context"
	"fmt"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
	"cagenut/lint/rules"
)

// hall makes racks of forty servers on two feeds each, all a feeds from one
// source and all b feeds from another.
func hall(racks int) *estate.Estate {
	e := &estate.Estate{}
	site := &estate.Site{Name: "s", Continuous: estate.Is(0.8)}
	room := &estate.Room{Name: "r", Site: site}
	server := &estate.Equipment{
		Name: "server", Inlets: []estate.Inlet{{Type: "c14", Count: 2, Needs: 1}},
		Draw: estate.Draw{Maximum: estate.Is(100 * quantity.Watt)}, Mass: estate.Is(10 * quantity.Kilogram), Leakage: estate.Is(quantity.Milliampere),
		Voltage: estate.Is(estate.VoltageRange{From: 100 * quantity.Volt, To: 240 * quantity.Volt}),
	}
	e.Sites, e.Rooms, e.Equipment = []*estate.Site{site}, []*estate.Room{room}, []*estate.Equipment{server}
	for i := range racks {
		rack := &estate.Rack{Name: fmt.Sprintf("r%d", i)}
		for _, side := range []string{"a", "b"} {
			f := &estate.Feed{
				Name: fmt.Sprintf("%s%05d", side, i), Room: room, Origin: "ups-" + side, Phases: 1,
				Voltage: estate.Is(230 * quantity.Volt), Rated: estate.Is(32 * quantity.Ampere), Residual: estate.Is(300 * quantity.Milliampere),
			}
			e.Feeds = append(e.Feeds, f)
			rack.Feeds = append(rack.Feeds, f)
		}
		for u := range 40 {
			rack.Mounts = append(rack.Mounts, &estate.Mount{
				Name: fmt.Sprintf("m%d", u), Rack: rack, Equipment: server, At: estate.Units(u + 1), Feeds: rack.Feeds,
			})
		}
		e.Racks = append(e.Racks, rack)
	}
	return e
}

// BenchmarkPower judges a thousand racks by all rules of the group. The floor is
// one walk that adds up the draw of every mount: what any answer must read.
func BenchmarkPower(b *testing.B) {
	e := hall(1000)
	var group []*lint.Rule
	for _, r := range rules.All() {
		if len(r.ID) > 6 && r.ID[:6] == "power/" {
			group = append(group, r)
		}
	}
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			var sum quantity.Power
			for _, r := range e.Racks {
				for _, m := range r.Mounts {
					for range m.Feeds {
						sum += m.Equipment.Draw.Maximum.Value
					}
				}
			}
			if sum == 0 {
				b.Fatal("nothing is drawn")
			}
		}
	})
	judge := func(b *testing.B, run []*lint.Rule) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := lint.Run(context.Background(), e, lint.Options{Rules: run, Workers: 1}); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.Run("all", func(b *testing.B) { judge(b, group) })
	for _, r := range group {
		b.Run(r.ID, func(b *testing.B) { judge(b, []*lint.Rule{r}) })
	}
}
