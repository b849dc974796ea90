package estate

import (
	"math"
	"testing"

	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

const (
	bm = quantity.Millimetre
	bk = quantity.Kilogram
)

// tippy is a rack worked by hand: frame 120 kg with its centre 500 mm back and
// 1000 mm up, five devices of 20 kg, two units high, 800 mm deep behind posts at
// the front of the frame, on slides of 750 mm; feet from 50 to 950 mm.
func tippy() *Rack {
	u, _ := system.ByName("19in")
	f := &Frame{
		Name: "f", System: u, Kind: Cabinet, Units: 42, First: 1, Counted: CountedUp, Fixed: Unfixed,
		Mass: Is(120 * bk), Width: Is(600 * bm), Depth: Is(1000 * bm), Height: Is(2000 * bm),
		Base: Is(255_550 * quantity.Micrometre), FrontRoom: Is(0 * bm), PostSpan: Is(800 * bm),
		FeetWidth: Is(500 * bm), FeetDepth: Is(900 * bm),
	}
	q := &Equipment{
		Name: "device", System: u, Height: Height{Count: Units(2), Word: "U", Length: 2 * quantity.RackUnit, State: IsGiven},
		Depth: Is(800 * bm), Mass: Is(20 * bk), Mounting: Slides, Extension: Is(750 * bm),
	}
	r := &Rack{Name: "r", Frame: f}
	for i := range 5 {
		r.Mounts = append(r.Mounts, &Mount{Name: "d", Rack: r, Equipment: q, At: Units(1 + 2*i), Face: FrontFace})
	}
	return r
}

func close(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s = %g, want %g", what, got, want)
	}
}

func TestBalance(t *testing.T) {
	r := tippy()
	b, why := r.Balance()
	if why != "" {
		t.Fatal(why)
	}
	feet, why := r.Frame.Feet()
	if why != "" {
		t.Fatal(why)
	}
	if b.Total != 220*bk || len(b.Mounts) != 5 {
		t.Fatalf("%v in %d mounts", b.Total, len(b.Mounts))
	}
	// Devices at 0.30 m and every 88.9 mm above, 0.40 m back.
	close(t, "up", b.Centre.Up.Millimetres(), 762.6, 0.1)
	close(t, "behind the front feet", (b.Centre.Back - feet.Front).Millimetres(), 404.5, 0.1)
	close(t, "across", b.Centre.Across.Millimetres(), 300, 0.001)
	close(t, "forward", physics.TiltsOf(b.Centre, feet).Forward.Degrees(), 27.94, 0.01)

	// One out: its centre is 400 mm before the front feet, 200 kg stay 445 mm behind.
	out, why := b.PullOut(0, feet)
	if why != "" {
		t.Fatal(why)
	}
	close(t, "before", out.Before.Millimetres(), 400, 0.001)
	close(t, "rest", out.Rest.Kilograms(), 200, 0.001)
	close(t, "behind", out.Behind.Millimetres(), (120*450+80*350)/200., 0.001)
	close(t, "factor", out.Factor, 200*410/(20*400.), 0.001)

	// All five out: 4.77 degrees.
	all, why := b.AllOut()
	if why != "" {
		t.Fatal(why)
	}
	close(t, "all out", physics.Tilt(all.Back-feet.Front, all.Up).Degrees(), 4.77, 0.01)

	r.Frame.Fixed, r.Frame.Reach = Stabilised, Is(300*bm)
	if steady, _ := r.Frame.Feet(); steady.Front != -250*bm {
		t.Errorf("the stabiliser ends at %v", steady.Front)
	}
}

// Half widths, pieces beside the posts and gear on the rear posts have places of
// their own.
func TestPlacesOfMasses(t *testing.T) {
	r := tippy()
	r.Frame.FrontRoom = Is(100 * bm)
	half := *r.Mounts[0].Equipment
	half.Depth = Is(200 * bm)
	r.Mounts = []*Mount{
		{Name: "left", Rack: r, Equipment: &half, At: Units(1), Face: FrontFace, Slot: Slot{1, 2}},
		{Name: "rear", Rack: r, Equipment: &half, At: Units(5), Face: RearFace},
		{Name: "strip", Rack: r, Equipment: &half, ZeroU: &ZeroUPlace{Side: RightSide, Plane: RearFace, From: Is(0 * bm), Length: Is(1000 * bm)}},
	}
	b, why := r.Balance()
	if why != "" {
		t.Fatal(why)
	}
	for i, want := range []physics.Point{
		{Across: 187_500 * quantity.Micrometre, Back: 200 * bm}, // 300 less a quarter of the opening of 450 mm
		{Across: 300 * bm, Back: 800 * bm},                      // 100 + 800 less half of 200
		{Across: 562_500 * quantity.Micrometre, Back: 900 * bm},
	} {
		got := b.Bodies[i+1].At
		if got.Across != want.Across || got.Back != want.Back {
			t.Errorf("%s is at %v across, %v back, want %v and %v", b.Mounts[i].Name, got.Across, got.Back, want.Across, want.Back)
		}
	}
}

func TestBalanceSaysWhatIsMissing(t *testing.T) {
	for want, change := range map[string]func(*Rack){
		"its frame is not known":                   func(r *Rack) { r.Frame = nil },
		"the mass of frame.f is missing":           func(r *Rack) { r.Frame.Mass = Figure[quantity.Mass]{} },
		"the base of frame.f is unknown":           func(r *Rack) { r.Frame.Base.State = IsUnknown },
		"the mass of equipment.device is missing":  func(r *Rack) { r.Mounts[0].Equipment.Mass = Figure[quantity.Mass]{} },
		"the depth of equipment.device is missing": func(r *Rack) { r.Mounts[0].Equipment.Depth = Figure[quantity.Length]{} },
	} {
		r := tippy()
		change(r)
		if _, why := r.Balance(); why != want {
			t.Errorf("says %q, want %q", why, want)
		}
	}
	r := tippy()
	r.Frame.FeetWidth = Figure[quantity.Length]{}
	if _, why := r.Frame.Feet(); why != "the feet_width of frame.f is missing" {
		t.Errorf("feet: %q", why)
	}
	r = tippy()
	b, _ := r.Balance()
	r.Mounts[0].Equipment.Extension = Figure[quantity.Length]{}
	if _, why := b.PullOut(0, physics.Feet{}); why != "the extension of equipment.device is missing" {
		t.Errorf("pull out: %q", why)
	}
}
