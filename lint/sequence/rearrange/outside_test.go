package rearrange

import (
	"fmt"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cagenut/testdata/outside"
)

// program states a puzzle of one frame in the language of answer sets: at most
// `most` moves, one a step, into space that is free.
func program(p *Problem, height, most int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "step(0..%d). height(%d).\n", most, height)
	for i := range p.Items {
		it := &p.Items[i]
		fmt.Fprintf(&b, "thing(%d,%d). at(%d,%d,0). goal(%d,%d).\n", i, units(it), i, low(&it.Start), i, low(&it.Goal))
	}
	b.WriteString(`
% Where a thing may be: 0 is outside, where it can only come from or go to.
place(T,L) :- thing(T,H), height(N), L = 1..N-H+1.
place(T,0) :- goal(T,0).
{ move(T,L,S) : place(T,L) } 1 :- step(S), S > 0, thing(T,_).
:- step(S), 2 { move(T,L,S) }.
moved(T,S) :- move(T,_,S).
at(T,L,S) :- move(T,L,S).
at(T,L,S) :- at(T,L,S-1), step(S), not moved(T,S).
% Not into space that another has, nor into its own.
takes(T,U,S) :- at(T,L,S), L > 0, thing(T,H), U = L..L+H-1.
:- takes(A,U,S), takes(B,U,S), A < B.
:- move(T,L,S), L > 0, thing(T,H), takes(T,U,S-1), U = L..L+H-1.
:- goal(T,L), step(S), not step(S+1), not at(T,L,S).
#minimize { 1,T,S : moved(T,S) }.
#show move/3.
`)
	return b.String()
}

func units(it *Item) int64 {
	for _, p := range []*Place{&it.Start, &it.Goal} {
		for _, b := range p.Boxes {
			return b.High - b.Low
		}
	}
	return 1
}

func low(p *Place) int64 {
	if len(p.Boxes) == 0 {
		return 0
	}
	return p.Boxes[0].Low
}

var optimum = regexp.MustCompile(`Optimization\s*:\s*(\d+)`)

// solveByClasp gives the fewest moves that an answer-set solver finds, or -1.
func solveByClasp(t interface {
	Fatalf(string, ...any)
}, gringo, clasp, text string) int {
	ground := exec.Command(gringo, "-")
	ground.Stdin = strings.NewReader(text)
	grounded, err := ground.Output()
	if err != nil {
		t.Fatalf("gringo: %v", err)
	}
	solve := exec.Command(clasp, "--opt-mode=opt", "--time-limit=60")
	solve.Stdin = strings.NewReader(string(grounded))
	out, _ := solve.Output() // the status says what was found; the text says it too
	switch {
	case strings.Contains(string(out), "UNSATISFIABLE"):
		return -1
	case strings.Contains(string(out), "OPTIMUM FOUND"):
		all := optimum.FindAllStringSubmatch(string(out), -1)
		n, _ := strconv.Atoi(all[len(all)-1][1])
		return n
	}
	t.Fatalf("clasp says neither:\n%s", out)
	return 0
}

// The fewest moves are those that clasp, an answer-set solver, finds from a
// statement of the same puzzle: first for the swaps and rotations that the
// trade knows, then for drawn ones.
func TestAgainstClasp(t *testing.T) {
	gringo, clasp := outside.Need(t, "gringo"), outside.Need(t, "clasp")
	compare := func(t interface {
		Fatalf(string, ...any)
	}, p *Problem, height, most int) {
		text := program(p, height, most)
		want := solveByClasp(t, gringo, clasp, text)
		s, err := Solve(p)
		got := -1
		if err == nil && len(s.Moves) <= most {
			got = len(s.Moves)
		}
		if got != want {
			t.Fatalf("got %d moves, clasp %d (of at most %d)\n%s", got, want, most, text)
		}
	}
	for _, tt := range []struct {
		name   string
		height int
		things [][3]int
	}{
		{"swap of 2U at 4U", 4, [][3]int{{2, 1, 3}, {2, 3, 1}}},
		{"swap of 2U at 5U", 5, [][3]int{{2, 1, 3}, {2, 3, 1}}},
		{"swap of 2U at 6U", 6, [][3]int{{2, 1, 3}, {2, 3, 1}}},
		{"rotation of three", 5, [][3]int{{1, 1, 2}, {1, 2, 3}, {1, 3, 1}}},
		{"rotation of five", 6, [][3]int{{1, 1, 2}, {1, 2, 3}, {1, 3, 4}, {1, 4, 5}, {1, 5, 1}}},
		{"3U against three of 1U", 9, [][3]int{{3, 1, 4}, {1, 4, 1}, {1, 5, 2}, {1, 6, 3}}},
		{"shift over itself", 6, [][3]int{{3, 1, 2}, {1, 6, 1}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			compare(t, column(tt.height, tt.things...), tt.height, 7)
		})
	}
	t.Run("drawn", func(t *testing.T) {
		rounds := 0
		rapid.Check(t, func(t *rapid.T) {
			if rounds++; rounds > 25 { // each asks two programs
				return
			}
			p := puzzle(t, 5, 3)
			if len(p.Items) == 0 {
				return
			}
			compare(t, p, frameHeight(p), 5)
		})
	})
}

// frameHeight gives the height that column made the problem for.
func frameHeight(p *Problem) int {
	h := int64(0)
	for i := range p.Items {
		for _, park := range p.Items[i].Park {
			h = max(h, park.Boxes[0].High-1)
		}
	}
	return int(h)
}

// Where nothing has to be parked, coreutils' tsort agrees that the order is
// one in which each leaves before the next enters; where something has, tsort
// says that there is a loop.
func TestAgainstTsort(t *testing.T) {
	tsort := outside.Need(t, "tsort")
	loops, orders := 0, 0
	rounds := 0
	rapid.Check(t, func(t *rapid.T) {
		if rounds++; rounds > 60 {
			return
		}
		p := puzzle(t, 10, 6)
		var edges strings.Builder
		for i := range p.Items {
			for j := range p.Items {
				if i != j && p.Items[i].Start.meets(&p.Items[j].Goal) {
					fmt.Fprintf(&edges, "%d %d\n", i, j)
				}
				if i == j && p.Items[i].Start.meets(&p.Items[i].Goal) {
					return // tsort reads a pair of equal names as a name alone
				}
			}
		}
		cmd := exec.Command(tsort)
		cmd.Stdin = strings.NewReader(edges.String())
		loop := cmd.Run() != nil
		s, err := Solve(p)
		if err != nil {
			if !loop {
				t.Fatalf("%v, where tsort sees no loop:\n%s", err, edges.String())
			}
			return
		}
		if parks := len(s.Moves) > len(p.Items); parks != loop {
			t.Fatalf("parking: %v, loop: %v\n%v\n%s", parks, loop, s.Moves, edges.String())
		}
		if loop {
			loops++
			return
		}
		orders++
		// tsort accepts our order added as a chain: it contradicts no edge.
		chain := edges.String()
		for k := 1; k < len(s.Moves); k++ {
			chain += fmt.Sprintf("%d %d\n", s.Moves[k-1].Item, s.Moves[k].Item)
		}
		cmd = exec.Command(tsort)
		cmd.Stdin = strings.NewReader(chain)
		if err := cmd.Run(); err != nil {
			t.Fatalf("tsort finds our order contradictory:\n%s", chain)
		}
	})
	t.Logf("%d orders and %d loops compared", orders, loops)
	if orders == 0 {
		t.Error("no order was compared")
	}
}
