package sequence_test

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"cagenut/lang/estate"
	"cagenut/lint/sequence"
)

// drawn draws a small change in two racks: things of 1U and 2U, some of them a
// pair, with nothing overlapping before or after.
func drawn(t *rapid.T) string {
	units := rapid.IntRange(6, 12).Draw(t, "units")
	mounts := map[string][]string{}
	used := map[string][]bool{}
	for _, k := range []string{"before x", "before y", "after x", "after y"} {
		used[k] = make([]bool, units+1)
	}
	place := func(side, name, kind string, high int) bool {
		rack := rapid.SampledFrom([]string{"x", "x", "y"}).Draw(t, "rack")
		at := rapid.IntRange(1, units-high+1).Draw(t, "at")
		key := side + " " + rack
		for u := at; u < at+high; u++ {
			if used[key][u] {
				return false
			}
		}
		for u := at; u < at+high; u++ {
			used[key][u] = true
		}
		mounts[key] = append(mounts[key], fmt.Sprintf("%s %s %d", name, kind, at))
		return true
	}
	var pair []string
	for n := range rapid.IntRange(1, 6).Draw(t, "things") {
		kind, high := "one", 1
		if rapid.Bool().Draw(t, "two") {
			kind, high = "two", 2
		}
		name := fmt.Sprint("m", n)
		was, is := place("before", name, kind, high), place("after", name, kind, high)
		if was && is && kind == "two" {
			pair = append(pair, name)
		}
	}
	extra := "bench \"table\" {\n  room = room.r\n  units = 4\n  rated = \"60 kg\"\n}\n"
	text := racks(units, extra, mounts)
	if len(pair) >= 2 {
		for _, side := range []string{"before", "after"} {
			var refs []string
			for _, name := range pair[:2] {
				for _, rack := range []string{"x", "y"} {
					for _, m := range mounts[side+" "+rack] {
						if strings.HasPrefix(m, name+" ") {
							refs = append(refs, "rack."+rack+"."+name)
						}
					}
				}
			}
			text += fmt.Sprintf("-- %s/group.hcl --\ngroup \"pair\" {\n  of = [%s]\n  up = 1\n}\n", side, strings.Join(refs, ", "))
		}
	}
	return text
}

type placed struct{ rack, unit, feeds string }

// placesOf says where everything is, by serial.
func placesOf(racks []*estate.Rack) map[string]placed {
	out := map[string]placed{}
	for _, r := range racks {
		for _, m := range r.Mounts {
			out[m.Serial] = placed{r.Name, m.Label() + m.Posts().String(), fmt.Sprint(len(m.Feeds))}
		}
	}
	return out
}

// No state of any plan puts two things in one place or takes a pair down, the
// last state is the target, the first one the start, every step that can be
// undone says how, and the same change gives the same plan.
func TestPlansKeepWhatTheyPromise(t *testing.T) {
	planned, parked, refused := 0, 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		text := drawn(rt)
		before, after := load(t, archive(text, "before")), load(t, archive(text, "after"))
		p := planFor(t, before, after, sequence.Options{})
		again := planFor(t, load(t, archive(text, "before")), load(t, archive(text, "after")), sequence.Options{})
		if !reflect.DeepEqual(dos(p), dos(again)) {
			rt.Fatalf("two runs differ:\n%v\n%v", dos(p), dos(again))
		}
		if len(p.Refused) > 0 {
			refused++
			if len(p.Steps) > 0 || len(p.Findings) == 0 {
				rt.Fatalf("refused, with %d steps and findings %v", len(p.Steps), p.Findings)
			}
			return
		}
		planned++
		parked += len(p.Parked)
		if got, want := placesOf(p.Racks(0)), placesOf(before.Racks); !reflect.DeepEqual(got, want) {
			rt.Fatalf("starts at %v, want %v", got, want)
		}
		if got, want := placesOf(p.Racks(len(p.Steps))), placesOf(after.Racks); !reflect.DeepEqual(got, want) {
			rt.Fatalf("ends at %v, want %v", got, want)
		}
		for i := range p.Steps {
			s := &p.Steps[i]
			for _, r := range p.Racks(s.Number) {
				if c := r.Conflicts(); len(c) > 0 {
					rt.Fatalf("after step %d %s and %s share %s", s.Number, c[0].Earlier.Name, c[0].Later.Name, r.Name)
				}
			}
			for _, d := range s.State.Down {
				if strings.Contains(d, "0 of 2 up") {
					rt.Fatalf("after step %d: %s", s.Number, d)
				}
			}
			if s.Number != i+1 || s.Minutes <= 0 || s.Do == "" || s.People < 1 {
				rt.Fatalf("step %d: %+v", i+1, s)
			}
		}
		for n := range p.Blocks {
			if s := p.Steps[p.Blocks[n].To-1].State; s.Out != "" || len(s.Parked) > 0 || len(s.Down) > 0 {
				rt.Fatalf("block %d ends with %+v", n, s)
			}
			back := p.BackOut(p.Blocks[n].To)
			for i := 1; i < len(back); i++ {
				if back[i].Step >= back[i-1].Step || back[i].Sum < back[i-1].Sum {
					rt.Fatalf("the way back is not the reverse of the way: %v", back)
				}
			}
		}
	})
	t.Logf("%d planned, %d parked, %d refused", planned, parked, refused)
	if planned == 0 || parked == 0 {
		t.Error("nothing was planned, or nothing parked")
	}
}

// Bytes, too: the papers are made of nothing but the plan.
func TestSamePlanSameBytes(t *testing.T) {
	var first []byte
	for range 5 {
		p := planFor(t, ferry(t, "main"), ferry(t, "ship-swap"), sequence.Options{})
		var b bytes.Buffer
		for i := range p.Steps {
			fmt.Fprintf(&b, "%+v %v\n", p.Steps[i].State, p.Steps[i].Do)
		}
		fmt.Fprint(&b, p.Findings, p.Proposals, p.Record)
		if first == nil {
			first = b.Bytes()
		} else if !bytes.Equal(first, b.Bytes()) {
			t.Fatal("another plan from the same change")
		}
	}
}

// In racks that want their units closed, behind a fire seal, with windows of any
// length: every window ends with all closed that is closed before or after,
// blocks that follow each other are in one window, and a step that is planned too
// late to go back is a finding.
func TestWindowsKeepWhatTheyPromise(t *testing.T) {
	windows, interim := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		text := drawn(rt)
		text = strings.Replace(text, "  fixed     = \"anchored\"\n", "  fixed     = \"anchored\"\n  blanking  = true\n", 1)
		if rapid.Bool().Draw(rt, "sealed") {
			text = strings.ReplaceAll(text, "  room  = room.r\n", "  room  = room.r\n  seals = [\"FS-1\"]\n")
		}
		hours := rapid.IntRange(2, 12).Draw(rt, "hours")
		text += fmt.Sprintf("-- window.hcl --\nwindow \"n\" {\n  site = site.s\n  days = [\"tue\", \"thu\"]\n  opens = \"20:00\"\n  closes = \"%02d:30\"\n}\n", (20+hours)%24)
		before, after := load(t, archive(text, "before")), load(t, archive(text, "after"))
		// Blanks close what is free on either side.
		for _, e := range []*estate.Estate{before, after} {
			for _, r := range e.Racks {
				if rapid.Bool().Draw(rt, "blanked") {
					for _, open := range r.Open() {
						r.Blanks = append(r.Blanks, &estate.Blank{Units: r.Frame.UnitsOf(open), Rack: r})
					}
				}
			}
		}
		p := planFor(t, before, after, sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
		openIn := func(e *estate.Estate) map[string]bool {
			out := map[string]bool{}
			for _, r := range e.Racks {
				for _, open := range r.Open() {
					for u := open.Bottom; u < open.Top-estate.Touch; u += r.Frame.System.Pitch {
						out[fmt.Sprint(r.Name, u)] = true
					}
				}
			}
			return out
		}
		was, is := openIn(before), openIn(after)
		in := map[int]int{}
		for _, n := range p.Windows {
			windows++
			for _, b := range n.Blocks {
				in[b] = n.Number
			}
			last := &p.Steps[p.Blocks[n.Blocks[len(n.Blocks)-1]].To-1]
			if s := last.State; len(s.Seals)+len(s.Ajar)+len(s.Open)+len(s.Parked) > 0 || s.Out != "" {
				rt.Fatalf("window %d ends with %+v", n.Number, s)
			}
			now := *after
			now.Racks = p.Racks(last.Number)
			for at := range openIn(&now) {
				if !was[at] && !is[at] {
					rt.Fatalf("window %d ends with %s open, which is closed before and after", n.Number, at)
				}
			}
			if n.End.After(n.Closes.Add(-time.Duration(n.Window.Margin.Minutes()) * time.Minute)) {
				rt.Fatalf("window %d is planned to %s, and closes at %s", n.Number, n.End, n.Closes)
			}
		}
		late := len(found(p, "plan/back-out"))
		for i := range p.Steps {
			s := &p.Steps[i]
			if strings.HasSuffix(s.Do, "for the time being.") {
				interim++
			}
			if !s.Start.IsZero() && s.Start.After(s.LatestStart) {
				late--
			}
			if p.Blocks[s.Block].Follows && in[s.Block] != in[s.Block-1] {
				rt.Fatalf("block %d follows block %d, in windows %d and %d", s.Block, s.Block-1, in[s.Block], in[s.Block-1])
			}
		}
		if late != 0 {
			rt.Fatalf("%d more findings than steps that are planned too late", late)
		}
	})
	t.Logf("%d windows, %d times blanks for the time being", windows, interim)
	if windows == 0 || interim == 0 {
		t.Error("no window was used, or nothing closed for the time being")
	}
}
