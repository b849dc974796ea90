package sequence_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lint"
	"cagenut/lint/sequence"
)

// sealSteps gives what is done at fire seals, and refuses a block that ends
// with one open, cords that pass a closed one, and a way back that leaves one
// open.
func sealSteps(t *testing.T, p *sequence.Plan) (steps []string) {
	t.Helper()
	for i := range p.Steps {
		s := &p.Steps[i]
		switch s.Task {
		case sequence.OpenSeal:
			steps = append(steps, s.Do)
			if back := p.BackOut(s.Number); !strings.Contains(back[0].Do, "with the listed system, label and photograph it") {
				t.Errorf("the way back from step %d: %v", s.Number, back)
			}
		case sequence.RemakeSeal:
			steps = append(steps, s.Do)
			if s.Competence == "" || len(s.Cautions) == 0 {
				t.Errorf("step %d is for %q, with cautions %q", s.Number, s.Competence, s.Cautions)
			}
		}
	}
	for n := range p.Blocks {
		follows := n+1 < len(p.Blocks) && p.Blocks[n+1].Follows
		if open := p.Steps[p.Blocks[n].To-1].State.Seals; (len(open) > 0) != follows {
			t.Errorf("block %d ends with %v open, the next one follows: %v", n, open, follows)
		}
	}
	return steps
}

func TestSealIsRemadeBeforeRest(t *testing.T) {
	mounts := map[string][]string{
		"before x": {"a two 1", "old one 9"},
		"after x":  {"a two 3", "new two 7"},
		"before y": {"t two 1"},
		"after y":  {"t two 1 [feed.b,feed.a]"},
	}
	tests := []struct {
		name, find, put string
		want            []string // numbers of what is opened and re-made
	}{
		{name: "none"},
		{
			name: "row: what comes, goes or is fed anew, not what moves", find: "  room  = room.r\n", put: "  room  = room.r\n  seals = [\"FS-1\"]\n",
			want: []string{"Open FS-1", "Re-make FS-1", "Open FS-1", "Re-make FS-1"},
		},
		{
			name: "rack", find: "rack \"y\" {\n", put: "rack \"y\" {\n  seals = [\"FS-2\", \"FS-3\"]\n",
			want: []string{"Open FS-2", "Open FS-3", "Re-make FS-3", "Re-make FS-2"},
		},
		{
			name: "mount", find: "mount \"new\" {\n", put: "mount \"new\" {\n    seals = [\"FS-4\"]\n",
			want: []string{"Open FS-4", "Re-make FS-4"},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := racks(12, "", mounts)
			if tt.find != "" {
				if !strings.Contains(text, tt.find) {
					t.Fatalf("nothing says %q", tt.find)
				}
				text = strings.ReplaceAll(text, tt.find, tt.put)
			}
			p := plan(t, text, sequence.Options{})
			if len(p.Refused) > 0 || p.Failed(lint.Warning) {
				t.Fatalf("refused %v, findings %v", p.Refused, p.Findings)
			}
			var got []string
			for _, do := range sealSteps(t, p) {
				verb, rest, _ := strings.Cut(do, " fire seal ")
				got = append(got, fmt.Sprint(verb, " ", strings.FieldsFunc(rest, func(r rune) bool { return r == ' ' || r == '.' })[0]))
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("seals (-want +got):\n%s", diff)
			}
			for _, s := range p.Daytime {
				if s.Task == sequence.LayCord && s.Job.Name == "new" && tt.name == "mount" && !strings.Contains(s.Do, "before fire seal FS-4, which stays closed") {
					t.Errorf("by day: %s", s.Do)
				}
			}
		})
	}
}

// What passes the same seal in a row is done while it is open once, as far as a
// window holds it; no window ends with it open, and the way back to the rest
// between closes it.
func TestSealIsOpenedOnceAWindow(t *testing.T) {
	things := map[string][]string{"after x": {"a two 1", "b two 3", "c two 5"}}
	for _, tt := range []struct {
		name, closes string
		opened       int
		windows      int
	}{
		{name: "all in one", closes: "05:00", opened: 1, windows: 1},
		{name: "two and one", closes: "00:55", opened: 2, windows: 2},
		{name: "one each", closes: "00:15", opened: 3, windows: 3},
		{name: "no windows", opened: 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			extra := ""
			if tt.closes != "" {
				extra = fmt.Sprintf("window \"n\" {\n  site = site.s\n  days = [\"tue\"]\n  opens = \"22:00\"\n  closes = %q\n}\n", tt.closes)
			}
			text := strings.ReplaceAll(racks(12, extra, things), "  room  = room.r\n", "  room  = room.r\n  seals = [\"FS-1\"]\n")
			p := plan(t, text, sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
			if len(p.Left)+len(p.Refused) > 0 || len(p.Windows) != tt.windows || p.Failed(lint.Error) {
				t.Fatalf("left %v, %d windows, findings %v", p.Left, len(p.Windows), p.Findings)
			}
			if steps := sealSteps(t, p); len(steps) != 2*tt.opened {
				t.Errorf("at seals: %q, want it opened %d times", steps, tt.opened)
			}
			for _, n := range p.Windows {
				last := &p.Steps[p.Blocks[n.Blocks[len(n.Blocks)-1]].To-1]
				if len(last.State.Seals) > 0 || last.Start.After(last.LatestStart) {
					t.Errorf("window %d ends with %+v", n.Number, last)
				}
			}
			for n := range p.Blocks {
				back := p.BackOut(p.Blocks[n].To)
				last := back[len(back)-1]
				if p.Blocks[n].Follows != strings.HasPrefix(last.Do, "to rest here: re-make fire seal FS-1") {
					t.Errorf("block %d follows: %v, and its way back ends with %q", n, p.Blocks[n].Follows, last.Do)
				}
				s := &p.Steps[p.Blocks[n].To-1]
				if got, want := s.BackMinutes, p.WithContingency(last.Sum); got != want {
					t.Errorf("block %d: %s back, and its lines sum up to %s", n, got, want)
				}
			}
		})
	}
}

// A sheet that stops between the opening of a seal and its re-making says so.
func TestHalfDoneSheetWithSealOpen(t *testing.T) {
	text := strings.ReplaceAll(racks(12, "", map[string][]string{"after x": {"new two 7"}}), "mount \"new\" {\n", "mount \"new\" {\n    seals = [\"FS-4\"]\n")
	whole := plan(t, text, sequence.Options{})
	for n := 1; n <= len(whole.Steps); n++ {
		var done []int
		for i := 1; i <= n; i++ {
			done = append(done, i)
		}
		p := plan(t, text, sequence.Options{Done: done})
		said := false
		for _, f := range p.Findings {
			said = said || f.Rule == "plan/seal-open" && strings.Contains(f.Message, "fire seal FS-4 stands open")
		}
		if open := len(whole.Steps[n-1].State.Seals) > 0; said != open {
			t.Errorf("after step %d (%s): said %v, open %v", n, whole.Steps[n-1].Do, said, open)
		}
	}
}

// Where nobody may re-make a seal, that is said once and the work waits; a
// waiver lets it go on, and a window that says nothing is not judged.
func TestSealWithoutFireStopper(t *testing.T) {
	text := strings.ReplaceAll(racks(12, "", map[string][]string{"after x": {"new two 7"}}), "mount \"new\" {\n", "mount \"new\" {\n    seals = [\"FS-4\"]\n")
	waiver := "waive \"plan/seal-open\" {\n  on = rack.x.new\n  reason = \"the landlord's own man comes\"\n  until = \"2027-12-31\"\n}\n"
	tests := []struct {
		name, competences, extra string
		waived, left, unchecked  int
	}{
		{name: "nobody", competences: "\"electrician\"", left: 1},
		{name: "waived", competences: "\"electrician\"", extra: waiver, waived: 1},
		{name: "not said", unchecked: 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			says := ""
			if tt.competences != "" {
				says = "  competences = [" + tt.competences + "]\n"
			}
			p := plan(t, text+night("mon", "mon", says)+tt.extra, sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
			waived := 0
			for _, f := range p.Findings {
				if f.Rule != "plan/seal-open" || !strings.Contains(f.Message, "calls for a fire-stopper, and no window of site.s has that; have one there") {
					t.Errorf("%s: %s", f.Rule, f.Message)
				}
				waived += map[bool]int{true: 1}[f.Waiver != nil]
			}
			if len(p.Findings) != tt.left+tt.waived || waived != tt.waived || len(p.Left) != tt.left || len(p.Unchecked) != tt.unchecked {
				t.Errorf("findings %v, left %v, unchecked %v", p.Findings, p.Left, p.Unchecked)
			}
		})
	}
}
