package estate_test

import (
	"fmt"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"

	"pgregory.net/rapid"
)

// drawRack makes a rack of any system, counted either way, with mounts of its
// own system at whole and half units, at both faces and in halves of the width.
func drawRack(rt *rapid.T) *estate.Rack {
	s := rapid.SampledFrom(system.All()).Draw(rt, "system")
	f := &estate.Frame{
		Name: "f", System: s, Units: rapid.IntRange(1, 20).Draw(rt, "units"), First: rapid.IntRange(0, 50).Draw(rt, "first"),
		Counted: rapid.SampledFrom([]estate.Counting{estate.CountedUp, estate.CountedDown}).Draw(rt, "counted"),
	}
	r := &estate.Rack{Name: "r", Frame: f}
	for i := range rapid.IntRange(0, 8).Draw(rt, "mounts") {
		count := estate.UnitNumber(rapid.IntRange(1, 8).Draw(rt, "halves")) * estate.OneUnit / 2
		q := &estate.Equipment{Name: "q", System: s, Height: estate.Height{
			Count: count, Word: s.Word, State: estate.IsGiven, Length: quantity.Length(count) * s.Pitch / quantity.Length(estate.OneUnit),
		}}
		slots := []estate.Slot{{}, {Part: 1, Of: 2}, {Part: 2, Of: 2}}
		r.Mounts = append(r.Mounts, &estate.Mount{
			Name: fmt.Sprint("m", i), Rack: r, Equipment: q,
			At:   estate.Units(f.First) + estate.UnitNumber(rapid.IntRange(0, 2*f.Units).Draw(rt, "at"))*estate.OneUnit/2,
			Face: rapid.SampledFrom([]estate.Face{estate.FrontFace, estate.RearFace}).Draw(rt, "face"),
			Slot: rapid.SampledFrom(slots).Draw(rt, "slot"),
		})
	}
	return r
}

// Conflicts are what comparing every pair finds, each pair once.
func TestConflictsAreThoseOfEveryPair(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := drawRack(rt)
		want := map[[2]string]bool{}
		for i, a := range r.Mounts {
			for _, b := range r.Mounts[i+1:] {
				x, _ := a.Extent()
				y, _ := b.Extent()
				if a.Face == b.Face && a.Slot.Overlaps(b.Slot) && min(x.Top, y.Top) > max(x.Bottom, y.Bottom)+estate.Touch {
					want[[2]string{a.Name, b.Name}] = true
				}
			}
		}
		for _, c := range r.Conflicts() {
			k := [2]string{c.Earlier.Name, c.Later.Name}
			if !want[k] {
				rt.Fatalf("%v is no conflict, or is given twice", k)
			}
			delete(want, k)
			if c.Shared.Height() <= estate.Touch || !c.Shared.Within(c.Earlier.Extent) || !c.Shared.Within(c.Later.Extent) {
				rt.Fatalf("%v share %v", k, c.Shared)
			}
		}
		if len(want) > 0 {
			rt.Fatalf("missed: %v", want)
		}
	})
}

// A unit is free exactly where no mount meets it, and free runs never touch.
func TestFreeIsWhatNoMountMeets(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := drawRack(rt)
		f := r.Frame
		face := rapid.SampledFrom([]estate.Face{estate.FrontFace, estate.RearFace, estate.NoFace}).Draw(rt, "free at")
		free := r.Free(face)
		for i := 1; i < len(free); i++ {
			if free[i].Bottom <= free[i-1].Top {
				rt.Fatalf("free runs touch: %v", free)
			}
		}
		for n := range f.Units {
			unit := f.UnitExtent(estate.Units(f.First + n))
			taken := false
			for _, m := range r.Mounts {
				e, _ := m.Extent()
				taken = taken || (face == estate.NoFace || m.Face == face) && e.Meets(unit)
			}
			inFree := false
			for _, e := range free {
				inFree = inFree || unit.Within(e)
			}
			if inFree == taken {
				rt.Fatalf("unit %d: taken %v, free %v", f.First+n, taken, inFree)
			}
		}
	})
}

// The number at which an extent begins, and the units it touches, give the
// place back.
func TestNumbersGiveThePlaceBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := drawRack(rt)
		for _, m := range r.Mounts {
			e, ok := m.Extent()
			if !ok {
				continue // unit 0 of a frame that begins elsewhere
			}
			if n := r.Frame.NumberAt(e); n != m.At {
				rt.Fatalf("at %v gives %v, which begins at %v", m.At, e, n)
			}
			touched := r.Frame.Extent(r.Frame.UnitsOf(e))
			if !e.Within(touched) {
				rt.Fatalf("%v is not within the units that it touches, %v", e, touched)
			}
		}
	})
}

// Turning a mount upside down twice changes nothing, and mirrors its screws
// about its middle once.
func TestScrewsMirror(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := drawRack(rt)
		for _, m := range r.Mounts {
			high := m.Equipment.Height.Length
			if rapid.Bool().Draw(rt, "declared") {
				for range rapid.IntRange(1, 4).Draw(rt, "ears") {
					last := quantity.Length(0)
					if n := len(m.Equipment.Ears); n > 0 {
						last = m.Equipment.Ears[n-1]
					}
					if last >= high {
						break
					}
					m.Equipment.Ears = append(m.Equipment.Ears, quantity.Length(rapid.Int64Range(int64(last), int64(high)).Draw(rt, "ear")))
				}
			}
			e, _ := m.Extent()
			plain, ok := m.Screws()
			m.Inverted = true
			turned, okTurned := m.Screws()
			m.Inverted = false
			if ok != okTurned || len(plain) != len(turned) {
				rt.Fatalf("%v, %v and %v, %v", plain, ok, turned, okTurned)
			}
			for i, at := range plain {
				if mirror := e.Bottom + e.Top - at; turned[len(turned)-1-i] != mirror {
					rt.Fatalf("screw at %v mirrors to %v, want %v", at, turned[len(turned)-1-i], mirror)
				}
			}
		}
	})
}
