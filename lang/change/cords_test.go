package change

import (
	"fmt"
	"strings"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// corded is a rack with strips and a server with cords written "strip-a/3/1500",
// strip, outlet and millimetres, or "strip-a" alone.
func corded(rack string, strips string, cords ...string) *estate.Estate {
	r := &estate.Rack{Name: rack}
	strip := &estate.Equipment{Name: "strip", Outlets: []estate.OutletSet{{Count: 8}}}
	for i, name := range strings.Fields(strips) {
		r.Mounts = append(r.Mounts, &estate.Mount{Name: name, Rack: r, Equipment: strip, At: estate.Units(i + 1)})
	}
	m := &estate.Mount{Name: "server-1", Rack: r, At: estate.Units(20), Equipment: &estate.Equipment{Name: "server"}}
	for _, c := range cords {
		parts := strings.Split(c, "/")
		cord := estate.Cord{To: parts[0]}
		if len(parts) > 1 {
			fmt.Sscan(parts[1], &cord.Outlet)
		}
		if len(parts) > 2 {
			var mm int
			fmt.Sscan(parts[2], &mm)
			cord.Length = estate.Is(quantity.Length(mm) * quantity.Millimetre)
		}
		m.Cords = append(m.Cords, cord)
	}
	r.Mounts = append(r.Mounts, m)
	return &estate.Estate{Racks: []*estate.Rack{r}}
}

func TestCordsThatHandsHaveToDoWith(t *testing.T) {
	tests := []struct {
		name     string
		old, new *estate.Estate
		want     string
	}{
		{"another outlet", corded("a", "s1 s2", "s1/3"), corded("a", "s1 s2", "s1/4"), "1 goes elsewhere"},
		{"another strip", corded("a", "s1 s2", "s1/3"), corded("a", "s1 s2", "s2/3"), "1 goes elsewhere"},
		{"a longer cord", corded("a", "s1", "s1/3/1000"), corded("a", "s1", "s1/3/2000"), "1 is another"},
		{"a second cord", corded("a", "s1", "s1/3"), corded("a", "s1", "s1/3", "s1/4"), "2 is another"},
		{"one cord less", corded("a", "s1", "s1/3", "s1/4"), corded("a", "s1", "s1/3"), "2 goes"},
		{"a length told at last", corded("a", "s1", "s1/3"), corded("a", "s1", "s1/3/2000"), ""},
		{"an outlet told at last", corded("a", "s1", "s1"), corded("a", "s1", "s1/3"), ""},
		{"cords told at last", corded("a", "s1"), corded("a", "s1", "s1/3"), ""},
		{"the rack in front", corded("a", "s1", "s1/3"), corded("a", "s1", "rack.a.s1/3"), ""},
		{"a rack with a new name", corded("a", "s1", "rack.a.s1/3"), corded("hq-a", "s1", "rack.hq-a.s1/3"), ""},
		{"a strip with a new name", corded("a", "strip-a", "strip-a/3"), corded("a", "strip-1a", "strip-1a/3"), ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, m := range Between(tt.old, tt.new).Mounts {
				for _, c := range m.Cords() {
					does := "goes elsewhere"
					switch {
					case c.New == nil:
						does = "goes"
					case c.Other():
						does = "is another"
					}
					got = append(got, fmt.Sprintf("%d %s", c.Inlet+1, does))
				}
				if m.New.Name == "server-1" && m.RecordOnly() != (tt.want == "") {
					t.Errorf("RecordOnly is %v", m.RecordOnly())
				}
			}
			if s := strings.Join(got, ", "); s != tt.want {
				t.Errorf("Cords() are %q, want %q", s, tt.want)
			}
		})
	}
}
