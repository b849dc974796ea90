package rules

import (
	"fmt"
	"hash/maphash"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// duplicate reports the second and every further declaration of a name, and
// of a serial or asset number, each with the first as related. Mounts are
// compared within their rack, everything else within the estate.
//
// Serial and asset numbers are compared without regard to capitals, as labels
// are read aloud. A serial in a shared layout is found once a rack, for one
// piece cannot be in two.
var duplicate = &lint.Rule{
	ID:      "record/duplicate",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "one name or number stands for two things",
	Why: `A thing that is recorded twice is in one of the two places at most. Whoever is sent
to the other one finds a hole, or pulls out the wrong piece.`,
	Source: "common practice",
	Bad: exampleCabinet + `equipment "storage" {
  height = "2U"
}
rack "a" {
  frame = frame.cab-42
  mount "store-1" {
    at        = 4
    equipment = equipment.storage
    serial    = "BW-3101"
  }
  mount "store-2" {
    at        = 6
    equipment = equipment.storage
    serial    = "BW-3101"
  }
}
`,
	Good: exampleCabinet + `equipment "storage" {
  height = "2U"
}
rack "a" {
  frame = frame.cab-42
  mount "store-1" {
    at        = 4
    equipment = equipment.storage
    serial    = "BW-3101"
  }
  mount "store-2" {
    at        = 6
    equipment = equipment.storage
    serial    = "BW-3102"
  }
}
`,
	Reach: lint.Alike,
	Keys: func(r *estate.Rack, key func(string)) {
		for _, m := range r.Mounts {
			if s := plainNumber(m.Serial); s != "" {
				key("serial " + s)
			}
			if s := plainNumber(m.Asset); s != "" {
				key("asset " + s)
			}
		}
	},
	Estate: func(pass *lint.Pass) {
		duplicateNames(pass)
		duplicateNumbers(pass, "serial", "serial number", func(m *estate.Mount) string { return m.Serial })
		duplicateNumbers(pass, "asset", "asset number", func(m *estate.Mount) string { return m.Asset })
	},
}

func duplicateNames(pass *lint.Pass) {
	e := pass.Estate
	named(pass, e.Sites, func(t *estate.Site) sourced { return sourced{"site." + t.Name, "", &t.Source} })
	named(pass, e.Rooms, func(t *estate.Room) sourced { return sourced{"room." + t.Name, "", &t.Source} })
	named(pass, e.Rows, func(t *estate.Row) sourced { return sourced{"row." + t.Name, "", &t.Source} })
	named(pass, e.Bars, func(t *estate.Bar) sourced { return sourced{"bar." + t.Name, "", &t.Source} })
	named(pass, e.Routes, func(t *estate.Route) sourced { return sourced{"route." + t.Name, "", &t.Source} })
	named(pass, e.Frames, func(t *estate.Frame) sourced { return sourced{"frame." + t.Name, "", &t.Source} })
	named(pass, e.Equipment, func(t *estate.Equipment) sourced { return sourced{"equipment." + t.Name, "", &t.Source} })
	named(pass, e.PowerSources, func(t *estate.PowerSource) sourced { return sourced{"source." + t.Name, "", &t.Source} })
	named(pass, e.Breakers, func(t *estate.Breaker) sourced { return sourced{"breaker." + t.Name, "", &t.Source} })
	named(pass, e.Feeds, func(t *estate.Feed) sourced { return sourced{"feed." + t.Name, "", &t.Source} })
	named(pass, e.Racks, func(t *estate.Rack) sourced { return sourced{t.Ref(), t.Name, &t.Source} })
	named(pass, e.Layouts, func(t *estate.Layout) sourced { return sourced{"layout." + t.Name, "", &t.Source} })
	named(pass, e.Groups, func(t *estate.Group) sourced { return sourced{"group." + t.Name, "", &t.Source} })
	named(pass, e.Sequences, func(t *estate.Sequence) sourced { return sourced{"sequence." + t.Name, "", &t.Source} })
	named(pass, e.Windows, func(t *estate.Window) sourced { return sourced{"window." + t.Name, "", &t.Source} })
	named(pass, e.Freezes, func(t *estate.Freeze) sourced { return sourced{"freeze." + t.Name, "", &t.Source} })
	named(pass, e.Benches, func(t *estate.Bench) sourced { return sourced{"bench." + t.Name, "", &t.Source} })
	named(pass, e.Rulings.Policies, func(t *estate.Policy) sourced { return sourced{"policy." + t.Name, "", &t.Source} })
	for _, o := range e.Routes {
		named(pass, o.Gates, func(t *estate.Gate) sourced { return sourced{"route." + o.Name + "." + t.Name, "", &t.Source} })
	}
	for _, o := range e.Sequences {
		named(pass, o.Steps, func(t *estate.SequenceStep) sourced {
			return sourced{"sequence." + o.Name + "." + t.Name, "", &t.Source}
		})
	}
	for _, o := range e.Layouts {
		within := func(name string, s *estate.Source) sourced {
			return sourced{"layout." + o.Name + "." + name, "", s}
		}
		named(pass, o.Mounts, func(t *estate.Mount) sourced { return within(t.Name, &t.Source) })
		named(pass, o.Reserves, func(t *estate.Reserve) sourced { return within(t.Name, &t.Source) })
	}
	first := map[string]*estate.Source{} // of one rack at a time: there may be very many mounts
	for _, r := range e.Racks {
		clear(first)
		for _, m := range r.Mounts {
			if earlier, taken := first[m.Name]; taken {
				second(pass, sourced{m.Ref(), r.Name, &m.Source}, earlier)
				continue
			}
			first[m.Name] = &m.Source
		}
		named(pass, r.Reserves, func(t *estate.Reserve) sourced { return sourced{r.Ref() + "." + t.Name, r.Name, &t.Source} })
	}
}

// named reports each of the things whose name an earlier one has.
func named[T any](pass *lint.Pass, things []*T, of func(*T) sourced) {
	if len(things) < 2 {
		return
	}
	first := make(map[string]*estate.Source, len(things))
	for _, t := range things {
		s := of(t)
		earlier, taken := first[s.ref]
		if !taken {
			first[s.ref] = s.source
			continue
		}
		second(pass, s, earlier)
	}
}

// second reports a thing whose name an earlier one has.
func second(pass *lint.Pass, s sourced, earlier *estate.Source) {
	pass.Report(lint.Finding{
		At: s.source.At(), Thing: s.ref, Rack: s.rack,
		Message: s.ref + " is declared a second time",
		Related: []lint.Related{{At: earlier.At(), Message: "it is declared here"}},
	})
}

func duplicateNumbers(pass *lint.Pass, attr, what string, of func(*estate.Mount) string) {
	n := 0
	for _, r := range pass.Estate.Racks {
		n += len(r.Mounts)
	}
	known := &numbers{of: of, most: n, seed: maphash.MakeSeed()}
	for _, r := range pass.Estate.Racks {
		for _, m := range r.Mounts {
			earlier := known.add(m)
			if earlier == nil || earlier.Ref() == m.Ref() {
				continue // new, or the name is declared twice, and that is reported
			}
			f := lint.AtMount(m, attr)
			f.Others = []string{earlier.Ref()}
			f.Message = fmt.Sprintf("%s has the %s %q of %s", m.Ref(), what, of(m), earlier.Ref())
			f.Related = []lint.Related{{At: earlier.Source.Attr(attr), Message: earlier.Ref() + " has it here"}}
			pass.Report(f)
		}
	}
}

// numbers finds mounts by a number that they state, without regard to capitals
// and spaces around it. It is a table of indices, as a map of some hundred
// thousand texts takes most of the time of a run in which nothing has changed.
type numbers struct {
	of    func(*estate.Mount) string
	most  int // how many numbers there can be
	seed  maphash.Seed
	slots []uint64 // upper half of the hash, and one more than the index of a mount; 0 is free
	all   []*estate.Mount
}

// grow makes room for n numbers.
func (t *numbers) grow(n int) {
	size := 16
	for size < 2*n {
		size *= 2
	}
	t.slots, t.all = make([]uint64, size), make([]*estate.Mount, 0, n)
}

// add enters a mount, or gives the one that has its number already. A mount
// without a number is not entered.
func (t *numbers) add(m *estate.Mount) *estate.Mount {
	number := plainNumber(t.of(m))
	if number == "" {
		return nil
	}
	if t.slots == nil {
		t.grow(t.most)
	}
	hash := maphash.String(t.seed, number)
	const upper = uint64(0xffffffff) << 32
	mask := uint64(len(t.slots) - 1)
	for at := hash & mask; ; at = (at + 1) & mask {
		slot := t.slots[at]
		if slot == 0 {
			t.all = append(t.all, m)
			t.slots[at] = hash&upper | uint64(len(t.all))
			return nil
		}
		if slot&upper != hash&upper {
			continue
		}
		if earlier := t.all[uint32(slot)-1]; plainNumber(t.of(earlier)) == number {
			return earlier
		}
	}
}

func plainNumber(s string) string { return strings.ToUpper(strings.TrimSpace(s)) }

// sourced is anything that is declared by a block with a name.
type sourced struct {
	ref    string // as the language refers to it
	rack   string
	source *estate.Source
}
