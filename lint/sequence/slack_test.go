package sequence_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lint/sequence"
)

// paneled is the corded rack with a panel at a unit, and more of it.
func paneled(room string, at int, more string) map[string]string {
	text := inRoom(corded("", fmt.Sprintf("  mount \"p\" {\n    at        = %d\n    equipment = equipment.panel\n%s  }\n", at, more)), room, "")
	return map[string]string{"a.hcl": text + "equipment \"panel\" {\n  kind     = \"panel\"\n  height   = \"1U\"\n  depth    = \"120 mm\"\n  mass     = \"2 kg\"\n  mounting = \"ears\"\n}\n"}
}

func TestPastSlack(t *testing.T) {
	slack := func(l string) string { return fmt.Sprintf("    slack     = %s\n", l) }
	tests := []struct {
		name           string
		room           string
		from, to       int
		before, after  string
		says, cautions []string
	}{
		{
			name: "within", from: 2, to: 18, before: slack(`"1.4 m"`), after: slack(`"1.4 m"`),
			cautions: []string{"Fixed cables: their slack is 1400 mm, this move takes 712 mm of it, and 688 mm are left. Free them before it moves; none pulled, pinched or bent too sharply."},
		},
		{
			name: "to the last millimetre", from: 2, to: 18, before: slack(`"712 mm"`), after: slack(`"712 mm"`),
			cautions: []string{"Fixed cables: their slack is 712 mm, this move takes 712 mm of it, and 0 mm are left. Free them before it moves; none pulled, pinched or bent too sharply."},
		},
		{
			name: "past", from: 2, to: 18, before: slack(`"711 mm"`), after: slack(`"711 mm"`),
			says: []string{"error plan/past-slack: p goes from x front U2 to x front U18, which takes 712 mm of its fixed cables, and their slack is 711 mm: 1 mm short; " +
				"go no further than that, or have the cables terminated anew as a task of its own, with its tests"},
			cautions: []string{"Fixed cables: their slack is 711 mm, and this move takes 712 mm. Do not begin it."},
		},
		{
			name: "what was said in the old place counts", from: 2, to: 18, before: slack(`"1.4 m"`), after: slack(`"680 mm"`),
			cautions: []string{"Fixed cables: their slack is 1400 mm, this move takes 712 mm of it, and 688 mm are left. Free them before it moves; none pulled, pinched or bent too sharply."},
		},
		{
			name: "told with the change", from: 2, to: 18, after: slack(`"500 mm"`),
			says: []string{"error plan/past-slack: p goes from x front U2 to x front U18, which takes 712 mm of its fixed cables, and their slack is 500 mm: 212 mm short; " +
				"go no further than that, or have the cables terminated anew as a task of its own, with its tests"},
			cautions: []string{"Fixed cables: their slack is 500 mm, and this move takes 712 mm. Do not begin it."},
		},
		{
			name: "nobody has looked", from: 2, to: 18, before: slack("unknown"), after: slack("unknown"),
			says:     []string{"not judged plan/past-slack: whether the fixed cables of p reach x front U18 is not known: the slack of its fixed cables is unknown, and the move takes 712 mm"},
			cautions: []string{"Fixed cables: go only as far as their slack allows, and free them before the panel moves. Their slack is unknown; this move takes 712 mm: measure first."},
		},
		{
			name: "a panel that does not say", from: 2, to: 18,
			says:     []string{"not judged plan/past-slack: whether the fixed cables of p reach x front U18 is not known: the slack of its fixed cables is missing, and the move takes 712 mm"},
			cautions: []string{"Fixed cables: go only as far as their slack allows, and free them before the panel moves. Their slack is missing; this move takes 712 mm: measure first."},
		},
		{
			name: "up to where the cables come from", room: "  overhead = true\n", from: 2, to: 18, before: slack(`"100 mm"`), after: slack(`"100 mm"`),
			cautions: []string{"Fixed cables: their slack is 100 mm, this move takes 0 mm of it, and 100 mm are left. Free them before it moves; none pulled, pinched or bent too sharply."},
		},
		{
			name: "down from where the cables come from", room: "  overhead = true\n", from: 18, to: 2, before: slack(`"100 mm"`), after: slack(`"100 mm"`),
			says: []string{"error plan/past-slack: p goes from x front U18 to x front U2, which takes 712 mm of its fixed cables, and their slack is 100 mm: 612 mm short; " +
				"go no further than that, or have the cables terminated anew as a task of its own, with its tests"},
			cautions: []string{"Fixed cables: their slack is 100 mm, and this move takes 712 mm. Do not begin it."},
		},
		{
			name: "to the other face", from: 2, to: 2, before: slack(`"700 mm"`), after: slack(`"700 mm"`) + "    face      = \"rear\"\n",
			says: []string{"error plan/past-slack: p goes from x front U2 to x rear U2, which takes 740 mm of its fixed cables, and their slack is 700 mm: 40 mm short; " +
				"go no further than that, or have the cables terminated anew as a task of its own, with its tests"},
			cautions: []string{"Fixed cables: their slack is 700 mm, and this move takes 740 mm. Do not begin it."},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := planFor(t, load(t, paneled(tt.room, tt.from, tt.before)), load(t, paneled(tt.room, tt.to, tt.after)), sequence.Options{})
			if diff := cmp.Diff(tt.says, said(p, "plan/past-slack")); diff != "" {
				t.Errorf("what is said of slack differs (-want +got):\n%s", diff)
			}
			var cautions []string
			for i := range p.Steps {
				for _, c := range p.Steps[i].Cautions {
					if strings.HasPrefix(c, "Fixed cables") && (len(cautions) == 0 || cautions[len(cautions)-1] != c) {
						cautions = append(cautions, c)
					}
				}
			}
			if diff := cmp.Diff(tt.cautions, cautions); diff != "" {
				t.Errorf("cautions differ (-want +got):\n%s", diff)
			}
		})
	}
}

// Of two panels that change places one is parked within its slack, or the plan
// says that nothing can be.
func TestPanelsAreParkedWithinTheirSlack(t *testing.T) {
	two := func(p, q int, slack string) map[string]string {
		files := paneled("", p, "    slack     = "+slack+"\n")
		files["a.hcl"] = strings.Replace(files["a.hcl"], "  mount \"p\" {", fmt.Sprintf("  mount \"q\" {\n    at        = %d\n    equipment = equipment.panel\n    slack     = %s\n  }\n  mount \"p\" {", q, slack), 1)
		return files
	}
	for _, tt := range []struct {
		slack  string
		parked bool
	}{{`"200 mm"`, true}, {`"100 mm"`, true}, {`"89 mm"`, true}, {`"40 mm"`, false}} {
		p := planFor(t, load(t, two(20, 21, tt.slack)), load(t, two(21, 20, tt.slack)), sequence.Options{})
		if len(p.Parked) > 0 != tt.parked || len(p.Refused) > 0 == tt.parked {
			t.Errorf("slack %s: parked %v, refused %v", tt.slack, p.Parked, p.Refused)
		}
	}
}
