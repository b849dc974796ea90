package lang

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
)

const catalogue = `
frame "up" {
  system  = "19in"
  units   = 42
  counted = "up"
}
frame "down" {
  system  = "19in"
  units   = 42
  counted = "down"
}
frame "metric" {
  system = "25mm"
  units  = 80
}
equipment "one" { height = "1U" }
equipment "two" { height = "2U" }
equipment "half" { height = "1.5U" }
equipment "long" { height = "100 mm" }
feed "a" {}
feed "b" {}
`

// places lists a rack's mounts as "name@at equipment".
func places(r *estate.Rack) string {
	var out []string
	for _, m := range r.Mounts {
		s := m.Name + "@" + m.At.String()
		if m.Through != 0 {
			s += "-" + m.Through.String()
		}
		if m.Raised.Known() {
			s += "+" + m.Raised.Value.String()
		}
		if m.Equipment != nil {
			s += " " + m.Equipment.Name
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

func TestAt(t *testing.T) {
	tests := []struct{ in, want string }{
		{`38`, "m@38 one"},
		{`"38"`, "m@38 one"},
		{`40.5`, "m@40.5 one"},
		{`40.50`, "m@40.5 one"},
		{`007`, "m@7 one"},
		{`100`, "m@100 one"},
		{`"38-39"`, "m@38-39 one"},
		{`" 38 – 39 "`, "m@38-39 one"},
		{`"40.5-42"`, "m@40.5-42 one"},
		{`"120 mm"`, "m@0+120 mm one"},
		{`2 * 19`, "m@38 one"},
	}
	for _, tt := range tests {
		e := load(t, map[string]string{"a.hcl": catalogue + "rack \"r\" {\nframe = frame.up\nmount \"m\" {\nat = " + tt.in + "\nequipment = equipment.one\n}\n}\n"})
		if got := places(e.Rack("r")); got != tt.want {
			t.Errorf("at = %s gives %s, want %s", tt.in, got, tt.want)
		}
	}
}

func TestStack(t *testing.T) {
	tests := []struct{ frame, equipment, from, want string }{
		{"up", "one", "2", "n-1@2 one, n-2@3 one, n-3@4 one"},
		{"up", "two", "2", "n-1@2 two, n-2@4 two, n-3@6 two"},
		{"down", "two", "40", "n-1@40 two, n-2@38 two, n-3@36 two"},
		{"up", "half", "2", "n-1@2 half, n-2@3.5 half, n-3@5 half"},
		{"up", "long", "2", "n-1@2 long, n-2@5 long, n-3@8 long"}, // 100 mm need 3U
		{"metric", "long", "1", "n-1@1 long, n-2@5 long, n-3@9 long"},
	}
	for _, tt := range tests {
		e := load(t, map[string]string{"a.hcl": catalogue + fmt.Sprintf("rack \"r\" {\nframe = frame.%s\nstack \"n\" {\nfrom = %s\ncount = 3\nequipment = equipment.%s\nfeeds = [feed.a, feed.b]\n}\n}\n", tt.frame, tt.from, tt.equipment)})
		r := e.Rack("r")
		if got := places(r); got != tt.want {
			t.Errorf("a stack of %s from %s in %s gives %s, want %s", tt.equipment, tt.from, tt.frame, got, tt.want)
		}
		for _, m := range r.Mounts {
			if len(m.Feeds) != 2 || m.Face != estate.FrontFace || m.Rack != r {
				t.Errorf("%s has %d feeds, face %q, rack %v; want 2, front, r", m.Name, len(m.Feeds), m.Face, m.Rack)
			}
		}
	}
}

func TestLayout(t *testing.T) {
	e := load(t, map[string]string{"a.hcl": catalogue + `
layout "l" {
  mount "sw-1" {
    at        = 40
    equipment = equipment.one
    owner     = "network"
    feeds     = [feed.a]
  }
  mount "sw-2" {
    at        = 39
    equipment = equipment.one
  }
  zero_u "strip" {
    equipment = equipment.one
    side      = "left"
  }
  stack "n" {
    from      = 2
    count     = 2
    equipment = equipment.two
  }
  blank { at = "41-42" }
  reserve "later" { at = 20 }
}
rack "r" {
  frame  = frame.up
  layout = layout.l
  mount "own" {
    at        = 10
    equipment = equipment.two
  }
  mount "sw-1" {
    serial = "1"
    at     = 38
  }
  zero_u "strip" { plane = "front" }
  blank { at = 1 }
}
rack "s" {
  frame  = frame.down
  layout = layout.l
}
`})
	r, s := e.Rack("r"), e.Rack("s")
	if got, want := places(r), "sw-1@38 one, sw-2@39 one, strip@0 one, n-1@2 two, n-2@4 two, own@10 two"; got != want {
		t.Errorf("rack r holds %s, want %s", got, want)
	}
	if got, want := places(s), "sw-1@40 one, sw-2@39 one, strip@0 one, n-1@2 two, n-2@0 two"; got != want {
		t.Errorf("rack s holds %s, want %s", got, want)
	}
	m := r.Mount("sw-1")
	if m.Serial != "1" || m.Owner != "network" || len(m.Feeds) != 1 || m.Rack != r {
		t.Errorf("r's sw-1 = %+v, want serial 1 and the layout's owner and feed", m)
	}
	if z := r.Mount("strip").ZeroU; z.Side != estate.LeftSide || z.Plane != estate.FrontFace {
		t.Errorf("r's strip hangs %s, %s; want left, front", z.Side, z.Plane)
	}
	if z := s.Mount("strip").ZeroU; z.Side != estate.LeftSide || z.Plane != estate.RearFace {
		t.Errorf("s's strip hangs %s, %s; want left and, as usual, rear", z.Side, z.Plane)
	}
	if len(r.Blanks) != 2 || len(r.Reserves) != 1 || r.Reserves[0].Rack != r || r.Blanks[1].Rack != r {
		t.Errorf("r has %d blanks and %d reserves, want 2 and 1, all its own", len(r.Blanks), len(r.Reserves))
	}
}

func TestFigures(t *testing.T) {
	e := load(t, map[string]string{"a.hcl": `
equipment "q" {
  height = "3 OU"
  depth  = { is = "812 mm", basis = "measured", on = "2026-09-14" }
  cords  = unknown
  front  = { is = unknown, basis = "data-sheet" }
  draw   = "210 W"
  inlets = [{ type = "c14", count = 2 }, { type = "c20" }]
  rails  = { from = "600 mm", to = "36 in", basis = "data-sheet" }
  share  = "1/3"
}
equipment "r" {
  height = unknown
  draw   = unknown
}
equipment "s" {
  draw = { typical = "1.2 kW", nameplate = unknown }
}
site "s" {
  seismic_zone = { is = 2, basis = "drawing" }
}
`})
	q, r, s := e.Equipment[0], e.Equipment[1], e.Equipment[2]
	if d := q.Depth; d.Value != 812*quantity.Millimetre || d.Basis != estate.Measured || d.On.String() != "2026-09-14" || !d.Known() {
		t.Errorf("depth = %+v, want 812 mm, measured on 2026-09-14", d)
	}
	if q.Cords.State != estate.IsUnknown || q.Front.State != estate.IsUnknown || q.Front.Basis != estate.DataSheet || q.Mass.State != estate.IsMissing {
		t.Errorf("cords %v, front %v, mass %v; want unknown, unknown, missing", q.Cords.State, q.Front.State, q.Mass.State)
	}
	if q.Height.Count != 3000 || q.Height.Word != "OU" || q.Height.Length != 144*quantity.Millimetre {
		t.Errorf("height = %+v, want 3 OU, 144 mm", q.Height)
	}
	if q.Draw.Maximum.Value != 210*quantity.Watt || q.Draw.Typical.State != estate.IsMissing {
		t.Errorf("draw = %+v, want 210 W as the maximum and nothing else", q.Draw)
	}
	if len(q.Inlets) != 2 || q.Inlets[0] != (estate.Inlet{Type: "c14", Count: 2, Needs: 1}) || q.Inlets[1] != (estate.Inlet{Type: "c20", Count: 1, Needs: 1}) {
		t.Errorf("inlets = %+v", q.Inlets)
	}
	if q.Rails.Value != (estate.Span2{From: 600 * quantity.Millimetre, To: 36 * quantity.Inch}) || q.Rails.Basis != estate.DataSheet {
		t.Errorf("rails = %+v", q.Rails)
	}
	if q.Share != (estate.Slot{Part: 1, Of: 3}) {
		t.Errorf("share = %v, want 1/3", q.Share)
	}
	if r.Height.State != estate.IsUnknown || r.Draw.Typical.State != estate.IsUnknown || r.Draw.Maximum.State != estate.IsUnknown {
		t.Errorf("r: height %v, draw %+v; want all unknown", r.Height.State, r.Draw)
	}
	if s.Draw.Typical.Value != 1200*quantity.Watt || s.Draw.Nameplate.State != estate.IsUnknown || s.Draw.Maximum.State != estate.IsMissing {
		t.Errorf("s: draw %+v", s.Draw)
	}
	if z := e.Sites[0].SeismicZone; z.Value != 2 || z.Basis != estate.Drawing {
		t.Errorf("seismic zone = %+v, want 2 from a drawing", z)
	}
}

func TestGivenIsUsedBeforeItIsDeclared(t *testing.T) {
	e := load(t, map[string]string{
		"a.hcl": catalogue + `
rack "r" {
  frame = frame.up
  stack "n" {
    from      = given.first
    count     = given.many - 1
    equipment = equipment.one
  }
}
equipment "q" {
  mass  = given.limit
  depth = { is = given.depth, basis = "measured" }
  cords = given.later
  rails = given.reach
}
adjust "load/heavy-high" {
  limit = given.limit
}
pace {
  fit_slides = "${given.minutes} min"
}
`,
		"z.hcl": `
given {
  first   = 3
  many    = max(given.first, 2)
  limit   = "25 kg"
  depth   = "${given.first * 100} mm"
  later   = unknown
  minutes = 12
  reach   = { from = "600 mm", to = "900 mm" }
}
`,
	})
	if got, want := places(e.Rack("r")), "n-1@3 one, n-2@4 one"; got != want {
		t.Errorf("rack r holds %s, want %s", got, want)
	}
	q := e.Equipment[len(e.Equipment)-1]
	if q.Mass.Value != 25*quantity.Kilogram || q.Depth.Value != 300*quantity.Millimetre || q.Depth.Basis != estate.Measured || q.Cords.State != estate.IsUnknown || !q.Rails.Known() {
		t.Errorf("q = %+v", q)
	}
	if l := e.Rulings.Adjustments[0].Limits; len(l) != 1 || l[0].Text != "25 kg" || l[0].Name != "limit" {
		t.Errorf("limits = %+v, want limit 25 kg", l)
	}
	if m := e.Paces[0].Minutes["fit_slides"]; m != 12*quantity.Minute {
		t.Errorf("fit_slides = %s, want 12 min", m)
	}
	if g := e.Givens[1]; g.Name != "many" || g.Text != "max(given.first, 2)" {
		t.Errorf("the second given = %+v", g)
	}
}

func TestSkip(t *testing.T) {
	e := load(t, map[string]string{
		"estate.hcl":         `estate "e" { skip = ["infra/**", "*.old.hcl", "/drafts/"] }`,
		"infra/x.hcl":        `nonsense "x" {}`,
		"infra/deep/y.hcl":   `nonsense "y" {}`,
		"a.old.hcl":          `nonsense "z" {}`,
		"drafts/d.hcl":       `nonsense "d" {}`,
		"rooms/drafts/d.hcl": `room "kept" {}`,
	})
	if len(e.Rooms) != 1 || e.Rooms[0].Name != "kept" {
		t.Errorf("rooms = %v, want the one whose folder only has a like name", e.Rooms)
	}
}

func TestPolicyKeepsItsText(t *testing.T) {
	const file = `policy "p" {
  each    = mount
  where   = mount.mass > kg(25)
  require = (
    mount.top <= given.high &&
    mount.face == "front"
  )
  say     = "${mount.name} is high"
  within  = [room.hq]
}
room "hq" {}
`
	e := load(t, map[string]string{"a.hcl": file})
	p := e.Rulings.Policies[0]
	if p.Each != "mount" || p.Where.Text != "mount.mass > kg(25)" || p.Say.Text != `"${mount.name} is high"` {
		t.Errorf("policy = %+v", p)
	}
	if got := file[p.Require.At.Start:p.Require.At.End]; got != p.Require.Text || !strings.Contains(got, "given.high") {
		t.Errorf("require = %q at %q", p.Require.Text, got)
	}
	if len(p.Within) != 1 || p.Within[0].Kind != "room" || p.Within[0].Name != "hq" {
		t.Errorf("within = %+v, want room hq", p.Within)
	}
}

func TestJSONSaysTheSame(t *testing.T) {
	native := load(t, map[string]string{"a.hcl": catalogue + `
rack "r" {
  frame = frame.up
  feeds = [feed.a, feed.b]
  mount "m" {
    at        = "38-39"
    equipment = equipment.two
    feeds     = [feed.a]
    serial    = "x"
  }
  blank { at = 3 }
}
group "g" { of = [rack.r.m] }
policy "p" {
  each    = mount
  require = mount.top <= 24
}
equipment "q" {
  height = given.h
  draw   = { typical = "160 W", maximum = unknown }
}
given { h = "2U" }
`})
	form := load(t, map[string]string{"a.hcl": catalogue, "b.hcl.json": `{
  "rack": { "r": {
    "frame": "frame.up", "feeds": ["feed.a", "feed.b"],
    "mount": { "m": { "at": "38-39", "equipment": "equipment.two", "feeds": ["feed.a"], "serial": "x" } },
    "blank": { "at": 3 }
  } },
  "group": { "g": { "of": ["rack.r.m"] } },
  "policy": { "p": { "each": "mount", "require": "mount.top <= 24" } },
  "equipment": { "q": { "height": "${given.h}", "draw": { "typical": "160 W", "maximum": "unknown" } } },
  "given": { "h": "2U" }
}`})
	show := func(e *estate.Estate) string {
		r, q := e.Rack("r"), e.Equipment[len(e.Equipment)-1]
		p := e.Rulings.Policies[0]
		m := r.Mounts[0]
		return fmt.Sprint(places(r), len(r.Feeds), m.Serial, len(m.Feeds), r.Blanks[0].Units, len(e.Groups[0].Of), e.Groups[0].Of[0].Name,
			p.Each, p.Require.Text, q.Height.Count, q.Draw.Typical.Value, q.Draw.Maximum.State)
	}
	if a, b := show(native), show(form); a != b {
		t.Errorf("the JSON form gives\n%s\nthe native form\n%s", b, a)
	}
}

func TestDuplicatesAreKept(t *testing.T) {
	e := load(t, map[string]string{"a.hcl": catalogue + `
frame "up" {
  system = "23in"
  units  = 20
}
rack "r" {
  frame = frame.up
  mount "m" {
    at        = 1
    equipment = equipment.one
  }
  mount "m" {
    at        = 2
    equipment = equipment.two
  }
}
rack "r" { frame = frame.down }
group "g" { of = [rack.r.m] }
`})
	if len(e.Frames) != 4 || len(e.Racks) != 2 || len(e.Racks[0].Mounts) != 2 {
		t.Fatalf("%d frames, %d racks, %d mounts; want 4, 2, 2", len(e.Frames), len(e.Racks), len(e.Racks[0].Mounts))
	}
	if e.Racks[0].Frame != e.Frames[0] || e.Groups[0].Of[0] != e.Racks[0].Mounts[0] {
		t.Error("a name declared twice is not found where it is declared first")
	}
}

func TestSourceSpansMarkTheText(t *testing.T) {
	const file = "\ufeffrack \"schränk\" {\r\n  frame = frame.f\r\n  blank { at = 3 }\r\n}\r\nframe \"f\" {\r\n  system = \"19in\"\r\n  units = 42\r\n}\r\n"
	e := load(t, map[string]string{"a.hcl": file})
	r := e.Racks[0]
	cut := func(g estate.Range) string { return file[g.Start:g.End] }
	if got := cut(r.Source.At()); got != `"schränk"` {
		t.Errorf("the name is at %q", got)
	}
	if got := cut(r.Source.Attr("frame")); got != "frame.f" {
		t.Errorf("frame is at %q", got)
	}
	if got := cut(r.Source.Whole()); !strings.HasPrefix(got, "rack ") || !strings.HasSuffix(got, "}") || strings.Contains(got, "19in") {
		t.Errorf("the rack is at %q", got)
	}
	if got := cut(r.Blanks[0].Source.At()); got != "blank" {
		t.Errorf("the blank is at %q", got)
	}
}

func TestLoadStopsWhenCanceled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, err := Load(ctx, source.Memory("test", map[string]string{"a.hcl": ""}), Options{}); err == nil {
		t.Error("Load of a canceled context gives no error")
	}
}

func TestOrderOfFilesAndWorkersShowsNowhere(t *testing.T) {
	files := map[string]string{"estate.hcl": `estate "e" {}`, "c.hcl": catalogue}
	for i := range 40 {
		files[fmt.Sprintf("r/%02d.hcl", i)] = fmt.Sprintf("rack \"r-%d\" {\nframe = frame.up\nrow = row.w%d\nmount \"m\" {\nat = %d\nequipment = equipment.nowhere\ncolour = 3\nsize = 4\n}\n}\n", i, i%3, i+1)
	}
	first := ""
	for _, workers := range []int{1, 2, 3, 7} {
		e, diags, err := Load(t.Context(), source.Memory("test", files), Options{Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		got := fmt.Sprint(diags, e.Unresolved)
		for _, r := range e.Racks {
			got += places(r)
		}
		if first == "" {
			first = got
		} else if got != first {
			t.Errorf("%d workers give another result than 1", workers)
		}
	}
}
