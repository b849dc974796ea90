package change

import (
	"slices"

	"github.com/agext/levenshtein"

	"cagenut/lang/estate"
)

// A match is an old and a new declaration of one thing; either may be nil.
type match[T any] struct {
	old, new *T
	by       Match
}

// byKey matches things of one place by a key such as the label; the rest comes
// back in order. If equal is given, things that it holds for are matched with
// each other and left out of what is found, since nothing happens to them.
//
// Where a key is found several times, which is a mistake that lint reports,
// the first goes with the first.
func byKey[T any](olds, news []*T, key func(*T) string, equal func(o, n *T) bool) (found []match[T], restOld, restNew []*T) {
	// Most racks are as they were, and need no index.
	if equal != nil && slices.EqualFunc(olds, news, equal) {
		return nil, nil, nil
	}
	if equal == nil && slices.EqualFunc(olds, news, func(o, n *T) bool { return key(o) == key(n) }) {
		for i := range olds {
			found = append(found, match[T]{olds[i], news[i], ByLabel})
		}
		return found, nil, nil
	}
	at := make(map[string][]*T, len(news))
	for _, n := range news {
		at[key(n)] = append(at[key(n)], n)
	}
	taken := make(map[*T]bool, len(news))
	take := func(o *T, pick func(n *T) bool) (n *T) {
		k := key(o)
		i := slices.IndexFunc(at[k], pick)
		if i < 0 {
			return nil
		}
		n = at[k][i]
		at[k] = slices.Delete(at[k], i, i+1)
		taken[n] = true
		return n
	}
	for _, o := range olds {
		if equal == nil || take(o, func(n *T) bool { return equal(o, n) }) == nil {
			restOld = append(restOld, o)
		}
	}
	restOld = slices.DeleteFunc(restOld, func(o *T) bool {
		n := take(o, func(*T) bool { return true })
		if n == nil {
			return false
		}
		found = append(found, match[T]{o, n, ByLabel})
		return true
	})
	for _, n := range news {
		if !taken[n] {
			restNew = append(restNew, n)
		}
	}
	return found, restOld, restNew
}

// byUnique matches things whose key is found exactly once on either side, and
// for which agree, if given, holds as well. Things with the key "" take no
// part.
func byUnique[T any](olds, news []*T, key func(*T) string, agree func(o, n *T) bool) (found []match[T], restOld, restNew []*T) {
	if len(olds) == 0 || len(news) == 0 {
		return nil, olds, news
	}
	index := func(all []*T) map[string]*T {
		once := make(map[string]*T, len(all))
		for _, t := range all {
			k := key(t)
			if _, again := once[k]; again {
				once[k] = nil
				continue
			}
			once[k] = t
		}
		delete(once, "")
		return once
	}
	oldAt, newAt := index(olds), index(news)
	taken := map[*T]bool{}
	for _, o := range olds {
		k := key(o)
		n := newAt[k]
		if oldAt[k] == nil || n == nil || agree != nil && !agree(o, n) {
			restOld = append(restOld, o)
			continue
		}
		taken[n] = true
		found = append(found, match[T]{old: o, new: n})
	}
	for _, n := range news {
		if !taken[n] {
			restNew = append(restNew, n)
		}
	}
	return found, restOld, restNew
}

// matchMounts says which mounts are one and the same.
//
// A label in a rack is the name that people use, and so comes first. It gives
// way where the hardware says otherwise: if two labels have exchanged their
// serial numbers, the boxes have changed places. A label that has got a new
// serial found nowhere else is a replacement, and stays matched by label.
func matchMounts(pairs []rackPair, table []attribute[estate.Mount]) []match[estate.Mount] {
	type M = match[estate.Mount]
	equal := func(o, n *estate.Mount) bool { return alikeAtSight(o, n) || same(table, o, n) }
	var found, doubtful []M
	var olds, news []*estate.Mount
	for _, p := range pairs {
		var o, n []*estate.Mount
		if p.old != nil {
			o = p.old.Mounts
		}
		if p.new != nil {
			n = p.new.Mounts
		}
		matched, restOld, restNew := byKey(o, n, func(m *estate.Mount) string { return m.Name }, equal)
		for _, m := range matched {
			if otherHardware(m.old, m.new) {
				doubtful = append(doubtful, m)
				restOld, restNew = append(restOld, m.old), append(restNew, m.new)
				continue
			}
			found = append(found, m)
		}
		olds, news = append(olds, restOld...), append(news, restNew...)
	}
	add := func(by Match) func(same []M, restOld, restNew []*estate.Mount) {
		return func(same []M, restOld, restNew []*estate.Mount) {
			for _, m := range same {
				m.by = by
				found = append(found, m)
			}
			olds, news = restOld, restNew
		}
	}

	add(BySerial)(byUnique(olds, news, func(m *estate.Mount) string { return m.Serial }, nil))
	add(BySerial)(byUnique(olds, news, func(m *estate.Mount) string { return m.Asset }, sameHardware))

	for _, m := range doubtful {
		i, j := slices.Index(olds, m.old), slices.Index(news, m.new)
		if i >= 0 && j >= 0 {
			found = append(found, m)
			olds, news = slices.Delete(olds, i, i+1), slices.Delete(news, j, j+1)
		}
	}

	add(ByName)(byUnique(olds, news, func(m *estate.Mount) string {
		if m.Equipment == nil {
			return ""
		}
		return m.Name + "\x00" + m.Equipment.Name
	}, sameHardware))

	inNew := map[*estate.Rack]string{} // the rack's name, as it is called after the change
	for _, p := range pairs {
		if p.old != nil && p.new != nil {
			inNew[p.old] = p.new.Name
		}
		if p.new != nil {
			inNew[p.new] = p.new.Name
		}
	}
	kindIn := func(m *estate.Mount) string {
		if m.Equipment == nil || inNew[m.Rack] == "" {
			return ""
		}
		return inNew[m.Rack] + "\x00" + m.Equipment.Name
	}
	// A new label in the same place.
	add(ByLikeness)(byUnique(olds, news, func(m *estate.Mount) string {
		if k := kindIn(m); k != "" {
			return k + "\x00" + placeKey(m)
		}
		return ""
	}, sameHardware))
	// A new place and a label that is much like the old one: in the rack
	// first, then anywhere.
	alike := func(o, n *estate.Mount) bool { return sameHardware(o, n) && likeLabels(o.Name, n.Name) }
	add(ByLikeness)(byUnique(olds, news, kindIn, alike))
	add(ByLikeness)(byUnique(olds, news, func(m *estate.Mount) string {
		if m.Equipment == nil {
			return ""
		}
		return m.Equipment.Name
	}, alike))

	for _, o := range olds {
		found = append(found, M{old: o})
	}
	for _, n := range news {
		found = append(found, M{new: n})
	}
	return found
}

// alikeAtSight reports whether two mounts of racks that are paired by name are
// alike in all that is commonly declared. It asks the same as the table of
// attributes in a tenth of the time, and leaves to it whatever is unusual.
func alikeAtSight(a, b *estate.Mount) bool {
	if a.Name != b.Name || a.At != b.At || a.Through != b.Through || a.Face != b.Face || a.Slot != b.Slot ||
		a.Serial != b.Serial || a.Asset != b.Asset || a.Owner != b.Owner || a.Service != b.Service {
		return false
	}
	if a.Inverted != b.Inverted || a.Marking != b.Marking || a.Until != b.Until || a.Seen != b.Seen ||
		a.Criticality != b.Criticality {
		return false
	}
	if len(a.Cords)+len(b.Cords)+len(a.Seals)+len(b.Seals) > 0 || a.ZeroU != nil || b.ZeroU != nil || a.Adapter != nil || b.Adapter != nil ||
		a.Raised.State != estate.IsMissing || b.Raised.State != estate.IsMissing ||
		a.Slack.State != estate.IsMissing || b.Slack.State != estate.IsMissing ||
		a.Rack == nil || b.Rack == nil || a.Rack.Name != b.Rack.Name ||
		len(a.Feeds) != len(b.Feeds) || !sameName(a.Equipment, b.Equipment, equipmentName) {
		return false
	}
	for i, f := range a.Feeds {
		if !sameName(f, b.Feeds[i], feedName) {
			return false
		}
	}
	return true
}

// otherHardware reports whether serial or asset numbers say that two mounts
// are different pieces of hardware. A missing number says nothing.
func otherHardware(a, b *estate.Mount) bool {
	if a.Serial != "" && b.Serial != "" {
		return a.Serial != b.Serial
	}
	return a.Asset != "" && b.Asset != "" && a.Asset != b.Asset
}

func sameHardware(a, b *estate.Mount) bool { return !otherHardware(a, b) }

func placeKey(m *estate.Mount) string {
	if z := m.ZeroU; z != nil {
		return "0U " + z.Side.String() + " " + z.Plane.String() + " " + z.From.Value.String()
	}
	return at(m, style{exact: true}) + " " + m.Face.String() + " " + m.Slot.String()
}

// likeLabels reports whether a third of the letters of a label, and at least
// one, is enough to make the other of it.
func likeLabels(a, b string) bool {
	return levenshtein.Distance(a, b, nil) <= max(1, min(len(a), len(b))/3)
}

// A rackPair is a rack before and after; either may be nil.
type rackPair struct{ old, new *estate.Rack }

// pairRacks says which racks are one and the same: those with the same name,
// and of the others those that stand in the same place or hold mostly the same
// things.
func pairRacks(olds, news []*estate.Rack) []rackPair {
	same, restOld, restNew := byKey(olds, news, func(r *estate.Rack) string { return r.Name }, nil)
	pairs := make([]rackPair, 0, len(same)+len(restOld)+len(restNew))
	take := func(same []match[estate.Rack], o, n []*estate.Rack) {
		for _, m := range same {
			pairs = append(pairs, rackPair{m.old, m.new})
		}
		restOld, restNew = o, n
	}
	take(same, restOld, restNew)
	take(byUnique(restOld, restNew, standing, func(o, n *estate.Rack) bool {
		return len(o.Mounts)+len(n.Mounts) == 0 || 2*shared(o, n, anyMount) >= min(len(o.Mounts), len(n.Mounts))
	}))
	take(byContent(restOld, restNew))
	for _, o := range restOld {
		pairs = append(pairs, rackPair{old: o})
	}
	for _, n := range restNew {
		pairs = append(pairs, rackPair{new: n})
	}
	return pairs
}

// standing is where a rack stands, or "" where that is not said.
func standing(r *estate.Rack) string {
	if r.Row == nil || r.Place == 0 || r.Frame == nil {
		return ""
	}
	return r.Row.Name + "\x00" + count(r.Place) + "\x00" + r.Frame.Name
}

// byContent matches racks of which more than half the mounts are the same,
// where each is the other's best and only such partner.
func byContent(olds, news []*estate.Rack) (found []match[estate.Rack], restOld, restNew []*estate.Rack) {
	// Racks are compared all with all; where so many came and went at once,
	// new names are not what happened.
	if len(olds)*len(news) > 10_000 {
		return nil, olds, news
	}
	partner := func(r *estate.Rack, all []*estate.Rack) *estate.Rack {
		var best *estate.Rack
		for _, other := range all {
			if 2*shared(r, other, sameHardware) <= max(len(r.Mounts), len(other.Mounts)) {
				continue
			}
			if best != nil {
				return nil
			}
			best = other
		}
		return best
	}
	taken := map[*estate.Rack]bool{}
	for _, o := range olds {
		n := partner(o, news)
		if n == nil || partner(n, olds) != o {
			restOld = append(restOld, o)
			continue
		}
		taken[n] = true
		found = append(found, match[estate.Rack]{old: o, new: n})
	}
	for _, n := range news {
		if !taken[n] {
			restNew = append(restNew, n)
		}
	}
	return found, restOld, restNew
}

// shared counts the mounts that two racks have in common: those with the same
// label and equipment for which agree holds as well.
func shared(a, b *estate.Rack, agree func(m, n *estate.Mount) bool) int {
	at := make(map[string]*estate.Mount, len(b.Mounts))
	for _, m := range b.Mounts {
		at[m.Name] = m
	}
	n := 0
	for _, m := range a.Mounts {
		if other := at[m.Name]; other != nil && sameName(m.Equipment, other.Equipment, equipmentName) && agree(m, other) {
			n++
		}
	}
	return n
}

// anyMount asks nothing of the hardware: a rack that stands in the same place
// and has the same labels is the same rack, even if a box in it was replaced.
func anyMount(_, _ *estate.Mount) bool { return true }
