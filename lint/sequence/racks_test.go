package sequence_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang/estate"
	"cagenut/lint/sequence"
)

// An empty rack is moved, or gets another frame; one that is full is refused,
// unless a waiver says that the record alone is mended; names are new labels.
func TestRacksThatGoElsewhere(t *testing.T) {
	const after = "-- after/racks.hcl --\n"
	frame := "-- after/g.hcl --\nframe \"g\" {\n  system = \"19in\"\n  kind = \"four-post\"\n  units = 12\n  counted = \"down\"\n  post_span = \"740 mm\"\n  fixed = \"anchored\"\n}\n"
	waiver := "-- after/waiver.hcl --\nwaive \"plan/loaded-rack\" {\n  on = rack.x\n  reason = \"it stands there\"\n  until = \"2027-12-31\"\n}\n"
	full := map[string][]string{"before x": {"a two 1"}, "after x": {"a two 1"}}
	tests := []struct {
		name   string
		mounts map[string][]string
		change func(string) string // of the text from after/racks.hcl on
		want   []string
		refuse string // part of the finding
		paper  string
	}{
		{
			name: "an empty rack goes to another place", mounts: map[string][]string{},
			change: func(s string) string { return strings.Replace(s, "place = 1", "place = 7", 1) },
			want:   []string{"Free rack x, which is empty, bring it to its new place, level it and fix it."},
		},
		{
			name: "a rack is emptied, then moved", mounts: map[string][]string{"before x": {"a two 1"}, "after y": {"a two 1"}},
			change: func(s string) string { return strings.Replace(s, "place = 1", "place = 7", 1) },
			want:   []string{"Carry a to rack y (20 kg).", "Free rack x, which is empty, bring it to its new place, level it and fix it."},
		},
		{
			name: "a rack is moved, then filled", mounts: map[string][]string{"after x": {"n two 1"}},
			change: func(s string) string { return strings.Replace(s, "place = 1", "place = 7", 1) },
			want:   []string{"Free rack x, which is empty, bring it to its new place, level it and fix it.", "Bring n: read label and serial S-n aloud."},
		},
		{
			name: "another frame", mounts: map[string][]string{},
			change: func(s string) string { return strings.Replace(s, "frame = frame.f", "frame = frame.g", 1) + frame },
			want:   []string{"Free rack x, which is empty, take it away, and stand frame.g in its place, levelled and fixed."},
		},
		{
			name: "full, to another place", mounts: full,
			change: func(s string) string { return strings.Replace(s, "place = 1", "place = 7", 1) },
			refuse: "rack.x goes from place 1 to place 7 with a in it",
		},
		{
			name: "full, another frame", mounts: full,
			change: func(s string) string { return strings.Replace(s, "frame = frame.f", "frame = frame.g", 1) + frame },
			refuse: "rack.x gets frame.g in place of frame.f with a in it",
		},
		{
			name: "full, accepted as a mended record", mounts: full,
			change: func(s string) string { return strings.Replace(s, "place = 1", "place = 7", 1) + waiver },
			refuse: "rack.x goes from place 1", paper: "rack.x is moved (place 1 -> 7)",
		},
		{
			name: "a new name", mounts: full,
			change: func(s string) string { return strings.Replace(s, "rack \"x\"", "rack \"z\"", 1) },
			want:   []string{"Put the new labels on rack z, front and rear: it was called x."},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := racks(12, "", tt.mounts)
			i := strings.Index(text, after)
			p := plan(t, text[:i]+tt.change(text[i:]), sequence.Options{Today: estate.NewDate(2026, 11, 25)})
			var got []string
			for _, do := range dos(p) {
				if strings.Contains(do, "rack") || strings.HasPrefix(do, "Bring n:") {
					got = append(got, do)
				}
			}
			got = slices.DeleteFunc(got, func(s string) bool { return strings.Contains(s, "cords") })
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("steps (-want +got):\n%s", diff)
			}
			said := strings.Join(found(p, "plan/loaded-rack"), "\n")
			if tt.refuse == "" && said != "" || !strings.Contains(said, tt.refuse) {
				t.Errorf("found %q, want %q", said, tt.refuse)
			}
			if (len(p.Refused) > 0) != (tt.refuse != "" && tt.paper == "") {
				t.Errorf("refused: %v", p.Refused)
			}
			if tt.paper != "" && !slices.Contains(p.Record, tt.paper) {
				t.Errorf("on paper: %q, want %q among it", p.Record, tt.paper)
			}
		})
	}
}
