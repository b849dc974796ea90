package lint

import (
	"fmt"
	"strings"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

func TestNew(t *testing.T) {
	waiver := &estate.Waiver{}
	at := func(f Finding, start int32) Finding {
		f.At = estate.Range{File: "a.hcl", Span: estate.Span{Start: start, End: start + 1}}
		return f
	}
	overlap := Finding{Rule: "space/overlap", Level: Error, Thing: "rack.a.one", Others: []string{"rack.a.two"}}
	other := Finding{Rule: "space/overlap", Level: Error, Thing: "rack.a.one", Others: []string{"rack.a.three"}}
	owner := Finding{Rule: "record/no-owner", Level: Warning, Thing: "rack.old.one"}
	renamed := Finding{Rule: "record/no-owner", Level: Warning, Thing: "rack.new.one"}
	graver, waived := overlap, overlap
	graver.Level, overlap.Level = Error, Warning
	waived.Waiver = waiver
	open := func(rack string, bottom, top quantity.Length) Finding {
		return Finding{Rule: "space/open-unit", Level: Warning, Thing: rack, Heights: estate.Extent{Bottom: bottom * quantity.Millimetre, Top: top * quantity.Millimetre}}
	}
	rename := func(s string) string { return strings.Replace(s, "rack.old", "rack.new", 1) }

	tests := []struct {
		name       string
		now, base  []Finding
		rename     func(string) string
		new, cured string
		old        int
	}{
		{name: "same, on another line", now: []Finding{at(overlap, 9)}, base: []Finding{at(overlap, 1)}, old: 1},
		{name: "brought", now: []Finding{overlap}, new: "space/overlap rack.a.one"},
		{name: "cured", base: []Finding{overlap}, cured: "space/overlap rack.a.one"},
		{name: "with another thing", now: []Finding{other}, base: []Finding{overlap}, new: "space/overlap rack.a.one", cured: "space/overlap rack.a.one"},
		{name: "graver", now: []Finding{graver}, base: []Finding{overlap}, new: "space/overlap rack.a.one"},
		{name: "milder", now: []Finding{overlap}, base: []Finding{graver}, old: 1},
		{name: "waiver ended", now: []Finding{overlap}, base: []Finding{waived}, new: "space/overlap rack.a.one"},
		{name: "waived since", now: []Finding{waived}, base: []Finding{overlap}},
		{name: "waiver gone with the mistake", base: []Finding{waived}},
		{name: "a second of the same", now: []Finding{at(overlap, 1), at(overlap, 5)}, base: []Finding{at(overlap, 1)}, new: "space/overlap rack.a.one", old: 1},
		{name: "two of three cured", now: []Finding{at(overlap, 1)}, base: []Finding{at(overlap, 1), at(overlap, 5), at(overlap, 7)}, cured: "space/overlap rack.a.one; space/overlap rack.a.one", old: 1},
		{name: "renamed", now: []Finding{renamed}, base: []Finding{owner}, rename: rename, old: 1},
		{name: "renamed, names not known", now: []Finding{renamed}, base: []Finding{owner}, new: "record/no-owner rack.new.one", cured: "record/no-owner rack.old.one"},
		{name: "part of a gap is filled", now: []Finding{open("rack.a", 0, 40)}, base: []Finding{open("rack.a", 0, 80)}, old: 1},
		{name: "a gap is parted", now: []Finding{open("rack.a", 0, 40), open("rack.a", 60, 80)}, base: []Finding{open("rack.a", 0, 80)}, old: 2},
		{name: "a gap has grown", now: []Finding{open("rack.a", 0, 90)}, base: []Finding{open("rack.a", 0, 80)}, new: "space/open-unit rack.a", cured: "space/open-unit rack.a"},
		{name: "another gap", now: []Finding{open("rack.a", 100, 140)}, base: []Finding{open("rack.a", 0, 80)}, new: "space/open-unit rack.a", cured: "space/open-unit rack.a"},
		{name: "a gap of a rack renamed", now: []Finding{open("rack.new", 0, 40)}, base: []Finding{open("rack.old", 0, 80)}, rename: rename, old: 1},
		{name: "a gap of another rack", now: []Finding{open("rack.b", 0, 40)}, base: []Finding{open("rack.a", 0, 80)}, new: "space/open-unit rack.b", cured: "space/open-unit rack.a"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := New(&Result{Findings: tt.now, Racks: 3}, &Result{Findings: tt.base}, tt.rename)
			if named(c.Findings) != tt.new || named(c.Cured) != tt.cured || c.Old != tt.old || c.Racks != 3 {
				t.Errorf("New = %q, cured %q, %d old, want %q, cured %q, %d old", named(c.Findings), named(c.Cured), c.Old, tt.new, tt.cured, tt.old)
			}
		})
	}
}

func named(findings []Finding) string {
	var names []string
	for _, f := range findings {
		names = append(names, fmt.Sprint(f.Rule, " ", f.Thing))
	}
	return strings.Join(names, "; ")
}
