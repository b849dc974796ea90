package history

import (
	"context"
	"errors"
	"slices"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
)

// A Capacity is what racks hold and what is left in them.
type Capacity struct {
	Racks  int
	Mounts int
	Units  int // of their frames
	Taken  int // by mounts, at either face
	Held   int // by reserves, and open
	Free   int // open to both faces, and not held
	Mass   quantity.Mass
	Heat   quantity.Power
	Lacks  int // figures that mass and heat leave out, because nobody knows them
}

// CapacityOf adds racks up.
func CapacityOf(racks []*estate.Rack) Capacity {
	var sum Capacity
	for _, r := range racks {
		t := change.OwnTotals(r)
		sum.add(Capacity{
			Racks: 1, Mounts: len(r.Mounts),
			Units: t.Units, Held: t.Held, Free: t.Free, Taken: t.Units - t.Held - t.Free,
			Mass: t.Mass.Known, Heat: t.Heat.Known, Lacks: len(t.Mass.Lacks) + len(t.Heat.Lacks),
		})
	}
	return sum
}

func (c *Capacity) add(d Capacity) {
	c.Racks += d.Racks
	c.Mounts += d.Mounts
	c.Units += d.Units
	c.Taken += d.Taken
	c.Held += d.Held
	c.Free += d.Free
	c.Mass += d.Mass
	c.Heat += d.Heat
	c.Lacks += d.Lacks
}

// A Point is the capacity as of one commit.
type Point struct {
	*source.Commit
	Capacity
}

// Timeline gives the capacity of the racks that are wanted at one commit and at
// each later one that changed the estate, the oldest first.
func (f *Follower) Timeline(ctx context.Context, since, until source.Hash, wanted func(*estate.Rack) bool) ([]Point, error) {
	versions, err := f.Place.History(ctx, source.Walk{From: until, Until: since, FirstParent: !f.Full})
	if err != nil {
		return nil, err
	}
	slices.Reverse(versions)
	first, err := f.Place.Repo.Commit(ctx, since)
	if err != nil {
		return nil, err
	}
	commits := []*source.Commit{first}
	for _, v := range versions {
		commits = append(commits, v.Commit)
	}
	t := timeline{Follower: f, wanted: wanted}
	var points []Point
	for _, c := range commits {
		sum, err := t.at(ctx, c)
		if err != nil {
			return nil, err
		}
		points = append(points, Point{c, sum})
	}
	return points, nil
}

// A timeline goes from commit to commit and adds anew only what changed.
type timeline struct {
	*Follower
	wanted func(*estate.Rack) bool

	tree  source.Tree         // of the commit before
	racks map[string]bool     // files that hold nothing but racks
	sums  map[string]Capacity // of the wanted racks, by their file
}

func (t *timeline) at(ctx context.Context, c *source.Commit) (Capacity, error) {
	tree, err := t.Place.Commit(ctx, c.Hash, "")
	if errors.Is(err, source.ErrNoFolder) {
		tree = source.Memory("nothing", nil)
	} else if err != nil {
		return Capacity{}, err
	}
	read := tree
	if t.tree != nil {
		deltas, err := source.Differ(ctx, t.tree, tree)
		if err != nil {
			return Capacity{}, err
		}
		changed := map[string]bool{}
		onlyRacks := true
		for _, d := range deltas {
			changed[d.Path] = true
			onlyRacks = onlyRacks && t.racks[d.Path]
		}
		if onlyRacks {
			for path := range changed {
				delete(t.sums, path)
			}
			read = source.Subset(tree, func(path string) bool { return changed[path] || !t.racks[path] })
		} else {
			t.racks = nil
		}
	}
	e, err := t.Load(ctx, read)
	if err != nil {
		return Capacity{}, err
	}
	if t.racks == nil {
		t.racks, t.sums = rackFiles(e), map[string]Capacity{}
	}
	byFile := map[string][]*estate.Rack{}
	for _, r := range e.Racks {
		if t.wanted(r) {
			byFile[r.Source.File] = append(byFile[r.Source.File], r)
		}
	}
	for file, racks := range byFile {
		t.sums[file] = CapacityOf(racks)
	}
	t.tree = tree
	var sum Capacity
	for _, c := range t.sums {
		sum.add(c)
	}
	return sum, nil
}
