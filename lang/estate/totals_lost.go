package estate

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// A LostState is what fails together, for judging what is left.
type LostState struct {
	Out   Outage
	Says  string // "feed.b lost", "source ups lost (feed.a and feed.c)"
	Thing string // "feed.b" or "source ups"
	At    Range  // where it is declared
	Alone bool   // one feed by itself
}

// LostStates gives each feed alone, then each breaker and source that several
// feeds hang on, then each strip. Of several things that take the same feeds
// with them only the nearest is given. It is worked out once.
func (s *Supply) LostStates() []LostState {
	s.once.Do(func() {
		s.lost = s.lostStates()
		s.feedStates, s.stripStates = map[*Feed][]int{}, map[*Mount][]int{}
		for i := range s.lost {
			for _, f := range s.lost[i].Out.Feeds {
				s.feedStates[f] = append(s.feedStates[f], i)
			}
			for _, m := range s.lost[i].Out.Mounts {
				s.stripStates[m] = append(s.stripStates[m], i)
			}
		}
	})
	return s.lost
}

// StatesOf gives the lost states that touch any of the mounts, in the order of
// [Supply.LostStates].
func (s *Supply) StatesOf(mounts []*Mount) []*LostState {
	all := s.LostStates()
	seen := map[int]bool{}
	for _, m := range mounts {
		feeds := m.Feeds
		if len(m.Cords) > 0 {
			feeds = s.reach(m)
			for i := range m.Cords {
				for _, n := range s.stripStates[s.estate.StripOf(m, &m.Cords[i])] {
					seen[n] = true
				}
			}
		}
		for _, f := range feeds {
			for _, n := range s.feedStates[f] {
				seen[n] = true
			}
		}
	}
	out := make([]*LostState, 0, len(seen))
	for _, n := range slices.Sorted(maps.Keys(seen)) {
		out = append(out, &all[n])
	}
	return out
}

func (s *Supply) lostStates() []LostState {
	var out []LostState
	var shared []Upstream
	on := map[string][]*Feed{} // feeds that have it upstream
	for _, f := range s.feeds {
		out = append(out, LostState{
			Out: Outage{Feeds: []*Feed{f}}, Says: f.Ref() + " lost", Thing: f.Ref(), At: f.Source.At(), Alone: true,
		})
		if s.estate == nil {
			continue
		}
		for _, u := range s.estate.Upstream(f) {
			if len(on[u.Ref]) == 0 {
				shared = append(shared, u)
			}
			on[u.Ref] = append(on[u.Ref], f)
		}
	}
	seen := map[string]bool{}
	for _, u := range shared {
		var feeds []*Feed
		var names []string
		for _, f := range on[u.Ref] {
			if s.estate.DiesWith(f, u.Ref, false) {
				feeds = append(feeds, f)
				names = append(names, f.Ref())
			}
		}
		if len(feeds) < 2 {
			continue
		}
		key := strings.Join(names, " ")
		if seen[key] {
			continue
		}
		seen[key] = true
		o := (&Outage{Feeds: feeds}).indexed()
		out = append(out, LostState{
			Out: *o, Says: fmt.Sprintf("%s lost (%s)", u.Ref, sentence(names)), Thing: u.Ref, At: u.At,
		})
	}
	for _, strip := range s.behind {
		out = append(out, LostState{
			Out: Outage{Mounts: []*Mount{strip}}, Says: strip.Ref() + " lost", Thing: strip.Ref(), At: strip.Source.At(),
		})
	}
	return out
}

// sentence joins names as a sentence does, at most a handful of them.
func sentence(names []string) string {
	const most = 6
	if len(names) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most-1], ", "), len(names)-most+1)
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
