package change

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

func TestClashes(t *testing.T) {
	u19, ok := system.ByName("19in")
	if !ok {
		t.Fatal("no system 19in")
	}
	// placed is estateOf with frames and one unit of height for everything.
	placed := func(lines ...string) *estate.Estate {
		e := estateOf(lines...)
		frame := &estate.Frame{Name: "cab", System: u19, Units: 42, First: 1, Counted: estate.CountedUp}
		for _, q := range e.Equipment {
			q.System = u19
			q.Height = estate.Height{Count: estate.OneUnit, Word: "U", Length: quantity.RackUnit, State: estate.IsGiven}
		}
		for _, r := range e.Racks {
			r.Frame = frame
		}
		return e
	}
	base := []string{"a: s1@8=server#X s2@10=server", "b:"}
	tests := []struct {
		name         string
		mine, theirs []string
		want         string
	}{
		{"apart", []string{"a: s1@8=server#X s2@10=server s3@12=server", "b:"}, []string{"a: s1@8=server#X s2@10=server s4@13=server", "b:"}, ""},
		{"the same unit", []string{"a: s1@8=server#X s2@10=server s3@12=server", "b:"}, []string{"a: s1@8=server#X s2@10=server s4@12=server", "b:"}, "1 a U12"},
		{"the same mount", []string{"a: s1@9=server#X s2@10=server", "b:"}, []string{"a: s1@7=server#X s2@10=server", "b:"}, "2 a"},
		{"the same thing done", []string{"a: s1@9=server#X s2@10=server", "b:"}, []string{"a: s1@9=server#X s2@10=server", "b:"}, ""},
		{"the same serial", []string{"a: s1@8=server#X s2@10=server", "b: n1@3=server#Q"}, []string{"a: s1@8=server#X s2@10=server n2@5=server#Q", "b:"}, "3 b"},
		{"the rack gone", []string{"a: s1@8=server#X s2@10=server"}, []string{"a: s1@8=server#X s2@10=server", "b: n1@3=server"}, "4 b"},
		{"one takes out what the other moves", []string{"a: s2@10=server", "b:"}, []string{"a: s1@7=server#X s2@10=server", "b:"}, "2 a"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			mine := Between(placed(base...), placed(tt.mine...))
			theirs := Between(placed(base...), placed(tt.theirs...))
			var got []string
			for _, c := range Clashes(mine, theirs) {
				s := fmt.Sprint(c.Kind, " ", c.Rack)
				if c.Kind == SameUnits {
					s += " " + mine.New.Rack(c.Rack).Frame.Label(c.Units)
				}
				got = append(got, s)
			}
			if diff := cmp.Diff(tt.want, strings.Join(got, "; ")); diff != "" {
				t.Errorf("Clashes differ (-want +got):\n%s", diff)
			}
		})
	}
}
