package lint

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// rulings are what the site has said about rules, looked up by rule and place.
// They are made once a run and are safe for use by many goroutines.
type rulings struct {
	estate   *estate.Estate
	set      string                  // the rule set in force, "" for the newest
	adjusted map[*Rule][]*adjustment // in the order declared
	waivers  map[string][]*waiver    // by identifier of the rule
	racks    func() map[string]*estate.Rack
	partial  bool            // not everything was read
	ran      map[string]bool // identifiers and aliases of the rules that ran
}

// adjustment is an adjustment whose limits have been read.
type adjustment struct {
	*estate.Adjustment
	level  Level
	limits map[string]any
}

// waiver is a waiver with what it has accepted in this run.
type waiver struct {
	*estate.Waiver
	accepted bool
}

func newRulings(e *estate.Estate, rules []*Rule) *rulings {
	r := &rulings{estate: e, adjusted: map[*Rule][]*adjustment{}, waivers: map[string][]*waiver{}, ran: map[string]bool{}}
	r.racks = sync.OnceValue(func() map[string]*estate.Rack {
		all := make(map[string]*estate.Rack, len(e.Racks))
		for _, rack := range e.Racks {
			if all[rack.Name] == nil {
				all[rack.Name] = rack
			}
		}
		return all
	})
	byName := Names(rules)
	for name := range byName {
		r.ran[name] = true
	}
	for _, a := range e.Rulings.Adjustments {
		rule := byName[a.Rule]
		if rule == nil {
			continue // [CheckRulings] says so
		}
		read := &adjustment{Adjustment: a}
		read.level, _ = ParseLevel(a.Level)
		for _, l := range a.Limits {
			limit := rule.limit(l.Name)
			if limit == nil {
				continue
			}
			if v, err := limit.read(l.Text); err == nil {
				if read.limits == nil {
					read.limits = map[string]any{}
				}
				read.limits[l.Name] = v
			}
		}
		r.adjusted[rule] = append(r.adjusted[rule], read)
	}
	for _, w := range e.Rulings.Waivers {
		id := w.Rule
		if rule := byName[id]; rule != nil {
			id = rule.ID
		}
		r.waivers[id] = append(r.waivers[id], &waiver{Waiver: w})
	}
	return r
}

// Names gives the rules by their identifiers and by those that they had
// before.
func Names(rules []*Rule) map[string]*Rule {
	names := make(map[string]*Rule, len(rules))
	for _, rule := range rules {
		for _, alias := range rule.Aliases {
			names[alias] = rule
		}
	}
	for _, rule := range rules {
		names[rule.ID] = rule
	}
	return names
}

func (r *Rule) limit(name string) *Limit {
	for i := range r.Limits {
		if r.Limits[i].Name == name {
			return &r.Limits[i]
		}
	}
	return nil
}

// level gives the level at which a finding is reported here.
func (r *rulings) level(rule *Rule, f *Finding) Level {
	all := r.adjusted[rule]
	if len(all) == 0 {
		return f.Level
	}
	level, best := f.Level, -1
	p := r.placeOfFinding(f)
	for _, a := range all {
		if a.level == NoLevel {
			continue
		}
		if n, ok := p.within(a.Within); ok && n >= best {
			level, best = a.level, n
		}
	}
	return level
}

// limit gives the value of a rule's limit for a thing.
func (r *rulings) limit(rule *Rule, name string, thing any) any {
	limit := rule.limit(name)
	if limit == nil {
		panic(fmt.Sprintf("lint: rule %s has no limit %q", rule.ID, name))
	}
	value, best := limit.Default, -1
	all := r.adjusted[rule]
	if len(all) == 0 {
		return value
	}
	p := placeOf(thing)
	for _, a := range all {
		v, set := a.limits[name]
		if !set {
			continue
		}
		if n, ok := p.within(a.Within); ok && n >= best {
			value, best = v, n
		}
	}
	return value
}

// placeOfFinding gives the place of what a finding is about.
func (r *rulings) placeOfFinding(f *Finding) place {
	if f.Rack != "" {
		rack := r.racks()[f.Rack]
		if rack == nil {
			return place{rack: f.Rack}
		}
		if name, ok := strings.CutPrefix(f.Thing, rack.Ref()+"."); ok {
			if m := rack.Mount(name); m != nil {
				return placeOf(m)
			}
		}
		return placeOf(rack)
	}
	kind, name, _ := strings.Cut(f.Thing, ".")
	e := r.estate
	switch kind {
	case "row":
		return placeNamed(e.Rows, name, func(t *estate.Row) string { return t.Name })
	case "room":
		return placeNamed(e.Rooms, name, func(t *estate.Room) string { return t.Name })
	case "site":
		return placeNamed(e.Sites, name, func(t *estate.Site) string { return t.Name })
	case "feed":
		return placeNamed(e.Feeds, name, func(t *estate.Feed) string { return t.Name })
	case "frame":
		return placeNamed(e.Frames, name, func(t *estate.Frame) string { return t.Name })
	case "equipment":
		return placeNamed(e.Equipment, name, func(t *estate.Equipment) string { return t.Name })
	}
	return place{}
}

func placeNamed[T any](all []*T, name string, of func(*T) string) place {
	i := slices.IndexFunc(all, func(t *T) bool { return of(t) == name })
	if i < 0 {
		return place{}
	}
	return placeOf(all[i])
}

// read reads the text of an adjusted limit as what its default is.
func (l *Limit) read(text string) (any, error) {
	switch l.Default.(type) {
	case quantity.Length:
		return asAny(quantity.ParseLength(text))
	case quantity.Mass:
		return asAny(quantity.ParseMass(text))
	case quantity.Power:
		return asAny(quantity.ParsePower(text))
	case quantity.Current:
		return asAny(quantity.ParseCurrent(text))
	case quantity.Voltage:
		return asAny(quantity.ParseVoltage(text))
	case quantity.Pressure:
		return asAny(quantity.ParsePressure(text))
	case quantity.Temperature:
		return asAny(quantity.ParseTemperature(text))
	case quantity.Angle:
		return asAny(quantity.ParseAngle(text))
	case quantity.Duration:
		return asAny(quantity.ParseDuration(text))
	case int:
		n, err := strconv.Atoi(text)
		if err != nil {
			return nil, fmt.Errorf("%q is no whole number; write one such as 2", text)
		}
		return n, nil
	case float64:
		n, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsInf(n, 0) || math.IsNaN(n) {
			return nil, fmt.Errorf("%q is no number; write one such as 0.8", text)
		}
		return n, nil
	case bool:
		switch text {
		case "true":
			return true, nil
		case "false":
			return false, nil
		}
		return nil, fmt.Errorf("%q is not true or false", text)
	case string:
		return text, nil
	}
	return nil, fmt.Errorf("a limit of type %T cannot be adjusted; please report this", l.Default)
}

func asAny[T any](v T, err error) (any, error) { return v, err }
