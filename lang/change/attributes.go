package change

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// An attribute is one thing that is said about a T: how it is compared, how it
// is written, and how it is carried over from one T to another.
//
// Comparing is exact; writing may round, and [alterations] sees to it that two
// values which differ never look alike.
type attribute[T any] struct {
	name  string
	same  func(a, b *T) bool
	write func(*T, style) string
	carry func(to, from *T)
}

// A style says how values are written.
type style struct {
	inches bool
	exact  bool // to the last digit, where rounded values look alike
}

// alterations lists the attributes in which b differs from a.
func alterations[T any](all []attribute[T], a, b *T, s style) []Alteration {
	var out []Alteration
	for i := range all {
		at := &all[i]
		if at.same(a, b) {
			continue
		}
		was, is := at.write(a, s), at.write(b, s)
		if was == is {
			s := s
			s.exact = true
			was, is = at.write(a, s), at.write(b, s)
		}
		out = append(out, Alteration{Attr: at.name, Old: was, New: is})
	}
	return out
}

// same reports whether b differs from a in nothing.
func same[T any](all []attribute[T], a, b *T) bool {
	for i := range all {
		if !all[i].same(a, b) {
			return false
		}
	}
	return true
}

// plain is an attribute held as a comparable value.
func plain[T any, V comparable](name string, field func(*T) *V, write func(V) string) attribute[T] {
	return attribute[T]{
		name:  name,
		same:  func(a, b *T) bool { return *field(a) == *field(b) },
		write: func(t *T, _ style) string { return write(*field(t)) },
		carry: func(to, from *T) { *field(to) = *field(from) },
	}
}

// text is an attribute held as a string.
func text[T any](name string, field func(*T) *string) attribute[T] {
	return plain(name, field, func(s string) string { return s })
}

// number is an attribute held as a number of which 0 is "not declared".
func number[T any](name string, field func(*T) *int) attribute[T] {
	return plain(name, field, count)
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// flag is an attribute held as a bool of which false is "not declared".
func flag[T any](name string, field func(*T) *bool) attribute[T] {
	return plain(name, field, func(b bool) string {
		if b {
			return "true"
		}
		return ""
	})
}

// named is an attribute held as an enumeration that names itself.
func named[T any, V interface {
	comparable
	String() string
}](name string, field func(*T) *V) attribute[T] {
	return plain(name, field, V.String)
}

// figure is an attribute held as a figure, whose basis counts as well.
func figure[T any, V comparable](name string, field func(*T) *estate.Figure[V], write func(V, style) string) attribute[T] {
	return attribute[T]{
		name: name,
		same: func(a, b *T) bool {
			f, g := field(a), field(b)
			return f.Value == g.Value && f.State == g.State && f.Basis == g.Basis && f.On == g.On
		},
		write: func(t *T, s style) string { return figureText(*field(t), s, write) },
		carry: func(to, from *T) { *field(to) = *field(from) },
	}
}

func figureText[V any](f estate.Figure[V], s style, write func(V, style) string) string {
	var b strings.Builder
	switch f.State {
	case estate.IsMissing:
		return ""
	case estate.IsUnknown:
		b.WriteString("unknown")
	case estate.IsGiven:
		b.WriteString(write(f.Value, s))
	}
	if f.Basis != estate.Unstated {
		fmt.Fprintf(&b, " (%s", f.Basis)
		if f.On != 0 {
			fmt.Fprintf(&b, " %s", f.On)
		}
		b.WriteByte(')')
	} else if f.On != 0 {
		fmt.Fprintf(&b, " (%s)", f.On)
	}
	return b.String()
}

// reference is an attribute that points to another thing: compared by name,
// since the two estates have things of their own. The prefix is that of the
// language, such as "frame.".
func reference[T, R any](name, prefix string, field func(*T) **R, nameOf func(*R) string) attribute[T] {
	return attribute[T]{
		name:  name,
		same:  func(a, b *T) bool { return sameName(*field(a), *field(b), nameOf) },
		write: func(t *T, _ style) string { return refText(prefix, *field(t), nameOf) },
		carry: func(to, from *T) { *field(to) = *field(from) },
	}
}

// references is an attribute that points to several things, whose order
// counts.
func references[T, R any](name, prefix string, field func(*T) *[]*R, nameOf func(*R) string) attribute[T] {
	return attribute[T]{
		name: name,
		same: func(a, b *T) bool {
			return slices.EqualFunc(*field(a), *field(b), func(x, y *R) bool { return sameName(x, y, nameOf) })
		},
		write: func(t *T, _ style) string {
			texts := make([]string, 0, len(*field(t)))
			for _, r := range *field(t) {
				texts = append(texts, refText(prefix, r, nameOf))
			}
			return strings.Join(texts, ", ")
		},
		carry: func(to, from *T) { *field(to) = slices.Clone(*field(from)) },
	}
}

func sameName[R any](x, y *R, nameOf func(*R) string) bool {
	if x == nil || y == nil {
		return x == y
	}
	return nameOf(x) == nameOf(y)
}

func refText[R any](prefix string, r *R, nameOf func(*R) string) string {
	if r == nil {
		return ""
	}
	return prefix + nameOf(r)
}

// list is an attribute that holds several values, whose order counts. What
// write gives must be exact: values are compared by it.
func list[T, V any](name string, field func(*T) *[]V, write func(V) string) attribute[T] {
	return attribute[T]{
		name: name,
		same: func(a, b *T) bool {
			return slices.EqualFunc(*field(a), *field(b), func(v, w V) bool { return write(v) == write(w) })
		},
		write: func(t *T, _ style) string {
			texts := make([]string, 0, len(*field(t)))
			for _, v := range *field(t) {
				texts = append(texts, write(v))
			}
			return strings.Join(texts, ", ")
		},
		carry: func(to, from *T) { *field(to) = slices.Clone(*field(from)) },
	}
}

func word(s string) string { return s }

// The writers of quantities. Exact texts have as many digits as the small unit
// of the quantity needs.

func length(l quantity.Length, s style) string {
	switch {
	case s.inches && s.exact:
		return quantity.Number(l.Inches(), 9) + " in"
	case s.inches:
		return l.Inched()
	case s.exact:
		return quantity.Number(l.Millimetres(), 6) + " mm"
	}
	return l.String()
}

// measured writes any other quantity; unit and sign are those of the exact
// text.
func measured[Q interface {
	quantity.Quantity
	String() string
}](unit Q, sign string) func(Q, style) string {
	return func(q Q, s style) string {
		if s.exact {
			return quantity.Number(quantity.In(q, unit), 9) + " " + sign
		}
		return q.String()
	}
}

var (
	mass        = measured(quantity.Kilogram, "kg")
	power       = measured(quantity.Watt, "W")
	moment      = measured(quantity.NewtonMetre, "N m")
	current     = measured(quantity.Ampere, "A")
	voltage     = measured(quantity.Volt, "V")
	pressure    = measured(quantity.Pascal, "Pa")
	temperature = measured(quantity.Celsius, "C")
	angle       = measured(quantity.Degree, "deg")
	force       = measured(quantity.Newton, "N")
	airflow     = measured(quantity.LitrePerSecond, "l/s")
	duration    = measured(quantity.Minute, "min")
)

// voltAmperes writes an apparent power.
func voltAmperes(p quantity.Power, s style) string {
	return strings.TrimSuffix(power(p, s), "W") + "VA"
}

// leakage writes a small current.
func leakage(i quantity.Current, s style) string {
	if s.exact {
		return quantity.Number(quantity.In(i, quantity.Milliampere), 3) + " mA"
	}
	return i.Milli()
}

// draw is one figure of what equipment draws, in W or in VA.
func draw(name string, basis estate.DrawBasis, field func(*estate.Draw) *estate.Figure[quantity.Power]) attribute[estate.Equipment] {
	a := figure(name, func(e *estate.Equipment) *estate.Figure[quantity.Power] { return field(&e.Draw) }, power)
	a.write = func(e *estate.Equipment, s style) string {
		write := power
		if e.Draw.Apparent.Has(basis) {
			write = voltAmperes
		}
		return figureText(*field(&e.Draw), s, write)
	}
	return a
}

// runtime is a curve of runtimes.
func runtime[T any](field func(*T) *estate.Figure[[]physics.RuntimePoint]) attribute[T] {
	write := func(points []physics.RuntimePoint, _ style) string {
		exact := style{exact: true}
		texts := make([]string, 0, len(points))
		for _, p := range points {
			load := power(p.Load, exact)
			if p.Apparent {
				load = voltAmperes(p.Load, exact)
			}
			texts = append(texts, load+" for "+duration(p.Lasts, exact))
		}
		return strings.Join(texts, ", ")
	}
	text := func(t *T, s style) string { return figureText(*field(t), s, write) }
	return attribute[T]{
		name:  "runtime",
		same:  func(a, b *T) bool { return text(a, style{}) == text(b, style{}) },
		write: text,
		carry: func(to, from *T) { *field(to) = *field(from) },
	}
}

func share(f float64, _ style) string { return strconv.FormatFloat(f, 'g', -1, 64) }

func integer(n int, _ style) string { return strconv.Itoa(n) }

func span(x estate.Span2, s style) string { return length(x.From, s) + " to " + length(x.To, s) }

func voltages(x estate.VoltageRange, s style) string {
	return voltage(x.From, s) + " to " + voltage(x.To, s)
}

// The writers of what is listed are exact.

func outlets(o estate.OutletSet) string {
	s := fmt.Sprintf("%d x %s", o.Count, o.Type)
	if o.Bank != "" {
		s += ", bank " + o.Bank
	}
	return s + locking(o.Locking) + lengthPart("from", o.From) + lengthPart("pitch", o.Pitch)
}

func bank(b estate.Bank) string {
	s := b.Name
	if b.Rated != 0 {
		s += " " + current(b.Rated, style{exact: true})
	}
	if b.Lines != "" {
		s += " on " + b.Lines
	}
	return s
}

func cord(c estate.Cord) string {
	s := "to " + c.To
	if c.Outlet != 0 {
		s += fmt.Sprintf(" outlet %d", c.Outlet)
	}
	for _, part := range []struct{ name, value string }{
		{"plug", c.Plug}, {"socket", c.Socket},
	} {
		if part.value != "" {
			s += ", " + part.name + " " + part.value
		}
	}
	s += lengthPart("", c.Length) + lengthPart("needed", c.Needed) + locking(c.Locking)
	if c.Fuse != 0 {
		s += ", fuse " + current(c.Fuse, style{exact: true})
	}
	return s
}

func inlet(i estate.Inlet) string {
	return fmt.Sprintf("%d x %s, needs %d", i.Count, i.Type, i.Needs) + locking(i.Locking)
}

// locking writes whether something holds a cord, or nothing where that is not
// said.
func locking(f estate.Figure[bool]) string {
	text := figureText(f, style{}, func(yes bool, _ style) string {
		if yes {
			return "locking"
		}
		return "not locking"
	})
	switch f.State {
	case estate.IsMissing:
		return ""
	case estate.IsUnknown:
		text = "locking " + text
	}
	return ", " + text
}

// lengthPart writes a length among others, or nothing where it is not said.
func lengthPart(name string, f estate.Figure[quantity.Length]) string {
	text := figureText(f, style{exact: true}, length)
	if text == "" {
		return ""
	}
	return ", " + strings.TrimSpace(name+" "+text)
}

func unitRange(u estate.UnitRange) string {
	if u.From == u.To {
		return u.From.String()
	}
	return u.From.String() + "-" + u.To.String()
}
