package sequence_test

import (
	"context"
	"reflect"
	"strings"
	"testing"

	"cagenut/lang/change"
	"cagenut/lint/sequence"
)

func TestReadTicks(t *testing.T) {
	sheet := `# Run sheet

| no. | min | place | do | shows that it is done | who | state after | undo (min) | done |
| --- | --- | --- | --- | --- | --- | --- | --- | --- |
| 1 | 2 | x | Find p. | label | 1 | at rest | - | ☑ 23:40 RK |
| 2 | 15 | x | Hand over. | owner | 1 | at rest | - | [x] |
| 3 | 15 | x | Prove off. | owner | 1 | at rest | - | ☐ |
| 4 | 15 | x | Prove off. | owner | 1 | at rest | - | [ ] |

| undoes step | do | min | sum, with contingency | done |
| --- | --- | --- | --- | --- |
| 9 | cord off | 0.7 | 1 | x |
`
	table := "number,window,done,remark\r\n1,1,23:40,\r\n2,1,yes,slow\r\n3,1,,\r\n"
	for _, tt := range []struct {
		name, text string
		want       []int
		wantErr    string
	}{
		{"sheet", sheet, []int{1, 2}, ""},
		{"table", table, []int{1, 2}, ""},
		{"numbers", "1-3, 5\n4; 5\n", []int{1, 2, 3, 4, 5}, ""},
		{"nothing", "# Run sheet\n", nil, "f has no ticked step; tick boxes as [x], or write numbers such as 1-7"},
		{"words", "1-3 four\n5-2\n", nil, "f:1: \"four\" is no step; write numbers such as 1-7, 9\nf:2: \"5-2\" is no step; write numbers such as 1-7, 9"},
		{"no column", "number,window\n1,1\n", nil, `f has no column "done"; write its name in the first line, as window --format csv does`},
	} {
		got, err := sequence.ReadTicks(strings.NewReader(tt.text), "f")
		message := ""
		if err != nil {
			message = err.Error()
		}
		if !reflect.DeepEqual(got, tt.want) || message != tt.wantErr {
			t.Errorf("%s: got %v, %q, want %v, %q", tt.name, got, message, tt.want, tt.wantErr)
		}
	}
}

func TestHalfDoneSheet(t *testing.T) {
	text := racks(6, "", map[string][]string{
		"before x": {"p two 1", "q two 3"},
		"after x":  {"p two 3", "q two 1"},
	})
	whole := plan(t, text, sequence.Options{})
	parkedAt := 0
	for _, s := range whole.Steps {
		if len(s.State.Parked) > 0 {
			parkedAt = s.Number
			break
		}
	}
	done := make([]int, parkedAt)
	for i := range done {
		done[i] = i + 1
	}
	p := plan(t, text, sequence.Options{Done: done})
	if len(p.Findings) != 1 || p.Findings[0].Rule != "plan/not-at-rest" || !strings.Contains(p.Findings[0].Message, "parked: p on x front U5-6") {
		t.Errorf("findings %v, want to hear that p is parked", p.Findings)
	}
	if p.Next() != parkedAt+1 {
		t.Errorf("goes on at step %d, want %d", p.Next(), parkedAt+1)
	}
	back := p.WayBack()
	if len(back) != 1 || back[0][0].Step > parkedAt || back[0][len(back[0])-1].Step != 2 {
		t.Errorf("way back %v", back)
	}

	// All done: at rest, and everything may still be undone.
	for n := parkedAt + 1; n <= len(whole.Steps); n++ {
		done = append(done, n)
	}
	p = plan(t, text, sequence.Options{Done: done})
	if len(p.Findings) != 0 || p.Next() != len(p.Steps)+1 {
		t.Errorf("findings %v, next %d", p.Findings, p.Next())
	}

	c := change.Between(load(t, archive(text, "before")), load(t, archive(text, "after")))
	for _, tt := range []struct {
		done []int
		want string
	}{
		{[]int{1, 3}, "step 3 is ticked and step 2 (Hand over the service of p and shut it down in order) is not; tick it, or undo what was done out of turn"},
		{[]int{1, 999}, "step 999 is ticked, and the sheet of this change has"},
	} {
		_, err := sequence.Make(context.Background(), c, sequence.Options{Done: tt.done})
		if err == nil || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%v: got %v, want %s", tt.done, err, tt.want)
		}
	}
}
