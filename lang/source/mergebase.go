package source

import (
	"container/heap"
	"context"
	"fmt"
	"sort"
)

// queue holds commits, the youngest first; at one time, by hash, so that the
// same history is walked the same way.
type queue []*Commit

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	if !q[i].Committed.Equal(q[j].Committed) {
		return q[i].Committed.After(q[j].Committed)
	}
	return q[i].Hash < q[j].Hash
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(*Commit)) }
func (q *queue) Pop() any {
	old := *q
	c := old[len(old)-1]
	*q = old[:len(old)-1]
	return c
}

// youngest visits the commits reachable from tips, youngest first, each once,
// until visit says no.
func (r *Repository) youngest(ctx context.Context, tips []Hash, visit func(*Commit) (bool, error)) error {
	var q queue
	seen := map[Hash]bool{}
	push := func(h Hash) error {
		if seen[h] {
			return nil
		}
		seen[h] = true
		c, err := r.Commit(ctx, h)
		if err == nil {
			heap.Push(&q, c)
		}
		return err
	}
	for _, h := range tips {
		if err := push(h); err != nil {
			return err
		}
	}
	for len(q) > 0 {
		c := heap.Pop(&q).(*Commit)
		more, err := visit(c)
		if err != nil || !more {
			return err
		}
		for _, p := range c.Parents {
			if err := push(p); err != nil {
				return err
			}
		}
	}
	return nil
}

// What a walk for merge bases knows about a commit.
const (
	fromA = 1 << iota
	fromB
	stale // below a base that is found already
	isBase
)

// MergeBases gives the best common ancestors of two commits, the youngest
// first: commonly one, several after criss-cross merges. None is an error
// that says why: a [ShallowError] where the clone lacks the history.
func (r *Repository) MergeBases(ctx context.Context, a, b Hash) ([]Hash, error) {
	if a == b {
		return []Hash{a}, nil
	}
	marks := map[Hash]int{}
	var q queue
	live := 0 // commits in the queue that are not stale
	push := func(h Hash, mark int) error {
		before := marks[h]
		if before&mark == mark {
			return nil
		}
		c, err := r.Commit(ctx, h)
		if err != nil {
			return err
		}
		marks[h] = before | mark
		heap.Push(&q, c) // perhaps a second time: marks spread anew
		return nil
	}
	if err := push(a, fromA); err != nil {
		return nil, err
	}
	if err := push(b, fromB); err != nil {
		return nil, err
	}
	boundary := false
	for {
		live = 0
		for _, c := range q {
			if marks[c.Hash]&stale == 0 {
				live++
			}
		}
		if live == 0 {
			break
		}
		c := heap.Pop(&q).(*Commit)
		boundary = boundary || c.Boundary
		mark := marks[c.Hash] & (fromA | fromB | stale)
		if mark == fromA|fromB {
			marks[c.Hash] |= isBase
			mark |= stale
		}
		for _, p := range c.Parents {
			if err := push(p, mark); err != nil {
				return nil, err
			}
		}
	}
	var bases []*Commit
	for h, m := range marks {
		if m&isBase != 0 && m&stale == 0 {
			c, err := r.Commit(ctx, h)
			if err != nil {
				return nil, err
			}
			bases = append(bases, c)
		}
	}
	sort.Slice(bases, func(i, j int) bool { return queue(bases).Less(i, j) })
	bases, err := r.independent(ctx, bases)
	if err != nil {
		return nil, err
	}
	if len(bases) == 0 {
		if boundary {
			return nil, &ShallowError{fmt.Sprintf("this clone is shallow, and no common ancestor of %s and %s is in it; fetch more history with: git fetch --deepen=100 %s",
				a.Short(), b.Short(), r.remote())}
		}
		return nil, fmt.Errorf("%s and %s have no common ancestor: their histories are unrelated", a.Short(), b.Short())
	}
	hashes := make([]Hash, len(bases))
	for i, c := range bases {
		hashes[i] = c.Hash
	}
	return hashes, nil
}

// independent leaves out commits that another one of the list descends from,
// which clocks that run wrong can leave in.
func (r *Repository) independent(ctx context.Context, list []*Commit) ([]*Commit, error) {
	if len(list) < 2 {
		return list, nil
	}
	var kept []*Commit
	for i, c := range list {
		reached := false
		for j, d := range list {
			if i == j || reached {
				continue
			}
			err := r.youngest(ctx, d.Parents, func(x *Commit) (bool, error) {
				reached = x.Hash == c.Hash
				return !reached, nil
			})
			if err != nil {
				return nil, err
			}
		}
		if !reached {
			kept = append(kept, c)
		}
	}
	return kept, nil
}
