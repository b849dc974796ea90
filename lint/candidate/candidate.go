// Package candidate says where a piece of equipment could go.
//
// [Find] tries it in every run of free units of every rack and judges each by
// the same rules that judge what is mounted. It proposes; it decides nothing,
// and what it could not judge it says.
package candidate

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// A Place is where the equipment could go: the best one of its rack.
type Place struct {
	Rack      *estate.Rack
	Mount     *estate.Mount    // as it would be declared, in a copy of the rack
	Blanks    []*estate.Blank  // blanks that must come off
	Findings  []lint.Finding   // what it would bring, none an error
	Unchecked []lint.Unchecked // what could not be judged about it
	More      int              // how many other places of the rack would do

	Before, After change.Totals // of the rack: mass, space, heat and feeds
}

// A Refusal is a rack in which the equipment cannot go, with the reason that
// decides: of all its places, the one that fails least.
type Refusal struct {
	Rack   *estate.Rack
	Reason string
	Rule   string // rule that refuses, or ""
}

// Options say how to look.
type Options struct {
	Rules []*lint.Rule // those of layouts; what they report decides
	Today estate.Date
	Face  estate.Face // NoFace: the front
	Racks []*estate.Rack
}

// Find gives a place in each rack that has one, best first, and says why the
// others have none, in the order of the racks asked for.
func Find(ctx context.Context, e *estate.Estate, q *estate.Equipment, o Options) ([]Place, []Refusal, error) {
	if o.Face == estate.NoFace {
		o.Face = estate.FrontFace
	}
	s := &search{estate: e, equipment: q, Options: o, sharing: sharing(e), order: map[*estate.Rack]int{}}
	for i, r := range e.Racks {
		s.order[r] = i
	}
	for _, r := range o.Rules {
		if !judges(r) {
			continue
		}
		if r.Rack != nil {
			s.ofRack = append(s.ofRack, r)
		} else {
			s.ofEstate = append(s.ofEstate, r)
		}
	}
	var places []Place
	var refusals []Refusal
	for _, r := range o.Racks {
		place, refusal, err := s.in(ctx, r)
		switch {
		case err != nil:
			return nil, nil, err
		case refusal != nil:
			refusals = append(refusals, *refusal)
		default:
			places = append(places, *place)
		}
	}
	slices.SortStableFunc(places, func(a, b Place) int {
		return cmp.Or(
			cmp.Compare(len(a.Findings), len(b.Findings)),
			cmp.Compare(len(a.Unchecked), len(b.Unchecked)),
			cmp.Compare(len(a.Blanks), len(b.Blanks)),
		)
	})
	return places, refusals, nil
}

// judges reports whether a rule has a say about where something goes. What a
// record lacks is known only once it is written.
func judges(r *lint.Rule) bool {
	group, _, _ := strings.Cut(r.ID, "/")
	return (r.Rack != nil || r.Estate != nil) && r.ID != "space/open-unit" &&
		slices.Contains([]string{"space", "fit", "load", "power", "air", "site", "policy"}, group)
}

// A search is one call of Find.
type search struct {
	Options
	estate    *estate.Estate
	equipment *estate.Equipment
	ofRack    []*lint.Rule
	ofEstate  []*lint.Rule
	sharing   map[*estate.Feed][]*estate.Rack
	order     map[*estate.Rack]int // places of racks in the estate
}

// sharing gives the racks that draw on each feed.
func sharing(e *estate.Estate) map[*estate.Feed][]*estate.Rack {
	on := map[*estate.Feed][]*estate.Rack{}
	for _, r := range e.Racks {
		for _, f := range r.RackFeeds() {
			on[f] = append(on[f], r)
		}
	}
	return on
}

// in looks for the best place in one rack, or says why there is none.
func (s *search) in(ctx context.Context, r *estate.Rack) (*Place, *Refusal, error) {
	refuse := func(rule, format string, args ...any) (*Place, *Refusal, error) {
		return nil, &Refusal{Rack: r, Rule: rule, Reason: fmt.Sprintf(format, args...)}, nil
	}
	if r.Frame == nil || r.Frame.System == nil {
		return refuse("", "its frame, or the panel system of it, is not declared")
	}
	height, ok := s.equipment.HeightIn(r.Frame)
	if !ok {
		return refuse("", "the height of equipment.%s is %s", s.equipment.Name, s.equipment.Height.State)
	}
	feeds, why := s.feeds(r)
	if why != "" {
		return refuse("power/no-feed", "%s", why)
	}
	best, refusal, err := s.bestIn(ctx, r, height, feeds)
	if best == nil {
		return nil, refusal, err
	}
	// What hangs on the whole estate, such as feeds, is the same for all places
	// of the rack: it is judged once, on the racks that share its feeds.
	copied := withMount(r, best.Mount)
	before, after := s.around(r, r), s.around(r, copied)
	base, err := s.judge(ctx, before, s.ofEstate)
	if err != nil {
		return nil, nil, err
	}
	result, err := s.judge(ctx, after, s.ofEstate)
	if err != nil {
		return nil, nil, err
	}
	brings := fresh(result, base)
	if worst, n := firstError(brings); n > 0 {
		return refuse(worst.Rule, "%s", worst.Message)
	}
	best.Before, best.After = change.TotalsOf(r, before.Supply()), change.TotalsOf(copied, after.Supply())
	best.Findings = append(best.Findings, brings...)
	best.Unchecked = append(best.Unchecked, about(result.Unchecked, best.Mount)...)
	return best, nil, nil
}

// bestIn looks for the best place by the rules that see one rack.
func (s *search) bestIn(ctx context.Context, r *estate.Rack, height quantity.Length, feeds []*estate.Feed) (*Place, *Refusal, error) {
	base, err := s.judge(ctx, s.alone(r), s.ofRack)
	if err != nil {
		return nil, nil, err
	}
	var good []Place
	var least *Refusal
	fewest := 0
	for _, extent := range s.runs(r, height) {
		copied := withMount(r, s.mount(r, extent, feeds))
		result, err := s.judge(ctx, s.alone(copied), s.ofRack)
		if err != nil {
			return nil, nil, err
		}
		brings := fresh(result, base)
		if worst, n := firstError(brings); n > 0 {
			if least == nil || n < fewest {
				least, fewest = &Refusal{Rack: r, Rule: worst.Rule, Reason: worst.Message}, n
			}
			continue
		}
		mount := copied.Mounts[len(copied.Mounts)-1]
		good = append(good, Place{Rack: r, Mount: mount, Blanks: covering(r, extent, s.Face), Findings: brings, Unchecked: about(result.Unchecked, mount)})
	}
	if len(good) == 0 {
		if least == nil {
			count := r.Frame.System.Count
			least = &Refusal{Rack: r, Rule: "space/overlap", Reason: fmt.Sprintf("no run of %s is free at the %s; the largest has %s",
				count(unitsIn(r.Frame, height)), s.Face, count(unitsIn(r.Frame, largest(r.Free(s.Face)))))}
		}
		return nil, least, nil
	}
	best := s.best(good)
	best.More = len(good) - 1
	return &best, nil, nil
}

// feeds chooses one feed for each inlet from those of the rack, in their
// order, so that two inlets are on two feeds.
func (s *search) feeds(r *estate.Rack) ([]*estate.Feed, string) {
	inlets, _ := s.equipment.InletCount()
	if inlets == 0 {
		return nil, ""
	}
	if len(r.Feeds) == 0 {
		return nil, fmt.Sprintf("%s needs %s, and the rack states no feeds", s.equipment.Name, quantity.Count(inlets, "feed"))
	}
	if len(r.Feeds) < min(inlets, 2) {
		return nil, fmt.Sprintf("%s needs %s, and the rack has %s", s.equipment.Name, quantity.Count(inlets, "feed"), quantity.Count(len(r.Feeds), "feed"))
	}
	feeds := make([]*estate.Feed, inlets)
	for i := range feeds {
		feeds[i] = r.Feeds[i%len(r.Feeds)]
	}
	return feeds, ""
}

// runs gives every run of whole free units that the equipment would fill,
// lowest first.
func (s *search) runs(r *estate.Rack, height quantity.Length) []estate.Extent {
	pitch := r.Frame.UnitExtent(estate.Units(r.Frame.First)).Height()
	var out []estate.Extent
	for _, free := range r.Free(s.Face) {
		for at := free.Bottom; at+height <= free.Top+estate.Touch; at += pitch {
			out = append(out, estate.Extent{Bottom: at, Top: at + height})
		}
	}
	return out
}

func (s *search) mount(r *estate.Rack, at estate.Extent, feeds []*estate.Feed) *estate.Mount {
	return &estate.Mount{
		Name: s.equipment.Name, Equipment: s.equipment, Face: s.Face, Feeds: feeds,
		At: r.Frame.NumberAt(at), Owner: r.Owner, Source: r.Source,
	}
}

// best chooses among the places of one rack: few findings, few blanks to take
// off, heavy things low, and light ones where the least is left over.
func (s *search) best(good []Place) Place {
	heavy := s.equipment.Mass.Or(0) > 20*quantity.Kilogram
	return slices.MinFunc(good, func(a, b Place) int {
		c := cmp.Or(cmp.Compare(len(a.Findings), len(b.Findings)), cmp.Compare(len(a.Unchecked), len(b.Unchecked)))
		x, _ := a.Mount.Extent()
		y, _ := b.Mount.Extent()
		if !heavy {
			c = cmp.Or(c, cmp.Compare(run(a.Rack, x, s.Face), run(b.Rack, y, s.Face)))
		}
		return cmp.Or(c, cmp.Compare(x.Bottom, y.Bottom))
	})
}

// run gives the height of the free run that an extent lies in.
func run(r *estate.Rack, e estate.Extent, face estate.Face) quantity.Length {
	for _, free := range r.Free(face) {
		if e.Within(free) {
			return free.Height()
		}
	}
	return 0
}

func (s *search) judge(ctx context.Context, e *estate.Estate, rules []*lint.Rule) (*lint.Result, error) {
	return lint.Run(ctx, e, lint.Options{Rules: rules, Today: s.Today, Workers: 1, Partial: true})
}

// alone gives the estate cut down to one rack.
func (s *search) alone(r *estate.Rack) *estate.Estate {
	one := *s.estate
	one.Racks = []*estate.Rack{r}
	return &one
}

// around gives the estate cut down to the racks that share a feed with r, with
// mine in the place of r.
func (s *search) around(r, mine *estate.Rack) *estate.Estate {
	near := []*estate.Rack{r}
	seen := map[*estate.Rack]bool{r: true}
	for _, f := range mine.RackFeeds() {
		for _, other := range s.sharing[f] {
			if !seen[other] {
				seen[other] = true
				near = append(near, other)
			}
		}
	}
	slices.SortFunc(near, func(a, b *estate.Rack) int { return cmp.Compare(s.order[a], s.order[b]) })
	near[slices.Index(near, r)] = mine
	small := *s.estate
	small.Racks = near
	return &small
}

// withMount gives a copy of the rack with one mount more, and without the blanks
// that it takes off. The mounts that were there stay those of the estate.
func withMount(r *estate.Rack, m *estate.Mount) *estate.Rack {
	copied := *r
	mine := *m
	mine.Rack = &copied
	copied.Mounts = append(slices.Clone(r.Mounts), &mine)
	if extent, ok := mine.Extent(); ok {
		off := covering(r, extent, m.Face)
		copied.Blanks = slices.DeleteFunc(slices.Clone(r.Blanks), func(b *estate.Blank) bool { return slices.Contains(off, b) })
	}
	return &copied
}

// covering gives the blanks at a face that share heights with an extent.
func covering(r *estate.Rack, e estate.Extent, face estate.Face) []*estate.Blank {
	var out []*estate.Blank
	for _, b := range r.Blanks {
		on := b.Face
		if on == estate.NoFace {
			on = estate.FrontFace
		}
		if x, ok := b.Extent(); ok && on == face && x.Meets(e) {
			out = append(out, b)
		}
	}
	return out
}

// fresh gives the findings that the base has not, or has with other figures: a
// feed that is over already is refused to what would load it further.
func fresh(result, base *lint.Result) []lint.Finding {
	before := map[[2]string]bool{}
	for i := range base.Findings {
		f := &base.Findings[i]
		before[[2]string{f.Key(), f.Message}] = true
	}
	var out []lint.Finding
	for i := range result.Findings {
		if f := &result.Findings[i]; !before[[2]string{f.Key(), f.Message}] {
			out = append(out, *f)
		}
	}
	return out
}

// firstError gives the first error and how many there are.
func firstError(findings []lint.Finding) (lint.Finding, int) {
	var first lint.Finding
	n := 0
	for _, f := range findings {
		if f.Level == lint.Error && f.Waiver == nil {
			if n == 0 {
				first = f
			}
			n++
		}
	}
	return first, n
}

// about keeps what could not be judged on the mount itself.
func about(all []lint.Unchecked, m *estate.Mount) []lint.Unchecked {
	var out []lint.Unchecked
	for _, u := range all {
		if u.Thing == m.Ref() {
			out = append(out, u)
		}
	}
	return out
}

func largest(free []estate.Extent) quantity.Length {
	var most quantity.Length
	for _, e := range free {
		most = max(most, e.Height())
	}
	return most
}

func unitsIn(f *estate.Frame, l quantity.Length) string {
	pitch := f.UnitExtent(estate.Units(f.First)).Height()
	return quantity.Number(quantity.In(l, pitch), 2)
}
