package policy

import (
	"fmt"
	"strconv"
	"strings"
	"sync"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// A Model describes what policies can reach of one estate: a scope for each
// thing that a policy can be judged on. It is made once an estate and may be
// used by any number of goroutines.
type Model struct {
	whole  *estate.Estate
	today  estate.Date
	given  *Class
	supply func() *estate.Supply
	racks  func() rackIndex
	groups func() map[*estate.Mount][]*estate.Group

	scopes map[string]*Class // by what is judged

	// The classes: places and things, what carries current, what is said.
	estate, site, room, row, frame, equipment, rack, mount, neighbours, reserve *Class
	feed, loss, breaker, source, cord, group                                    *Class
	finding, step                                                               *Class
}

// NewModel describes an estate as it is judged on a day.
func NewModel(e *estate.Estate, today estate.Date) *Model {
	m := &Model{whole: e, today: today, supply: sync.OnceValue(e.Supply)}
	m.racks = sync.OnceValue(func() rackIndex { return indexRacks(e) })
	m.groups = sync.OnceValue(func() map[*estate.Mount][]*estate.Group { return indexGroups(e) })
	class := func(name, plural, doc string) *Class { return NewClass(name, plural, doc) }
	m.estate = class("estate", "", "Everything declared under one estate.hcl.")
	m.site = class("site", "", "A place with an address, a calendar and habits of its own.")
	m.room = class("room", "", "A room in which rows of racks stand.")
	m.row = class("row", "", "A line of racks whose fronts look the same way.")
	m.frame = class("frame", "", "A kind of rack.")
	m.equipment = class("equipment", "equipment", "A catalogue entry: a kind of thing that can be mounted.")
	m.rack = class("rack", "", "A frame standing at a place in a row, with what is in it.")
	m.mount = class("mount", "", "One piece of equipment at a place in a rack.")
	m.feed = class("feed", "", "A supply that reaches racks.")
	m.group = class("group", "", "Mounts of which some must stay up.")
	m.loss = class("loss", "losses", "What one feed carries when another is lost.")
	m.neighbours = class("neighbours", "neighbours", "What is mounted next to a mount on the same posts.")
	m.reserve = class("reserve", "", "Units held for later.")
	m.breaker = class("breaker", "", "A protective device.")
	m.source = class("source", "", "What feeds come from.")
	m.cord = class("cord", "", "A supply cord of a mount.")
	m.finding = class("finding", "", "What another rule has found.")
	m.step = class("step", "", "A step of the plan of a change.")
	m.describePlaces()
	m.describeFrame()
	m.describeEquipment()
	m.describeRack()
	m.describeMount()
	m.describeSupply()
	m.describeFinding()
	m.describeStep()
	m.describeGiven(e)
	m.describeScopes(e)
	return m
}

// Scope gives what a policy judged on such things can see, or nil where
// nothing is judged on them.
func (m *Model) Scope(each string) *Class { return m.scopes[each] }

// Classes lists the classes in the order in which they are explained.
func (m *Model) Classes() []*Class {
	return []*Class{m.estate, m.site, m.room, m.row, m.frame, m.equipment, m.rack, m.mount, m.neighbours, m.reserve, m.feed, m.loss, m.breaker, m.source, m.cord, m.group, m.finding, m.step}
}

// Judged lists the things that a policy can be judged on.
func Judged() []string {
	return []string{"estate", "room", "row", "frame", "equipment", "rack", "mount", "feed", "group", "finding", "step"}
}

// beyond marks fields that lead out of the rack they are read in, so that
// policies which use them are not judged rack by rack.
func beyond(f *Field) { f.beyond = true }

// everywhere marks fields that lead to racks anywhere, so that nothing of what
// is found is known to hold when a rack has changed.
func everywhere(f *Field) { f.beyond, f.estate = true, true }

// Quantities as numbers in the unit that policies have for them.
func millimetres(l quantity.Length) Number {
	return scaled(int64(l), billion/int64(quantity.Millimetre))
}
func kilograms(m quantity.Mass) Number  { return scaled(int64(m), billion/int64(quantity.Kilogram)) }
func watts(p quantity.Power) Number     { return scaled(int64(p), billion/int64(quantity.Watt)) }
func amperes(i quantity.Current) Number { return scaled(int64(i), billion/int64(quantity.Ampere)) }
func volts(v quantity.Voltage) Number   { return scaled(int64(v), billion/int64(quantity.Volt)) }
func kilopascals(p quantity.Pressure) Number {
	return scaled(int64(p), billion/int64(quantity.Kilopascal))
}
func celsius(t quantity.Temperature) Number { return scaled(int64(t), billion/int64(quantity.Celsius)) }
func litresPerSecond(f quantity.Flow) Number {
	return Fraction(int64(f), int64(quantity.LitrePerSecond))
}
func newtons(f quantity.Force) Number { return scaled(int64(f), billion/int64(quantity.Newton)) }

// newtonMillimetre is the unit of moments: lengths are in mm, so moments are
// in N mm.
var newtonMillimetre = Unit{baseNewton: 1, baseMillimetre: 1}

func newtonMillimetres(t quantity.Torque) Number {
	return Whole(int64(t)) // a mN m is a N mm
}

// decimal gives the number that a float was written as.
func decimal(f float64) Number { return mustNumber(strconv.FormatFloat(f, 'f', -1, 64)) }

func unitCount(n estate.UnitNumber) Number {
	return scaled(int64(n), billion/int64(estate.OneUnit))
}

func lacking(what, of string, s estate.State) *Unknown {
	return unknown("the %s of %s is %s", what, of, s)
}

// addFigure defines a field that is a figure of a thing.
func addFigure[T, Q any](c *Class, name string, unit Unit, doc string, number func(Q) Number, what string, ref func(T) string, get func(T) estate.Figure[Q]) {
	AddFigure(c, name, unit, doc, func(t T) (Number, *Unknown) {
		f := get(t)
		v, ok := f.Get()
		if !ok {
			return Number{}, lacking(what, ref(t), f.State)
		}
		return number(v), nil
	}, func(t T) (estate.Basis, *Unknown) {
		f := get(t)
		if !f.Known() {
			return 0, lacking(what, ref(t), f.State)
		}
		return f.Basis, nil
	})
}

// addShare defines a field that is a figure without a unit.
func addShare[T any](c *Class, name, doc, what string, ref func(T) string, get func(T) estate.Figure[float64]) {
	addFigure(c, name, Plain, doc, decimal, what, ref, get)
}

// addName defines the field that every named thing has.
func addName[T any](c *Class, get func(T) string) {
	AddText(c, "name", "its name", known(get))
}

// known makes a getter of a function whose value is never unknown.
func known[T, V any](get func(T) V) func(T) (V, *Unknown) {
	return func(t T) (V, *Unknown) { return get(t), nil }
}

func counted[T any](get func(T) int) func(T) (Number, *Unknown) {
	return func(t T) (Number, *Unknown) { return Whole(int64(get(t))), nil }
}

// addWord defines a field that is one of the words of the language, "" where
// it is not declared.
func addWord[T any, W fmt.Stringer](c *Class, name, doc string, get func(T) W) {
	AddText(c, name, doc+`; "" where it is not declared`, func(t T) (string, *Unknown) { return get(t).String(), nil })
}

// describeGiven defines the named figures of the estate. Their values are
// written as texts with a unit and read as any quantity is.
func (m *Model) describeGiven(e *estate.Estate) {
	m.given = NewClass("given", "given figures", "The named figures of the estate.")
	for _, g := range e.Givens {
		if m.given.Field(g.Name) != nil {
			continue // declared twice, which is reported elsewhere
		}
		written := strings.TrimSpace(g.Text)
		if s, err := strconv.Unquote(written); err == nil {
			written = s
		}
		n, unit, ok := readQuantity(written)
		if !ok {
			text := written
			f := AddText(m.given, g.Name, "as declared", func(any) (string, *Unknown) { return text, nil })
			f.text, f.always = func(any) (string, *Unknown) { return text, nil }, true
			continue
		}
		f := AddNumber(m.given, g.Name, unit, "as declared", func(any) (Number, *Unknown) { return n, nil })
		f.number, f.always = func(any) (Number, *Unknown) { return n, nil }, true
	}
}

// readQuantity reads the text of a quantity of any kind that policies have a
// unit for.
func readQuantity(s string) (Number, Unit, bool) {
	if plainNumber().MatchString(s) {
		return mustNumber(s), Plain, true
	}
	if v, err := quantity.ParseLength(s); err == nil {
		return millimetres(v), Millimetre, true
	}
	if v, err := quantity.ParseMass(s); err == nil {
		return kilograms(v), Kilogram, true
	}
	if v, err := quantity.ParsePower(s); err == nil {
		return watts(v), Watt, true
	}
	if v, err := quantity.ParseCurrent(s); err == nil {
		return amperes(v), Ampere, true
	}
	if v, err := quantity.ParseVoltage(s); err == nil {
		return volts(v), Volt, true
	}
	if v, err := quantity.ParsePressure(s); err == nil {
		return kilopascals(v), Kilopascal, true
	}
	if v, err := quantity.ParseTemperature(s); err == nil {
		return celsius(v), Celsius, true
	}
	if v, err := quantity.ParseDuration(s); err == nil {
		return Fraction(int64(v), int64(quantity.Minute)), Minute, true
	}
	return Number{}, Plain, false
}

// describeScopes defines what each sort of policy can see. The shorter names
// save the commonest steps: rack for mount.rack.
func (m *Model) describeScopes(e *estate.Estate) {
	m.scopes = map[string]*Class{}
	scope := func(each string, c *Class) *Class {
		s := NewClass(each, c.Plural(), c.Doc)
		m.scopes[each] = s
		return s
	}
	self := func(t *estate.Mount) *estate.Mount { return t }
	s := scope("mount", m.mount)
	AddObject(s, "mount", m.mount, "the mount that is judged", self)
	AddObject(s, "equipment", m.equipment, "mount.equipment", func(t *estate.Mount) *estate.Equipment { return t.Equipment })
	AddObject(s, "rack", m.rack, "mount.rack", func(t *estate.Mount) *estate.Rack { return t.Rack })
	rackScopes(m, s, func(t *estate.Mount) *estate.Rack { return t.Rack })

	s = scope("rack", m.rack)
	AddObject(s, "rack", m.rack, "the rack that is judged", func(t *estate.Rack) *estate.Rack { return t })
	rackScopes(m, s, func(t *estate.Rack) *estate.Rack { return t })

	s = scope("row", m.row)
	AddObject(s, "row", m.row, "the row that is judged", func(t *estate.Row) *estate.Row { return t })
	AddObject(s, "room", m.room, "row.room", func(t *estate.Row) *estate.Room { return t.Room })

	s = scope("room", m.room)
	AddObject(s, "room", m.room, "the room that is judged", func(t *estate.Room) *estate.Room { return t })
	AddObject(s, "site", m.site, "room.site", func(t *estate.Room) *estate.Site { return t.Site })

	s = scope("frame", m.frame)
	AddObject(s, "frame", m.frame, "the frame that is judged", func(t *estate.Frame) *estate.Frame { return t })
	s = scope("equipment", m.equipment)
	AddObject(s, "equipment", m.equipment, "the equipment that is judged", func(t *estate.Equipment) *estate.Equipment { return t })
	s = scope("feed", m.feed)
	AddObject(s, "feed", m.feed, "the feed that is judged", func(t *estate.Feed) *estate.Feed { return t })
	AddObject(s, "room", m.room, "feed.room", func(t *estate.Feed) *estate.Room { return t.Room })
	s = scope("group", m.group)
	AddObject(s, "group", m.group, "the group that is judged", func(t *estate.Group) *estate.Group { return t })
	s = scope("step", m.step)
	AddObject(s, "step", m.step, "the step that is judged", func(t *planned) *planned { return t })
	AddObject(s, "mount", m.mount, "step.mount", func(t *planned) *estate.Mount { return t.mount })
	AddObject(s, "rack", m.rack, "step.rack", func(t *planned) *estate.Rack { return t.rack })
	rackScopes(m, s, func(t *planned) *estate.Rack { return t.rack })

	s = scope("finding", m.finding)
	AddObject(s, "finding", m.finding, "the finding that is judged", func(t *found) *found { return t })
	scope("estate", m.estate)

	for _, each := range Judged() {
		s := m.scopes[each]
		f := AddObject(s, "estate", m.estate, "the whole estate", func(any) *estate.Estate { return e })
		f.object = func(any) any { return e }
		given := AddObject(s, "given", m.given, "the named figures of the estate: given.NAME", func(any) *estate.Estate { return e })
		given.object = func(any) any { return e }
		today := AddDate(s, "today", "the day on which the estate is judged", func(any) (estate.Date, *Unknown) { return m.today, nil })
		today.date, today.always = func(any) (estate.Date, *Unknown) { return m.today, nil }, true
	}
}

func rackScopes[T any](m *Model, s *Class, rack func(T) *estate.Rack) {
	AddObject(s, "frame", m.frame, "rack.frame", func(t T) *estate.Frame {
		if r := rack(t); r != nil {
			return r.Frame
		}
		return nil
	})
	AddObject(s, "row", m.row, "rack.row", func(t T) *estate.Row {
		if r := rack(t); r != nil {
			return r.Row
		}
		return nil
	})
	AddObject(s, "room", m.room, "rack.row.room", func(t T) *estate.Room {
		if r := rack(t); r != nil {
			return r.Room()
		}
		return nil
	})
	AddObject(s, "site", m.site, "rack.row.room.site", func(t T) *estate.Site {
		if r := rack(t); r != nil {
			return r.Site()
		}
		return nil
	})
}
