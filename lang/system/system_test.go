package system_test

import (
	"fmt"
	"slices"
	"testing"

	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/testdata/outside"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func get(t testing.TB, name string) *system.System {
	t.Helper()
	s, ok := system.ByName(name)
	if !ok {
		t.Fatalf("ByName(%q): no such system", name)
	}
	return s
}

// length reads an exact figure, so that tables hold what is printed.
func length(t testing.TB, text string) quantity.Length {
	t.Helper()
	l, err := quantity.ParseLength(text)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func lengths(t testing.TB, texts ...string) []quantity.Length {
	t.Helper()
	var out []quantity.Length
	for _, text := range texts {
		out = append(out, length(t, text))
	}
	return out
}

// Panel heights of the 19-inch system. Exact rule n times 1.75 in less 1/32 in:
// EIA-310-D, also in GNU units (definitions.units, retmaunit). The form with
// 0.8 mm is that of IEC 60297 tables; 132.55 for 3U is the one row of it that
// was read in a publication, the rest follows by arithmetic.
func TestPanelHeightTable(t *testing.T) {
	s := get(t, "19in")
	tests := []struct {
		n                         int
		nominal, exact, iec, inch string
	}{
		{1, "44.45", "43.65625", "43.65", "1.71875"},
		{2, "88.90", "88.10625", "88.10", "3.46875"},
		{3, "133.35", "132.55625", "132.55", "5.21875"},
		{4, "177.80", "177.00625", "177.00", "6.96875"}, // 6 31/32 in, printed in GNU units
		{5, "222.25", "221.45625", "221.45", "8.71875"},
		{6, "266.70", "265.90625", "265.90", "10.46875"},
		{8, "355.60", "354.80625", "354.80", "13.96875"},
		{10, "444.50", "443.70625", "443.70", "17.46875"},
		{42, "1866.90", "1866.10625", "1866.10", "73.46875"},
	}
	for _, tt := range tests {
		got := s.PanelHeight(tt.n)
		if want := length(t, tt.exact+" mm"); got != want {
			t.Errorf("PanelHeight(%d) = %d nm, want %d", tt.n, got, want)
		}
		if want := length(t, tt.inch+" in"); got != want {
			t.Errorf("PanelHeight(%d) = %d nm, in inches %d", tt.n, got, want)
		}
		if nominal := length(t, tt.nominal+" mm"); quantity.Length(tt.n)*s.Pitch != nominal {
			t.Errorf("%d units are %d nm, want %d", tt.n, quantity.Length(tt.n)*s.Pitch, nominal)
		}
		// The two rules differ by 0.00625 mm at every height, far below any
		// tolerance of sheet metal.
		if d := got - length(t, tt.iec+" mm"); d != 6250*quantity.Nanometre {
			t.Errorf("%d units: exact less IEC is %d nm, want 6250", tt.n, d)
		}
	}
}

// First twelve hole centres above the lower edge of the lowest unit: by
// arithmetic from 1/4, 7/8 and 1 1/2 in (EIA-310-D universal spacing).
func TestFirstTwelveHoles(t *testing.T) {
	want := lengths(t, "6.35 mm", "22.225 mm", "38.10 mm", "50.80 mm", "66.675 mm", "82.55 mm",
		"95.25 mm", "111.125 mm", "127.00 mm", "139.70 mm", "155.575 mm", "171.45 mm")
	for _, name := range []string{"19in", "23in", "10in"} {
		got := get(t, name).Holes(0, 4*quantity.RackUnit)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: Holes(0, 4U) (-want +got):\n%s", name, diff)
		}
	}
}

// Pitches of the patterns: EIA-310-D universal (5/8, 5/8, 1/2 in) and wide
// (1 1/4, 1/2 in) spacing.
func TestHolePitches(t *testing.T) {
	tests := []struct {
		system string
		from   string
		want   []quantity.Length
	}{
		{"19in", "6.35 mm", lengths(t, "15.875 mm", "15.875 mm", "12.70 mm", "15.875 mm", "15.875 mm", "12.7 mm")},
		{"19in", "1/4 in", lengths(t, "5/8 in", "5/8 in", "1/2 in", "5/8 in", "5/8 in", "1/2 in")},
		{"19in-wide", "6.35 mm", lengths(t, "31.75 mm", "12.70 mm", "31.75 mm", "12.70 mm", "31.75 mm", "12.70 mm")},
		{"19in-wide", "1/4 in", lengths(t, "1 1/4 in", "1/2 in", "1 1/4 in", "1/2 in", "1 1/4 in", "1/2 in")},
		{"23in-1inch", "1/2 in", lengths(t, "1 in", "1 in", "1 in", "1 in", "1 in", "1 in")},
		{"25mm", "12.5 mm", lengths(t, "25 mm", "25 mm", "25 mm", "25 mm", "25 mm", "25 mm")},
	}
	for _, tt := range tests {
		holes := get(t, tt.system).Holes(length(t, tt.from), 500*quantity.Millimetre)[:7]
		var got []quantity.Length
		for i := range holes[1:] {
			got = append(got, holes[i+1]-holes[i])
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s: pitches from %s (-want +got):\n%s", tt.system, tt.from, diff)
		}
	}
}

// A 3U panel is fixed 37.70 mm from its edges, its screws 57.15 mm apart
// (37.70 + 57.15 + 37.70 = 132.55: IEC 60297-3-101 as quoted in CAD constants).
// That puts half the allowance, 0.4 mm, at each edge.
func TestPanelSitsBetweenItsHoles(t *testing.T) {
	s := get(t, "19in")
	lower, upper := s.Offsets[2], 2*s.Pitch+s.Offsets[0] // the screws of a 3U panel
	if upper-lower != length(t, "57.15 mm") {
		t.Errorf("screws of 3U are %v apart, want 57.15 mm", upper-lower)
	}
	edge := lower - s.Allowance/2
	if d := edge - length(t, "37.70 mm"); d > 5*quantity.Micrometre || d < -5*quantity.Micrometre {
		t.Errorf("hole centre to panel edge is %d nm, want 37.70 mm within 0.005", edge)
	}
	if 2*edge+upper-lower != s.PanelHeight(3) {
		t.Errorf("edges and screws make %v, panel is %v", 2*edge+upper-lower, s.PanelHeight(3))
	}
	// 1U: 5.95 + 31.75 + 5.95 = 43.65, by arithmetic.
	if got := s.Offsets[2] - s.Offsets[0]; got != length(t, "31.75 mm") {
		t.Errorf("outer holes of 1U are %v apart, want 31.75 mm", got)
	}
}

// Widths over all and across. Sources beside each row.
func TestWidths(t *testing.T) {
	tests := []struct {
		what string
		got  quantity.Length
		want string
	}{
		{"19in panel: EIA-310-D", get(t, "19in").Panel, "482.6 mm"},
		{"19in centres: EIA-310-D, 18 5/16 in", get(t, "19in").Centres, "465.1375 mm"},
		{"19in opening: IEC 60297-3-100", get(t, "19in").Openings[0].Least, "450 mm"},
		{"19in opening: EIA-310-D, 17.75 in", get(t, "19in").Openings[1].Least, "450.85 mm"},
		{"19in body: common practice, 17.25 in", get(t, "19in").Body, "438.15 mm"},
		{"23in panel: RS-310-D", get(t, "23in").Panel, "584.2 mm"},
		{"23in centres: from memory, 22 5/16 in", get(t, "23in").Centres, "566.7375 mm"},
		{"23in opening: from memory, 21.75 in", get(t, "23in").Openings[0].Least, "552.45 mm"},
		{"25 mm panel: from memory, ETS 300 119-3", get(t, "25mm").Panel, "535 mm"},
		{"25 mm centres: from memory, ETS 300 119-4", get(t, "25mm").Centres, "515 mm"},
		{"25 mm opening: from memory, ETS 300 119-3", get(t, "25mm").Openings[0].Least, "500 mm"},
		{"Open Rack equipment: specification as quoted", get(t, "open-rack").Panel, "537 mm"},
		{"10in panel: maker practice", get(t, "10in").Panel, "254 mm"},
		{"10in centres: from memory, 9 5/16 in", get(t, "10in").Centres, "236.5375 mm"},
		{"10in opening: maker practice, 8.75 in", get(t, "10in").Openings[0].Least, "222.25 mm"},
	}
	for _, tt := range tests {
		if want := length(t, tt.want); tt.got != want {
			t.Errorf("%s: %d nm, want %d", tt.what, tt.got, want)
		}
	}
}

// What is remembered only must never decide.
func TestRecalledFiguresDecideNothing(t *testing.T) {
	recalled := map[string][]string{
		"23in":       {system.FactCentres, system.FactOpening},
		"23in-1inch": {system.FactHoles, system.FactOpening, system.FactAllowance},
		"25mm":       {system.FactHoles, system.FactPanel, system.FactCentres, system.FactOpening},
		"open-rack":  {system.FactOpening},
		"10in":       {system.FactCentres},
	}
	for name, facts := range recalled {
		for _, fact := range facts {
			if c := get(t, name).Confidence(fact); c != system.Recalled || c.Decides() {
				t.Errorf("%s: %s is %v, want from memory", name, fact, c)
			}
		}
	}
	for _, s := range system.All() {
		for _, o := range s.Openings {
			if o.By == "" || o.Confidence == system.NoConfidence {
				t.Errorf("%s: an opening of %v without source or confidence", s.Name, o.Least)
			}
		}
		for _, f := range s.Facts {
			if f.Source == "" || f.Confidence == system.NoConfidence || f.Name == "" {
				t.Errorf("%s: fact %q lacks source or confidence", s.Name, f.Name)
			}
		}
		if s.Confidence(system.FactPitch) != system.Published {
			t.Errorf("%s: pitch is not published", s.Name)
		}
	}
}

// Drift of a rounded unit, in mm at the top: by arithmetic. 44.5 mm stands on
// many drawings; it is the exact figure rounded to a tenth.
func TestDriftOfRoundedUnit(t *testing.T) {
	s := get(t, "19in")
	tests := []struct {
		used string
		n    int
		want string
	}{
		{"44.50 mm", 16, "0.8 mm"}, {"44.50 mm", 42, "2.10 mm"}, {"44.50 mm", 45, "2.25 mm"}, {"44.50 mm", 48, "2.40 mm"}, {"44.50 mm", 52, "2.60 mm"},
		{"44.40 mm", 16, "-0.8 mm"}, {"44.40 mm", 42, "-2.10 mm"}, {"44.40 mm", 52, "-2.60 mm"},
		{"44 mm", 16, "-7.2 mm"}, {"44 mm", 42, "-18.9 mm"}, {"44 mm", 45, "-20.25 mm"}, {"44 mm", 48, "-21.6 mm"}, {"44 mm", 52, "-23.4 mm"},
	}
	for _, tt := range tests {
		drift := quantity.Length(tt.n) * (length(t, tt.used) - s.Pitch)
		if want := length(t, tt.want); drift != want {
			t.Errorf("%d units of %s drift %d nm, want %d", tt.n, tt.used, drift, want)
		}
	}
	// After 16 units a whole panel gap has gone.
	gap := s.Allowance
	if drift := 16 * (length(t, "44.5 mm") - s.Pitch); drift < gap {
		t.Errorf("16 units of 44.5 mm drift %v, less than a panel gap of %v", drift, gap)
	}
}

// Heights of fractional equipment on the hole pattern: all by arithmetic.
func TestFractionalHeights(t *testing.T) {
	s, w := get(t, "19in"), get(t, "19in-wide")
	if s.Pitch/2 != s.Offsets[1] {
		t.Errorf("half a unit is %v, the middle hole at %v", s.Pitch/2, s.Offsets[1])
	}
	high := 3 * s.Pitch / 2
	if got, want := s.PanelOf(high), length(t, "65.88125 mm"); got != want {
		t.Errorf("a 1.5U panel is %v, want %v", got, want)
	}
	inside := func(s *system.System, from quantity.Length) []quantity.Length {
		var out []quantity.Length
		for _, h := range s.Holes(from+1, from+high-1) { // a hole on the very edge is no use
			out = append(out, h-from)
		}
		return out
	}
	tests := []struct {
		what string
		got  []quantity.Length
		want []quantity.Length
	}{
		{"universal, from a unit's edge", inside(s, 0), lengths(t, "6.35 mm", "22.225 mm", "38.10 mm", "50.80 mm")},
		{"universal, from a half unit", inside(s, s.Pitch/2), lengths(t, "15.875 mm", "28.575 mm", "44.45 mm", "60.325 mm")},
		{"wide, from a unit's edge", inside(w, 0), lengths(t, "6.35 mm", "38.10 mm", "50.80 mm")},
		{"wide, from a half unit", inside(w, s.Pitch/2), lengths(t, "15.875 mm", "28.575 mm", "60.325 mm")},
	}
	for _, tt := range tests {
		if diff := cmp.Diff(tt.want, tt.got); diff != "" {
			t.Errorf("1.5U on %s (-want +got):\n%s", tt.what, diff)
		}
	}
	// The two lists are mirror images of each other, so only an ear that is
	// slotted at both fits both.
	for i := 0; i < 4; i += 2 {
		mirrored := slices.Clone(tests[i+1].got)
		slices.Reverse(mirrored)
		for j := range mirrored {
			mirrored[j] = high - mirrored[j]
		}
		if !slices.Equal(tests[i].got, mirrored) {
			t.Errorf("%s: %v is no mirror image of %v", tests[i].what, tests[i].got, mirrored)
		}
	}
	// An ear drilled for a unit's edge, put on a half unit, misses by 6.35 mm.
	for _, at := range tests[0].got {
		near, _ := s.HoleNear(s.Pitch/2 + at)
		if miss := near - (s.Pitch/2 + at); miss != length(t, "6.35 mm") && miss != -length(t, "6.35 mm") {
			t.Errorf("hole at %v misses by %v", at, miss)
		}
	}
}

// How many units the frames of other systems hold: by arithmetic from 48 mm
// and 25 mm (Open Rack specification; IEC 60917).
func TestCapacities(t *testing.T) {
	u, ou, su := quantity.RackUnit, get(t, "open-rack").Pitch, get(t, "25mm").Pitch
	if got, want := 44*ou, length(t, "2112 mm"); got != want {
		t.Errorf("44 OU are %v, want %v", got, want)
	}
	if got, want := 47*u, length(t, "2089.15 mm"); got != want {
		t.Errorf("47 U are %v, want %v", got, want)
	}
	if got := 42 * u / ou; got != 38 {
		t.Errorf("42U hold %d OU, want 38", got)
	}
	if got := 42 * u / su; got != 74 {
		t.Errorf("42U hold %d SU, want 74", got)
	}
	meets := func(a, b quantity.Length) quantity.Length {
		for n := a; ; n += a {
			if n%b == 0 {
				return n
			}
		}
	}
	tests := []struct {
		what string
		got  quantity.Length
		want string
	}{
		{"OU and U", meets(ou, u), "42672 mm"},
		{"SU and U", meets(su, u), "22225 mm"},
		{"SU and OU", meets(su, ou), "1200 mm"},
		{"inch and U", meets(quantity.Inch, u), "177.8 mm"},
	}
	for _, tt := range tests {
		if want := length(t, tt.want); tt.got != want {
			t.Errorf("%s meet every %v, want %v", tt.what, tt.got, want)
		}
	}
}

// Units of 25 mm that a 19-inch panel takes: the panel's height divided by 25,
// rounded up. Common practice; nine U are the trap.
func TestModulesOf25mm(t *testing.T) {
	s, metric := get(t, "19in"), get(t, "25mm")
	want := map[int]int{1: 2, 2: 4, 3: 6, 4: 8, 5: 9, 6: 11, 7: 13, 8: 15, 9: 16, 10: 18}
	for n, modules := range want {
		if got := metric.Modules(s.PanelHeight(n)); got != modules {
			t.Errorf("a panel of %dU needs %d units of 25 mm, want %d", n, got, modules)
		}
	}
	if got := metric.Modules(9 * s.Pitch); got != 17 {
		t.Errorf("by nominal height 9U would need %d units, want the wrong 17", got)
	}
}

// GNU units knows the rack unit as U, RU and retmaunit.
func TestAgainstGNUUnits(t *testing.T) {
	units := outside.Need(t, "units")
	ask := func(from, to string) string {
		return outside.Run(t, "", units, "--terse", "--digits", "12", from, to)
	}
	s := get(t, "19in")
	for _, n := range []int{1, 2, 3, 9, 16, 42, 47, 52} {
		want := quantity.Number((quantity.Length(n) * s.Pitch).Millimetres(), 6)
		if got := ask(fmt.Sprintf("%d U", n), "mm"); got != want {
			t.Errorf("units: %d U are %s mm, ours %s", n, got, want)
		}
		want = quantity.Number(s.PanelHeight(n).Millimetres(), 6)
		if got := ask(fmt.Sprintf("%d retmaunit - 1|32 inch", n), "mm"); got != want {
			t.Errorf("units: a panel of %d U is %s mm, ours %s", n, got, want)
		}
	}
	for _, tt := range []struct {
		from string
		ours quantity.Length
	}{
		{"18 inch + 5|16 inch", s.Centres},
		{"17.75 inch", s.Openings[1].Least},
		{"19 inch", s.Panel},
		{"22 inch + 5|16 inch", get(t, "23in").Centres},
		{"9 inch + 5|16 inch", get(t, "10in").Centres},
		{"7|8 inch", s.Offsets[1]},
	} {
		if got, want := ask(tt.from, "mm"), quantity.Number(tt.ours.Millimetres(), 6); got != want {
			t.Errorf("units: %s is %s mm, ours %s", tt.from, got, want)
		}
	}
}

// Properties that every system has.
func TestEverySystem(t *testing.T) {
	systems := system.All()
	rapid.Check(t, func(rt *rapid.T) {
		s := rapid.SampledFrom(systems).Draw(rt, "system")
		n := rapid.IntRange(1, 200).Draw(rt, "units")

		// Mirror symmetry: turned upside down, a post has the same holes.
		high := quantity.Length(n) * s.Pitch
		holes := s.Holes(0, high)
		for i, h := range holes {
			if mirrored := high - holes[len(holes)-1-i]; h != mirrored {
				rt.Fatalf("%s: hole %v of %d units mirrors to %v", s.Name, h, n, mirrored)
			}
		}
		if len(holes) != n*len(s.Offsets) {
			rt.Fatalf("%s: %d holes in %d units", s.Name, len(holes), n)
		}

		// No drift: the holes of unit n are those of unit 0, moved.
		from := quantity.Length(rapid.IntRange(-50, 200).Draw(rt, "from")) * s.Pitch
		for i, h := range s.Holes(from, from+s.Pitch) {
			if h-from != s.Offsets[i] {
				rt.Fatalf("%s: hole %d above %v is at %v", s.Name, i, from, h-from)
			}
			if unit, place, ok := s.HoleName(h); !ok || quantity.Length(unit)*s.Pitch != from || place != i+1 {
				rt.Fatalf("%s: HoleName(%v) = %d, %d, %v", s.Name, h, unit, place, ok)
			}
			if near, ok := s.HoleNear(h); !ok || near != h {
				rt.Fatalf("%s: HoleNear(%v) = %v, %v", s.Name, h, near, ok)
			}
		}

		// A panel of n units needs n units, and never reaches the next panel.
		if got := s.Modules(s.PanelHeight(n)); got != n {
			rt.Fatalf("%s: a panel of %d units needs %d", s.Name, n, got)
		}
		if s.PanelHeight(n) > high {
			rt.Fatalf("%s: a panel of %d units is higher than they are", s.Name, n)
		}

		// Enumerating in two parts gives what enumerating at once gives.
		cut := quantity.Length(rapid.Int64Range(0, int64(high)).Draw(rt, "cut"))
		both := slices.Concat(s.Holes(0, cut), s.Holes(cut+1, high))
		if !slices.Equal(both, holes) {
			rt.Fatalf("%s: holes up to %v and above do not make the whole", s.Name, cut)
		}
	})
}

func TestNamesAndLabels(t *testing.T) {
	want := []string{"19in", "19in-wide", "23in", "23in-1inch", "25mm", "open-rack", "10in"}
	if diff := cmp.Diff(want, system.Names()); diff != "" {
		t.Errorf("Names() (-want +got):\n%s", diff)
	}
	for _, name := range want {
		if s, ok := system.ByName(name); !ok || s.Name != name {
			t.Errorf("ByName(%q) = %v, %v", name, s, ok)
		}
	}
	if s, ok := system.ByName("19"); ok {
		t.Errorf("ByName(\"19\") = %v, want none", s)
	}
	for _, tt := range []struct{ system, label, count, one string }{
		{"19in", "U38", "38U", "1U"}, {"25mm", "SU38", "38 SU", "1 SU"}, {"open-rack", "OU38", "38 OU", "1 OU"}, {"23in-1inch", "hole 38", "38 holes", "1 hole"},
	} {
		s := get(t, tt.system)
		if s.Label("38") != tt.label || s.Count("38") != tt.count || s.Count("1") != tt.one {
			t.Errorf("%s: %q, %q, %q, want %q, %q, %q", tt.system, s.Label("38"), s.Count("38"), s.Count("1"), tt.label, tt.count, tt.one)
		}
	}
}
