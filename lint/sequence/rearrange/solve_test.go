package rearrange

import (
	"errors"
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// slab is the space of some units of a frame, over all depth and width.
func slab(frame, low, units int) Place {
	return Place{Boxes: []Box{{Frame: frame, Low: int64(low), High: int64(low + units), Back: 1, Right: 1}}, Up: true}
}

// column makes a problem in one frame: things of some units each, from their
// starts to their goals (0 for outside), and every place of the frame to park.
func column(height int, things ...[3]int) *Problem {
	p := &Problem{}
	for n, t := range things {
		it := Item{Name: fmt.Sprint("thing-", n+1)}
		if t[1] > 0 {
			it.Start = slab(0, t[1], t[0])
		}
		if t[2] > 0 {
			it.Goal = slab(0, t[2], t[0])
		}
		for low := 1; low+t[0]-1 <= height; low++ {
			it.Park = append(it.Park, slab(0, low, t[0]))
		}
		p.Items = append(p.Items, it)
	}
	return p
}

func TestFewestMoves(t *testing.T) {
	tests := []struct {
		name    string
		problem *Problem
		want    int // moves, or 0 for none possible
	}{
		// Two equal 2U things cannot change places in 4U or 5U; 3 moves do at
		// 6U: known from an answer-set solver, see TestAgainstClasp.
		{"swap of 2U at 4U", column(4, [3]int{2, 1, 3}, [3]int{2, 3, 1}), 0},
		{"swap of 2U at 5U", column(5, [3]int{2, 1, 3}, [3]int{2, 3, 1}), 0},
		{"swap of 2U at 6U", column(6, [3]int{2, 1, 3}, [3]int{2, 3, 1}), 3},
		{"rotation of three at 4U", column(4, [3]int{1, 1, 2}, [3]int{1, 2, 3}, [3]int{1, 3, 1}), 4},
		{"chain needs no parking", column(4, [3]int{1, 1, 2}, [3]int{1, 2, 3}, [3]int{1, 3, 4}), 3},
		{"shift by half its height, no room", column(3, [3]int{2, 1, 2}), 0},
		{"shift by half its height, room that overlaps the goal", column(4, [3]int{2, 1, 2}), 0},
		{"shift by half its height, with room", column(5, [3]int{2, 1, 2}), 2},
		{"two swaps", column(5, [3]int{1, 1, 2}, [3]int{1, 2, 1}, [3]int{1, 3, 4}, [3]int{1, 4, 3}), 6},
		{"replaced in place", column(2, [3]int{2, 1, 0}, [3]int{2, 0, 1}), 2},
		{"nothing", &Problem{}, 0},
		{"rotation of eight at 9U", column(9, [3]int{1, 1, 2}, [3]int{1, 2, 3}, [3]int{1, 3, 4}, [3]int{1, 4, 5}, [3]int{1, 5, 6}, [3]int{1, 6, 7}, [3]int{1, 7, 8}, [3]int{1, 8, 1}), 9},
		{"four swaps in a full frame but for one unit", column(9, [3]int{1, 1, 2}, [3]int{1, 2, 1}, [3]int{1, 3, 4}, [3]int{1, 4, 3}, [3]int{1, 5, 6}, [3]int{1, 6, 5}, [3]int{1, 7, 8}, [3]int{1, 8, 7}), 12},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, err := Solve(tt.problem)
			if tt.want == 0 && len(tt.problem.Items) > 0 {
				var no *ImpossibleError
				if !errors.As(err, &no) || !no.Knots[0].Proved {
					t.Fatalf("got %v, %v, want a proof that there is no order", s, err)
				}
				return
			}
			if err != nil || len(s.Moves) != tt.want || s.Gap() != 0 {
				t.Fatalf("got %d moves (least %d), %v, want %d", len(s.Moves), s.Least, err, tt.want)
			}
			check(t, tt.problem, s)
		})
	}
}

// check replays a solution, and then undoes every prefix of it.
func check(t interface{ Fatalf(string, ...any) }, p *Problem, s *Solution) {
	at, err := p.Replay(s.Moves)
	if err != nil {
		t.Fatalf("%v\n%v", err, s.Moves)
	}
	for i, a := range at {
		if a != AtGoal {
			t.Fatalf("%s ends at place %d", p.Items[i].Name, a)
		}
	}
	for n := range s.Moves {
		back := append([]Move{}, s.Moves[:n+1]...)
		for i := n; i >= 0; i-- {
			back = append(back, Move{s.Moves[i].Item, s.Moves[i].To, s.Moves[i].From})
		}
		if len(p.Before) > 0 {
			break // going back does again what had to be done first
		}
		at, err := p.Replay(back)
		if err != nil {
			t.Fatalf("undo of %d moves: %v", n+1, err)
		}
		for i, a := range at {
			if a != AtStart {
				t.Fatalf("undo of %d moves leaves %s at place %d", n+1, p.Items[i].Name, a)
			}
		}
	}
}

func TestGroupsStayUp(t *testing.T) {
	p := column(8, [3]int{1, 1, 5}, [3]int{1, 2, 6})
	p.Groups = []Group{{Name: "pair", Up: 1}}
	p.Items[0].Group, p.Items[1].Group = []int{0}, []int{0}
	s, err := Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	check(t, p, s)

	p.Groups[0].Up = 2
	_, err = Solve(p)
	var no *ImpossibleError
	if !errors.As(err, &no) || no.Knots[0].Group != 1 {
		t.Fatalf("got %v, want group 1 named", err)
	}

	// The new member comes before the old one goes, though the removal ranks first.
	p = column(4, [3]int{1, 1, 0}, [3]int{1, 0, 2})
	p.Groups = []Group{{Name: "one", Up: 1}}
	p.Items[0].Group, p.Items[1].Group = []int{0}, []int{0}
	s, err = Solve(p)
	if err != nil || s.Moves[0].Item != 1 {
		t.Fatalf("got %v, %v, want the new member first", s.Moves, err)
	}

	// In its very place: each must run somewhere else while the other is moved.
	p = column(4, [3]int{1, 1, 0}, [3]int{1, 0, 1})
	p.Groups = []Group{{Name: "one", Up: 1}}
	p.Items[0].Group, p.Items[1].Group = []int{0}, []int{0}
	if s, err = Solve(p); err != nil || len(s.Moves) != 4 {
		t.Fatalf("got %v, %v, want four moves", s.Moves, err)
	}
	check(t, p, s)
	p.Groups[0].Steady = 1
	if s, err = Solve(p); err != nil || len(s.Moves) != 2 {
		t.Fatalf("got %v, %v, want two moves", s.Moves, err)
	}
}

func TestBenches(t *testing.T) {
	p := column(4, [3]int{2, 1, 3}, [3]int{2, 3, 1})
	p.Resources = []Resource{{Name: "units of b1", Limit: 2}, {Name: "mass on b1", Limit: 30}}
	for i, mass := range []int64{40, 20} {
		p.Items[i].Park = append(p.Items[i].Park, Place{Takes: []Take{{0, 2}, {1, mass}}, Cost: 10})
	}
	s, err := Solve(p)
	if err != nil || len(s.Moves) != 3 || s.Moves[0].Item != 1 {
		t.Fatalf("got %v, %v, want the lighter one parked on the bench", s.Moves, err)
	}
	check(t, p, s)
	p.Resources[1].Limit = 10
	if _, err := Solve(p); err == nil {
		t.Fatal("the bench carries neither")
	}
}

// Two things go to a frame that one has to leave first, or its rating would be
// exceeded on the way, though the end is within it.
func TestScarceResourcesDecideTheOrder(t *testing.T) {
	p := column(9, [3]int{1, 0, 5}, [3]int{1, 0, 6}, [3]int{1, 1, 0})
	p.Resources = []Resource{{Name: "mass", Limit: 60}}
	p.Items[0].Goal.Takes = []Take{{0, 30}}
	p.Items[1].Goal.Takes = []Take{{0, 30}}
	p.Items[2].Start.Takes = []Take{{0, 40}}
	s, err := Solve(p)
	if err != nil || s.Moves[0].Item != 2 {
		t.Fatalf("got %v, %v, want the third thing out first", s.Moves, err)
	}
	check(t, p, s)
}

func TestRanksDecideWhatMayComeInAnyOrder(t *testing.T) {
	p := column(10, [3]int{1, 1, 6}, [3]int{1, 2, 1}, [3]int{1, 3, 4}, [3]int{1, 4, 3})
	p.Rank = func(m Move) int64 { return -int64(m.Item) }
	s, err := Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	check(t, p, s)
	// The swap of 3 and 4 ranks first, and is not interrupted.
	var items []int
	for _, m := range s.Moves {
		items = append(items, m.Item)
	}
	if want := []int{3, 2, 3, 0, 1}; !reflect.DeepEqual(items, want) && !reflect.DeepEqual(items, []int{2, 3, 2, 0, 1}) {
		t.Errorf("got %v, want %v", items, want)
	}
}

// What comes to space that another thing has left comes next, if the problem asks
// for it; what comes to space that was free all along has its rank's turn.
func TestCoverComesNext(t *testing.T) {
	for _, tt := range []struct {
		cover bool
		want  []int
	}{{false, []int{0, 1, 2, 3, 4}}, {true, []int{0, 3, 1, 4, 2}}} {
		p := column(10, [3]int{2, 1, 0}, [3]int{2, 3, 0}, [3]int{2, 0, 7}, [3]int{2, 0, 1}, [3]int{2, 0, 3})
		p.Cover = tt.cover
		s, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		check(t, p, s)
		var items []int
		for _, m := range s.Moves {
			items = append(items, m.Item)
		}
		if !reflect.DeepEqual(items, tt.want) {
			t.Errorf("cover %v: got %v, want %v", tt.cover, items, tt.want)
		}
	}
}

// puzzle draws a small problem whose starts, and whose goals, do not overlap.
func puzzle(t *rapid.T, maxHeight, maxThings int) *Problem {
	height := rapid.IntRange(2, maxHeight).Draw(t, "height")
	var things [][3]int
	used := [2][]bool{make([]bool, height+1), make([]bool, height+1)}
	for range rapid.IntRange(1, maxThings).Draw(t, "things") {
		units := rapid.IntRange(1, 2).Draw(t, "units")
		thing := [3]int{units}
		for end := range 2 {
			low := rapid.IntRange(0, height-units+1).Draw(t, "low")
			for u := low; low > 0 && u < low+units; u++ {
				if used[end][u] {
					low = 0
				}
			}
			for u := low; low > 0 && u < low+units; u++ {
				used[end][u] = true
			}
			thing[1+end] = low
		}
		if thing[1] != thing[2] { // what stays is no part of a problem
			things = append(things, thing)
		}
	}
	p := column(height, things...)
	p.Cover = rapid.Bool().Draw(t, "cover")
	return p
}

func TestAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := puzzle(t, 6, 4)
		if rapid.Bool().Draw(t, "group") {
			p.Groups = []Group{{Name: "g", Up: 1}}
			start, goal := 0, 0
			for i := range p.Items {
				if rapid.Bool().Draw(t, "member") {
					p.Items[i].Group = []int{0}
					start += count(p.Items[i].Start.Up)
					goal += count(p.Items[i].Goal.Up)
				}
			}
			p.Groups[0].Up = min(start, goal, 1)
		}
		if rapid.Bool().Draw(t, "scarce") {
			start, goal := int64(0), int64(0)
			for i := range p.Items {
				it := &p.Items[i]
				amount := rapid.Int64Range(0, 3).Draw(t, "amount")
				for n := range FirstPark + len(it.Park) {
					if place := it.Place(n); len(place.Boxes) > 0 {
						place.Takes = []Take{{0, amount}}
					}
				}
				start, goal = start+it.Start.takes(0), goal+it.Goal.takes(0)
			}
			p.Resources = []Resource{{Name: "r", Limit: max(start, goal) + rapid.Int64Range(0, 2).Draw(t, "left")}}
		}
		want := breadthFirst(p)
		s, err := Solve(p)
		if want < 0 {
			if err == nil {
				t.Fatalf("got %v, where no order exists", s.Moves)
			}
			return
		}
		if err != nil {
			t.Fatalf("%v, where %d moves do", err, want)
		}
		check(t, p, s)
		if len(s.Moves) != want || s.Least > want {
			t.Fatalf("got %d moves, least %d, want %d", len(s.Moves), s.Least, want)
		}
		again, _ := Solve(p)
		if !reflect.DeepEqual(s, again) {
			t.Fatalf("a second run gives %v, the first %v", again, s)
		}
	})
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}

// breadthFirst tries every order of moves and gives the length of the
// shortest, or -1. It knows of the problem only what Replay allows.
func breadthFirst(p *Problem) int {
	type state struct {
		at    string
		moves []Move
	}
	seen := map[string]bool{}
	start := make([]int, len(p.Items))
	level := []state{{at: fmt.Sprint(start)}}
	seen[level[0].at] = true
	for depth := 0; len(level) > 0; depth++ {
		var next []state
		for _, s := range level {
			at, err := p.Replay(s.moves)
			if err != nil {
				panic(err)
			}
			there := true
			for i := range p.Items {
				if at[i] != AtGoal {
					there = false
				}
			}
			if there {
				return depth
			}
			for i := range p.Items {
				for to := AtGoal; to < FirstPark+len(p.Items[i].Park); to++ {
					moves := append(append([]Move{}, s.moves...), Move{i, at[i], to})
					after, err := p.Replay(moves)
					if err != nil || seen[fmt.Sprint(after)] {
						continue
					}
					seen[fmt.Sprint(after)] = true
					next = append(next, state{fmt.Sprint(after), moves})
				}
			}
		}
		level = next
	}
	return -1
}

// Larger problems than brute force can do: what comes out is possible, and no
// shorter than the bound.
func TestLargePuzzlesReplay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := puzzle(t, 16, 9)
		p.Limit = 200_000
		s, err := Solve(p)
		if err != nil {
			return
		}
		check(t, p, s)
		if s.Gap() < 0 {
			t.Fatalf("%d moves are fewer than the %d needed", len(s.Moves), s.Least)
		}
	})
}
