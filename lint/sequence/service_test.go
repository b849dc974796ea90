package sequence_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lint"
	"cagenut/lint/sequence"
)

// layered is equipment of each layer, all of one size.
func layered() string {
	var b strings.Builder
	for _, kind := range []string{"storage", "recorder", "amplifier", "router"} {
		b.WriteString("equipment \"" + kind + "\" {\n  kind = \"" + kind + "\"\n  system = \"19in\"\n  height = \"1U\"\n  depth = \"400 mm\"\n  mass = \"5 kg\"\n  mounting = \"ears\"\n  draw = \"50 W\"\n  inlets = { type = \"c14\", count = 1, needs = 1 }\n}\n")
	}
	return b.String()
}

// things puts a thing of each layer into a rack, so that height alone would
// give another order than what serves what.
func things(at ...string) []string {
	names := []string{"amp amplifier", "rec recorder", "store storage", "core router"}
	var out []string
	for i, n := range names {
		out = append(out, n+" "+at[i]+" [feed.a]")
	}
	return out
}

func order(p *sequence.Plan, task sequence.Task) []string {
	var out []string
	for i := range p.Steps {
		if s := &p.Steps[i]; s.Task == task {
			out = append(out, s.Job.Name)
		}
	}
	return out
}

func notes(p *sequence.Plan) []string {
	var out []string
	for _, f := range p.Findings {
		if f.Rule == "plan/service-order" && f.Level == lint.Note {
			out = append(out, f.Message)
		}
	}
	return out
}

// Network, storage and servers are started in that order and shut down in the
// other one, amplifiers on last and off first, wherever in the rack they are.
func TestServiceOrder(t *testing.T) {
	for _, at := range [][]string{{"1", "3", "5", "7"}, {"7", "5", "3", "1"}} {
		p := plan(t, racks(12, layered(), map[string][]string{"after x": things(at...)}), sequence.Options{})
		if diff := cmp.Diff([]string{"core", "store", "rec", "amp"}, order(p, sequence.Service)); diff != "" {
			t.Errorf("started (-want +got):\n%s", diff)
		}
		if n := notes(p); len(n) > 0 {
			t.Errorf("in order, and noted: %q", n)
		}
		p = plan(t, racks(12, layered(), map[string][]string{"before x": things(at...)}), sequence.Options{})
		if diff := cmp.Diff([]string{"amp", "rec", "store", "core"}, order(p, sequence.HandOver)); diff != "" {
			t.Errorf("shut down (-want +got):\n%s", diff)
		}
		if n := notes(p); len(n) > 0 {
			t.Errorf("in order, and noted: %q", n)
		}
	}
}

// Where all of them move one at a time no order keeps the layers. That costs no
// move more, and the plan says so of each thing that others may live on.
func TestServiceOrderThatCannotBeKept(t *testing.T) {
	p := plan(t, racks(12, layered(), map[string][]string{
		"before x": things("1", "2", "3", "4"), "after x": things("8", "9", "10", "11"),
	}), sequence.Options{})
	if p.Moves != 4 || p.Least != 4 {
		t.Errorf("%d moves, least %d", p.Moves, p.Least)
	}
	n := notes(p)
	if len(n) != 3 {
		t.Fatalf("notes %q, want one each of core, store and rec", n)
	}
	if !slices.ContainsFunc(n, func(s string) bool {
		return strings.Contains(s, "store (storage) is shut down while amp, rec may run: the moves leave no other order")
	}) {
		t.Errorf("notes %q", n)
	}
}

// Things of different racks are taken to have nothing to do with each other,
// unless they are of one service.
func TestServiceOrderAcrossRacks(t *testing.T) {
	text := racks(12, layered(), map[string][]string{
		"before x": {"rec recorder 1 [feed.a]"}, "after x": {"rec recorder 5 [feed.a]"},
		"before y": {"store storage 1 [feed.a]"}, "after y": {"store storage 5 [feed.a]"},
	})
	if n := notes(plan(t, text, sequence.Options{})); len(n) > 0 {
		t.Errorf("noted of two racks: %q", n)
	}
	text = strings.ReplaceAll(text, "serial =", "service = \"tapes\"\n    serial =")
	if n := notes(plan(t, text, sequence.Options{})); len(n) != 1 {
		t.Errorf("of one service: %q", n)
	}
}
