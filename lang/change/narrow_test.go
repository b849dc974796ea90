package change

import (
	"strings"
	"testing"

	"cagenut/lang/estate"
)

// TestNarrow changes two racks, one of which gets another name, and a frame,
// and looks at what is left of that by rack and by file.
func TestNarrow(t *testing.T) {
	build := func(name, cab string, units, blank int) *estate.Estate {
		e := estateOf(name+": s1@3=server", "b: s2@3=server")
		f := &estate.Frame{Name: "cab", Units: units, Source: estate.Source{File: "frames.hcl"}}
		e.Frames = []*estate.Frame{f}
		for i, r := range e.Racks {
			r.Frame, r.Source.File = f, []string{"hq/a.hcl", "quay/b.hcl"}[i]
			r.Blanks = []*estate.Blank{{Rack: r, Units: estate.UnitRange{From: estate.Units(blank), To: estate.Units(blank + i)}}}
		}
		e.Racks[0].Source.File = cab
		return e
	}
	c := Between(build("a", "hq/a.hcl", 42, 7), build("z", "hq/z.hcl", 48, 9))
	say := func(c *Change) string {
		var s []string
		for _, r := range c.Racks {
			s = append(s, "rack "+r.Old.Name+">"+r.New.Name)
		}
		for _, b := range c.Blanks {
			s = append(s, "blank "+b.Blank().Rack.Name)
		}
		for _, x := range c.Things {
			s = append(s, x.Ref()+" felt by "+strings.Join(x.Felt, ","))
		}
		return strings.Join(s, "; ")
	}
	named := func(name string) *Change { return c.In(func(r *estate.Rack) bool { return r.Name == name }) }
	below := func(dir string) *Change {
		return c.Below(func(file string) bool { return strings.HasPrefix(file, dir) })
	}
	const renamed = "rack a>z; blank a; blank z; frame.cab felt by z"
	tests := []struct {
		name string
		got  *Change
		want string
	}{
		{"all", c, "rack a>z; blank a; blank b; blank b; blank z; frame.cab felt by b,z"},
		{"rack by its new name", named("z"), renamed},
		{"rack by its old name", named("a"), renamed},
		{"the other rack", named("b"), "blank b; blank b; frame.cab felt by b"},
		{"no rack", named("c"), ""},
		{"file that is gone", below("hq/a"), renamed},
		{"file that is new", below("hq/z"), renamed},
		{"folder", below("quay/"), "blank b; blank b; frame.cab felt by b"},
		{"what all share", below("frames"), "frame.cab felt by b,z"},
		{"everything", below(""), "rack a>z; blank a; blank b; blank b; blank z; frame.cab felt by b,z"},
	}
	for _, tt := range tests {
		if got := say(tt.got); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}
