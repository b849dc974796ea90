package change

import (
	"fmt"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// bulk makes an estate of that many racks of 40 mounts each.
func bulk(racks int) *estate.Estate {
	e := &estate.Estate{Lengths: "mm"}
	frame := &estate.Frame{Name: "cab", Units: 42, First: 1}
	e.Frames = []*estate.Frame{frame}
	for i := range 20 {
		e.Equipment = append(e.Equipment, &estate.Equipment{Name: fmt.Sprintf("kind-%d", i), Mass: estate.Is(9 * quantity.Kilogram)})
	}
	for i := range racks {
		a := &estate.Feed{Name: fmt.Sprintf("a-%d", i)}
		b := &estate.Feed{Name: fmt.Sprintf("b-%d", i)}
		e.Feeds = append(e.Feeds, a, b)
		r := &estate.Rack{Name: fmt.Sprintf("rack-%d", i), Frame: frame, Feeds: []*estate.Feed{a, b}}
		for k := range 40 {
			r.Mounts = append(r.Mounts, &estate.Mount{
				Name: fmt.Sprintf("m-%d", k), Rack: r, Equipment: e.Equipment[k%20], At: estate.Units(k + 1),
				Feeds: r.Feeds, Serial: fmt.Sprintf("BW-%d-%d", i, k), Owner: "network",
			})
		}
		e.Racks = append(e.Racks, r)
	}
	return e
}

// BenchmarkBetween compares two estates of 10,000 racks of which one rack has
// changed, beside the floor: looking once at the label, place and serial number
// of every mount.
func BenchmarkBetween(b *testing.B) {
	old, neu := bulk(10_000), bulk(10_000)
	neu.Racks[5000].Mounts[3].At = estate.Units(41)
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			n := 0
			for i, r := range old.Racks {
				for k, m := range r.Mounts {
					o := neu.Racks[i].Mounts[k]
					if m.Name != o.Name || m.At != o.At || m.Serial != o.Serial || m.Equipment.Name != o.Equipment.Name {
						n++
					}
				}
			}
			if n != 1 {
				b.Fatalf("%d mounts differ", n)
			}
		}
	})
	b.Run("between", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if c := Between(old, neu); len(c.Mounts) != 1 {
				b.Fatalf("%d mounts differ", len(c.Mounts))
			}
		}
	})
	b.Run("deltas", func(b *testing.B) {
		c := Between(old, neu)
		for b.Loop() {
			if d := c.Deltas(); len(d) != 1 {
				b.Fatalf("%d racks are touched", len(d))
			}
		}
	})
}
