package elevation

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/render/style"
)

// TestAnyRackIsDrawn draws racks as nobody would declare them: pieces that
// overlap, stick out at both ends, have no depth or far too much. Every drawing
// must fit its width, show each mount that has a place, and be the same again.
func TestAnyRackIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRack(t, "a")
		o := Options{
			View:  rapid.SampledFrom([]View{Front, Rear, Side}).Draw(t, "view"),
			ASCII: rapid.Bool().Draw(t, "ascii"), Inches: rapid.Bool().Draw(t, "inches"),
			Width: rapid.IntRange(32, 120).Draw(t, "width"),
		}
		got := style.Page(Draw(r, o), nil)
		for _, line := range strings.Split(got, "\n") {
			if w := style.Width(line); w > o.Width {
				t.Fatalf("%d cells in %d: %q\n%s", w, o.Width, line, got)
			}
		}
		if again := style.Page(Draw(r, o), nil); again != got {
			t.Fatalf("drawn again it differs:\n%s\n%s", got, again)
		}
		if r.Frame == nil || o.View == Side || o.Width < 80 {
			return
		}
		for _, m := range r.Mounts {
			if !strings.Contains(got, m.Name) && inside(m) {
				t.Fatalf("%s is not in the drawing:\n%s", m.Name, got)
			}
		}
	})
}

// TestAnyPairIsDrawn sets two such racks side by side.
func TestAnyPairIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawRack(t, "a")
		b := drawRack(t, "a")
		b.Frame = a.Frame
		o := Options{View: Front, Width: rapid.IntRange(32, 120).Draw(t, "width"), Marks: map[*estate.Mount]Mark{}}
		for _, r := range []*estate.Rack{a, b} {
			for _, m := range r.Mounts {
				if rapid.Bool().Draw(t, "marked") {
					o.Marks[m] = Mark{Sign: "*", Role: style.Altered}
				}
			}
		}
		for _, line := range Pair(a, b, o) {
			if w := line.Width(); w > o.Width {
				t.Fatalf("%d cells in %d: %q", w, o.Width, line.Render(nil))
			}
		}
	})
}

// inside reports whether a mount is drawn with its name whatever else there is:
// it is no more than four units beyond the frame, beyond which nothing is
// drawn, and takes at least half a unit, and a third of the width.
func inside(m *estate.Mount) bool {
	p, ok := place(m)
	usable := m.Rack.Frame.Usable()
	step := pitch(m.Rack.Frame)
	return ok && m.ZeroU == nil && p.lo >= usable.Bottom-3*step && p.hi <= usable.Top+3*step && p.hi-p.lo >= step
}

func drawRack(t *rapid.T, name string) *estate.Rack {
	r := &estate.Rack{Name: name}
	if rapid.IntRange(0, 20).Draw(t, "frameless") > 0 {
		sys, _ := system.ByName(rapid.SampledFrom(system.Names()).Draw(t, "system"))
		f := &estate.Frame{Name: "f", System: sys, First: rapid.IntRange(0, 2).Draw(t, "first"), Counted: rapid.SampledFrom([]estate.Counting{estate.NotCounted, estate.CountedUp, estate.CountedDown}).Draw(t, "counted")}
		if rapid.Bool().Draw(t, "by length") {
			f.Clear = quantity.Length(rapid.Int64Range(0, 900).Draw(t, "clear")) * quantity.Millimetre
		} else {
			f.Units = rapid.IntRange(0, 20).Draw(t, "units")
		}
		if rapid.Bool().Draw(t, "span") {
			f.PostSpan = estate.Is(quantity.Length(rapid.Int64Range(0, 1000).Draw(t, "post span")) * quantity.Millimetre)
			f.FrontRoom = estate.Is(quantity.Length(rapid.Int64Range(0, 200).Draw(t, "front room")) * quantity.Millimetre)
			f.RearRoom = f.FrontRoom
		}
		r.Frame = f
	}
	unit := func(what string) estate.UnitNumber {
		return estate.UnitNumber(rapid.IntRange(0, 46).Draw(t, what)) * estate.OneUnit / 2
	}
	for i := range rapid.IntRange(0, 6).Draw(t, "mounts") {
		q := &estate.Equipment{Name: "q", Depth: estate.Is(quantity.Length(rapid.Int64Range(0, 1500).Draw(t, "depth")) * quantity.Millimetre)}
		if rapid.IntRange(0, 5).Draw(t, "height known") > 0 {
			q.Height = estate.Height{State: estate.IsGiven, Length: quantity.Length(rapid.Int64Range(1, 300).Draw(t, "height")) * quantity.Millimetre}
		}
		m := &estate.Mount{Name: fmt.Sprintf("m%d", i), Rack: r, Equipment: q, At: unit("at"), Face: rapid.SampledFrom([]estate.Face{estate.NoFace, estate.FrontFace, estate.RearFace}).Draw(t, "face")}
		if of := rapid.IntRange(1, 3).Draw(t, "of"); of > 1 {
			m.Slot = estate.Slot{Part: uint8(rapid.IntRange(1, of).Draw(t, "part")), Of: uint8(of)}
		}
		switch rapid.IntRange(0, 9).Draw(t, "kind") {
		case 0:
			m.Equipment = nil
		case 1:
			m.ZeroU = &estate.ZeroUPlace{Side: rapid.SampledFrom([]estate.Side{estate.LeftSide, estate.RightSide}).Draw(t, "side"), From: estate.Is(10 * quantity.Millimetre), Length: estate.Is(500 * quantity.Millimetre)}
		}
		r.Mounts = append(r.Mounts, m)
	}
	if rapid.Bool().Draw(t, "blank") {
		from := unit("blank from")
		r.Blanks = []*estate.Blank{{Rack: r, Units: estate.UnitRange{From: from, To: from + estate.Units(rapid.IntRange(0, 4).Draw(t, "blank units"))}}}
	}
	if rapid.Bool().Draw(t, "reserve") {
		from := unit("held from")
		r.Reserves = []*estate.Reserve{{Name: "held", Rack: r, Units: estate.UnitRange{From: from, To: from + estate.Units(rapid.IntRange(0, 4).Draw(t, "held units"))}}}
	}
	return r
}
