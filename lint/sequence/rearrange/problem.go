package rearrange

import "fmt"

// A Box is space in a frame: half-open intervals of height, depth and width.
// Boxes of different frames never meet.
type Box struct {
	Frame       int
	Low, High   int64 // upward
	Front, Back int64 // rearward
	Left, Right int64 // rightward, seen from the front
}

// Meets reports whether two boxes share any space.
func (b Box) Meets(c Box) bool {
	return b.Frame == c.Frame &&
		b.Low < c.High && c.Low < b.High &&
		b.Front < c.Back && c.Front < b.Back &&
		b.Left < c.Right && c.Left < b.Right
}

// A Place is where an item may be.
type Place struct {
	Boxes []Box  // the space taken there; none where it is outside, or on a bench
	Takes []Take // what it takes there of what is limited
	Up    bool   // whether the item runs while it is there
	Cost  int    // of being parked there, to choose between places that need as many moves
}

// A Take is a share of something limited.
type Take struct {
	Of     int // index of Problem.Resources
	Amount int64
}

func (p *Place) takes(resource int) int64 {
	for _, t := range p.Takes {
		if t.Of == resource {
			return t.Amount
		}
	}
	return 0
}

func (p *Place) meets(q *Place) bool {
	for _, b := range p.Boxes {
		for _, c := range q.Boxes {
			if b.Meets(c) {
				return true
			}
		}
	}
	return false
}

// An Item is a thing that is to be brought from one place to another one.
type Item struct {
	Name  string
	Start Place
	Goal  Place
	Park  []Place // where it may wait, the best first; must be clear of all that never moves
	Shift bool    // it may go straight to a place that overlaps the one it is in
	Group []int   // the groups it belongs to: indices of Problem.Groups
}

// A Group is a set of things of which some must be up at every moment. A thing
// that is being moved is down.
type Group struct {
	Name   string
	Up     int // how many must be up: no more than are up at the start and at the goal
	Steady int // how many members that never move are up
}

// A Resource is something of which the items together may take only so much:
// a bench's room, a frame's rating, the current of a feed.
type Resource struct {
	Name  string
	Limit int64 // what is left for the items: at least what they take at the start, and at the goal
}

// A Problem is what is to be rearranged.
type Problem struct {
	Items     []Item
	Groups    []Group
	Resources []Resource // only those that could run short: each makes the search harder
	// Before holds pairs of items: the second makes no move before the first
	// is at its goal.
	Before [][2]int
	// Rank says which of several moves, all possible now, comes first: the
	// lowest. Nil keeps them in the order of the items.
	Rank func(Move) int64
	// Cover puts before that, whatever their rank, moves to space that an earlier
	// move left.
	Cover bool
	// Limit bounds the exact search of one knot of items, in comparisons of
	// two places; 0 is DefaultLimit. Beyond it a solution need not be the
	// shortest, and Solution.Least says how far off it may be.
	Limit int
}

// DefaultLimit is the work after which an exact search ends: some tenths of a
// second. Loops of eight things in a full frame end well within it.
const DefaultLimit = 10_000_000

// Places of an item, as a Move names them: its start, its goal, and from
// FirstPark on those of Item.Park.
const (
	AtStart   = 0
	AtGoal    = 1
	FirstPark = 2
)

// Place gives one of the item's places by number.
func (it *Item) Place(n int) *Place {
	switch n {
	case AtStart:
		return &it.Start
	case AtGoal:
		return &it.Goal
	}
	return &it.Park[n-FirstPark]
}

// A Move brings an item from one of its places to another.
type Move struct {
	Item     int
	From, To int
}

// A Solution is an order of moves that ends with every item at its goal.
type Solution struct {
	Moves []Move
	Least int // no order has fewer moves than this
}

// Gap says by how many moves the solution may be longer than the shortest.
func (s *Solution) Gap() int { return len(s.Moves) - s.Least }

// An ImpossibleError says that no order of moves leads to the goal. The rest,
// which is possible, is in the solution that comes with it.
type ImpossibleError struct{ Knots []Knot }

// A Knot is a set of items that cannot all be brought to their goals.
type Knot struct {
	Items  []int
	Loop   []int // of these, a loop: each must leave before the next can enter; nil where there is none
	Group  int   // 1 + index of a group that would fall below what must be up, or 0
	Scarce []int // the resources that the items compete for
	Proved bool  // every state was looked at; otherwise the search ended at its limit
}

func (e *ImpossibleError) Error() string {
	n, proved := 0, true
	for _, k := range e.Knots {
		n += len(k.Items)
		proved = proved && k.Proved
	}
	if proved {
		return fmt.Sprintf("no order of moves exists for %d things", n)
	}
	return fmt.Sprintf("no order of moves was found within the limit for %d things", n)
}

// Replay does the moves one by one and gives an error for the first that is
// not possible: the thing is not where the move starts, its new place is
// taken, a resource is exceeded, a group falls below what must be up while the
// thing is in the hands or after it is put down, or something has to come
// before it. It gives where each item is in the end.
func (p *Problem) Replay(moves []Move) ([]int, error) {
	at := make([]int, len(p.Items))
	for n, m := range moves {
		it := &p.Items[m.Item]
		if at[m.Item] != m.From {
			return at, fmt.Errorf("move %d: %s is at place %d, not %d", n+1, it.Name, at[m.Item], m.From)
		}
		to := it.Place(m.To)
		if !it.Shift && it.Place(m.From).meets(to) {
			return at, fmt.Errorf("move %d: the new place of %s overlaps its old one", n+1, it.Name)
		}
		for j := range p.Items {
			if j != m.Item && to.meets(p.Items[j].Place(at[j])) {
				return at, fmt.Errorf("move %d: %s is where %s is to go", n+1, p.Items[j].Name, it.Name)
			}
		}
		for _, pair := range p.Before {
			if pair[1] == m.Item && at[pair[0]] != AtGoal {
				return at, fmt.Errorf("move %d: %s has to be done before %s", n+1, p.Items[pair[0]].Name, it.Name)
			}
		}
		if g := p.short(at, m.Item); g >= 0 {
			return at, fmt.Errorf("move %d: group %s falls below %d while %s moves", n+1, p.Groups[g].Name, p.Groups[g].Up, it.Name)
		}
		at[m.Item] = m.To
		if g := p.short(at, -1); g >= 0 {
			return at, fmt.Errorf("move %d: group %s is below %d after %s", n+1, p.Groups[g].Name, p.Groups[g].Up, it.Name)
		}
		for r := range p.Resources {
			taken := int64(0)
			for i := range p.Items {
				taken += p.Items[i].Place(at[i]).takes(r)
			}
			if taken > p.Resources[r].Limit {
				return at, fmt.Errorf("move %d: %s is exceeded by %s", n+1, p.Resources[r].Name, it.Name)
			}
		}
	}
	return at, nil
}

// short gives a group that has too few members up with the items where at says
// and one of them (-1 for none) in somebody's hands, or -1.
func (p *Problem) short(at []int, inHands int) int {
	if len(p.Groups) == 0 {
		return -1
	}
	up := make([]int, len(p.Groups))
	for g := range p.Groups {
		up[g] = p.Groups[g].Steady
	}
	for i := range p.Items {
		if i != inHands && p.Items[i].Place(at[i]).Up {
			for _, g := range p.Items[i].Group {
				up[g]++
			}
		}
	}
	for g := range p.Groups {
		if up[g] < p.Groups[g].Up {
			return g
		}
	}
	return -1
}
