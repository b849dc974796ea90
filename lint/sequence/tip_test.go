package sequence_test

import (
	"fmt"
	"strings"
	"testing"

	"cagenut/lint/sequence"
)

// standing makes the frames of a small estate ones that stand free, on feet
// that are known, and gives its 2U things an extension.
func standing(text, fixed string) string {
	text = strings.Replace(text, "  fixed     = \"anchored\"\n", "  fixed     = \""+fixed+"\"\n"+`  front_room = "80 mm"
  width      = "600 mm"
  depth      = "1000 mm"
  height     = "1300 mm"
  feet_width = "500 mm"
  feet_depth = "900 mm"
`, 1)
	return strings.Replace(text, `equipment "two" {`, "equipment \"two\" {\n  extension = \"700 mm\"", 1)
}

// tipped gives the steps that say how near a rack comes to tipping.
func tipped(p *sequence.Plan) (out []string) {
	for i := range p.Steps {
		if s := &p.Steps[i]; s.Tip != nil {
			out = append(out, fmt.Sprintf("%s %s: %s", s.Task, s.Tip.Name, s.Tip))
		}
	}
	return out
}

// The frame weighs 60 kg, a thing of 2U 20 kg with its middle 430 mm behind the
// frame's front, the front feet stand 50 mm behind it, and pulled out by 700 mm
// the thing's middle is 320 mm before them. Alone the frame holds it
// 60 × (500 - 50) / (20 × 320) = 4.22 times, with two others in it
// (60 × 450 + 40 × 380) / (20 × 320) = 6.59 times.
func TestTipIsReckonedAtItsStep(t *testing.T) {
	emptied := map[string][]string{"before x": {"a two 1", "b two 3", "c two 5"}, "after x": {}}
	tests := []struct {
		name, fixed string
		want        []string
		unchecked   string
	}{
		{name: "anchored", fixed: "anchored"},
		{
			name: "emptied from the top", fixed: "none",
			want: []string{
				"withdraw c: Pulled out, it is held 6.59 times by the rest of x (100 kg).",
				"withdraw b: Pulled out, it is held 5.41 times by the rest of x (80 kg).",
				"withdraw a: Pulled out, it is held 4.22 times by the rest of x (60 kg).",
			},
		},
		{name: "a stabiliser of unknown reach", fixed: "stabiliser", unchecked: "how near x comes to tipping at steps 5, 13, 21 is not reckoned: the reach of the stabiliser of frame.f is missing"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := plan(t, standing(racks(12, "", emptied), tt.fixed), sequence.Options{})
			if got := tipped(p); strings.Join(got, "\n") != strings.Join(tt.want, "\n") {
				t.Errorf("got  %s\nwant %s", strings.Join(got, "\n     "), strings.Join(tt.want, "\n     "))
			}
			var unchecked []string
			for _, u := range p.Unchecked {
				unchecked = append(unchecked, u.Because)
			}
			if got := strings.Join(unchecked, "\n"); got != tt.unchecked {
				t.Errorf("not checked: got %q, want %q", got, tt.unchecked)
			}
			least := p.LeastStable()
			if len(tt.want) > 0 && (len(least) != 1 || least[0].Tip.Name != "a" || !strings.Contains(strings.Join(least[0].Cautions, " "), "Remove from the top")) {
				t.Errorf("least stable: %v", least)
			}
		})
	}
}

// What is heavy and goes above the middle of its rack says by how much the rack
// may lean then; below it, nothing is said.
func TestTipOfWhatStandsHigh(t *testing.T) {
	for _, tt := range []struct {
		at, want string
	}{
		// 60 kg with their middle 450 mm up and 100 kg with theirs
		// 100 + 10 × 44.45 mm: together 509 mm up, 250 mm from the feet's edge
		// at the side.
		{"10", "insert_heavy n: With it there x goes over when it leans by 26.2 deg; IEC 62368-1 asks for 10."},
		{"1", ""},
	} {
		text := strings.Replace(standing(racks(12, "", map[string][]string{"after x": {"n two " + tt.at}}), "none"), "mass     = \"20 kg\"", "mass     = \"100 kg\"", 1)
		text = strings.Replace(text, `height     = "1300 mm"`, `height     = "900 mm"`, 1)
		text = strings.Replace(text, `mounting = "slides"`, `mounting = "fixed-rails"`, 1)
		p := plan(t, text, sequence.Options{})
		if got := strings.Join(tipped(p), "\n"); got != tt.want {
			t.Errorf("at U%s: got %q, want %q", tt.at, got, tt.want)
		}
	}
}
