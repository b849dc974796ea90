package sequence

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// A switched is a thing that a step puts on a feed.
type switched struct {
	m    *estate.Mount
	feed *estate.Feed
}

// switchedBy gives what a step switches on that puts on a cord of a mount of an
// estate: nothing where the record does not tell the feed.
func switchedBy(e *estate.Estate, m *estate.Mount, inlet int) []switched {
	for _, in := range e.Live(m, nil) {
		if in.Cord == &m.Cords[inlet] {
			return []switched{{m, in.Feed}}
		}
	}
	return nil
}

// trips gives the peak from which the breaker of a feed may trip at once, or
// false where breaker, rating or curve are not declared.
func trips(f *estate.Feed) (quantity.Current, bool) {
	if f == nil || f.Breaker == nil {
		return 0, false
	}
	rated, ok := f.Breaker.Rated.Get()
	if !ok {
		return 0, false
	}
	return physics.MagneticTrip(rated, f.Breaker.Curve)
}

// tripText names a breaker with the bound that peaks are held against.
func tripText(b *estate.Breaker, bound quantity.Current) string {
	return fmt.Sprintf("%s (%s, curve %s) may trip from %s", b.Ref(), b.Rated.Value, b.Curve, bound)
}

func inrushOf(m *estate.Mount) quantity.Current {
	if m.Equipment == nil {
		return 0
	}
	return m.Equipment.Inrush.Or(0)
}

// stagger puts waits between things that are switched on in one block: where
// their peaks, together with those since the last wait, pass what trips the
// breaker that they hang on, the step waits first until the current is steady.
// What stays below it may follow at once. Peaks that are not declared count as
// nothing, as in the rule power/inrush, and so does what runs already.
func (p *Plan) stagger() {
	type run struct {
		sum   quantity.Current
		peaks []string
	}
	for n := range p.Blocks {
		runs := map[*estate.Breaker]*run{}
		for i := p.Blocks[n].From; i < p.Blocks[n].To; i++ {
			s := &p.Steps[i]
			var waits, why []string
			for k, on := range s.on {
				peak := inrushOf(on.m)
				bound, ok := trips(on.feed)
				if peak == 0 || !ok {
					continue
				}
				b := on.feed.Breaker
				r := runs[b]
				if r == nil {
					r = &run{}
					runs[b] = r
				}
				own := fmt.Sprintf("%s %s", on.m.Name, peak)
				switch {
				case r.sum > 0 && r.sum+peak > bound:
					wait := "Wait first until the current of feed " + on.feed.Name + " is steady."
					if len(s.on) > 1 && k > 0 {
						wait = fmt.Sprintf("Wait before %s until the current of feed %s is steady.", on.m.Name, on.feed.Name)
					}
					waits = append(waits, wait)
					why = append(why, fmt.Sprintf("Inrush: %s on top of %s would come to %s; %s.", own, strings.Join(r.peaks, ", "), r.sum+peak, tripText(b, bound)))
					r.sum, r.peaks = 0, nil
				case peak > bound:
					why = append(why, fmt.Sprintf("Inrush: %s alone; %s. Nothing else is switched on at that moment; who answers for the breaker knows of it.", own, tripText(b, bound)))
				}
				r.sum += peak
				r.peaks = append(r.peaks, own)
			}
			if len(waits) > 0 {
				s.Do += " " + strings.Join(waits, " ")
			}
			s.Cautions = append(s.Cautions, why...)
		}
	}
}

func restartOf(m *estate.Mount) estate.Restart {
	if m.Equipment == nil {
		return estate.NoRestart
	}
	return m.Equipment.Restart
}

// restartNoted says what is written down of a thing's restart setting before it
// goes off.
func restartNoted(m *estate.Mount) string {
	if set := restartOf(m); set != estate.NoRestart {
		return fmt.Sprintf("; its restart setting is %q, as declared", set)
	}
	return "; its restart setting noted"
}

// restarts says what things do when their supply returns unbidden, in the order
// in which layers are started: "n (on) and m (last) start by themselves; k (off)
// waits for somebody; note the restart setting of l".
func restarts(mounts []*estate.Mount) string {
	var alone, wait, note []string
	for _, m := range mounts {
		switch set := m.Equipment.Restart; {
		case set.ByItself():
			alone = append(alone, fmt.Sprintf("%s (%s)", m.Name, set))
		case set == estate.RestartOff:
			wait = append(wait, fmt.Sprintf("%s (%s)", m.Name, set))
		default:
			note = append(note, m.Name)
		}
	}
	var out []string
	add := func(names []string, one, many, format string) {
		switch len(names) {
		case 0:
		case 1:
			out = append(out, fmt.Sprintf(format, names[0], one))
		default:
			out = append(out, fmt.Sprintf(format, listOf(names), many))
		}
	}
	add(alone, "starts by itself", "start by themselves", "%s %s")
	add(wait, "waits for somebody", "wait for somebody", "%s %s")
	add(note, "setting", "settings", "of %s note the restart %s beforehand")
	return strings.Join(out, "; ")
}

// startOrder puts things into the order in which they are started after a
// supply was lost: by layer, what has none first, since it may be what cools or
// carries the others.
func startOrder(mounts []*estate.Mount) []*estate.Mount {
	out := slices.DeleteFunc(slices.Clone(mounts), func(m *estate.Mount) bool { return m.Equipment == nil || !draws(m) })
	slices.SortStableFunc(out, func(a, b *estate.Mount) int {
		return cmp.Or(cmp.Compare(layerOf(a), layerOf(b)), cmp.Compare(a.Ref(), b.Ref()))
	})
	return out
}

// restored warns, at the step that brings back a thing that gives power, of
// what comes back with its feeds: what starts by itself, and whether the
// breaker of a feed bears all of it at once.
func (p *Plan) restored() {
	for _, j := range p.Jobs {
		if j.Old == nil || j.New == nil {
			continue
		}
		o := p.outage(j.Old)
		dark := startOrder(p.darkIn(o, j.Old))
		if len(o.Feeds) == 0 || len(dark) == 0 {
			continue
		}
		names := make([]string, len(dark))
		for i, m := range dark {
			names[i] = m.Name
		}
		feeds := feedNames(o.Feeds)
		cautions := []string{fmt.Sprintf("Feed %s returns with it: %s. In this order, one after the other: %s.", feeds, restarts(dark), listOf(names))}
		for _, f := range o.Feeds {
			bound, ok := trips(f)
			var sum quantity.Current
			for _, m := range dark {
				if slices.ContainsFunc(p.before.Live(m, nil), func(in estate.LiveInlet) bool { return in.Feed == f }) && m.Equipment.Restart != estate.RestartOff {
					sum += inrushOf(m)
				}
			}
			if ok && sum > bound {
				cautions = append(cautions, fmt.Sprintf("Inrush: what does not wait on feed %s may peak at %s together; %s. Switch it off at the thing first, and on again one by one, each when the current is steady.", f.Name, sum, tripText(f.Breaker, bound)))
			}
		}
		for _, s := range p.bringsBack(j) {
			s.Cautions = append(s.Cautions, cautions...)
		}
	}
}

// bringsBack gives the steps by which the thing of a job works again, where it
// waits and where it comes to be: those of its service, or the last one that
// puts it on a supply.
func (p *Plan) bringsBack(j *Job) []*Step {
	var on, service []*Step
	for i := range p.Steps {
		s := &p.Steps[i]
		switch {
		case s.Job != j:
		case s.Task == Service:
			service = append(service, s)
		case s.Task == PowerOn:
			on = []*Step{s}
		}
	}
	if len(service) > 0 {
		return service
	}
	return on
}
