package sequence_test

import (
	"context"
	"fmt"
	"math/rand"
	"strings"
	"testing"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lint/rules"
	"cagenut/lint/sequence"
)

// fleet makes two estates of some racks of 42 units, 14 things in each, between
// which n things change: additions, removals, moves in a rack and between
// racks, swaps, and new feeds. The same numbers give the same estates.
func fleet(t testing.TB, count, n int) (before, after *estate.Estate) {
	random := rand.New(rand.NewSource(int64(1000*count + n)))
	type thing struct {
		name, feeds string
		rack, at    int // rack 0: nowhere
	}
	var was []thing
	taken := make([][]bool, count+1)
	for r := 1; r <= count; r++ {
		taken[r] = make([]bool, 44)
		for k := range 14 {
			was = append(was, thing{fmt.Sprintf("n-%d-%d", r, k), "[feed.aR, feed.bR]", r, 1 + 2*k})
			taken[r][1+2*k] = true
		}
	}
	is := append([]thing{}, was...)
	free := func() (int, int) {
		for {
			r, at := 1+random.Intn(count), 1+2*random.Intn(21)
			if !taken[r][at] {
				taken[r][at] = true
				return r, at
			}
		}
	}
	touched := map[int]bool{}
	pick := func() int {
		for {
			if i := random.Intn(len(was)); !touched[i] {
				touched[i] = true
				return i
			}
		}
	}
	for c := 0; c < n; c++ {
		switch c % 6 {
		case 0: // a new thing
			r, at := free()
			is = append(is, thing{fmt.Sprintf("new-%d", c), "[feed.aR, feed.bR]", r, at})
		case 1:
			is[pick()].rack = 0
		case 2, 3: // to another place, mostly of the same rack
			i := pick()
			is[i].rack, is[i].at = free()
		case 4: // two change places
			i := pick()
			j := i ^ 1
			if touched[j] || j >= len(was) || is[j].rack != is[i].rack {
				is[i].rack, is[i].at = free()
				continue
			}
			touched[j] = true
			is[i].at, is[j].at = is[j].at, is[i].at
			c++
		case 5:
			is[pick()].feeds = "[feed.bR, feed.aR]"
		}
	}
	write := func(all []thing) map[string]string {
		files := archive(strings.ReplaceAll(small, "UNITS", "42"), "none")
		for r := 1; r <= count; r++ {
			var b strings.Builder
			fmt.Fprintf(&b, "feed \"a%d\" {\n  room = room.r\n  source = \"ups\"\n  voltage = \"230 V\"\n  rated = \"32 A\"\n}\nfeed \"b%d\" {\n  room = room.r\n  source = \"mains\"\n  voltage = \"230 V\"\n  rated = \"32 A\"\n}\n", r, r)
			fmt.Fprintf(&b, "rack \"r%d\" {\n  row = row.w\n  place = %d\n  frame = frame.f\n  feeds = [feed.a%d, feed.b%d]\n", r, r, r, r)
			for _, th := range all {
				if th.rack == r {
					fmt.Fprintf(&b, "  mount %q {\n    equipment = equipment.two\n    at = %d\n    feeds = %s\n    serial = \"S-%s\"\n    owner = \"ops\"\n  }\n",
						th.name, th.at, strings.ReplaceAll(th.feeds, "R", fmt.Sprint(r)), th.name)
				}
			}
			b.WriteString("}\n")
			files[fmt.Sprintf("r%d.hcl", r)] = b.String()
		}
		return files
	}
	return load(t, write(was)), load(t, write(is))
}

// BenchmarkMake shows how the time of a plan grows with the number of changes
// and of racks; every state between is judged by all rules.
func BenchmarkMake(b *testing.B) {
	for _, size := range []struct{ racks, changes int }{{5, 37}, {10, 75}, {20, 150}, {40, 300}, {80, 600}} {
		b.Run(fmt.Sprintf("%d-changes-%d-racks", size.changes, size.racks), func(b *testing.B) {
			before, after := fleet(b, size.racks, size.changes)
			c := change.Between(before, after)
			o := sequence.Options{Rules: rules.All()}
			var p *sequence.Plan
			for b.Loop() {
				p, _ = sequence.Make(context.Background(), c, o)
			}
			b.ReportMetric(float64(len(p.Steps)), "steps")
			b.ReportMetric(float64(p.States), "states")
			b.ReportMetric(float64(p.Moves-p.Least), "gap")
			if len(p.Refused) > 0 {
				b.Fatal(p.Refused[0].Why)
			}
		})
	}
}

// A large change is planned whole, and parks no more than it must.
func TestLargeChange(t *testing.T) {
	before, after := fleet(t, 40, 300)
	c := change.Between(before, after)
	p, err := sequence.Make(context.Background(), c, sequence.Options{Rules: rules.All()})
	if err != nil || len(p.Refused) > 0 {
		t.Fatal(err, p.Refused)
	}
	if p.Moves != p.Least {
		t.Errorf("%d moves, where %d may do", p.Moves, p.Least)
	}
	if len(p.Jobs) < 280 || len(p.Parked) < 10 {
		t.Errorf("%d jobs, %d parked", len(p.Jobs), len(p.Parked))
	}
	for _, f := range p.Findings {
		t.Errorf("%s: %s", f.Rule, f.Message)
		break
	}
}
