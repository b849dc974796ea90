package policy

import (
	"slices"

	"cagenut/lang/estate"
)

// A Class describes one sort of object that expressions reach: the names of
// its fields and how to read them from a Go value.
type Class struct {
	Name   string // singular, in the words of the language: "mount"
	Doc    string // one sentence
	plural string
	fields map[string]*Field
	order  []*Field
}

// NewClass gives a class without fields. An empty plural means name with "s".
func NewClass(name, plural, doc string) *Class {
	return &Class{Name: name, Doc: doc, plural: plural, fields: map[string]*Field{}}
}

// Plural gives the plural of the class's name.
func (c *Class) Plural() string {
	if c.plural == "" {
		return c.Name + "s"
	}
	return c.plural
}

// Fields lists the fields in the order of their definition.
func (c *Class) Fields() []*Field { return c.order }

// Field gives the field of that name, or nil.
func (c *Class) Field(name string) *Field { return c.fields[name] }

// names lists the names of the fields, sorted.
func (c *Class) names() []string {
	names := make([]string, 0, len(c.order))
	for _, f := range c.order {
		names = append(names, f.Name)
	}
	slices.Sort(names)
	return names
}

func (c *Class) add(f *Field) {
	if c.fields[f.Name] != nil {
		panic("policy: class " + c.Name + " has two fields named " + f.Name)
	}
	c.fields[f.Name] = f
	c.order = append(c.order, f)
}

// A Field is one name of a class. Exactly the getter of its kind is set; all
// take a value of the class's Go type.
type Field struct {
	Name string
	Type Type
	Doc  string
	Unit string // the unit as documentation names it: that of Type, or a counted thing such as "U"

	number func(any) (Number, *Unknown)
	truth  func(any) (bool, *Unknown)
	text   func(any) (string, *Unknown)
	date   func(any) (estate.Date, *Unknown)
	object func(any) any // nil where there is none
	each   func(o any, yield func(any) bool)
	basis  func(any) (string, *Unknown) // how a figure was come by, or nil where the field is none
	beyond bool                         // leads out of the rack that it is read in
	estate bool                         // leads to the whole estate
	always bool                         // the same for every object
}

// AddNumber defines a field that is a number.
func AddNumber[T any](c *Class, name string, unit Unit, doc string, get func(T) (Number, *Unknown)) *Field {
	f := &Field{Name: name, Type: Type{Kind: NumberKind, Unit: unit}, Doc: doc, Unit: unit.String(),
		number: func(o any) (Number, *Unknown) { return get(o.(T)) }}
	c.add(f)
	return f
}

// AddFigure defines a field that is a figure, with a basis.
func AddFigure[T any](c *Class, name string, unit Unit, doc string, get func(T) (Number, *Unknown), basis func(T) (estate.Basis, *Unknown)) *Field {
	f := AddNumber(c, name, unit, doc, get)
	f.basis = func(o any) (string, *Unknown) {
		b, u := basis(o.(T))
		return b.String(), u
	}
	return f
}

// AddCount defines a field that is a plain number of counted things.
func AddCount[T any](c *Class, name, counted, doc string, get func(T) (Number, *Unknown)) *Field {
	f := AddNumber(c, name, Plain, doc, get)
	f.Unit = counted
	return f
}

// AddBool defines a field that is true or false.
func AddBool[T any](c *Class, name, doc string, get func(T) (bool, *Unknown)) *Field {
	f := &Field{Name: name, Type: Type{Kind: BoolKind}, Doc: doc,
		truth: func(o any) (bool, *Unknown) { return get(o.(T)) }}
	c.add(f)
	return f
}

// AddText defines a field that is a text.
func AddText[T any](c *Class, name, doc string, get func(T) (string, *Unknown)) *Field {
	f := &Field{Name: name, Type: Type{Kind: TextKind}, Doc: doc,
		text: func(o any) (string, *Unknown) { return get(o.(T)) }}
	c.add(f)
	return f
}

// AddDate defines a field that is a date.
func AddDate[T any](c *Class, name, doc string, get func(T) (estate.Date, *Unknown)) *Field {
	f := &Field{Name: name, Type: Type{Kind: DateKind}, Doc: doc,
		date: func(o any) (estate.Date, *Unknown) { return get(o.(T)) }}
	c.add(f)
	return f
}

// AddObject defines a field that is another object, or null where get gives a
// nil pointer.
func AddObject[T, U any](c *Class, name string, of *Class, doc string, get func(T) *U) *Field {
	f := &Field{Name: name, Type: Type{Kind: ObjectKind, Class: of}, Doc: doc,
		object: func(o any) any {
			if u := get(o.(T)); u != nil {
				return u
			}
			return nil
		}}
	c.add(f)
	return f
}

// AddObjects defines a field that is a list of objects.
func AddObjects[T, U any](c *Class, name string, of *Class, doc string, get func(T) []*U) *Field {
	f := &Field{Name: name, Type: Type{Kind: ListKind, Elem: &Type{Kind: ObjectKind, Class: of}}, Doc: doc,
		each: func(o any, yield func(any) bool) {
			for _, u := range get(o.(T)) {
				if !yield(u) {
					return
				}
			}
		}}
	c.add(f)
	return f
}

// AddTexts defines a field that is a list of texts.
func AddTexts[T any](c *Class, name, doc string, get func(T) []string) *Field {
	f := &Field{Name: name, Type: Type{Kind: ListKind, Elem: &Type{Kind: TextKind}}, Doc: doc,
		each: func(o any, yield func(any) bool) {
			for _, s := range get(o.(T)) {
				if !yield(s) {
					return
				}
			}
		}}
	c.add(f)
	return f
}

// AddNumbers defines a field that is a list of numbers.
func AddNumbers[T any](c *Class, name string, unit Unit, doc string, get func(T) []Number) *Field {
	f := &Field{Name: name, Type: Type{Kind: ListKind, Elem: &Type{Kind: NumberKind, Unit: unit}}, Doc: doc, Unit: unit.String(),
		each: func(o any, yield func(any) bool) {
			for _, n := range get(o.(T)) {
				if !yield(n) {
					return
				}
			}
		}}
	c.add(f)
	return f
}
