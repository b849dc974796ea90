package change

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang/estate"
)

// estateOf makes an estate of "rack: label@unit=equipment#serial ..." lines.
func estateOf(lines ...string) *estate.Estate {
	e := &estate.Estate{Lengths: "mm"}
	kinds := map[string]*estate.Equipment{}
	for _, line := range lines {
		name, rest, _ := strings.Cut(line, ":")
		r := &estate.Rack{Name: name}
		for _, text := range strings.Fields(rest) {
			text, serial, _ := strings.Cut(text, "#")
			text, kind, _ := strings.Cut(text, "=")
			label, unit, _ := strings.Cut(text, "@")
			if kinds[kind] == nil {
				kinds[kind] = &estate.Equipment{Name: kind}
				e.Equipment = append(e.Equipment, kinds[kind])
			}
			n := 0
			for _, c := range unit {
				n = n*10 + int(c-'0')
			}
			r.Mounts = append(r.Mounts, &estate.Mount{Name: label, Rack: r, At: estate.Units(n), Equipment: kinds[kind], Serial: serial})
		}
		e.Racks = append(e.Racks, r)
	}
	return e
}

func TestMatching(t *testing.T) {
	tests := []struct {
		name     string
		old, new []string
		want     string
	}{
		{
			name: "moved in the rack",
			old:  []string{"a: s1@8=server"},
			new:  []string{"a: s1@10=server"},
			want: `mount moved rack.a.s1 by "label" [{at 8 10}]`,
		},
		{
			name: "moved to another rack, by serial",
			old:  []string{"a: s1@8=server#X", "b:"},
			new:  []string{"a:", "b: s9@2=server#X"},
			want: `mount moved rack.b.s9 by "serial" [{label s1 s9} {rack rack.a rack.b} {at 8 2}]`,
		},
		{
			name: "moved to another rack, by label and equipment",
			old:  []string{"a: s1@8=server", "b:"},
			new:  []string{"a:", "b: s1@2=server"},
			want: `mount moved rack.b.s1 by "label and equipment" [{rack rack.a rack.b} {at 8 2}]`,
		},
		{
			name: "the same label on other hardware is no move",
			old:  []string{"a: s1@8=server#X", "b:"},
			new:  []string{"a:", "b: s1@2=server#Y"},
			want: "mount removed rack.a.s1 by \"\" []\nmount added rack.b.s1 by \"\" []",
		},
		{
			name: "a label found in two other racks is no move",
			old:  []string{"a: s1@8=server", "b:", "c:"},
			new:  []string{"a:", "b: s1@2=server", "c: s1@2=server"},
			want: "mount removed rack.a.s1 by \"\" []\nmount added rack.b.s1 by \"\" []\nmount added rack.c.s1 by \"\" []",
		},
		{
			name: "labels stay while boxes change places",
			old:  []string{"a: s1@8=server#X s2@10=server#Y"},
			new:  []string{"a: s1@8=server#Y s2@10=server#X"},
			want: "mount moved rack.a.s1 by \"serial\" [{label s2 s1} {at 10 8}]\nmount moved rack.a.s2 by \"serial\" [{label s1 s2} {at 8 10}]",
		},
		{
			name: "replaced by other hardware under the same label",
			old:  []string{"a: s1@8=server#X"},
			new:  []string{"a: s1@8=server#Z"},
			want: `mount altered rack.a.s1 by "label" [{serial X Z}]`,
		},
		{
			name: "a new label in the same place",
			old:  []string{"a: store@8=server"},
			new:  []string{"a: archive@8=server"},
			want: `mount altered rack.a.archive by "likeness" [{label store archive}]`,
		},
		{
			name: "a new place and a similar label",
			old:  []string{"a: ticket-1@8=server"},
			new:  []string{"a: ticket-01@12=server"},
			want: `mount moved rack.a.ticket-01 by "likeness" [{label ticket-1 ticket-01} {at 8 12}]`,
		},
		{
			name: "a new place and quite another label",
			old:  []string{"a: store@8=server"},
			new:  []string{"a: archive@12=server"},
			want: "mount removed rack.a.store by \"\" []\nmount added rack.a.archive by \"\" []",
		},
		{
			name: "a renamed rack takes its mounts along",
			old:  []string{"a: s1@8=server s2@10=server"},
			new:  []string{"hq-a: s1@8=server s2@12=server"},
			want: "rack altered hq-a [{label a hq-a}]\nmount moved rack.hq-a.s2 by \"label\" [{at 10 12}]",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := strings.TrimSpace(describe(Between(estateOf(tt.old...), estateOf(tt.new...))))
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("Between(%q, %q) differs (-want +got):\n%s", tt.old, tt.new, diff)
			}
		})
	}
}

func TestMountChangeSays(t *testing.T) {
	tests := []struct {
		name                           string
		old, new                       []string
		replaced, recordOnly, betweens bool
	}{
		{"moved", []string{"a: s1@8=server"}, []string{"a: s1@10=server"}, false, false, false},
		{"other serial", []string{"a: s1@8=server#X"}, []string{"a: s1@8=server#Z"}, true, false, false},
		{"serial now known", []string{"a: s1@8=server"}, []string{"a: s1@8=server#Z"}, false, true, false},
		{"other equipment", []string{"a: s1@8=server"}, []string{"a: s1@8=storage"}, true, false, false},
		{"to another rack", []string{"a: s1@8=server", "b:"}, []string{"a:", "b: s1@8=server"}, false, false, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := Between(estateOf(tt.old...), estateOf(tt.new...)).Mounts[0]
			if m.Replaced() != tt.replaced || m.RecordOnly() != tt.recordOnly || m.BetweenRacks() != tt.betweens {
				t.Errorf("%v: Replaced %v, RecordOnly %v, BetweenRacks %v; want %v, %v, %v", m.Alterations,
					m.Replaced(), m.RecordOnly(), m.BetweenRacks(), tt.replaced, tt.recordOnly, tt.betweens)
			}
		})
	}
}

func TestApplyNamesAllThatDoesNotFit(t *testing.T) {
	c := Between(estateOf("a: s1@8=server s2@10=server"), estateOf("a: s1@9=server s3@11=storage"))
	_, err := c.Apply(estateOf("a: s1@7=server"))
	if err == nil {
		t.Fatal("Apply on an estate that the change was not made for: no error")
	}
	for _, part := range []string{"rack.a.s1 is not as the change expects it", "rack.a.s2 is not as the change expects it"} {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("Apply: %q does not say %q", err, part)
		}
	}
}
