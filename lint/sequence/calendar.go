package sequence

import (
	"cmp"
	"fmt"
	"slices"
	"time"
	_ "time/tzdata" // the IANA data, for machines that have none

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

var weekdays = map[string]time.Weekday{
	"sun": time.Sunday, "mon": time.Monday, "tue": time.Tuesday, "wed": time.Wednesday,
	"thu": time.Thursday, "fri": time.Friday, "sat": time.Saturday,
}

// An Occurrence is one night, or day, of a standing window.
type Occurrence struct {
	Window        *estate.Window
	Opens, Closes time.Time // in the time zone of the site
	Zone          string    // its IANA name
	Frozen        *estate.Freeze
}

// Length gives how long the window is open, by the clock that does not jump.
func (o *Occurrence) Length() quantity.Duration {
	return quantity.Duration(o.Closes.Sub(o.Opens).Milliseconds()) * quantity.Millisecond
}

// Usable gives the minutes before the margin.
func (o *Occurrence) Usable() quantity.Duration { return o.Length() - o.Window.Margin }

// zoneOf gives the time zone of a site; UTC where it declares none or one that
// the IANA data do not know, with why.
func zoneOf(s *estate.Site) (*time.Location, string, error) {
	if s == nil || s.Zone == "" {
		return time.UTC, "UTC", nil
	}
	zone, err := time.LoadLocation(s.Zone)
	if err != nil || s.Zone == "Local" {
		return time.UTC, "UTC", fmt.Errorf("site.%s has the time zone %q, which the IANA data do not know", s.Name, s.Zone)
	}
	return zone, s.Zone, nil
}

// atClock gives the moment at which a clock of the site shows a time of day.
// Where the clock jumps over it in spring, that is the moment of the jump;
// where it shows it twice in autumn, the first time for what begins and the
// second for what ends.
func atClock(d estate.Date, c estate.Clock, zone *time.Location, last bool) time.Time {
	day := d.Time()
	y, m, dd := day.Date()
	h, min := int(c)/60, int(c)%60
	t := time.Date(y, m, dd, h, min, 0, 0, zone)
	if t.Hour() != h || t.Minute() != min {
		// It does not exist: time.Date gives a moment beside the gap. The gap
		// is where the offset changes nearby.
		return jump(t)
	}
	// It may exist twice, an hour (or less) apart.
	for _, shift := range []time.Duration{time.Hour, 30 * time.Minute} {
		if other := t.Add(shift); last && sameClock(other, t) {
			return other
		}
		if other := t.Add(-shift); !last && sameClock(other, t) {
			return other
		}
	}
	return t
}

func sameClock(a, b time.Time) bool {
	return a.Hour() == b.Hour() && a.Minute() == b.Minute() && a.Day() == b.Day()
}

// jump gives the moment near t at which the clock jumps.
func jump(t time.Time) time.Time {
	from, to := t.Add(-3*time.Hour), t.Add(3*time.Hour)
	_, was := from.Zone()
	for to.Sub(from) > time.Second {
		mid := from.Add(to.Sub(from) / 2)
		if _, off := mid.Zone(); off == was {
			from = mid
		} else {
			to = mid
		}
	}
	return to.Truncate(time.Minute)
}

// Occurrences gives the windows of an estate that a site may use and that end
// after a moment, for some days, in order of opening. Those that touch a freeze
// of the site, or of all sites, say so.
func Occurrences(e *estate.Estate, site *estate.Site, from time.Time, days int) ([]Occurrence, error) {
	zone, name, err := zoneOf(site)
	if err != nil {
		return nil, err
	}
	first := estate.DateOf(from.In(zone)) - 1
	var out []Occurrence
	for _, w := range e.Windows {
		if w.Site != nil && site != nil && w.Site.Name != site.Name {
			continue
		}
		for d := first; d <= first+estate.Date(days); d++ {
			if !opensOn(w, d.Time().Weekday()) {
				continue
			}
			o := Occurrence{Window: w, Zone: name, Opens: atClock(d, w.Opens, zone, false)}
			closing := d
			if w.Closes <= w.Opens {
				closing++
			}
			o.Closes = atClock(closing, w.Closes, zone, true)
			if !o.Closes.After(from) {
				continue
			}
			o.Frozen = frozen(e, site, estate.DateOf(o.Opens), estate.DateOf(o.Closes.Add(-time.Minute)))
			out = append(out, o)
		}
	}
	slices.SortStableFunc(out, func(a, b Occurrence) int {
		return cmp.Or(a.Opens.Compare(b.Opens), cmp.Compare(a.Window.Name, b.Window.Name))
	})
	return out, nil
}

func opensOn(w *estate.Window, day time.Weekday) bool {
	return slices.ContainsFunc(w.Days, func(s string) bool { d, ok := weekdays[s]; return ok && d == day })
}

// frozen gives a freeze that any of the days is in.
func frozen(e *estate.Estate, site *estate.Site, from, to estate.Date) *estate.Freeze {
	for _, f := range e.Freezes {
		if f.Site != nil && site != nil && f.Site.Name != site.Name {
			continue
		}
		if from <= f.To && to >= f.From {
			return f
		}
	}
	return nil
}
