// Package parts works out the hardware that racks are put together with:
// screws and cage nuts by thread, washers, rail kits, adapters, shelves, trays
// and blanks; and the supply cords that the record tells, by length and ends.
//
// [Of] counts for whole racks, [Compare] gives what a change needs and sets
// free. What the estate does not say is assumed by common practice, and every
// assumption that was used stands in the list in words. A list is for ordering
// and for the box that goes to the site: the sheet of each kit decides.
package parts

import (
	"cmp"
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/system"
)

// A Part is some like pieces of hardware.
type Part struct {
	Kind  Kind
	Name  string   // what to order: "M6 x 1", "rail kit of server-2u"
	Count int      // pieces; kits and pairs count as one
	For   []string // the things that need them, as the language refers to them
}

// Kind says what a part is.
type Kind uint8

// The kinds of part, in the order in which they are listed.
const (
	NoKind Kind = iota
	Screw
	CageNut
	ClipNut
	Washer
	RailKit
	Adapter
	Shelf
	Tray
	Bracket // holds a piece beside the posts
	Blank
	Cord // of supply
)

var kinds = [...]string{"", "screw", "cage nut", "clip nut", "washer", "rail kit", "adapter", "shelf", "tray", "bracket pair", "blank", "supply cord"}

// String names the kind.
func (k Kind) String() string { return kinds[k] }

// A List is the hardware of some racks.
type List struct {
	Parts   []Part   // by kind, then name
	Assumed []string // what was assumed, sorted
	Missing []string // what could not be counted and why, sorted
	Moments []string // with which moments screws of the threads in use are usually turned, sorted
}

// Options say what to assume.
type Options struct {
	// Thread is what untapped posts are screwed with where the equipment does
	// not say: a name as posts are tapped for, such as "m6" (the default).
	Thread string
}

// Of counts the hardware of racks.
func Of(racks []*estate.Rack, o Options) *List {
	if o.Thread == "" {
		o.Thread = "m6"
	}
	c := &counter{options: o, parts: map[key]*Part{}, assumed: map[string]bool{}, missing: map[string]bool{}, moments: map[string]bool{}}
	for _, r := range racks {
		c.rack(r)
	}
	return c.list()
}

// A Difference is one part of which two lists hold different numbers.
type Difference struct {
	Kind          Kind
	Name          string
	Before, After int
	For           []string // the things that need it only after, or only before where some are set free
}

// ToGet gives how many more pieces are needed than there were.
func (d Difference) ToGet() int { return max(d.After-d.Before, 0) }

// SetFree gives how many pieces are left over.
func (d Difference) SetFree() int { return max(d.Before-d.After, 0) }

// Compare gives the parts whose number differs, by kind, then name. What moves
// takes its hardware along, so that it shows in neither column.
func Compare(before, after *List) []Difference {
	counts := map[key]*Difference{}
	at := func(p Part) *Difference {
		k := key{p.Kind, p.Name}
		if counts[k] == nil {
			counts[k] = &Difference{Kind: p.Kind, Name: p.Name}
		}
		return counts[k]
	}
	was, is := map[key][]string{}, map[key][]string{}
	for _, p := range before.Parts {
		at(p).Before += p.Count
		was[key{p.Kind, p.Name}] = p.For
	}
	for _, p := range after.Parts {
		at(p).After += p.Count
		is[key{p.Kind, p.Name}] = p.For
	}
	var out []Difference
	for k, d := range counts {
		switch {
		case d.Before == d.After:
			continue
		case d.After > d.Before:
			d.For = only(is[k], was[k])
		default:
			d.For = only(was[k], is[k])
		}
		out = append(out, *d)
	}
	slices.SortFunc(out, func(a, b Difference) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), estate.CompareNames(a.Name, b.Name))
	})
	return out
}

// only gives what a has and b has not.
func only(a, b []string) []string {
	var out []string
	for _, s := range a {
		if !slices.Contains(b, s) {
			out = append(out, s)
		}
	}
	return out
}

type key struct {
	kind Kind
	name string
}

// A counter gathers parts.
type counter struct {
	options Options
	parts   map[key]*Part
	assumed map[string]bool
	missing map[string]bool
	moments map[string]bool
}

func (c *counter) add(k Kind, name string, n int, of string) {
	if n <= 0 {
		return
	}
	p := c.parts[key{k, name}]
	if p == nil {
		p = &Part{Kind: k, Name: name}
		c.parts[key{k, name}] = p
	}
	p.Count += n
	if !slices.Contains(p.For, of) {
		p.For = append(p.For, of)
	}
}

func (c *counter) assume(format string, args ...any)  { c.assumed[fmt.Sprintf(format, args...)] = true }
func (c *counter) lacking(format string, args ...any) { c.missing[fmt.Sprintf(format, args...)] = true }

func (c *counter) list() *List {
	l := &List{Assumed: sorted(c.assumed), Missing: sorted(c.missing), Moments: sorted(c.moments)}
	for _, p := range c.parts {
		l.Parts = append(l.Parts, *p)
	}
	slices.SortFunc(l.Parts, func(a, b Part) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), estate.CompareNames(a.Name, b.Name))
	})
	return l
}

func sorted(set map[string]bool) []string {
	var out []string
	for s := range set {
		out = append(out, s)
	}
	slices.Sort(out)
	return out
}

// titleOf gives the trade's name of a thread.
func titleOf(name string) string {
	if t, ok := system.ThreadByName(name); ok {
		return t.Title
	}
	return name
}
