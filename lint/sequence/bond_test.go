package sequence_test

import (
	"slices"
	"strings"
	"testing"

	"cagenut/lint/sequence"
)

// A bond that goes elsewhere is laid before the old one is taken off; one that
// is only put on record is no work.
func TestBonds(t *testing.T) {
	const frame = "frame \"f\" {\n  system = \"19in\"\n  units = 12\n}\nbar \"hq\" {}\n"
	rack := func(name, bond string) string {
		return "rack \"" + name + "\" {\n  frame = frame.f\n" + bond + "}\n"
	}
	const onBar, chained = "  bond = bar.hq\n", "  bond = rack.a\n"
	for _, tt := range []struct {
		name, before, after string
		do, record          string
	}{
		{
			name: "from a rack to the bar", before: rack("a", onBar) + rack("b", chained), after: rack("a", onBar) + rack("b", onBar),
			do: "Lay the bonding conductor of rack b to bar.hq and connect it, then take off the one to rack.a.",
		},
		{name: "put on record", before: rack("b", ""), after: rack("b", onBar), record: "rack.b is altered (bond none -> bar.hq)"},
		{name: "looked at", before: rack("b", "  bond = unknown\n"), after: rack("b", onBar), record: "rack.b is altered (bond unknown -> bar.hq)"},
		{name: "not known any more", before: rack("b", onBar), after: rack("b", ""), record: "rack.b is altered (bond bar.hq -> none)"},
		{name: "beside another alteration", before: rack("a", onBar) + rack("b", chained), after: rack("a", onBar) + rack("b", onBar+"  owner = \"network\"\n"),
			do: "Lay the bonding conductor of rack b to bar.hq and connect it, then take off the one to rack.a.", record: "rack.b is altered (owner none -> network)"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := plan(t, "-- before/a.hcl --\n"+frame+tt.before+"-- after/a.hcl --\n"+frame+tt.after, sequence.Options{})
			var do []string
			for _, s := range p.Steps {
				do = append(do, s.Do)
				if s.Competence != "electrician" || !slices.ContainsFunc(s.Cautions, func(c string) bool { return strings.Contains(c, "bond") }) {
					t.Errorf("step %q: competence %q, cautions %q", s.Do, s.Competence, s.Cautions)
				}
			}
			if got := strings.Join(do, "\n"); got != tt.do {
				t.Errorf("steps %q, want %q", got, tt.do)
			}
			if got := strings.Join(p.Record, "\n"); got != tt.record {
				t.Errorf("record %q, want %q", got, tt.record)
			}
		})
	}
}
